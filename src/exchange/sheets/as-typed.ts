import type { Book, Message, TableItem, ValueItem } from "../../engine";

/**
 * What somebody typed that the book cannot read or take: it goes out as it stands, marked, so that nothing that was
 * written is lost on the way.
 */
export interface AsTyped {
  readonly text: string;
  /** What is wrong with it, and what to do. */
  readonly note: string;
}

export function typedInCell(book: Book, table: TableItem, row: number, column: number): AsTyped | undefined {
  const shown = table.cell(row, column);
  const line = table.tree.rows[row];
  const cell = line?.node.cells[column];
  if (shown.state !== "fault" || line === undefined || cell === undefined) return undefined;
  const from = line.at + cell.span.from;
  return as(cell.raw, faultWithin(book, from, line.at + cell.span.to), shown.message);
}

/** Of a value whose formula computes nothing, the formula stands beside it and is not lost. */
export function typedInSet(book: Book, item: ValueItem): AsTyped | undefined {
  const { shown, statement } = item;
  if (shown.state !== "fault" || shown.origin !== "typed") return undefined;
  const to = statement.at + statement.length;
  if (statement.node.type === "unread") {
    const text = book.text.slice(statement.at, to).replace(/^[^=]*=\s*/, "");
    return as(text, faultWithin(book, statement.at, to), shown.message);
  }
  return as(item.formula, faultWithin(book, statement.at, to), shown.message);
}

const faultWithin = (book: Book, from: number, to: number): Message | undefined =>
  book.messages.find((m) => m.severity === "fault" && m.from >= from && m.to <= to);

function as(text: string, fault: Message | undefined, otherwise: string | undefined): AsTyped {
  const says = fault?.says ?? otherwise ?? "The book cannot read this.";
  return { text: text.trim(), note: fault?.help === undefined ? says : `${says}\n${fault.help}` };
}
