import { resolve } from "node:path";
import { type Plugin, parseAst } from "vite";
import { vocabulary } from "../vocabulary";
import { proseOf } from "../vocabulary/prose";
import type { SyntaxNode } from "./syntax-node";

/**
 * Takes the prose of the functions (equations, sources, ranges, help, examples) out of their declarations and into a
 * file of its own, so that an open book need not wait for it. In the source each declaration stays one piece; what it
 * says is asked of the declarations themselves, and then cut out of the code. Code that shows it imports
 * src/vocabulary/prose-here.ts, which puts it back.
 */
export function proseApart(): Plugin {
  const room = resolve(import.meta.dirname, "../vocabulary");
  const inRoom = (id: string): string | undefined =>
    id.startsWith(`${room}/`) ? id.slice(room.length + 1).replace(/\?.*$/, "") : undefined;
  const sentences = new Set(
    [...vocabulary.values()].flatMap((d) => {
      const { parameters, result } = proseOf(d);
      return [...parameters, ...result];
    }),
  );
  return {
    name: "prose-apart",
    apply: "build",
    transform(code, id) {
      const name = inRoom(id);
      if (name === undefined || READERS.has(name)) return undefined;
      if (name === "prose-apart.ts") {
        const proses = Object.fromEntries([...vocabulary].map(([fn, d]) => [fn, proseOf(d)]));
        return { code: `export const apart = ${JSON.stringify(proses)};`, map: null };
      }
      return { code: withoutProse(code, sentences), map: null };
    },
  };
}

/** Files that read declarations and hold none. */
const READERS = new Set(["glossary.ts", "document.ts", "prose.ts", "prose-here.ts"]);

/** Properties that hold nothing but prose, wherever they stand in a declaration. */
const PROSE = new Set(["equation", "source", "range", "trust", "examples"]);

/** An object with one of these beside its `says` is a declaration, a parameter or a part; another's `says` is a message. */
const DECLARED = ["equation", "takes", "holds"];

/** The code of declarations without their prose. `sentences`: those of parameters and parts, which are given to builders. */
export function withoutProse(code: string, sentences: ReadonlySet<string>): string {
  const cuts: { readonly from: number; readonly to: number; readonly put: string }[] = [];
  const keyOf = (property: SyntaxNode): string | undefined => {
    const key = property.key as SyntaxNode | undefined;
    return property.type === "Property" && key?.type === "Identifier" ? (key.name as string) : undefined;
  };
  const walk = (node: SyntaxNode): void => {
    if (node.type === "ObjectExpression") {
      const properties = node.properties as readonly SyntaxNode[];
      const keys = new Set(properties.map(keyOf));
      for (const property of properties) {
        const key = keyOf(property);
        const prose =
          key !== undefined && (key === "says" ? DECLARED.some((k) => keys.has(k)) : PROSE.has(key));
        if (!prose) walk(property);
        else {
          // With the comma behind it.
          const comma = /^\s*,/.exec(code.slice(property.end))?.[0].length ?? 0;
          cuts.push({ from: property.start, to: property.end + comma, put: "" });
        }
      }
      return;
    }
    // A sentence that a builder makes a parameter or a part of; a remark that is added to a result is none.
    if (node.type === "CallExpression" && (node.callee as SyntaxNode).type === "MemberExpression") {
      for (const child of childrenOf(node)) if (child.type !== "Literal") walk(child);
      return;
    }
    if (node.type === "Literal" && sentences.has(node.value as string)) {
      if (/ .*\.$/.test(node.value as string)) cuts.push({ from: node.start, to: node.end, put: '""' });
      return;
    }
    for (const child of childrenOf(node)) walk(child);
  };
  walk(parseAst(code) as unknown as SyntaxNode);
  let slim = "";
  let from = 0;
  for (const cut of cuts) {
    slim += code.slice(from, cut.from) + cut.put;
    from = cut.to;
  }
  return slim + code.slice(from);
}

/** The nodes right below a node, in the order of the text. */
function childrenOf(node: SyntaxNode): readonly SyntaxNode[] {
  const isNode = (value: unknown): value is SyntaxNode =>
    typeof value === "object" && value !== null && typeof (value as SyntaxNode).type === "string";
  return Object.values(node)
    .flat()
    .filter(isNode)
    .sort((a, b) => a.start - b.start);
}
