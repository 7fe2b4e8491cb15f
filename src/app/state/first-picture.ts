import { writeName, writePart } from "../../../grammar";
import type { Book, TableItem } from "../../engine";
import { kinds } from "../../quantity";
import { placedItems } from "./items";
import type { Refusal } from "./slot";

/**
 * What a fresh chart draws: what varies in the table it is added to, or in the last table that has something that
 * does; a curve where the book has no table. Where nothing varies, what is missing.
 */
export function firstPicture(book: Book, near: TableItem | undefined): string | Refusal {
  const tables =
    near === undefined
      ? placedItems(book).flatMap(({ item }) => (item.type === "table" ? [item] : []))
      : [near];
  for (const table of tables.toReversed()) {
    const picture = pictureOf(table);
    if (picture !== undefined) return picture;
  }
  const last = tables.at(-1);
  if (last === undefined) return "curve x^2 for x from 0 to 10";
  const name = last.title === "" ? last.name : `“${last.title}”`;
  return {
    refused: `A chart draws numbers that differ from row to row, and ${name} has none: fill in two rows of it first.`,
  };
}

/** Rows that are looked at: a table may have thousands. */
const LOOKED = 200;

/** What is set or passes at a bench, and other numbers follow from. */
const SETTINGS: ReadonlySet<unknown> = new Set([kinds.time, kinds.temperature, kinds.pressure]);

/**
 * The last computed column that varies, else the last typed one. Numbered rows, such as runs, follow each other by their
 * days or by what was set; others are told apart by their names.
 */
function pictureOf(table: TableItem): string | undefined {
  const rows = Array.from({ length: Math.min(table.rowCount, LOOKED) }, (_, row) => row);
  const columns = table.columns.map((column, i) => {
    const seen = new Set(
      rows.flatMap((row) => {
        const { state, text } = table.cell(row, i);
        return state === "ok" ? [text] : [];
      }),
    );
    return { ...column, i, varies: seen.size > 1 };
  });
  const numbers = columns.filter(({ i, varies, holds }) => i > 0 && varies && holds === "quantity");
  const what = numbers.findLast(({ typed }) => !typed) ?? numbers.at(-1);
  const [names] = columns;
  if (what === undefined || names === undefined) return undefined;
  const numbered = rows.every((row) => /\d/.test(table.rowName(row)));
  const by = columns.find(
    (one) =>
      one.typed &&
      one.varies &&
      one !== what &&
      numbered &&
      (one.holds === "date" || (one.holds === "quantity" && SETTINGS.has(one.unitOf?.kind))),
  );
  const path = (column: string) => `${writeName(table.name)}.${writePart(column)}`;
  return by === undefined
    ? `bars ${path(what.name)} by ${path(names.name)}`
    : `${by.holds === "date" ? "line" : "dots"} ${path(what.name)} by ${path(by.name)}`;
}
