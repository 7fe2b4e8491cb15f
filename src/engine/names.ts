import type { BookTree, Formula, Statement, TableTree } from "../../grammar";

/**
 * The names that a book defines. `set` and `table` share one space, `define` has its own. A name defined
 * twice keeps its first meaning; the later ones are kept in `doubles` for their message.
 */
export interface Names {
  readonly sets: ReadonlyMap<string, SetName>;
  readonly tables: ReadonlyMap<string, TableName>;
  readonly defines: ReadonlyMap<string, DefineName>;
  readonly doubles: readonly Double[];
  /** A text that is equal for two books exactly when every name means the same kind of thing in both. */
  readonly shape: string;
  /** Parts that definitions came to in the formulas compiled so far, against the limit of a book. */
  readonly expansion: { parts: number };
}

export interface SetName {
  readonly name: string;
  readonly statement: Statement;
  /** Missing when the statement could not be read. */
  readonly formula?: Formula;
}
export interface DefineName {
  readonly name: string;
  readonly statement: Statement;
  readonly parameters: readonly string[];
  readonly formula?: Formula;
}
export interface TableName {
  readonly name: string;
  readonly tree: TableTree;
  readonly columns: readonly ColumnName[];
  readonly byName: ReadonlyMap<string, ColumnName>;
  readonly feet: ReadonlyMap<string, FootName>;
}
export interface ColumnName {
  readonly name: string;
  /** Of its cells: `cellsKey`, made once. */
  readonly key: string;
  /** Place in the heading, for a typed column. */
  readonly typed?: number;
  /** For a computed column. */
  readonly statement?: Statement;
  readonly formula?: Formula;
}
export interface FootName {
  readonly name: string;
  readonly statement: Statement;
  readonly formula: Formula;
}
export interface Double {
  readonly statement: Statement;
  readonly name: string;
  readonly span: { readonly from: number; readonly to: number };
  readonly first: Statement;
  readonly what: string;
}

const SEPARATOR = "\u0000";

export const setKey = (name: string): string => `set${SEPARATOR}${name}`;
export const cellsKey = (table: string, column: string): string =>
  `cells${SEPARATOR}${table}${SEPARATOR}${column}`;
export const rowsKey = (table: string): string => `rows${SEPARATOR}${table}`;
export const footKey = (table: string, column: string): string =>
  `foot${SEPARATOR}${table}${SEPARATOR}${column}`;

const layouts = new WeakMap<TableName, string>();
/** A text that is equal for two tables exactly when they have the same columns and feet in the same order. */
export function layoutOf(table: TableName): string {
  let layout = layouts.get(table);
  if (layout === undefined) {
    const columns = table.columns.map((c) => c.name);
    const feet = [...table.feet.keys()].map((f) => `${SEPARATOR}${f}`);
    layout = [table.name, ...columns, ...feet].join(SEPARATOR);
    layouts.set(table, layout);
  }
  return layout;
}

/** Whether a formula is a plain quantity, so that a slider or `find` may put another in its place. */
export function plainQuantity(formula: Formula): boolean {
  return (
    formula.type === "number" ||
    (formula.type === "spread" && formula.of.type === "number" && formula.by.type === "number")
  );
}

const valueNamesOf = new WeakMap<Names, readonly string[]>();
/** Names of the values and tables of a book, as a list that is made once. */
export function valueNames(names: Names): readonly string[] {
  let list = valueNamesOf.get(names);
  if (!list) {
    list = [...names.sets.keys(), ...names.tables.keys()];
    valueNamesOf.set(names, list);
  }
  return list;
}
const functionNamesOf = new WeakMap<Names, readonly string[]>();
/** Names of the functions of a book, its own and those given. */
export function functionNames(names: Names, given: Iterable<string>): readonly string[] {
  let list = functionNamesOf.get(names);
  if (!list) {
    list = [...names.defines.keys(), ...given];
    functionNamesOf.set(names, list);
  }
  return list;
}

/** A number for each formula object, so that a definition with another body makes another shape. */
const bodies = new WeakMap<Formula, number>();
let bodyCount = 0;
function bodyOf(formula: Formula): number {
  let id = bodies.get(formula);
  if (id === undefined) {
    id = ++bodyCount;
    bodies.set(formula, id);
  }
  return id;
}

/** Words that mean something else inside a table and so cannot name a set, table, column or row. */
const TAKEN = new Set(["before", "foot", "book"]);
export const isTaken = (name: string): boolean => TAKEN.has(name);

