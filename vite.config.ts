import { resolve } from "node:path";
import react from "@vitejs/plugin-react";
import { defineConfig, type UserConfig } from "vite";
import { functionsApart } from "./src/build/functions-apart";
import { later } from "./src/build/later";
import { offline } from "./src/build/offline";
import { proseApart } from "./src/build/prose-apart";
import { slimParser } from "./src/build/slim-parser";
import { slimReact } from "./src/build/slim-react";
import { weights } from "./src/build/weights";
import { slimLibrary } from "./src/exchange/shim/slim-library";

/** What every build of the page has in common. */
export const pageSettings = {
  root: "src/app",
  base: "./",
  worker: { format: "es", plugins: () => [slimLibrary(), slimParser()] },
  build: {
    emptyOutDir: true,
    // light-dark() and the like are written as they stand
    target: ["chrome123", "firefox121", "safari17.5"],
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    // The chunk of an open book holds the language, its functions and their texts; a test keeps its budget.
    chunkSizeWarningLimit: 1000,
  },
} satisfies UserConfig;
export const publicFolder = resolve(import.meta.dirname, "src/app/public");

/** Builds the page: its own files only, no inline script, the export code in chunks that load when asked for. */
export default defineConfig({
  ...pageSettings,
  publicDir: "public",
  plugins: [
    react(),
    slimLibrary(),
    slimParser(),
    slimReact(),
    functionsApart(),
    proseApart(),
    later(),
    offline(publicFolder),
    weights(),
  ],
  build: {
    ...pageSettings.build,
    outDir: "../../dist/app",
    assetsInlineLimit: 0,
    rolldownOptions: {
      input: {
        index: resolve(import.meta.dirname, "src/app/index.html"),
        "service-worker": resolve(import.meta.dirname, "src/app/offline/service-worker.ts"),
      },
      output: {
        entryFileNames: ({ name }) =>
          name === "service-worker" ? "service-worker.js" : "assets/[name]-[hash].js",
        // What comes together stands together: one file is smaller than its pieces.
        codeSplitting: {
          includeDependenciesRecursively: true,
          groups: [
            { name: "start", test: /src\/app\/main\.tsx$/, priority: 2 },
            { name: "open", test: /src\/app\/Desk\.tsx$/, priority: 1 },
          ],
        },
      },
    },
  },
});
