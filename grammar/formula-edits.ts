import { lex } from "./lexer";
import { type Edited, oneLine, patched, refused, smallest } from "./patches";
import { Colon, Equals } from "./tokens";
import type { BookTree, Span, Statement } from "./tree";
import { sourceOf } from "./walk";

/** The edit of the formula of a statement. */

/**
 * Writes the formula of a set, column, foot, define or check, or what stands behind the colon of a chart. Works on a
 * statement that cannot be read as well, as long as it has its `=` or can be given one.
 */
export function setFormula(tree: BookTree, statement: Statement, typed: string): Edited {
  const formula = oneLine(typed);
  if (formula === "")
    return refused("formula-empty", "There is no formula to write.", "To leave a value open write `blank`.");
  const span = formulaSpan(tree, statement);
  if (span === undefined) return refused("formula-none", "This statement has no formula.");
  const from = statement.at + span.from;
  const to = statement.at + span.to;
  const blank = tree.text[from - 1] === "=" || tree.text[from - 1] === ":" ? " " : "";
  return patched(smallest(tree.text, from, to, blank + formula));
}

/** Where the formula of a statement stands, counted from the statement's start; undefined when it has none. */
export function formulaSpan(tree: BookTree, statement: Statement): Span | undefined {
  const { node } = statement;
  switch (node.type) {
    case "set":
    case "define":
    case "column":
    case "foot":
    case "check":
      return node.formula.span;
    case "chart":
    case "unread":
      return spanBehind(sourceOf(tree.text, statement), node.type === "chart" || node.keyword === "chart");
    default:
      return undefined;
  }
}

/** What stands behind the first `=`, or behind the colon of a chart. */
function spanBehind(source: string, isChart: boolean): Span | undefined {
  const { tokens } = lex(
    source,
    /^(?:set|define|table|column|foot|check|chart)\b/.test(source) ? "statement" : "formula",
  );
  const sign = tokens.find((token) => token.tokenType === (isChart ? Colon : Equals));
  if (sign === undefined) return undefined;
  const end = sign.startOffset + sign.image.length;
  const blanks = /^\s*/.exec(source.slice(end))![0].length;
  return { from: Math.min(source.length, end + blanks), to: source.length };
}
