import { expect } from "vitest";
import {
  type BookTree,
  type Formula,
  parseBook,
  parseFormula,
  type StatementNode,
  type SyntaxMessage,
} from "../../grammar";

/**
 * A tree in one line, for tests that are pairs of a source and what it reads as: `(+ a 2_L)`. A number carries its unit
 * behind `_`, a name stands for itself, everything else is `(what of-what …)`.
 */
export function shape(formula: Formula): string {
  switch (formula.type) {
    case "number":
      return formula.unit === undefined ? formula.digits : `${formula.digits}_${formula.unit.text}`;
    case "date":
      return formula.iso;
    case "text":
      return `"${formula.pieces.map((piece) => (typeof piece === "string" ? piece : `{${shape(piece)}}`)).join("")}"`;
    case "truth":
      return String(formula.value);
    case "blank":
      return "blank";
    case "list":
      return `[${formula.entries.map(shape).join(" ")}]`;
    case "name":
      return /^[\p{L}_][\p{L}\p{M}\p{N}_]*$/u.test(formula.name) ? formula.name : `<${formula.name}>`;
    case "call": {
      const given = formula.arguments.map(
        ({ label, value }) => (label === undefined ? "" : `${label}:`) + shape(value),
      );
      return `(${[`${formula.name}()`, ...given].join(" ")})`;
    }
    case "part":
      return `(. ${shape(formula.of)} ${formula.part})`;
    case "negate":
      return `(- ${shape(formula.of)})`;
    case "not":
      return `(not ${shape(formula.of)})`;
    case "spread":
      return `(± ${shape(formula.of)} ${shape(formula.by)})`;
    case "arithmetic":
    case "compare":
    case "logic":
      return `(${formula.operator} ${shape(formula.left)} ${shape(formula.right)})`;
    case "within":
      return `(within ${shape(formula.of)} ${shape(formula.low)} ${shape(formula.high)})`;
    case "shown":
      return `(in ${shape(formula.of)} ${formula.unit.text})`;
    case "range":
      return `(to ${[formula.from, formula.to, ...(formula.step === undefined ? [] : [formula.step])].map(shape).join(" ")})`;
    case "choice":
      return `(if ${shape(formula.condition)} ${shape(formula.yes)} ${shape(formula.no)})`;
    case "find":
      return `(find ${formula.name} ${shape(formula.from)} ${shape(formula.to)} ${shape(formula.goal)})`;
    case "where":
      return `(where ${shape(formula.of)} ${shape(formula.condition)})`;
    case "unread":
      return "?";
  }
}

/** A formula without a fault, and what it reads as. */
export function reads(source: string, tree: string): void {
  const { formula, messages } = parseFormula(source);
  expect(messages.map((message) => message.says)).toEqual([]);
  expect(shape(formula)).toBe(tree);
}

/** A message in one line: its code and the text that it marks, or `^` and what follows for a point between two letters. */
export function marked(source: string, { code, span }: SyntaxMessage): string {
  return span.from === span.to
    ? `${code} ^${source.slice(span.from)}`
    : `${code} ${source.slice(span.from, span.to)}`;
}

/** A formula with faults: the code and the marked text of each, and what the first says. */
export function fails(
  source: string,
  faults: string | readonly string[],
  says?: string | RegExp,
): SyntaxMessage {
  const { formula, messages } = parseFormula(source);
  expect(messages.map((message) => marked(source, message))).toEqual(
    typeof faults === "string" ? [faults] : faults,
  );
  const first = messages[0]!;
  if (typeof says === "string") expect(first.says).toBe(says);
  else if (says !== undefined) expect(first.says).toMatch(says);
  expect(first.severity).toBe("fault");
  if (!/[{]/.test(source)) expect(formula.type).toBe("unread");
  return first;
}

/** What the fixes of a message make of the source. */
export function fixed(source: string, message: SyntaxMessage): readonly string[] {
  return (message.fixes ?? []).map(({ edits }) => {
    let out = "";
    let at = 0;
    for (const { span, text } of edits) {
      out += source.slice(at, span.from) + text;
      at = span.to;
    }
    return out + source.slice(at);
  });
}

/** The statements of a book, each as its type and what it names. */
export function kinds(text: string): readonly string[] {
  return parseBook(text).statements.map(({ node }) => kindOf(node));
}

function kindOf(node: StatementNode): string {
  if (node.type === "unread")
    return `unread${node.keyword === undefined ? "" : ` ${node.keyword}`}${node.name === undefined ? "" : ` ${node.name}`}`;
  return "name" in node ? `${node.type} ${node.name}` : node.type;
}

/** The messages of a book with their line: `2 bracket-open (`. */
export function told(text: string): readonly string[] {
  const book = parseBook(text);
  const own = book.statements.flatMap((statement) =>
    statement.messages.map(
      (message) =>
        `${statement.line} ${marked(text.slice(statement.at, statement.at + statement.length), message)}`,
    ),
  );
  return [...book.messages.map((message) => `book ${message.code}`), ...own];
}

/** A tree as plain data with its places left out, to compare what two texts say. */
export function withoutPlaces(value: unknown): unknown {
  return JSON.parse(
    JSON.stringify(value, (key, inner: unknown) =>
      key === "span" || key === "slot" || key.endsWith("Span") ? undefined : inner,
    ),
  );
}

/** What a book says, statement by statement, places and writing of cells left out. */
export function said(book: BookTree): unknown {
  return book.statements.map(({ node, comment }) => withoutPlaces({ node, comment }));
}
