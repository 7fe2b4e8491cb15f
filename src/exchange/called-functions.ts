import { type Formula, formulasIn } from "../../grammar";
import type { Book } from "../engine";
import { vocabulary } from "../vocabulary";
import type { Declaration } from "../vocabulary/declaration";

/** Functions of the vocabulary that formulas call, through the definitions of the book. */
export function functionsIn(formulas: readonly Formula[], book: Book): Declaration[] {
  const names = new Set<string>();
  const seen = new Set<string>();
  const defines = new Map(
    book.items.flatMap((i) =>
      i.type === "define" && i.statement.node.type === "define"
        ? [[i.name, i.statement.node.formula] as const]
        : [],
    ),
  );
  const look = (formula: Formula): void => {
    for (const f of formulasIn(formula)) {
      if (f.type !== "call") continue;
      const body = defines.get(f.name);
      if (body === undefined) names.add(f.name);
      else if (!seen.has(f.name)) {
        seen.add(f.name);
        look(body);
      }
    }
  };
  for (const formula of formulas) look(formula);
  return [...names].flatMap((n) => vocabulary.get(n) ?? []);
}
