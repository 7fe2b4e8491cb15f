import { resolve } from "node:path";
import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";
import { oneFile } from "./src/build/one-file";
import { slimParser } from "./src/build/slim-parser";
import { slimReact } from "./src/build/slim-react";
import { slimLibrary } from "./src/exchange/shim/slim-library";
import { pageSettings, publicFolder } from "./vite.config";

/** Builds the page as one HTML file that opens from disk. */
export default defineConfig({
  ...pageSettings,
  publicDir: false,
  // A page in one file can load no other: the code of its worker is in it.
  resolve: {
    alias: [
      {
        find: "./worker-port",
        replacement: resolve(import.meta.dirname, "src/app/reckoning/inline-worker.ts"),
      },
    ],
  },
  plugins: [react(), slimLibrary(), slimParser(), slimReact(), oneFile("invacuo.html", publicFolder)],
  build: {
    ...pageSettings.build,
    outDir: "../../dist/single",
    cssCodeSplit: false,
    reportCompressedSize: false,
    chunkSizeWarningLimit: 5000,
    rolldownOptions: { output: { codeSplitting: false } },
  },
});
