import { writeName, writePart } from "../../../grammar";
import type { Value } from "../../vocabulary/value";
import { cellsKey, footKey, setKey, type TableName } from "../names";
import { rowLabel } from "../plan";
import { isLocal } from "../syntax";
import { sortOfFormula, sortOfNature } from "./inference";
import { namesAt, outside, type Place } from "./place";
import { type Sort, sortOfValue, unknown } from "./sort";

/** What a name or path means. */
export type Meant =
  | { readonly type: "value"; readonly name: string }
  | { readonly type: "table"; readonly table: string }
  | { readonly type: "column"; readonly table: string; readonly column: string }
  /** `row` is -1 for "this row's cell" in the formula of a whole column. */
  | { readonly type: "cell"; readonly table: string; readonly column: string; readonly row: number }
  | { readonly type: "row"; readonly table: string; readonly row: number }
  | { readonly type: "foot"; readonly table: string; readonly column: string }
  /** A part of a result, an entry of a list: of what, however deep. */
  | { readonly type: "part"; readonly name: string; readonly of: Meant }
  /** A parameter of a `define`, the variable of a `find` or a curve. */
  | { readonly type: "local"; readonly name: string }
  /** `before`, `foot`, `book`: they only lead on. */
  | { readonly type: "lead"; readonly name: "before" | "foot" | "book" };

/** A name or path that was found, and what it comes to now. Values are looked up only when asked for. */
export interface Found {
  readonly meant: Meant;
  /** Last part of the path, plain. */
  readonly name: string;
  /** Full path, as it would be written outside every table; "" for what has none. */
  readonly path: string;
  readonly sort: Sort;
  /** Key of the node that it looks at as a whole, in its own row or by one value; a cell of another row has none. */
  readonly key?: string;
  value(): Value | undefined;
}

const none = (): undefined => undefined;

/** What a bare name means in a place. */
export function nameIn(name: string, place: Place): Found | undefined {
  const { scope } = place;
  if (isLocal(name, scope)) return localNamed(name, place);
  if (scope.table) {
    const { table } = scope;
    if (table.byName.has(name))
      return scope.place === "foot" ? columnOf(table, name, place) : cellOf(table, name, place.row, place);
    if (name === "before" && scope.place === "row") return lead("before", place);
    if (name === "foot" || name === "book") return lead(name, place);
  }
  return bookName(name, place);
}

export function localNamed(name: string, place: Place): Found {
  return {
    meant: { type: "local", name },
    name,
    path: "",
    sort: place.locals.get(name) ?? unknown,
    value: none,
  };
}

/** What a name means outside every table: a `set` or a table. */
export function bookName(name: string, place: Place): Found | undefined {
  const names = namesAt(place);
  const set = names.sets.get(name);
  if (set) {
    const key = setKey(name);
    const value = (): Value => place.calculation.value(key);
    return {
      meant: { type: "value", name },
      name,
      path: writeName(name),
      key,
      get sort() {
        return sortOr(value(), () => (set.formula ? sortOfFormula(set.formula, outside(place)) : unknown));
      },
      value,
    };
  }
  const table = names.tables.get(name);
  if (!table) return undefined;
  return tableNamed(table);
}

function tableNamed(table: TableName): Found {
  const { name } = table;
  const sort: Sort = { is: "table", table };
  return { meant: { type: "table", table: name }, name, path: writeName(name), sort, value: none };
}

function lead(name: "before" | "foot" | "book", place: Place): Found {
  const table = place.scope.table!;
  return {
    meant: { type: "lead", name },
    name,
    path: "",
    sort: { is: name === "before" ? "row" : name === "foot" ? "feet" : "table", table },
    value: none,
  };
}

/** The part that follows a dot, or undefined when there is none of that name. */
export function partIn(found: Found, part: string, place: Place): Found | undefined {
  const { meant } = found;
  switch (meant.type) {
    case "lead":
      return partOfLead(meant.name, part, place);
    case "table": {
      const table = namesAt(place).tables.get(meant.table)!;
      if (table.byName.has(part)) return columnOf(table, part, place);
      if (part === "foot") return feetOf(table);
      return rowNamed(table, part, place);
    }
    case "row": {
      const table = namesAt(place).tables.get(meant.table)!;
      return table.byName.has(part) ? cellOf(table, part, meant.row, place) : undefined;
    }
    case "foot": {
      // `table.foot` by itself leads on to the feet.
      if (meant.column !== "") return partOfValue(found, part);
      const table = namesAt(place).tables.get(meant.table)!;
      return table.feet.has(part) ? footOf(table, part, place) : undefined;
    }
    case "column": {
      const rows = place.calculation.rows(meant.table);
      const row = rows.names.indexOf(part);
      if (row < 0) return partOfValue(found, part);
      return cellOf(namesAt(place).tables.get(meant.table)!, meant.column, row, place);
    }
    default:
      // A `set` may stand for a whole table.
      if (found.sort.is === "table") return partIn(tableNamed(found.sort.table), part, place);
      return partOfValue(found, part);
  }
}

