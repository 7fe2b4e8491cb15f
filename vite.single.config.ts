import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";
import { slimLibrary } from "./src/exchange/shim/slim-library";
import { oneFile } from "./tools/one-file";
import { pageSettings, publicFolder } from "./vite.config";

/** Builds the page as one HTML file that opens from disk. */
export default defineConfig({
  ...pageSettings,
  publicDir: false,
  plugins: [react(), slimLibrary(), oneFile("invacuo.html", publicFolder)],
  build: {
    ...pageSettings.build,
    outDir: "../../dist/single",
    cssCodeSplit: false,
    reportCompressedSize: false,
    chunkSizeWarningLimit: 5000,
    rolldownOptions: { output: { codeSplitting: false } },
  },
});
