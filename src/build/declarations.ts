import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";

/**
 * The types of the library in one piece. The compiler writes a declaration file for each module; from the names that
 * the library exports, this gathers what they are made of, and leaves out everything else.
 */
export interface Declared {
  readonly name: string;
  /** `function`, `interface`, `type`, `class` or `const`. */
  readonly sort: string;
  /** Its declarations, without `export` and `declare`, each with its doc comment; a function with overloads has several. */
  readonly pieces: readonly { readonly comment: string; readonly code: string }[];
}
export interface Declarations {
  /** What the library exports, in the order of its index. */
  readonly exported: readonly Declared[];
  /** What those are made of and the library does not export by name. */
  readonly inner: readonly Declared[];
  /** Import statements for types of other packages. */
  readonly imports: readonly string[];
}

const top = resolve(import.meta.dirname, "../..");

/** Reads the types of the library's source. */
export function declarations(): Declarations {
  const folder = mkdtempSync(join(tmpdir(), "invacuo-types-"));
  try {
    const compiler = join(top, "node_modules/typescript/bin/tsc");
    execFileSync(
      process.execPath,
      [compiler, "-p", join(top, "src/build/tsconfig.library.json"), "--outDir", folder],
      {
        stdio: ["ignore", "inherit", "inherit"],
      },
    );
    return gather(join(folder, "src/library/index.d.ts"));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The types as one file that a consumer's compiler reads. */
export function declarationFile({ exported, inner, imports }: Declarations): string {
  const shape = ({ sort, pieces }: Declared, exports: string): string => {
    const declare = sort === "interface" || sort === "type" ? "" : "declare ";
    return pieces.map(({ comment, code }) => `${comment}${exports}${declare}${code}`).join("\n");
  };
  return [
    ...imports,
    ...exported.map((d) => shape(d, "export ")),
    ...inner.map((d) => shape(d, "")),
    // Without this every declaration of the file would be exported.
    "export {};",
    "",
  ].join("\n");
}

interface Module {
  readonly declared: ReadonlyMap<string, Declared>;
  /** Names that come from elsewhere, imported or exported again. */
  readonly from: ReadonlyMap<string, { readonly name: string; readonly source: string }>;
  /** Names that are exported again, in order. */
  readonly passedOn: readonly string[];
}

function gather(index: string): Declarations {
  const modules = new Map<string, Module>();
  const moduleAt = (path: string): Module => {
    const known = modules.get(path);
    if (known !== undefined) return known;
    const read = readModule(readFileSync(path, "utf8"), path);
    modules.set(path, read);
    return read;
  };
  /** Where a name is declared: in a module, or in another package. */
  const find = (name: string, path: string): { found: Declared; path: string } | string | undefined => {
    const module = moduleAt(path);
    const found = module.declared.get(name);
    if (found !== undefined) return { found, path };
    const elsewhere = module.from.get(name);
    if (elsewhere === undefined) return undefined;
    if (!elsewhere.source.startsWith(".")) return `import ${name} from "${elsewhere.source}";`;
    if (elsewhere.name !== name)
      throw new Error(`${path} calls ${elsewhere.name} by another name, ${name}; the types need one name.`);
    return find(name, fileOf(path, elsewhere.source));
  };

  const exported: Declared[] = [];
  const inner: Declared[] = [];
  const imports = new Set<string>();
  const placeOf = new Map<string, string>();
  const waiting: { readonly declared: Declared; readonly path: string }[] = [];
  const take = (name: string, from: string, into: Declared[]): void => {
    const place = find(name, from);
    if (place === undefined) return;
    if (typeof place === "string") {
      imports.add(place);
      return;
    }
    const { found, path } = place;
    const known = placeOf.get(name);
    if (known === path) return;
    if (known !== undefined)
      throw new Error(
        `Two things in the types of the library are called ${name}: in ${known} and in ${path}. Rename one.`,
      );
    placeOf.set(name, path);
    into.push(found);
    waiting.push({ declared: found, path });
  };
  for (const name of moduleAt(index).passedOn) take(name, index, exported);
  for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
    for (const name of mentionedIn(next.declared))
      if (name !== next.declared.name) take(name, next.path, inner);
  }
  return { exported, inner, imports: [...imports] };
}

/** Names of types that a declaration mentions: they begin with a capital, or stand behind `typeof`. */
function mentionedIn({ name, pieces }: Declared): Set<string> {
  const whole = pieces.map((piece) => piece.code).join("\n");
  const code = whole.replace(/\/\*[\s\S]*?\*\//g, " ").replace(/"(?:\\.|[^"\\])*"/g, '""');
  if (/\bimport\(/.test(code))
    throw new Error(`Give this a written type, so that it needs no import: ${name}`);
  return new Set([...code.matchAll(/\btypeof (\w+)|\b([A-Z]\w*)/g)].map((m) => (m[1] ?? m[2])!));
}

function fileOf(path: string, source: string): string {
  const base = resolve(dirname(path), source);
  const file = [`${base}.d.ts`, join(base, "index.d.ts")].find(existsSync);
  if (file === undefined) throw new Error(`${path} imports ${source}, which has no declarations.`);
  return file;
}

function readModule(text: string, path: string): Module {
  const declared = new Map<string, Declared>();
  const from = new Map<string, { name: string; source: string }>();
  const passedOn: string[] = [];
  for (const { comment, code } of statementsOf(text)) {
    const passing =
      /^(import|export)\s+(?:type\s+)?(?:(\w+)\s*,?\s*)?(?:\{([^}]*)\}\s*)?from\s+"([^"]+)";$/.exec(code);
    if (passing !== null) {
      const [, word, whole, list, source] = passing;
      if (whole !== undefined) from.set(whole, { name: whole, source: source! });
      for (const entry of (list ?? "").split(",").map((e) => e.trim().replace(/^type\s+/, ""))) {
        if (entry === "") continue;
        const [name, as = name] = entry.split(/\s+as\s+/);
        from.set(as!, { name: name!, source: source! });
        if (word === "export") passedOn.push(as!);
      }
      continue;
    }
    const declares =
      /^(?:export\s+)?(?:declare\s+)?((?:abstract\s+)?(?:function|interface|type|class|const)\s+(\w+)[\s\S]*)$/.exec(
        code,
      );
    if (declares === null) {
      if (code === "export {};" || /^import\s+"/.test(code)) continue;
      throw new Error(`${path}: a declaration of a sort that is not known here: ${code.slice(0, 80)}`);
    }
    const [, bare, name] = declares;
    declared.set(name!, {
      name: name!,
      sort: /^(?:abstract\s+)?(\w+)/.exec(bare!)![1]!,
      pieces: [...(declared.get(name!)?.pieces ?? []), { comment, code: bare!.trim() }],
    });
  }
  return { declared, from, passedOn };
}

/** The statements at the top of a declaration file, each with the doc comment right before it. */
function* statementsOf(text: string): Generator<{ readonly comment: string; readonly code: string }> {
  const token = /\/\*[\s\S]*?\*\/|\/\/[^\n]*|"(?:\\.|[^"\\])*"|`(?:\\.|[^`\\])*`|[{}()[\];]/g;
  let from = 0;
  let depth = 0;
  let comment = "";
  let begun = false;
  for (const match of text.matchAll(token)) {
    const [piece] = match;
    if (depth === 0 && !begun && text.slice(from, match.index).trim() === "" && piece.startsWith("/")) {
      comment = piece.startsWith("/**") ? `${piece}\n` : "";
      from = match.index + piece.length;
      continue;
    }
    begun = true;
    if ("{([".includes(piece)) depth++;
    else if ("})]".includes(piece)) depth--;
    const code = text.slice(from, match.index + piece.length).trim();
    // A body in braces ends an interface or a class; everything else ends on a semicolon.
    const block = /^(?:export\s+)?(?:declare\s+)?(?:abstract\s+)?(?:interface|class)\b/.test(code);
    if (depth !== 0 || !(piece === ";" || (piece === "}" && block))) continue;
    yield { comment, code };
    from = match.index + piece.length;
    comment = "";
    begun = false;
  }
}
