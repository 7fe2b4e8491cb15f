import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

/**
 * Tests of the rooms that hold nothing between two calls share what they load, file after file: to load the
 * language and the physics anew for each file took longer than many of its tests. What runs in a browser, as a
 * process of its own or with a store keeps to itself.
 */
const sharing = [
  "bench",
  "conformance",
  "docs",
  "engine",
  "errors",
  "exchange",
  "grammar",
  "house",
  "matter",
  "published",
  "quantity",
  "vocabulary",
  "workbooks",
].map((room) => `tests/${room}/**/*.test.ts`);

export default defineConfig({
  test: {
    globalSetup: ["tests/setup/tools.ts"],
    setupFiles: ["tests/setup/seed.ts"],
    testTimeout: 180_000,
    hookTimeout: 240_000,
    // One for each processor: the runner would leave one free, which on a machine of two is half of it.
    maxWorkers: availableParallelism(),
    projects: [
      { extends: true, test: { name: "apart", include: ["tests/**/*.test.{ts,tsx}"], exclude: sharing } },
      { extends: true, test: { name: "together", include: sharing, isolate: false } },
    ],
  },
});
