import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { gzipSync } from "node:zlib";
import type { Plugin, Rolldown } from "vite";
import { partsCalled } from "./functions-apart";

/** What may be loaded before something is on the screen, compressed, in bytes. */
export const LIMITS = {
  /** The start. */
  start: 90_000,
  /** The start, and a book open on it: read, worked out, and its cells and formulas ready to be written in, with the functions that it calls. */
  book: 250_000,
} as const;

/** The book that is weighed: the one that the README and the start begin with. */
export const WEIGHED = "workbooks/harbour-gin.vacuo";

/** Says at the build what the page weighs, compressed: its start, an open book, and all of it. Refuses what is too heavy. */
export function weights(): Plugin {
  return {
    name: "weights",
    apply: "build",
    generateBundle: {
      order: "post",
      handler(_options, bundle) {
        const pieces = Object.values(bundle).filter((piece) => piece.fileName.startsWith("assets/"));
        const weigh = (names: Iterable<string>): number =>
          [...names].reduce((sum, name) => {
            const piece = bundle[name]!;
            return sum + gzipSync(piece.type === "chunk" ? piece.code : piece.source, { level: 9 }).length;
          }, 0);
        /** A file, what it imports before it runs, and the styles that come with them. */
        const load = (name: string, seen: Set<string>): Set<string> => {
          const chunk = bundle[name];
          if (chunk?.type !== "chunk" || seen.has(name)) return seen;
          seen.add(name);
          for (const style of styledBy(chunk)) seen.add(style);
          for (const imported of chunk.imports) load(imported, seen);
          return seen;
        };
        const holding = (module: string): string => {
          const found = pieces.find(
            (piece) => piece.type === "chunk" && piece.moduleIds.some((id) => id.endsWith(module)),
          );
          if (found === undefined) this.error(`No file of the page holds ${module}.`);
          return found.fileName;
        };
        const start = load(holding("src/app/main.tsx"), new Set());
        const bare = load(holding("src/app/Desk.tsx"), new Set(start));
        const text = readFileSync(resolve(import.meta.dirname, "../..", WEIGHED), "utf8");
        const book = new Set(bare);
        for (const part of partsCalled(text)) load(holding(part), book);
        const say = (bytes: number): string => `${(bytes / 1000).toFixed(1)} kB`;
        this.info(
          `compressed: the start ${say(weigh(start))} (at most ${say(LIMITS.start)}), an open book that calls ` +
            `nothing ${say(weigh(bare))}, ${WEIGHED} ${say(weigh(book))} (at most ${say(LIMITS.book)}), ` +
            `with spreadsheets ${say(weigh(pieces.map((p) => p.fileName).filter((n) => !n.endsWith(".map"))))}`,
        );
        for (const [what, names] of [
          ["start", start],
          ["book", book],
        ] as const) {
          if (weigh(names) > LIMITS[what])
            this.error(`The ${what} weighs ${weigh(names)} bytes compressed; it may weigh ${LIMITS[what]}.`);
        }
      },
    },
  };
}

const styledBy = (chunk: Rolldown.OutputChunk): Iterable<string> =>
  (chunk as { viteMetadata?: { importedCss: Set<string> } }).viteMetadata?.importedCss ?? [];
