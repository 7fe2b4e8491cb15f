import react from "@vitejs/plugin-react";
import { defineConfig, type Plugin } from "vite";

/** Builds the page: its own files only, no inline script, the export code in chunks that load when asked for. */
export default defineConfig({
  root: "src/app",
  base: "./",
  publicDir: "public",
  plugins: [react(), spreadsheetsWithoutNode()],
  build: {
    outDir: "../../dist/app",
    emptyOutDir: true,
    // light-dark() and the like are written as they stand
    target: ["chrome123", "firefox121", "safari17.5"],
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    // The chunk of an open book holds the language, its functions and their texts; a test keeps its budget.
    chunkSizeWarningLimit: 1000,
  },
});

/**
 * xlsx-populate is built from its sources, which speak to Node; its ready-made browser bundle holds old libraries.
 * In the page it gets bytes and gives bytes: a buffer is a Uint8Array, and what is never asked for (files, passwords
 * and with them a file-system format, its own blank workbook) stays out.
 */
function spreadsheetsWithoutNode(): Plugin {
  const unavailable = new Set(["fs", "crypto", "stream"]);
  const library = /node_modules\/xlsx-populate\/lib\/(\w+)\.js$/;
  return {
    name: "spreadsheets-without-node",
    enforce: "pre",
    resolveId(source, importer) {
      const asks = importer !== undefined && /node_modules\/(xlsx-populate|sax)\//.test(importer);
      return asks && unavailable.has(source) ? "\0not-in-a-page" : undefined;
    },
    load(id) {
      if (id === "\0not-in-a-page") return "export default {};";
      switch (library.exec(id)?.[1]) {
        case "blank":
          return "module.exports = () => undefined;";
        case "Encryptor":
          return "module.exports = class {};";
        default:
          return undefined;
      }
    },
    transform(code, id) {
      const file = library.exec(id)?.[1];
      if (file === undefined) return undefined;
      // It tells its classes apart by their names, which are shortened in the built page.
      const own = /^class (\w+)/m.exec(code)?.[1];
      const named = own === undefined ? "" : `\nObject.defineProperty(${own}, "name", { value: "${own}" });\n`;
      if (file !== "Workbook") return { code: code + named, map: null };
      const nodeBuffer = 'type: "nodebuffer",\n            compression';
      if (!code.includes(nodeBuffer)) this.error("xlsx-populate writes its bytes differently now.");
      return {
        code: [
          "const process = { browser: true };",
          "const Buffer = { isBuffer: () => false, from: (data) => new Uint8Array(data) };",
          code.replace(nodeBuffer, 'type: "uint8array",\n            compression'),
          named,
        ].join("\n"),
        map: null,
      };
    },
  };
}
