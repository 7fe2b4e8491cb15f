import { readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { type Plugin, parseAst } from "vite";
import type { SyntaxNode } from "./syntax-node";

/**
 * Sends to the page, behind an open book, what a book can be opened and written in without. In the source each such part
 * is a file of nothing but re-exports, with another beside it, `…-here.ts`, which is imported by whoever needs the part.
 * For the page the first hands every call on to what has come, and the second brings it.
 */
export function later(): Plugin {
  const top = resolve(import.meta.dirname, "../..");
  return {
    name: "later",
    apply: "build",
    enforce: "pre",
    load(id) {
      for (const [path, part] of PARTS) {
        const file = join(top, `${path}.ts`);
        if (id === file) return { code: handingOn(file, part), moduleType: "js" };
        if (id === join(top, `${path}-here.ts`)) return { code: bringing(file), moduleType: "js" };
      }
      return null;
    },
  };
}

interface Part {
  /** What its functions give as long as it has not come, in code that may name their arguments `all`. */
  readonly otherwise?: string;
  /** What that code imports, from files beside the part. */
  readonly imports?: Readonly<Record<string, string>>;
}

/** The files of re-exports. What has no `otherwise` cannot be called before it has come. */
export const PARTS: ReadonlyMap<string, Part> = new Map<string, Part>([
  ["src/engine/questions", {}],
  [
    "grammar/alterations",
    {
      imports: { refused: "patches" },
      otherwise:
        'refused("edit-away", "What makes this change is still on its way.", "Try it again in a moment.")',
    },
  ],
  [
    "src/app/state/item-edits",
    {
      otherwise: '({ refused: "What makes this change is still on its way. Try it again in a moment." })',
    },
  ],
  [
    "src/app/view/clipping",
    {
      otherwise:
        '(all[0].preventDefault(), all[1].send({ type: "say", text: "What copies and pastes cells is still on its way. Try it again in a moment." }))',
    },
  ],
  [
    "grammar/explaining",
    {
      imports: { fault: "messages", place: "stops" },
      otherwise: 'fault("reason-away", place(all[0]), "This cannot be read. The reason is on its way.")',
    },
  ],
]);

interface Passed {
  readonly name: string;
  readonly source: string;
}

/** What a file of re-exports passes on, types aside. */
function namesIn(file: string): readonly Passed[] {
  const code = readFileSync(file, "utf8");
  const { body } = parseAst(code, { lang: "ts" }) as unknown as { body: readonly SyntaxNode[] };
  return body.flatMap((statement) => {
    const { source, specifiers, exportKind } = statement as SyntaxNode & {
      readonly source?: { readonly value: string } | null;
      readonly specifiers?: readonly {
        exported: { name: string };
        local: { name: string };
        exportKind?: string;
      }[];
      readonly exportKind?: string;
    };
    if (statement.type !== "ExportNamedDeclaration" || !source || !specifiers)
      throw new Error(`${file} comes later to the page, so it may hold named re-exports only.`);
    return exportKind === "type"
      ? []
      : specifiers
          .filter((one) => one.exportKind !== "type")
          .map(({ exported, local }) => {
            if (exported.name !== local.name) throw new Error(`${file} gives ${local.name} another name.`);
            return { name: exported.name, source: source.value };
          });
  });
}

const importing = (name: string, file: string): string => `import { ${name} } from ${JSON.stringify(file)};`;

const handingOn = (file: string, { otherwise, imports = {} }: Part): string =>
  [
    ...Object.entries(imports).map(([name, source]) => importing(name, join(dirname(file), source))),
    "export const held = {};",
    `const later = (name) => (...all) => ${otherwise === undefined ? "" : `!held[name] ? ${otherwise} : `}held[name](...all);`,
    ...namesIn(file).map(({ name }) => `export const ${name} = later(${JSON.stringify(name)});`),
  ].join("\n");

const bringing = (file: string): string => {
  const names = namesIn(file);
  return [
    importing("held", file),
    ...names.map(({ name, source }) => importing(name, join(dirname(file), source))),
    `Object.assign(held, { ${names.map(({ name }) => name).join(", ")} });`,
  ].join("\n");
};
