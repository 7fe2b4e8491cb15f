import { Trouble } from "../quantity";
import type { RecordValue, Value } from "../vocabulary/value";
import { record } from "../vocabulary/value";
import type { Rows, Values } from "./environment";
import { cellsKey, footKey, type TableName } from "./names";

/** A table handed on as a value: a record of its columns, whose parts may also be its rows and its feet. */
export class TableRecord implements RecordValue {
  readonly type = "record" as const;
  private readonly table: TableName;
  private readonly values: Values;

  constructor(table: TableName, values: Values) {
    this.table = table;
    this.values = values;
  }

  get parts(): ReadonlyMap<string, Value> {
    return new Map(
      this.table.columns.map((c) => [c.name, this.values.column(cellsKey(this.table.name, c.name)) as Value]),
    );
  }

  /** A column, else `foot`, else a row. `rowOf` throws `Trouble` when there is no such row. */
  part(name: string, rowOf: (rows: Rows, name: string, table: TableName) => number): Value {
    const { table, values } = this;
    if (table.byName.has(name)) return values.column(cellsKey(table.name, name));
    if (name === "foot" && table.feet.size === 0)
      throw new Trouble({ code: "foot-unknown", says: `Table ${table.name} has no foot under any column.` });
    if (name === "foot")
      return record([...table.feet.keys()].map((f) => [f, values.value(footKey(table.name, f))] as const));
    const row = rowOf(values.rows(table.name), name, table);
    return record(
      table.columns.map((c) => [c.name, values.cell(cellsKey(table.name, c.name), row)] as const),
    );
  }
}
