import { formulaSpan, rename, setFormula } from "../../../grammar";
import type { Book, TableColumn, TableItem } from "../../engine";
import { unitTrouble } from "../../quantity";
import { tableAt } from "./items";
import { asFormula, type Edit, made, NAMED, oneLine, type Refusal } from "./slot";

/**
 * Writes the heading of a computed column: its name, as `name (unit)` also the unit that it is shown in, as
 * `name = formula` also its formula. A bracket that holds no unit belongs to the name, for the name of a computed column
 * may have one.
 */
export function headComputed(book: Book, key: string, column: string, typed: string): Edit | Refusal {
  const line = oneLine(typed);
  const [whole = "", head = line] = NAMED.exec(line) ?? [];
  const formula = whole === "" ? "" : asFormula(line.slice(whole.length));
  const [, stem, inside] = /^(.*\S)\s*\(([^()]+)\)$/su.exec(head) ?? [];
  const unit = inside?.trim() ?? "";
  const hasUnit = stem !== undefined && unitTrouble(unit) === undefined;
  const name = (hasUnit ? stem : head).replace(/^`([^`]*)`$/, "$1").normalize("NFC");

  const table = tableAt(book, key);
  if (table === undefined) return { refused: "The table is not in the book any more." };
  const says = `renaming ${column} to ${name}`;
  const renamed: Edit | Refusal =
    name === column
      ? { says: `heading of ${column}`, text: book.text }
      : made(book, says, rename(book.tree, { kind: "column", table: table.tree, name: column }, name));
  if ("refused" in renamed) return renamed;
  let edit = renamed;
  // Each step is written in the book that the one before has made.
  if (formula !== "") {
    const next = rewritten(book.edit(edit.text), key, name, () => formula);
    if ("refused" in next) return next;
    edit = { ...edit, text: next.text };
  }
  if (!hasUnit) return edit;
  const before = book.edit(edit.text);
  const next = rewritten(before, key, name, (text, node) => shownIn(text, node, unit));
  if ("refused" in next) return next;
  const fault = faultOf(before, key, name) === undefined && faultOf(book.edit(next.text), key, name);
  if (fault) return { refused: `${name} cannot be shown in ${unit}. ${fault}` };
  return { ...edit, text: next.text };
}

type Written = NonNullable<TableColumn["statement"]>;

const columnOf = (book: Book, key: string, name: string): readonly [TableItem, number] | undefined => {
  const table = tableAt(book, key);
  const at = table?.columns.findIndex((column) => column.name === name) ?? -1;
  return table === undefined || at < 0 ? undefined : [table, at];
};

function rewritten(
  book: Book,
  key: string,
  name: string,
  to: (text: string, statement: Written) => string,
): Edit | Refusal {
  const [table, at] = columnOf(book, key, name) ?? [];
  const statement = at === undefined ? undefined : table?.columns[at]?.statement;
  const span = statement && formulaSpan(book.tree, statement);
  if (statement === undefined || span === undefined)
    return {
      refused: `What stands in the formula of ${name} cannot be read. Write it below the heading first.`,
    };
  const text = book.text.slice(statement.at + span.from, statement.at + span.to);
  return made(book, `formula of ${name}`, setFormula(book.tree, statement, to(text, statement)));
}

/** What `in` takes whole, without brackets around it. */
const TAKEN_WHOLE: ReadonlySet<string> = new Set([
  "number",
  "blank",
  "name",
  "call",
  "part",
  "arithmetic",
  "negate",
  "list",
]);

/** A formula shown in a unit; one that stands at its end already gives way to it. */
function shownIn(text: string, { node }: Written, unit: string): string {
  const formula = node.type === "column" ? node.formula : undefined;
  if (formula?.type === "shown") {
    const { span, unit: old } = formula;
    return text.slice(0, old.span.from - span.from) + unit + text.slice(old.span.to - span.from);
  }
  return formula !== undefined && TAKEN_WHOLE.has(formula.type)
    ? `${text} in ${unit}`
    : `(${text}) in ${unit}`;
}

/** What is wrong with a column, or with the first of its cells that has a fault. */
function faultOf(book: Book, key: string, name: string): string | undefined {
  const [table, at] = columnOf(book, key, name) ?? [];
  if (table === undefined || at === undefined) return undefined;
  const { fault } = table.columns[at]!;
  if (fault !== undefined) return fault;
  for (let row = 0; row < table.rowCount; row++) {
    const { state, message } = table.cell(row, at);
    if (state === "fault") return message;
  }
  return undefined;
}
