import { type Formula, parseBook, type Statement, type SyntaxMessage } from "../../../grammar";
import type { Workings } from "../book";
import { cellValue, natureOf } from "../cells";
import type { Scope } from "../compilation";
import { compile } from "../compile";
import { cellsKey, type TableName } from "../names";
import { oneValue } from "../node-faults";
import type { Book } from "../report";
import { afterEdit, backFrom, buildsOn, type Foretold, foretoldValue, unreadable, worked } from "./foretold";

/** A message about a row, as it reads in the field of a cell, where bars are not escaped. */
function withoutEscapes({ says, help, fixes, ...message }: SyntaxMessage): SyntaxMessage {
  const bare = (text: string): string => text.replaceAll("\\|", "|");
  return {
    ...message,
    says: bare(says),
    ...(help !== undefined && { help: bare(help) }),
    ...(fixes && {
      fixes: fixes.map((fix) => ({
        ...fix,
        says: bare(fix.says),
        edits: fix.edits.map((edit) => ({ ...edit, text: bare(edit.text) })),
      })),
    }),
  };
}

/**
 * What a typed cell would come to: it is read under its heading, in its row with the other cells as they are, and
 * worked out with the values of the book.
 */
export function cellForetold(
  book: Book,
  workings: Workings,
  table: TableName,
  column: string,
  row: number,
  text: string,
): Foretold | undefined {
  const index = table.byName.get(column)?.typed ?? -1;
  const { heading, rows } = table.tree;
  const slot = rows[row]?.node.cells[index]?.slot;
  if (heading === undefined || slot === undefined) return undefined;
  const statement = rows[row]!;
  const source = (s: Statement): string => book.text.slice(s.at, s.at + s.length);
  const cell = text
    .trim()
    .replaceAll("|", "\\|")
    .replace(/[\r\n]/g, " ");
  const written = source(statement);
  const line = `${written.slice(0, slot.from)} ${cell} ${written.slice(slot.to)}`;
  const read = parseBook(`table t\n${source(heading)}\n${line}`).tables[0]?.rows[0];
  if (read === undefined) return undefined;
  const key = cellsKey(table.name, column);
  const named = { path: workings.plan.nodes.get(key)!.pathOf(row), label: column };
  const { path } = named;
  const blanks = text.length - text.trimStart().length;
  const back = backFrom(text, slot.from + 1, blanks, (at) => text[at] === "|");
  const fault = read.messages.find(
    ({ severity, span }) =>
      severity === "fault" && span.from >= slot.from && span.to <= slot.from + cell.length + 2,
  );
  if (fault) return unreadable(withoutEscapes(fault), named, back);
  const content = read.node.cells[index]?.content;
  const changed: TableName = { ...table, tree: { ...table.tree, rows: rows.with(row, read) } };
  const scope: Scope = { names: workings.plan.names, table, place: "row", frames: [] };
  const formula = (): ReturnType<typeof worked> => {
    const { formula: node } = content as { formula: Formula };
    const compiled = compile(node, scope);
    if (buildsOn(compiled, key, workings.plan)) {
      const span = { from: statement.at + slot.from, to: statement.at + slot.to };
      return afterEdit(book, key, row, span, ` ${cell} `) ?? worked(workings, compiled, path, row);
    }
    return oneValue(worked(workings, compiled, path, row), () => path, node.span);
  };
  const value = cellValue(read, index, natureOf(changed, index), () => path, formula);
  return foretoldValue(value, named, content?.type === "formula" ? "computed" : "typed", back);
}
