import { tokensOf } from "../../../grammar";
import { cellsKey, footKey, setKey } from "../names";
import { type Place, placeIn } from "./place";
import type { Source } from "./source";
import type { Token } from "./tokens";

/** How a statement begins, up to where its formula starts. */
export interface Head {
  readonly keyword: string;
  /** Tokens behind the first word that still belong to the head; the formula begins behind them. */
  readonly count: number;
  /** Whether the formula has begun. */
  readonly whole: boolean;
  /** Parameters of a `define`, the variable of a curve: names that the formula sees before all others. */
  readonly locals: readonly string[];
}

const HEADS =
  /^(?:language|book|about|part|set|define|table|column|foot|check|chart|step|seen)(?![\p{L}\p{M}\p{Nd}_])/u;

/** Tokens of a statement up to `end`, or undefined when it begins with no word that begins one. */
export function statementTokens(text: string, end: number): readonly Token[] | undefined {
  return HEADS.test(text) && end > 0 ? tokensOf(text, 0, end, "statement") : undefined;
}

/** What stands before the formula in each statement. */
export function headOf(text: string, tokens: readonly Token[]): Head {
  const keyword = tokens[0]?.text ?? "";
  const equals = tokens.findIndex((t) => t.type === "operator" && t.text === "=");
  switch (keyword) {
    case "set":
    case "column":
    case "foot":
      return { keyword, count: equals + 1, whole: equals > 0, locals: [] };
    case "define": {
      const names = tokens.slice(2, Math.max(2, equals)).flatMap((t) => (t.type === "name" ? [t.name!] : []));
      return {
        keyword,
        count: equals + 1,
        whole: equals > 0,
        locals: names,
      };
    }
    case "check":
    case "seen":
      return { keyword, count: 1, whole: tokens.length > 0, locals: [] };
    case "step":
      return { keyword, count: 2, whole: tokens.length > 1, locals: [] };
    case "chart":
      return { keyword, count: 2, whole: tokens.length > 2, locals: curveVariable(text) };
    default:
      return { keyword, count: tokens.length, whole: false, locals: [] };
  }
}

/** A statement in the text stands in its table and defines its name, as the field of its formula would. */
export function definedPlace(
  { place, table, trial }: Source,
  { keyword }: Head,
  tokens: readonly Token[],
): Place {
  const name = tokens[1]?.name;
  if (name === undefined || trial !== undefined) return place;
  switch (keyword) {
    case "set":
      return { ...place, self: setKey(name) };
    case "column":
      return table ? { ...placeIn(table, "row", place), self: cellsKey(table.name, name) } : place;
    case "foot":
      return table ? { ...placeIn(table, "foot", place), self: footKey(table.name, name) } : place;
    default:
      return place;
  }
}

/** The variable of a curve stands behind the formula that uses it. */
function curveVariable(text: string): readonly string[] {
  const tokens = tokensOf(text, 0, text.length, "statement");
  // Behind a formula that is still being written it is not told for a clause yet.
  const at = tokens.findLastIndex((t) => t.text === "for");
  const name =
    at < 0 || !tokens.some((t) => t.type === "style" && t.text === "curve")
      ? undefined
      : tokens[at + 1]?.name;
  return name === undefined ? [] : [name];
}
