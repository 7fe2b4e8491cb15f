import { parseFormula } from "../../../grammar";
import { plainQuantity } from "../names";
import { isLocal, originTable } from "../syntax";
import { type Frame, lastStretch } from "./frames";
import { sortOfText } from "./inference";
import { type Place, withLocals } from "./place";
import type { Token } from "./tokens";

/** `where` opens the columns of its list's table, and `find` a variable, for what comes behind. */
export function placeBehind(frames: readonly Frame[], text: string, place: Place): Place {
  let here = place;
  for (const frame of frames) {
    const { tokens } = lastStretch(frame);
    tokens.forEach((token, i) => {
      if (token.type !== "word") return;
      if (token.text === "where" && i > 0) {
        const { formula } = parseFormula(text.slice(tokens[0]!.from, tokens[i - 1]!.to));
        const table = originTable(formula, here.scope);
        if (table) here = { ...here, scope: { ...here.scope, table, place: "row" }, row: -1 };
      }
      if (token.text !== "that") return;
      const find = tokens.findLastIndex((t, k) => k < i && t.type === "word" && t.text === "find");
      const name = find < 0 ? undefined : tokens[find + 1]?.name;
      if (name === undefined || turnsSet(name, here)) return;
      here = withLocals(here, new Map([[name, sortOfText(rangeStart(tokens.slice(find), text), here)]]));
    });
  }
  return here;
}

/** Whether `find` turns a value of the book: one whose formula is a plain quantity, where nothing nearer has its name. */
function turnsSet(name: string, { plan, scope }: Place): boolean {
  const formula = plan.names.sets.get(name)?.formula;
  return (
    formula !== undefined && plainQuantity(formula) && !isLocal(name, scope) && !scope.table?.byName.has(name)
  );
}

/** What stands between `from` and `to`. */
function rangeStart(tokens: readonly Token[], text: string): string {
  const at = (word: string): number => tokens.findIndex((t) => t.type === "word" && t.text === word);
  const [from, to] = [at("from"), at("to")];
  return from >= 0 && to > from + 1 ? text.slice(tokens[from + 1]!.from, tokens[to - 1]!.to) : "";
}

/** The place with the names that the head of a statement adds; the variable of a curve is what its range is. */
export function withHeadNames(
  names: readonly string[],
  tokens: readonly Token[],
  text: string,
  place: Place,
): Place {
  const range = rangeStart(tokens, text);
  return withLocals(place, new Map(names.map((name) => [name, sortOfText(range, place)] as const)));
}
