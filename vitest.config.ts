import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    globalSetup: ["tests/setup/tools.ts"],
    include: ["tests/**/*.test.ts", "tests/**/*.test.tsx"],
    setupFiles: ["tests/setup/seed.ts"],
    testTimeout: 180_000,
    hookTimeout: 240_000,
  },
});
