import type { Statement, TableTree } from "../../../grammar";
import { parseBook, writeName, writePart } from "../../../grammar";

/** A statement with its comment, or a line between statements: what a merge moves as one piece. */
export interface Unit {
  /** Says what it is: the same in two versions when it is the same thing. */
  readonly key: string;
  /** Kind of statement, or "line". Only units of one kind may replace each other. */
  readonly kind: string;
  /** Whether the key is a name that stands once in a book, rather than the text itself. */
  readonly named: boolean;
  /** For a person: a name as in a formula, or words. */
  readonly label: string;
  /** Text without the line end behind it. */
  readonly body: string;
  /** The line end behind it; empty at the end of a file. */
  readonly end: string;
  /** Length of the statement in the body, without its comment. */
  readonly code: number;
  /** For a row: where its cells stand in the body. */
  readonly cells?: readonly { readonly from: number; readonly to: number }[];
}

export function unitsOf(text: string): Unit[] {
  const tree = parseBook(text);
  const units: Unit[] = [];
  const repeats = new Map<string, number>();
  let at = 0;
  const lineEnd = (from: number): number => {
    const next = text.slice(from).search(/\r\n|\r|\n/);
    return next < 0 ? text.length : from + next;
  };
  const endAt = (from: number): string =>
    text.startsWith("\r\n", from) ? "\r\n" : from < text.length ? text[from]! : "";
  const lines = (until: number): void => {
    while (at < until) {
      const stop = lineEnd(at);
      const body = text.slice(at, stop);
      const end = endAt(stop);
      units.push({
        key: `line ${body}`,
        kind: "line",
        named: false,
        label: "a line",
        body,
        end,
        code: body.length,
      });
      at = stop + end.length;
    }
  };
  for (const statement of tree.statements) {
    // From the start of the line on which it stands.
    const start = Math.max(at, text.lastIndexOf("\n", statement.at - 1) + 1);
    if (start < at) continue;
    lines(start);
    const stop = lineEnd(statement.at + statement.length);
    const body = text.slice(start, stop);
    const end = endAt(stop);
    const told = tell(statement, tree.tableOf.get(statement), text);
    const times = (repeats.get(told.key) ?? 0) + 1;
    repeats.set(told.key, times);
    const shift = statement.at - start;
    const cells =
      statement.node.type === "row"
        ? statement.node.cells.map((c) => ({ from: c.slot.from + shift, to: c.slot.to + shift }))
        : undefined;
    units.push({
      ...told,
      key: times === 1 ? told.key : `${told.key} (${times})`,
      body,
      end,
      code: shift + statement.length,
      ...(cells === undefined ? {} : { cells }),
    });
    at = stop + end.length;
  }
  lines(text.length);
  return units;
}

function tell(
  statement: Statement,
  table: TableTree | undefined,
  text: string,
): Pick<Unit, "key" | "kind" | "named" | "label"> {
  const { node } = statement;
  const own = text.slice(statement.at, statement.at + statement.length);
  const of = table === undefined ? "" : writeName(table.name);
  const named = (kind: string, name: string): Pick<Unit, "key" | "kind" | "named" | "label"> => ({
    key: `${kind} ${name}`,
    kind,
    named: true,
    label: `\`${name}\``,
  });
  switch (node.type) {
    case "set":
    case "table":
      return named(node.type, writeName(node.name));
    case "define":
      return named("define", writeName(node.name));
    case "heading":
      return { ...named("heading", of), label: `the heading of \`${of}\`` };
    case "column":
      return named("column", `${of}.${writePart(node.name)}`);
    case "foot":
      return named("foot", `${of}.foot.${writePart(node.name)}`);
    case "row": {
      const name = node.cells[0]?.raw.trim() ?? "";
      if (name === "")
        return { key: `row ${of} ${own}`, kind: "row", named: false, label: `a row of \`${of}\`` };
      return named("row", `${of}.${writePart(name)}`);
    }
    case "language":
    case "book":
      return { ...named(node.type, ""), label: node.type === "book" ? "the title" : "the language line" };
    case "chart":
      return { ...named("chart", node.title), label: `the chart "${node.title}"` };
    default:
      return {
        key: `${node.type} ${own}`,
        kind: node.type,
        named: false,
        label: WORDS.get(node.type) ?? "a line",
      };
  }
}
const WORDS = new Map([
  ["about", "the text about the book"],
  ["part", "the title of a part"],
  ["check", "a check"],
  ["step", "a step"],
  ["seen", "a review tick"],
  ["ruler", "the ruler of a table"],
  ["unread", "a line that cannot be read"],
]);

