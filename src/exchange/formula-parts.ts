import type { Formula } from "../../grammar";
import type { Book } from "../engine";
import { vocabulary } from "../vocabulary";
import type { Declaration } from "../vocabulary/declaration";

/** Functions of the vocabulary that a formula calls, through the definitions of the book. */
export function functionsIn(node: Formula | undefined, book: Book): Declaration[] {
  const names = new Set<string>();
  const seen = new Set<string>();
  const defines = new Map(
    book.items.flatMap((i) =>
      i.type === "define" && i.statement.node.type === "define"
        ? [[i.name, i.statement.node.formula] as const]
        : [],
    ),
  );
  const walk = (f: Formula): void => {
    if (f.type === "call") {
      const body = defines.get(f.name);
      if (body === undefined) names.add(f.name);
      else if (!seen.has(f.name)) {
        seen.add(f.name);
        walk(body);
      }
    }
    for (const child of children(f)) walk(child);
  };
  if (node !== undefined) walk(node);
  return [...names].flatMap((n) => vocabulary.get(n) ?? []);
}

/** The formulas inside a formula. */
export function children(f: Formula): readonly Formula[] {
  switch (f.type) {
    case "text":
      return f.pieces.filter((p): p is Formula => typeof p !== "string");
    case "list":
      return f.entries;
    case "call":
      return f.arguments.map((a) => a.value);
    case "part":
    case "negate":
    case "not":
    case "shown":
      return [f.of];
    case "spread":
      return [f.of, f.by];
    case "arithmetic":
    case "compare":
    case "logic":
      return [f.left, f.right];
    case "within":
      return [f.of, f.low, f.high];
    case "range":
      return f.step === undefined ? [f.from, f.to] : [f.from, f.to, f.step];
    case "choice":
      return [f.condition, f.yes, f.no];
    case "find":
      return [f.from, f.to, f.goal];
    case "where":
      return [f.of, f.condition];
    default:
      return [];
  }
}
