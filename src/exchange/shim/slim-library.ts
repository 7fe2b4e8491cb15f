/**
 * For the builds: makes xlsx-populate fit a page. Built from its sources, its zip library, streams, files and
 * encryption are replaced by the small pieces beside this file, and the two globals of Node that it reaches for
 * (`Buffer`, `process.browser`) are taken out of its sources. Nothing of its ready-made bundles is used.
 */
export function slimLibrary() {
  const here = (name: string): string =>
    decodeURIComponent(new URL(`./${name}`, import.meta.url).pathname).replace(/^\/(?=[A-Za-z]:)/, "");
  const instead = new Map([
    ["jszip", here("archive.ts")],
    ["fs", here("nothing.ts")],
    ["stream", here("nothing.ts")],
    ["./Encryptor", here("nothing.ts")],
  ]);
  const inLibrary = (file: string): boolean => /[\\/]node_modules[\\/](xlsx-populate|sax)[\\/]/.test(file);
  return {
    name: "slim-spreadsheet-library",
    enforce: "pre" as const,
    resolveId(source: string, importer: string | undefined): string | undefined {
      return importer !== undefined && inLibrary(importer) ? instead.get(source) : undefined;
    },
    transform(code: string, id: string): { code: string; map: null } | undefined {
      if (!inLibrary(id)) return undefined;
      let slim = code.replaceAll("process.browser", "false");
      // A CommonJS default import: the module itself is the archive class.
      slim = slim.replace(/require\((['"])jszip\1\)/g, "$&.default");
      if (/\bBuffer\b/.test(slim))
        slim = `const Buffer = require(${JSON.stringify(here("bytes.ts"))});\n${slim}`;
      // It tells its classes apart by their names, which a build may shorten.
      const named = /^class (\w+)/m.exec(slim)?.[1];
      if (named !== undefined)
        slim += `\nObject.defineProperty(${named}, "name", { value: ${JSON.stringify(named)} });\n`;
      return slim === code ? undefined : { code: slim, map: null };
    },
  };
}
