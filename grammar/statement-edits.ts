import { lex, scannedText } from "./lexer";
import { writeName } from "./names";
import {
  type Edited,
  endOfLineBefore,
  holderOf,
  insertion,
  isOpenEnded,
  type Lines,
  linesOf,
  nameTaken,
  newName,
  oneLine,
  type Patch,
  patched,
  refused,
  removals,
  smallest,
  withCommentsAbove,
} from "./patches";
import { quoteText } from "./printer";
import { partsOf } from "./table-edits";
import { Mark, Text } from "./tokens";
import type { BookTree, Span, Statement, TableTree } from "./tree";
import { sourceOf } from "./walk";

/** Edits of whole statements: their texts, and where they stand. */

// ---- what a statement says

/** Writes the range of a slider or the choices behind `try`; an empty text takes them away. */
export function setTrial(tree: BookTree, statement: Statement, typed: string): Edited {
  const { node, at, length } = statement;
  if (node.type !== "set") return refused("trial-none", "Only a `set` can be tried.");
  const behind = at + node.formula.span.to;
  const trial = oneLine(typed);
  return patched(smallest(tree.text, behind, at + length, trial === "" ? "" : ` try ${trial}`));
}

/**
 * Writes the text of a book, about, part, table, chart, check or seen statement. A table, check or tick that has none
 * gets one; an empty text takes theirs away.
 */
export function setTitle(tree: BookTree, statement: Statement, title: string): Edited {
  const { node } = statement;
  const source = sourceOf(tree.text, statement);
  const written = quoteText(oneLine(title));
  const place = titlePlace(statement, source);
  if (place === undefined) return refused("title-none", "This statement has no title.");
  const needed =
    node.type === "book" || node.type === "about" || node.type === "part" || node.type === "chart";
  const empty = oneLine(title) === "" && !needed;
  const joint = node.type === "check" ? " : " : " ";
  const insert = empty ? "" : place.joined ? joint + written : written;
  const from = empty && !place.joined ? place.joint : place.from;
  return patched(smallest(tree.text, statement.at + from, statement.at + place.to, insert));
}

interface TitlePlace extends Span {
  /** Whether there is no text yet, so that it has to be joined on. */
  readonly joined: boolean;
  /** Where the blanks or the colon before the text begin. */
  readonly joint: number;
}

function titlePlace({ node }: Statement, source: string): TitlePlace | undefined {
  const { tokens } = lex(source, "statement");
  const end = source.length;
  const none = { from: end, to: end, joined: true, joint: end };
  const at = (index: number): TitlePlace | undefined => {
    const token = tokens[index];
    if (token === undefined || token.tokenType !== Text) return undefined;
    const before = tokens[index - (node.type === "check" ? 2 : 1)]!;
    const to = token.startOffset + token.image.length;
    return { from: token.startOffset, to, joined: false, joint: before.startOffset + before.image.length };
  };
  switch (node.type) {
    case "book":
    case "about":
    case "part":
    case "chart":
      return at(1);
    case "table":
      return at(2) ?? none;
    case "check":
      return node.text === undefined ? none : at(tokens.length - 1);
    case "seen":
      return tokens.at(-1)?.tokenType === Mark ? none : at(tokens.length - 1);
    default:
      return undefined;
  }
}

/** Writes the sentence of a step as it stands between its quotes, formulas in braces and escapes included. */
export function setStepText(tree: BookTree, statement: Statement, typed: string): Edited {
  if (statement.node.type !== "step") return refused("step-none", "This is no step.");
  const { span } = statement.node.text;
  const written = `"${oneLine(typed)}"`;
  const { tokens } = lex(written, "formula");
  const token = tokens[0]!;
  if (token.tokenType !== Text || scannedText(token).end !== written.length)
    return refused(
      "step-text",
      "This is not one text.",
      'A `"` in it is written `\\"`, and every `{` has its `}`.',
    );
  return patched(smallest(tree.text, statement.at + span.from, statement.at + span.to, written));
}

/** Writes what stands behind the sentence of a step: `wait`, `ask`, `expect`. */
export function setStepClauses(tree: BookTree, statement: Statement, typed: string): Edited {
  if (statement.node.type !== "step") return refused("step-none", "This is no step.");
  const from = statement.at + statement.node.text.span.to;
  const clauses = oneLine(typed);
  return patched(
    smallest(tree.text, from, statement.at + statement.length, clauses === "" ? "" : ` ${clauses}`),
  );
}

/** Writes the comment at the end of a statement; an empty one takes it away. */
export function setComment(tree: BookTree, statement: Statement, typed: string): Edited {
  const comment = oneLine(typed);
  if (statement.node.type === "row" && comment.includes("|"))
    return refused("comment-bar", "A comment behind a row holds no bar.");
  const end = statement.at + statement.length;
  const rest = /^[^\r\n]*/.exec(tree.text.slice(end))![0];
  const hash = rest.indexOf("#");
  if (comment === "") return patched({ from: end, to: end + rest.length, insert: "" });
  if (hash < 0) return patched({ from: end, to: end + rest.length, insert: `  # ${comment}` });
  return patched(smallest(tree.text, end + hash, end + rest.length, `# ${comment}`));
}