function partOfLead(name: "before" | "foot" | "book", part: string, place: Place): Found | undefined {
  const table = place.scope.table!;
  switch (name) {
    case "book":
      return bookName(part, place);
    case "foot":
      return table.feet.has(part) ? footOf(table, part, place) : undefined;
    case "before":
      return table.byName.has(part) ? cellBefore(table, part, place) : undefined;
  }
}

/** The cell in the row before: there is none before the first. */
function cellBefore(table: TableName, column: string, place: Place): Found {
  const { key: _, ...found } = described(cellOf(table, column, place.row - 1, place));
  return { ...found, value: none };
}

/** A found thing with its sort looked up. */
const described = (found: Found): Found => ({ ...found, sort: found.sort });

function partOfValue(found: Found, part: string): Found | undefined {
  const { sort } = found;
  const path = found.path === "" ? "" : `${found.path}.${writePart(part)}`;
  if (sort.is === "record") {
    const of = sort.parts.get(part);
    if (!of) return undefined;
    return {
      meant: partOf(found, part),
      name: part,
      path,
      ...(found.key !== undefined && { key: found.key }),
      sort: of,
      value: () => {
        const value = found.value();
        return value?.type === "record" ? value.parts.get(part) : undefined;
      },
    };
  }
  if (sort.is === "list") {
    if (sort.of.is === "record" && sort.of.parts.has(part)) {
      const of = sort.of.parts.get(part)!;
      return { meant: partOf(found, part), name: part, path, sort: { is: "list", of }, value: none };
    }
    const value = found.value();
    const entry = value?.type === "list" ? entryOf(value, part) : undefined;
    if (!entry) return undefined;
    return { meant: partOf(found, part), name: part, path, sort: sort.of, value: () => entry };
  }
  return undefined;
}

/** Parts of parts are told of the whole that they belong to. */
function partOf({ meant }: Found, name: string): Meant {
  return { type: "part", name, of: meant.type === "part" ? meant.of : meant };
}

function entryOf(list: Value & { type: "list" }, part: string): Value | undefined {
  const row = list.origin?.names.indexOf(part) ?? -1;
  if (row >= 0) return list.entries[row];
  return /^[0-9]+$/u.test(part) ? list.entries[Number(part) - 1] : undefined;
}

export function columnOf(table: TableName, column: string, place: Place): Found {
  const key = cellsKey(table.name, column);
  return {
    meant: { type: "column", table: table.name, column },
    name: column,
    path: place.plan.nodes.get(key)!.pathOf(-1),
    key,
    get sort(): Sort {
      return { is: "list", of: sortOfColumn(table, column, place), table: table.name };
    },
    value: () => place.calculation.column(key),
  };
}

export function cellOf(table: TableName, column: string, row: number, place: Place): Found {
  const key = cellsKey(table.name, column);
  const count = place.calculation.rows(table.name).count;
  return {
    meant: { type: "cell", table: table.name, column, row },
    name: column,
    path: place.plan.nodes.get(key)!.pathOf(row < count ? row : -1),
    ...(row === place.row && { key }),
    get sort(): Sort {
      return sortOfColumn(table, column, place);
    },
    // A single cell is shown by its table.
    value: () => (row < 0 ? place.calculation.column(key) : undefined),
  };
}

export function footOf(table: TableName, column: string, place: Place): Found {
  const key = footKey(table.name, column);
  const value = (): Value => place.calculation.value(key);
  return {
    meant: { type: "foot", table: table.name, column },
    name: column,
    path: place.plan.nodes.get(key)!.pathOf(-1),
    key,
    get sort(): Sort {
      const scope = { names: namesAt(place), table, place: "foot" as const, frames: [] };
      return sortOr(value(), () =>
        sortOfFormula(table.feet.get(column)!.formula, { ...outside(place), scope }),
      );
    },
    value,
  };
}

function feetOf(table: TableName): Found {
  return {
    meant: { type: "foot", table: table.name, column: "" },
    name: "foot",
    path: `${writeName(table.name)}.foot`,
    sort: { is: "feet", table },
    value: none,
  };
}

