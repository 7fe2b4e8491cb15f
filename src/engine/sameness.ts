import type { Note, Quantity, Spread } from "../quantity";
import type { Value } from "../vocabulary/value";
import { ColumnList, type ColumnStore } from "./blocks";
import { TableRecord } from "./tables";

/**
 * Whether two values are the same to every reader, bit for bit: numbers, units, uncertainty, remarks and
 * faults included. How a number is stored (decimals kept beyond the last digit) does not count.
 */
export function sameValue(a: Value, b: Value): boolean {
  if (a === b) return true;
  if (a.type !== b.type) return false;
  if (!sameNotes(a.notes, b.notes)) return false;
  switch (a.type) {
    case "quantity":
      return sameQuantity(a, b as Quantity);
    case "text":
      return a.text === (b as typeof a).text;
    case "truth":
      return a.value === (b as typeof a).value;
    case "date":
      return a.day === (b as typeof a).day;
    case "gap":
      return a.says === (b as typeof a).says && a.place === (b as typeof a).place;
    case "fault": {
      const other = b as typeof a;
      return (
        a.code === other.code &&
        a.says === other.says &&
        a.help === other.help &&
        a.place?.path === other.place?.path &&
        a.place?.from === other.place?.from &&
        a.place?.to === other.place?.to
      );
    }
    case "list": {
      const other = b as typeof a;
      if (
        a instanceof ColumnList &&
        other instanceof ColumnList &&
        a.store === other.store &&
        a.origin === other.origin
      )
        return true;
      // A total of a whole column is worked out by blocks, and may round otherwise than that of its entries.
      if (a instanceof ColumnList !== other instanceof ColumnList) return false;
      if (a.entries.length !== other.entries.length || a.unit !== other.unit) return false;
      if (a.origin !== other.origin) {
        if (!a.origin || !other.origin || a.origin.table !== other.origin.table) return false;
        if (!a.origin.names.every((n, i) => n === other.origin!.names[i])) return false;
        if (!a.origin.rows.every((n, i) => n === other.origin!.rows[i])) return false;
      }
      return a.entries.every((e, i) => sameValue(e, other.entries[i]!));
    }
    case "record": {
      const other = b as typeof a;
      // A table handed on shows its rows and feet too, as they were when it was looked at.
      if (a instanceof TableRecord || other instanceof TableRecord) return false;
      const mine = a.parts;
      const theirs = other.parts;
      if (mine.size !== theirs.size) return false;
      const counterparts = theirs.entries();
      for (const [name, part] of mine) {
        const [otherName, counterpart] = counterparts.next().value!;
        if (name !== otherName || !sameValue(part, counterpart)) return false;
      }
      return true;
    }
  }
}

function sameQuantity(a: Quantity, b: Quantity): boolean {
  if (a.unit !== b.unit || !Object.is(a.n.v, b.n.v) || a.n.dp < 0 !== b.n.dp < 0) return false;
  if (a.n.big || b.n.big) {
    if (!a.n.big || !b.n.big || !a.n.big.eq(b.n.big)) return false;
  }
  return sameSpread(a.spread, b.spread);
}

function sameSpread(a: Spread | undefined, b: Spread | undefined): boolean {
  if (a === b) return true;
  if (!a || !b || a.size !== b.size) return false;
  for (const [input, amount] of a) if (!Object.is(b.get(input), amount)) return false;
  return true;
}

function sameNotes(a: readonly Note[] | undefined, b: readonly Note[] | undefined): boolean {
  if (a === b) return true;
  if ((a?.length ?? 0) !== (b?.length ?? 0)) return false;
  return (a ?? []).every((n, i) => n.text === b![i]!.text && n.caution === b![i]!.caution);
}

/** Rows of two columns of one length in which they do not hold the same. */
export function rowsUnlike(a: ColumnStore, b: ColumnStore): Set<number> {
  const unlike = new Set<number>();
  for (let row = 0; row < a.length; row++) if (!sameValue(a.get(row), b.get(row))) unlike.add(row);
  return unlike;
}