// ---- new statements

/** Where a new statement goes: before or behind another, or at the end of the book. */
export type Place = { readonly before: Statement } | { readonly behind: Statement } | "end";

/** Adds the lines of a statement, as they are typed. Behind a table means behind its last row, column or foot. */
export function addStatement(tree: BookTree, place: Place, typed: string): Edited {
  const { text } = tree;
  const lines = typed.split(/\r?\n/);
  if (place === "end") {
    const ticks = firstTickAtEnd(tree);
    if (ticks === undefined) return patched(insertion(text, text.length, lines));
    return patched(insertion(text, withCommentsAbove(text, linesOf(text, ticks)).from, [...lines, ""]));
  }
  if ("before" in place) {
    const trouble = insideTable(tree, place.before);
    if (trouble !== undefined) return trouble;
    return patched(insertion(text, withCommentsAbove(text, linesOf(text, place.before)).from, lines));
  }
  const behind = lastOfTable(tree, place.behind);
  return patched(insertion(text, linesOf(text, behind).to, lines));
}

/** The line of a new `set`, or why there can be none of that name. */
export function newSet(tree: BookTree, typed: string, formula: string): { readonly line: string } | Edited {
  const named = newName(typed, "value");
  if ("refused" in named) return { refused: named.refused };
  const holder = holderOf(tree, named.name, "value");
  if (holder !== undefined) return nameTaken(named.name, holder);
  return { line: `set ${writeName(named.name)} = ${oneLine(formula)}` };
}

/** The line of a new `define`, or why there can be none of that name. */
export function newDefine(
  tree: BookTree,
  typed: string,
  parameters: readonly string[],
  formula: string,
): { readonly line: string } | Edited {
  const named = newName(typed, "definition");
  if ("refused" in named) return { refused: named.refused };
  const holder = holderOf(tree, named.name, "define");
  if (holder !== undefined) return nameTaken(named.name, holder);
  if (parameters.length === 0) return refused("parameter-none", "A definition has at least one parameter.");
  const written: string[] = [];
  for (const parameter of parameters) {
    const one = newName(parameter, "parameter");
    if ("refused" in one) return { refused: one.refused };
    if (written.includes(writeName(one.name)))
      return refused("parameter-twice", `Two parameters are named \`${one.name}\`.`);
    written.push(writeName(one.name));
  }
  return { line: `define ${writeName(named.name)}(${written.join(", ")}) = ${oneLine(formula)}` };
}

/** The lines of a new table with its heading and rows, or why there can be none of that name. */
export function newTable(
  tree: BookTree,
  typed: string,
  title: string,
  headings: readonly string[],
  rows: readonly (readonly string[])[],
): { readonly lines: string } | Edited {
  const named = newName(typed, "table");
  if ("refused" in named) return { refused: named.refused };
  const holder = holderOf(tree, named.name, "value");
  if (holder !== undefined) return nameTaken(named.name, holder);
  if (headings.length === 0) return refused("heading-missing", "A table has at least one column.");
  const first = `table ${writeName(named.name)}${title.trim() === "" ? "" : ` ${quoteText(oneLine(title))}`}`;
  const onOneLine = (cell: string): string => oneLine(cell).replace(/(?<!\\)\|/g, "\\|");
  const grid = [headings, ...rows].map((cells) => headings.map((_, i) => onOneLine(cells[i] ?? "")));
  const widths = headings.map((_, i) => Math.max(...grid.map((cells) => cells[i]!.length)));
  const lines = grid.map((cells) => `| ${cells.map((cell, i) => cell.padEnd(widths[i]!)).join(" | ")} |`);
  return { lines: [first, ...lines].join("\n") };
}

/** Adds or renews the review tick of a path, written as in a formula: `distillates.spirit`. */
export function setTick(tree: BookTree, path: string, mark: string, remark = ""): Edited {
  const ticks = ticksOf(tree, path);
  const line = `seen ${path} ${mark}${remark.trim() === "" ? "" : ` ${quoteText(oneLine(remark))}`}`;
  const [first, ...doubles] = ticks;
  if (first === undefined) {
    const { text } = tree;
    const last = tree.statements.at(-1);
    const apart = last !== undefined && last.node.type !== "seen" && !/\n[ \t]*\r?\n$/.test(text) ? [""] : [];
    return patched(insertion(text, text.length, [...apart, line]));
  }
  return patched(
    smallest(tree.text, first.at, first.at + first.length, line),
    ...removals(
      tree.text,
      doubles.map((double) => linesOf(tree.text, double)),
    ),
  );
}

