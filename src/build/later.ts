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
      for (const [part, { otherwise }] of PARTS) {
        const file = join(top, `${part}.ts`);
        if (id === file) return { code: handingOn(namesIn(file), otherwise), moduleType: "js" };
        if (id === join(top, `${part}-here.ts`)) return { code: bringing(file), moduleType: "js" };
      }
      return null;
    },
  };
}

/** What the functions of a part give as long as it has not come; without it they cannot be called yet. */
const refused = JSON.stringify({
  refused: {
    code: "edit-away",
    says: "What makes this change is still on its way.",
    help: "Try it again in a moment.",
  },
});

/** The files of re-exports. */
export const PARTS: ReadonlyMap<string, { readonly otherwise?: string }> = new Map([
  ["src/engine/questions", {}],
  ["grammar/alterations", { otherwise: refused }],
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

const handingOn = (names: readonly Passed[], otherwise?: string): string => `export const held = {};
${otherwise === undefined ? "" : `const away = () => (${otherwise});`}
${names
  .map(({ name }) => {
    const one = otherwise === undefined ? `held.${name}` : `(held.${name} ?? away)`;
    return `export const ${name} = (...all) => ${one}(...all);`;
  })
  .join("\n")}
`;

const bringing = (file: string): string => {
  const names = namesIn(file);
  return `import { held } from ${JSON.stringify(file)};
${names.map(({ name, source }) => `import { ${name} } from ${JSON.stringify(join(dirname(file), source))};`).join("\n")}
Object.assign(held, { ${names.map(({ name }) => name).join(", ")} });
`;
};
