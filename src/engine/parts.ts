import { nearAmong, writeName } from "../../grammar";
import { Trouble, type TroubleParts } from "../quantity";
import type { Value } from "../vocabulary/value";
import type { Rows } from "./environment";
import { describe, withNotes } from "./fault";
import type { TableName } from "./names";
import { mapEntries, textKey } from "./operations";
import { TableRecord } from "./tables";

/** Lists that do not change are kept, so that many wrong names are not each compared with a new one. */
const columnNamesOf = new WeakMap<TableName, readonly string[]>();
function columnNames(table: TableName): readonly string[] {
  let names = columnNamesOf.get(table);
  if (!names) {
    names = [...table.byName.keys()];
    columnNamesOf.set(table, names);
  }
  return names;
}

/** Row names by what they are without capitals and spare blanks; of several the first. */
const folded = new WeakMap<readonly string[], ReadonlyMap<string, string>>();
function foldedNames(names: readonly string[]): ReadonlyMap<string, string> {
  let index = folded.get(names);
  if (!index) {
    const made = new Map<string, string>();
    for (const name of names) if (!made.has(textKey(name))) made.set(textKey(name), name);
    index = made;
    folded.set(names, index);
  }
  return index;
}

export function noColumn(table: TableName, name: string): TroubleParts {
  const near = nearAmong(name, columnNames(table));
  return {
    code: "column-unknown",
    says: `Table ${table.name} has no column \`${name}\`.`,
    ...(near !== undefined
      ? { help: `\`${near}\` is near.`, rewrite: writeName(near) }
      : {
          help: `Its columns are ${[...table.byName.keys()]
            .slice(0, 12)
            .map((n) => writeName(n))
            .join(", ")}.`,
        }),
  };
}

/** The row of a name. Throws `Trouble` when there is none, or more than one. */
export function rowOf(rows: Rows, name: string, table: TableName): number {
  const found = rows.find(name);
  if (typeof found === "number" && found >= 0) return found;
  if (typeof found === "number") {
    // A name that cannot be written in backticks is reached by the number of its row.
    const numbered = Number(/^row (\d+)$/u.exec(name)?.[1] ?? 0) - 1;
    if (rows.names[numbered]?.includes("`")) return numbered;
    const near = nearAmong(name, columnNames(table)) ?? nearAmong(name, rows.names);
    const sameName = foldedNames(rows.names).get(textKey(name));
    const best = sameName ?? near;
    throw new Trouble({
      code: "part-unknown",
      says: `Table ${table.name} has no column or row \`${name}\`.`,
      ...(best !== undefined && { help: `\`${best}\` is near.`, rewrite: writeName(best) }),
    });
  }
  throw sameNameTwice(table.name, name, found);
}

function sameNameTwice(table: string, name: string, rows: readonly number[]): Trouble {
  return new Trouble({
    code: "row-twice",
    says: `Table ${table} has ${rows.length} rows called \`${name}\` (rows ${rows
      .slice(0, 5)
      .map((r) => r + 1)
      .join(", ")}${rows.length > 5 ? ", …" : ""}).`,
    help: "Give one of them another name.",
  });
}

/** `value.part`. Throws `Trouble` when there is no such part. */
export function partOf(value: Value, part: string): Value {
  switch (value.type) {
    case "gap":
    case "fault":
      return value;
    case "record": {
      if (value instanceof TableRecord) return value.part(part, rowOf);
      const found = value.parts.get(part);
      if (found) return withNotes(found, value.notes);
      const missing = value.without?.get(part);
      if (missing) throw new Trouble({ code: "part-missing", ...missing });
      const names = [...value.parts.keys()];
      const near = nearAmong(part, names);
      throw new Trouble({
        code: "part-unknown",
        says: `This result has no part \`${part}\`.`,
        help: near !== undefined ? `\`${near}\` is near.` : `Its parts are ${names.join(", ")}.`,
        ...(near !== undefined && { rewrite: writeName(near) }),
      });
    }
    case "list": {
      const first = value.entries.find((e) => e.type === "record");
      // One run of several may lack a part that the others have.
      if (value.entries.some((e) => e.type === "record" && e.parts.has(part))) {
        return mapEntries([value], ([entry]) => partOf(entry!, part));
      }
      const index = value.origin?.names.indexOf(part) ?? -1;
      if (index >= 0) {
        const { table, names, rows } = value.origin!;
        if (names.indexOf(part, index + 1) < 0) return value.entries[index]!;
        const alike = rows.filter((_, i) => names[i] === part);
        throw sameNameTwice(table, part, alike);
      }
      if (/^[0-9]+$/u.test(part)) {
        const entry = value.entries[Number(part) - 1];
        if (entry) return entry;
        throw new Trouble({
          code: "entry-unknown",
          says: `This list has ${value.entries.length} entries; there is no entry ${part}.`,
        });
      }
      if (first?.type === "record") return partOf(first, part);
      const near = value.origin && nearAmong(part, value.origin.names);
      throw new Trouble({
        code: "part-unknown",
        says: `This list has no entry \`${part}\`.`,
        ...(near !== undefined && near !== ""
          ? { help: `\`${near}\` is near.` }
          : { help: "Its entries are numbered: `.1` is the first." }),
      });
    }
    default:
      throw new Trouble({
        code: "no-parts",
        says: `${describe(value).replace(/^./u, (c) => c.toUpperCase())} has no part \`${part}\`.`,
      });
  }
}
