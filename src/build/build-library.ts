import { writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { build } from "vite";
import { slimLibrary } from "../exchange/shim/slim-library";
import { declarationFile, declarations } from "./declarations";

/**
 * Builds the library: a module of its own for each module of the source, so that a bundler takes only what is used,
 * and one file with the types. The library for .xlsx comes along in the form that runs everywhere; the other
 * packages are imported.
 */
const top = resolve(import.meta.dirname, "../..");
const folder = resolve(top, "dist/library");

await build({
  configFile: false,
  root: top,
  publicDir: false,
  logLevel: "warn",
  plugins: [slimLibrary()],
  build: {
    outDir: folder,
    emptyOutDir: true,
    minify: false,
    target: "es2023",
    lib: { entry: resolve(top, "src/library/index.ts"), formats: ["es"] },
    rolldownOptions: {
      external: [/^(chevrotain|big\.js|fflate|yalps)(\/|$)/],
      output: {
        preserveModules: true,
        preserveModulesRoot: resolve(top, "src"),
        entryFileNames: ({ isEntry, name }) =>
          isEntry ? "index.js" : `${name.replace("node_modules/", "packages/").replace("_virtual/", "")}.js`,
      },
    },
  },
});
writeFileSync(join(folder, "index.d.ts"), declarationFile(declarations()));
