import { chmod } from "node:fs/promises";
import { defineConfig } from "vite";
import { slimLibrary } from "./src/exchange/shim/slim-library";

/** Builds the terminal command: one bundle that starts fast, with what only some subcommands need beside it. */
export default defineConfig({
  publicDir: false,
  build: {
    ssr: true,
    target: "node20",
    outDir: "dist/cli",
    emptyOutDir: true,
    minify: false,
    rolldownOptions: {
      input: { invacuo: "src/cli/invacuo.ts", "sweep-worker": "src/cli/sweep-worker.ts" },
      output: {
        format: "es",
        entryFileNames: "[name].js",
        chunkFileNames: "[name].js",
      },
    },
  },
  ssr: { noExternal: true, target: "node" },
  plugins: [
    slimLibrary(),
    {
      name: "executable",
      async writeBundle() {
        await chmod("dist/cli/invacuo.js", 0o755);
      },
    },
  ],
});
