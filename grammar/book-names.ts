import type { BookTree, Statement, TableTree } from "./tree";

/** What the names of a book mean, read off the text alone. */

export type Meaning =
  | { readonly kind: "set"; readonly statement: Statement }
  | { readonly kind: "table"; readonly table: TableTree }
  | { readonly kind: "column"; readonly table: TableTree; readonly name: string }
  | { readonly kind: "row"; readonly table: TableTree; readonly name: string }
  | { readonly kind: "define"; readonly statement: Statement }
  | { readonly kind: "local" }
  | { readonly kind: "open" };

/** Names that are seen before those of the book, innermost first. */
export type Scope =
  | {
      readonly type: "locals";
      readonly names: ReadonlyMap<string, Shape | undefined>;
      readonly outer: Scope | undefined;
    }
  | {
      readonly type: "columns";
      readonly table: TableTree;
      readonly as: "row" | "foot";
      readonly outer: Scope | undefined;
    };

/** What a formula comes to, as far as names behind a dot go. */
export interface Shape {
  readonly kind: "table" | "row" | "list";
  readonly table: TableTree;
}

/** The names of a book; of two that are equal the first counts. */
export class BookNames {
  readonly sets = new Map<string, Statement>();
  readonly tables = new Map<string, TableTree>();
  readonly defines = new Map<string, Statement>();
  private readonly columns = new Map<TableTree, ReadonlySet<string>>();
  private readonly rows = new Map<TableTree, ReadonlySet<string>>();

  constructor(readonly tree: BookTree) {
    const taken = new Set<string>();
    for (const statement of tree.statements) {
      const { node } = statement;
      if (node.type === "set" || node.type === "table" || node.type === "unread") {
        const name =
          node.type === "unread" && node.defines !== "set" && node.defines !== "table"
            ? undefined
            : node.name;
        if (name === undefined || taken.has(name)) continue;
        taken.add(name);
        const table = tree.tableOf.get(statement);
        if (node.type === "set") this.sets.set(name, statement);
        else if (table !== undefined && node.type === "table") this.tables.set(name, table);
      } else if (node.type === "define" && !this.defines.has(node.name))
        this.defines.set(node.name, statement);
    }
  }

  columnsOf(table: TableTree): ReadonlySet<string> {
    let names = this.columns.get(table);
    if (names === undefined) {
      const written = table.heading?.node.columns.map((column) => column.name) ?? [];
      names = new Set([...written, ...table.columns.map((column) => column.node.name)]);
      this.columns.set(table, names);
    }
    return names;
  }

  rowsOf(table: TableTree): ReadonlySet<string> {
    let names = this.rows.get(table);
    if (names === undefined) {
      names = new Set(table.rows.map(rowName).filter((name) => name !== ""));
      this.rows.set(table, names);
    }
    return names;
  }

  /** What a bare name means in the book itself. */
  ofBook(name: string): Meaning {
    const set = this.sets.get(name);
    if (set !== undefined) return { kind: "set", statement: set };
    const table = this.tables.get(name);
    return table === undefined ? { kind: "open" } : { kind: "table", table };
  }

  /** What a bare name means where it stands. */
  resolve(name: string, scope: Scope | undefined): Meaning {
    for (let at = scope; at !== undefined; at = at.outer) {
      if (at.type === "locals" && at.names.has(name)) return { kind: "local" };
      if (at.type === "columns" && this.columnsOf(at.table).has(name))
        return { kind: "column", table: at.table, name };
    }
    return this.ofBook(name);
  }
}

/** The name of a row: what its first cell says, or, where that is a quantity or a date, how it is written. */
export function rowName(row: TableTree["rows"][number]): string {
  const first = row.node.cells[0];
  if (first === undefined) return "";
  return first.content.type === "text" ? first.content.text : first.raw;
}
