import { gzipSync } from "node:zlib";
import type { Plugin, Rolldown } from "vite";

/** What the start loads first may weigh, compressed, in bytes. */
export const FIRST_LOAD = 250_000;

/** Says at the build what the page weighs, compressed: its start, an open book, and all of it. Refuses a start that is too heavy. */
export function weights(): Plugin {
  return {
    name: "weights",
    apply: "build",
    generateBundle: {
      order: "post",
      handler(_options, bundle) {
        const pieces = Object.values(bundle).filter((piece) => piece.fileName.startsWith("assets/"));
        const weigh = (list: Iterable<Rolldown.OutputChunk | Rolldown.OutputAsset>): number =>
          [...list].reduce(
            (sum, p) => sum + gzipSync(p.type === "chunk" ? p.code : p.source, { level: 9 }).length,
            0,
          );
        const styles = pieces.filter((piece) => piece.fileName.endsWith(".css"));
        const withImports = (name: string, seen = new Set<Rolldown.OutputChunk>()) => {
          const chunk = bundle[name];
          if (chunk?.type !== "chunk" || seen.has(chunk)) return seen;
          seen.add(chunk);
          for (const imported of chunk.imports) withImports(imported, seen);
          return seen;
        };
        const chunkOf = (name: string): Rolldown.OutputChunk => {
          const found = pieces.find((piece) => piece.type === "chunk" && piece.name === name);
          if (found?.type !== "chunk") this.error(`There is no chunk ${name} to be weighed.`);
          return found;
        };
        const start = withImports(chunkOf("index").fileName);
        const desk = withImports(chunkOf("Desk").fileName);
        const first = weigh([...start, ...styles]);
        const say = (bytes: number): string => `${(bytes / 1000).toFixed(0)} kB`;
        this.info(
          `compressed: the start ${say(first)} (at most ${say(FIRST_LOAD)}), ` +
            `an open book ${say(weigh(new Set([...start, ...styles, ...desk])))}, ` +
            `with spreadsheets ${say(weigh(pieces))}`,
        );
        if (first > FIRST_LOAD)
          this.error(`The start weighs ${first} bytes compressed; it may weigh ${FIRST_LOAD}.`);
      },
    },
  };
}