function rowNamed(table: TableName, name: string, place: Place): Found | undefined {
  const rows = place.calculation.rows(table.name);
  const row = rows.find(name);
  return typeof row === "number" && row >= 0 ? rowOf(table, row, place) : undefined;
}

export function rowOf(table: TableName, row: number, place: Place): Found {
  return {
    meant: { type: "row", table: table.name, row },
    name: place.calculation.rows(table.name).names[row] ?? "",
    path: `${writeName(table.name)}.${rowLabel(place.calculation.rows(table.name), row)}`,
    sort: { is: "row", table },
    value: none,
  };
}

/** What the cells of a column are: by its values, else by its heading or formula. */
function sortOfColumn(table: TableName, name: string, place: Place): Sort {
  const column = table.byName.get(name)!;
  const key = cellsKey(table.name, name);
  const nature = place.calculation.nature(key);
  if (nature && nature.type !== "open") return sortOfNature(nature);
  const store = place.calculation.store(key);
  if (store?.unit) return { is: "quantity", unit: store.unit };
  for (const block of store?.blocks ?? [])
    for (const value of block.whole ?? []) {
      if (value === undefined) continue;
      const sort = sortOfValue(value);
      if (sort.is !== "unknown") return sort;
    }
  if (column.formula === undefined) return unknown;
  const scope = { names: namesAt(place), table, place: "row" as const, frames: [] };
  return sortOfFormula(column.formula, { ...outside(place), scope });
}

function sortOr(value: Value, otherwise: () => Sort): Sort {
  const sort = sortOfValue(value);
  return sort.is === "unknown" || (sort.is === "list" && sort.of.is === "unknown") ? otherwise() : sort;
}

/**
 * What can follow a dot behind something, in the order in which it is looked for. `accepts` is asked before
 * anything is made of a name; `rows` names the rows that are wanted, for a table may have 20,000.
 */
export function* partsOf(
  found: Found,
  place: Place,
  accepts: (name: string) => boolean,
  rows?: Iterable<string>,
): Generator<Found> {
  const { meant, sort } = found;
  const names = namesAt(place);
  if (sort.is === "feet") {
    for (const name of sort.table.feet.keys()) if (accepts(name)) yield footOf(sort.table, name, place);
  } else if (meant.type === "lead" && meant.name === "book") {
    for (const name of bookNames(place)) if (accepts(name)) yield bookName(name, place)!;
  } else if (meant.type === "lead") {
    const table = place.scope.table!;
    for (const name of table.byName.keys()) if (accepts(name)) yield cellBefore(table, name, place);
  } else if (sort.is === "table") {
    const { table } = sort;
    for (const name of table.byName.keys()) if (accepts(name)) yield columnOf(table, name, place);
    if (table.feet.size > 0 && !table.byName.has("foot") && accepts("foot")) yield feetOf(table);
    for (const row of rowsNamed(table, place, rows))
      if (!table.byName.has(place.calculation.rows(table.name).names[row]!)) yield rowOf(table, row, place);
  } else if (meant.type === "row") {
    const table = names.tables.get(meant.table)!;
    for (const name of table.byName.keys()) if (accepts(name)) yield cellOf(table, name, meant.row, place);
  } else if (meant.type === "column") {
    const table = names.tables.get(meant.table)!;
    for (const row of rowsNamed(table, place, rows)) {
      const name = place.calculation.rows(table.name).names[row]!;
      yield { ...cellOf(table, meant.column, row, place), name };
    }
  } else {
    const parts =
      sort.is === "record" ? sort.parts : sort.is === "list" && sort.of.is === "record" ? sort.of.parts : [];
    for (const [name] of parts) {
      const part = accepts(name) ? partOfValue(found, name) : undefined;
      if (part) yield part;
    }
  }
}

/** Every set and table, in the order of the text. */
export function bookNames(place: Place): readonly string[] {
  const { sets, tables } = namesAt(place);
  const placed = [
    ...[...sets.values()].map((s) => ({ name: s.name, at: s.statement.at })),
    ...[...tables.values()].map((t) => ({ name: t.name, at: t.tree.statement.at })),
  ];
  return placed.sort((a, b) => a.at - b.at).map((p) => p.name);
}

/** Rows that a path can reach: those with a name that no other row has. */
function* rowsNamed(table: TableName, place: Place, only?: Iterable<string>): Generator<number> {
  const rows = place.calculation.rows(table.name);
  for (const name of only ?? rows.names) {
    const row = name === "" ? -1 : rows.find(name);
    if (typeof row === "number" && row >= 0) yield row;
  }
}
