import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";

/** Builds the page: its own files only, no inline script, the export code in chunks that load when asked for. */
export default defineConfig({
  root: "src/app",
  base: "./",
  publicDir: "public",
  plugins: [react()],
  build: {
    outDir: "../../dist/app",
    emptyOutDir: true,
    // light-dark() and the like are written as they stand
    target: ["chrome123", "firefox121", "safari17.5"],
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
  },
});
