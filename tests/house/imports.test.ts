import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

/**
 * The rooms of the house and what each may import. Dependencies point one way only: whoever wants to know
 * what a room depends on reads this list, and whoever wants to change it changes it here, on purpose.
 */
const rooms: Record<string, readonly string[]> = {
  grammar: [],
  "src/quantity": [],
  "src/matter": ["src/quantity"],
  "src/vocabulary": ["src/quantity", "src/matter", "grammar"],
  "src/engine": ["src/quantity", "src/matter", "src/vocabulary", "grammar"],
  "src/exchange": ["src/quantity", "src/matter", "src/vocabulary", "src/engine", "grammar"],
  "src/cli": ["src/quantity", "src/vocabulary", "src/engine", "src/exchange", "grammar"],
  "src/app": ["src/quantity", "src/vocabulary", "src/engine", "src/exchange", "grammar"],
  "src/library": ["src/quantity", "src/vocabulary", "src/engine", "src/exchange", "grammar"],
  // Pieces of the builds and the writer of the generated documents; nothing that is shipped imports them.
  "src/build": ["src/vocabulary", "src/exchange", "grammar"],
};

/** Packages that each room may use; a new dependency is a decision, not an accident. */
const packages: Record<string, readonly string[]> = {
  grammar: ["chevrotain"],
  "src/quantity": ["big.js"],
  "src/matter": ["yalps"],
  "src/vocabulary": ["yalps"],
  "src/engine": [],
  "src/exchange": ["fflate", "xlsx-populate"],
  "src/cli": ["commander"],
  "src/app": ["react", "react-dom"],
  "src/library": [],
  "src/build": ["vite", "rolldown"],
};

/** Rooms that give the same result on every machine and every day, and that the page can run. */
const kernel = ["grammar", "src/quantity", "src/matter", "src/vocabulary", "src/engine"];

const top = resolve(import.meta.dirname, "../..");

interface SourceFile {
  readonly path: string;
  readonly room: string;
  readonly text: string;
  /** The text without comments, and with strings kept. */
  readonly code: string;
}

const files: readonly SourceFile[] = Object.keys(rooms).flatMap((room) =>
  readdirSync(join(top, room), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name) && !name.endsWith(".d.ts"))
    .map((name) => {
      const path = join(room, name);
      const text = readFileSync(join(top, path), "utf8");
      return { path, room, text, code: withoutComments(text) };
    }),
);