/** Takes the review tick of a path away. */
export function removeTick(tree: BookTree, path: string): Edited {
  const ticks = ticksOf(tree, path);
  if (ticks.length === 0) return refused("tick-missing", `\`${path}\` has no tick.`);
  return patched(
    ...removals(
      tree.text,
      ticks.map((tick) => linesOf(tree.text, tick)),
    ),
  );
}

function ticksOf(tree: BookTree, path: string): readonly Statement[] {
  const spelt = (text: string): string =>
    lex(text, "formula")
      .tokens.map((token) => (token.payload as string | undefined) ?? token.image)
      .join("\n");
  const wanted = spelt(path);
  return tree.statements.filter((statement) => {
    if (statement.node.type !== "seen") return false;
    const { span } = statement.node.path;
    return spelt(sourceOf(tree.text, statement).slice(span.from, span.to)) === wanted;
  });
}

/** The first of the ticks that end a book. */
function firstTickAtEnd(tree: BookTree): Statement | undefined {
  let first: Statement | undefined;
  for (let i = tree.statements.length - 1; i >= 0 && tree.statements[i]!.node.type === "seen"; i--)
    first = tree.statements[i];
  return first;
}

// ---- taking out and moving

/** Takes a statement out with the comment lines directly above it; a table goes with its rows, columns and feet. */
export function removeStatement(tree: BookTree, statement: Statement): Edited {
  const table = tableBegunBy(tree, statement);
  const parts = table === undefined ? [statement] : partsOf(tree, table);
  const [first, ...rest] = parts.map((part) => linesOf(tree.text, part));
  return patched(...removals(tree.text, [withCommentsAbove(tree.text, first!), ...rest]));
}

/** Moves a statement, or a table with all that belongs to it, before or behind another. */
export function moveStatement(tree: BookTree, statement: Statement, place: Exclude<Place, "end">): Edited {
  const { text } = tree;
  const owner = tree.tableOf.get(statement);
  const begun = tableBegunBy(tree, statement);
  if (owner !== undefined && begun === undefined)
    return refused(
      "move-part",
      "What belongs to a table moves within it.",
      "Move the row or column of the table.",
    );
  const goal = "before" in place ? place.before : place.behind;
  const goalOwner = tree.tableOf.get(goal);
  if (goal === statement || (begun !== undefined && goalOwner === begun)) return patched();
  if ("before" in place) {
    const trouble = insideTable(tree, goal);
    if (trouble !== undefined) return trouble;
  }
  if (begun !== undefined && "before" in place && goalOwner !== undefined && goal !== goalOwner.statement)
    return refused(
      "move-between",
      `Line ${goal.line} belongs to the table \`${goalOwner.name}\`.`,
      "A table cannot stand inside another.",
    );
  const moving = blockOf(tree, begun === undefined ? [statement] : partsOf(tree, begun));
  if (moving === undefined)
    return refused(
      "move-apart",
      "Other statements stand between the parts of this table.",
      "Move those first.",
    );
  const at =
    "before" in place
      ? withCommentsAbove(text, linesOf(text, goal)).from
      : linesOf(text, lastOfTable(tree, goal)).to;
  return patched(...moveLines(text, moving, at));
}

/** The lines of statements that follow each other, or nothing when others stand between them. */
function blockOf(tree: BookTree, parts: readonly Statement[]): Lines | undefined {
  const { statements, text } = tree;
  const first = statements.indexOf(parts[0]!);
  if (statements[first + parts.length - 1] !== parts.at(-1)) return undefined;
  const { from } = withCommentsAbove(text, linesOf(text, parts[0]!));
  return { from, to: linesOf(text, parts.at(-1)!).to };
}

/** Takes lines from one place to another, with the line end that the file's last line may lack. */
function moveLines(text: string, { from, to }: Lines, at: number): readonly Patch[] {
  if (at >= from && at <= to) return [];
  const block = text.slice(from, to).replace(/\r?\n$/, "");
  const start = isOpenEnded(text, to) ? endOfLineBefore(text, from) : from;
  return [{ from: start, to, insert: "" }, insertion(text, at, [block])];
}

function tableBegunBy(tree: BookTree, statement: Statement): TableTree | undefined {
  const table = tree.tableOf.get(statement);
  return table?.statement === statement ? table : undefined;
}

/** The last row, column or foot of the table that a statement begins or is a row of; else the statement itself. */
function lastOfTable(tree: BookTree, statement: Statement): Statement {
  const table = tree.tableOf.get(statement);
  if (table === undefined || statement.node.type === "column" || statement.node.type === "foot")
    return statement;
  return partsOf(tree, table).at(-1)!;
}

/** Nothing may stand between the heading and the rows of a table. */
function insideTable(tree: BookTree, before: Statement): Edited | undefined {
  const type = before.node.type;
  if (type !== "row" && type !== "heading" && type !== "ruler") return undefined;
  if (tree.tableOf.get(before) === undefined) return undefined;
  return refused(
    "move-between",
    `Line ${before.line} is a row of a table.`,
    "The rows of a table stand together.",
  );
}