export function gatherNames(tree: BookTree): Names {
  const sets = new Map<string, SetName>();
  const tables = new Map<string, TableName>();
  const defines = new Map<string, DefineName>();
  const doubles: Double[] = [];
  const firstOf = new Map<string, Statement>();
  const shape: string[] = [];

  const claim = (
    space: string,
    name: string,
    statement: Statement,
    span: { from: number; to: number },
    what: string,
  ): boolean => {
    const key = `${space}${SEPARATOR}${name}`;
    const first = firstOf.get(key);
    if (first) {
      doubles.push({ statement, name, span, first, what });
      return false;
    }
    firstOf.set(key, statement);
    return true;
  };

  const tableTrees = new Map<Statement, TableTree>(tree.tables.map((t) => [t.statement, t]));
  for (const statement of tree.statements) {
    const { node } = statement;
    if (node.type === "set" && claim("value", node.name, statement, node.nameSpan, "value")) {
      sets.set(node.name, { name: node.name, statement, formula: node.formula });
      shape.push(`${plainQuantity(node.formula) ? "q" : "s"}${node.name}`);
    } else if (node.type === "define" && claim("define", node.name, statement, node.nameSpan, "function")) {
      defines.set(node.name, {
        name: node.name,
        statement,
        parameters: node.parameters.map((p) => p.name),
        formula: node.formula,
      });
      shape.push(`d${bodyOf(node.formula)} ${node.parameters.map((p) => p.name).join(" ")} ${node.name}`);
    } else if (node.type === "table") {
      const table = tableTrees.get(statement);
      if (table && claim("value", node.name, statement, node.nameSpan, "table")) {
        const made = gatherTable(table, doubles);
        tables.set(node.name, made);
        shape.push(
          `t${node.name}`,
          ...made.columns.map((c) => `${c.typed === undefined ? "c" : "h"}${c.name}`),
          ...[...made.feet.keys()].map((f) => `f${f}`),
        );
      }
    } else if (node.type === "unread" && node.name !== undefined) {
      // What cannot be read is a fault in its place, never left out.
      const span = { from: 0, to: statement.length };
      if (node.defines === "set" && claim("value", node.name, statement, span, "value")) {
        sets.set(node.name, { name: node.name, statement });
        shape.push(`u${node.name}`);
      } else if (node.defines === "table" && claim("value", node.name, statement, span, "table")) {
        sets.set(node.name, { name: node.name, statement });
        shape.push(`u${node.name}`);
      } else if (node.defines === "define" && claim("define", node.name, statement, span, "function")) {
        defines.set(node.name, { name: node.name, statement, parameters: [] });
        shape.push(`d${node.name}`);
      }
    }
  }
  return { sets, tables, defines, doubles, shape: shape.join(SEPARATOR), expansion: { parts: 0 } };
}

/** What a column or foot comes to whose formula cannot be read: a fault in its place, never left out. */
const UNREAD: Formula = { type: "unread", span: { from: 0, to: 0 } };

const inOrder = <A extends Statement, B extends Statement>(
  some: readonly A[],
  more: readonly B[],
): (A | B)[] => (more.length === 0 ? [...some] : [...some, ...more].sort((a, b) => a.at - b.at));

function gatherTable(tree: TableTree, doubles: Double[]): TableName {
  const columns: ColumnName[] = [];
  const byName = new Map<string, ColumnName>();
  const add = (
    named: Omit<ColumnName, "key">,
    statement: Statement,
    span: { from: number; to: number },
  ): void => {
    const column = { ...named, key: cellsKey(tree.name, named.name) };
    const first = byName.get(column.name);
    if (first) {
      doubles.push({
        statement,
        name: column.name,
        span,
        first: first.statement ?? tree.heading ?? tree.statement,
        what: "column",
      });
      return;
    }
    byName.set(column.name, column);
    columns.push(column);
  };
  tree.heading?.node.columns.forEach((heading, index) => {
    add({ name: heading.name, typed: index }, tree.heading!, heading.nameSpan);
  });
  for (const statement of inOrder(tree.columns, tree.broken)) {
    const { node } = statement;
    const span = { from: 0, to: statement.length };
    if (node.type === "column")
      add({ name: node.name, statement, formula: node.formula }, statement, node.nameSpan);
    else if (node.defines === "column")
      add({ name: node.name!, statement, formula: UNREAD }, statement, span);
  }
  const feet = new Map<string, FootName>();
  for (const statement of inOrder(tree.feet, tree.broken)) {
    const { node } = statement;
    if (node.type === "unread" && node.defines !== "foot") continue;
    const name = node.name!;
    const first = feet.get(name);
    const span = node.type === "foot" ? node.nameSpan : { from: 0, to: statement.length };
    if (first) doubles.push({ statement, name, span, first: first.statement, what: "foot" });
    else feet.set(name, { name, statement, formula: node.type === "foot" ? node.formula : UNREAD });
  }
  return { name: tree.name, tree, columns, byName, feet };
}