/** Comments out, text in quotes kept: enough of a reader for import statements and forbidden words. */
function withoutComments(text: string): string {
  return text.replace(
    /("(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|`(?:\\.|[^`\\])*`)|\/\*[\s\S]*?\*\/|(^|[^:\\/])\/\/[^\n]*/gm,
    (all, quoted: string | undefined, before: string | undefined) =>
      quoted ?? (all.startsWith("/*") ? " " : (before ?? "")),
  );
}

/** What a file imports: static, re-exported, dynamic and type imports alike. */
function importsOf(code: string): string[] {
  const found = new Set<string>();
  for (const pattern of [
    /(?:^|[;\n])\s*(?:import|export)\s[^;'"]*?\sfrom\s*["']([^"']+)["']/g,
    /(?:^|[;\n])\s*import\s*["']([^"']+)["']/g,
    /\bimport\s*\(\s*["']([^"']+)["']/g,
    /\brequire\s*\(\s*["']([^"']+)["']/g,
    /\bnew URL\(\s*["'](\.[^"']+)["']\s*,\s*import\.meta\.url/g,
  ]) {
    for (const match of code.matchAll(pattern)) found.add(match[1]!);
  }
  return [...found];
}

function roomOf(path: string): string | undefined {
  return Object.keys(rooms).find((room) => path === room || path.startsWith(`${room}/`));
}

describe("the reader of imports", () => {
  it("sees static, side-effect, dynamic, type-only and re-exported imports, and no commented ones", () => {
    const code = withoutComments(
      [
        'import { a } from "./one";',
        'import "./two.css";',
        'import type { b } from "../three";',
        'export { c } from "./four";',
        'const d = await import("./five");',
        "// import { e } from './six';",
        '/* import { f } from "./seven"; */',
        'import {\n  g,\n  h,\n} from "./eight";',
      ].join("\n"),
    );
    expect(importsOf(code).sort()).toEqual(["../three", "./eight", "./five", "./four", "./one", "./two.css"]);
  });

  it("finds files in every room", () => {
    for (const room of Object.keys(rooms)) {
      expect(
        files.some((file) => file.room === room),
        `no file in ${room}`,
      ).toBe(true);
    }
  });
});

describe("imports point one way", () => {
  for (const file of files) {
    it(file.path, () => {
      for (const name of importsOf(file.code)) {
        if (name.startsWith(".")) {
          const target = relative(top, resolve(top, dirname(file.path), name));
          const room = roomOf(target);
          if (room === file.room) continue;
          // The command tells its version; the page brings the example books along.
          if (target === "package.json" && file.room === "src/cli") continue;
          // The writer of generated documents tells of the comparisons that the tests make.
          if (target === "tests/published/accuracy" && file.path === "src/build/generate.ts") continue;
          if (room === undefined && /^(workbooks|docs)\//.test(target) && file.room === "src/app") continue;
          expect(rooms[file.room], `${file.path} imports ${name}`).toContain(room ?? target);
        } else if (name.startsWith("node:")) {
          expect(
            ["src/cli", "src/build"],
            `${file.path} imports ${name}; only the command and the builds may`,
          ).toContain(file.room);
        } else {
          const bare = name.startsWith("@") ? name.split("/").slice(0, 2).join("/") : name.split("/")[0]!;
          expect(packages[file.room], `${file.path} imports the package ${name}`).toContain(bare);
        }
      }
    });
  }
});

describe("the kernel has no clock, no randomness, no locale and no generated code", () => {
  const everywhere = [/\beval\s*\(/, /\bnew Function\b/, /\bFunction\s*\(/];
  const inKernel = [
    /\bDate\.now\b/,
    /\bnew Date\s*\(\s*\)/,
    /\bperformance\.now\b/,
    /\bMath\.random\b/,
    /\bcrypto\b/,
    /\bIntl\b/,
    /\btoLocale[A-Z]\w*/,
    /\blocaleCompare\b/,
    /\bfetch\s*\(/,
    /\blocalStorage\b/,
    /\bprocess\./,
    /\bconsole\./,
    /\bsetTimeout\b/,
  ];
  for (const file of files) {
    it(file.path, () => {
      const bare = file.code.replace(/"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'/g, '""');
      const forbidden = kernel.includes(file.room) ? [...everywhere, ...inKernel] : everywhere;
      for (const pattern of forbidden) {
        expect(bare.match(pattern)?.[0], `${file.path} uses ${pattern.source}`).toBeUndefined();
      }
    });
  }
});

describe("a file is a concept", () => {
  const soft = 400;
  const hard = 900;
  const lengths = files
    .filter((file) => !file.path.includes(".generated."))
    .map((file) => ({ path: file.path, lines: file.text.split("\n").length }));

  it(`no source file is longer than ${hard} lines`, () => {
    const long = lengths.filter((file) => file.lines > soft);
    if (long.length > 0) {
      const list = long.map((file) => `  ${file.path}: ${file.lines}`).join("\n");
      console.warn(`Longer than ${soft} lines; look whether each is still one concept:\n${list}`);
    }
    expect(lengths.filter((file) => file.lines > hard)).toEqual([]);
  });

  it("an index is a table of contents: explicit named re-exports and nothing else", () => {
    const indexes = files.filter((f) => /(^|\/)index\.tsx?$/.test(f.path) && f.room !== "src/app");
    const fuller = indexes.filter(
      (file) =>
        file.code.replace(/export\s+(type\s+)?(\{[^}]*\}|\*)\s*from\s*["'][^"']+["'];?/g, "").trim() !== "",
    );
    expect(indexes.length).toBeGreaterThan(3);
    expect(fuller.map((file) => file.path)).toEqual([]);
  });
});