/** The text of units one behind the other; a unit without a line end gets one when another follows. */
export function joinUnits(units: readonly Unit[]): string {
  const usual = units.find((u) => u.end !== "")?.end ?? "\n";
  return units.map((u, i) => u.body + (u.end === "" && i < units.length - 1 ? usual : u.end)).join("");
}

/** Body and line end of a unit that both changed, or undefined when the changes do not go together. */
export function mergeBodies(base: Unit, mine: Unit, theirs: Unit): Pick<Unit, "body" | "end"> | undefined {
  const end = three(base.end, mine.end, theirs.end) ?? "\n";
  const whole = three(base.body, mine.body, theirs.body);
  if (whole !== undefined) return { body: whole, end };
  const body = cellByCell(base, mine, theirs) ?? codeAndComment(base, mine, theirs);
  return body === undefined ? undefined : { body, end };
}

/** The value that only one side changed, or both alike; undefined when they differ. */
function three<T>(base: T, mine: T, theirs: T): T | undefined {
  if (mine === theirs || theirs === base) return mine;
  return mine === base ? theirs : undefined;
}

/** Rows of as many cells go together cell by cell. */
function cellByCell(base: Unit, mine: Unit, theirs: Unit): string | undefined {
  const [b, m, t] = [pieces(base), pieces(mine), pieces(theirs)];
  if (b === undefined || m === undefined || t === undefined || b.length !== m.length || b.length !== t.length)
    return undefined;
  let body = "";
  for (let i = 0; i < b.length; i++) {
    const slot = three(b[i]!, m[i]!, t[i]!) ?? loose(b[i]!, m[i]!, t[i]!);
    if (slot === undefined) return undefined;
    body += slot;
  }
  return body;
}

/** What differs in blanks only is no change of a cell: the wider writing keeps the bars under each other. */
function loose(base: string, mine: string, theirs: string): string | undefined {
  const word = three(base.trim(), mine.trim(), theirs.trim());
  if (word === undefined) return undefined;
  const fitting = [mine, theirs].filter((s) => s.trim() === word);
  return fitting.sort((p, q) => q.length - p.length || (p < q ? -1 : 1))[0];
}

/** The body of a row cut at its cells: what stands before, each cell, what stands between and behind. */
function pieces(unit: Unit): string[] | undefined {
  if (unit.cells === undefined) return undefined;
  const out: string[] = [];
  let at = 0;
  for (const { from, to } of unit.cells) {
    out.push(unit.body.slice(at, from), unit.body.slice(from, to));
    at = to;
  }
  out.push(unit.body.slice(at));
  return out;
}

/** A statement that one side changed and whose comment the other changed. */
function codeAndComment(base: Unit, mine: Unit, theirs: Unit): string | undefined {
  const cut = (u: Unit): [string, string] => [u.body.slice(0, u.code), u.body.slice(u.code)];
  const [b, m, t] = [cut(base), cut(mine), cut(theirs)];
  const code = three(b[0], m[0], t[0]);
  const comment = three(b[1], m[1], t[1]) ?? loose(b[1], m[1], t[1]);
  return code === undefined || comment === undefined ? undefined : code + comment;
}
