import {
  canBeName,
  type Formula,
  type Span,
  type Statement,
  type TableTree,
  writeName,
  writePart,
} from "../../../grammar";
import type { Book } from "../../engine";
import { placedItems } from "./items";
import type { Edit, Refusal } from "./slot";
import { oneLine, type Patch, patched } from "./source";

/** What gets another name: a value or table of the book, a function of its own, a column of a table, a row of a table. */
export type Renamed =
  | { readonly value: string }
  | { readonly define: string }
  | { readonly column: string; readonly of: string }
  | { readonly row: string; readonly of: string };

const FIXED = new Set(["before", "foot", "book"]);

/** Gives something another name, where it is defined and wherever a formula calls it. */
export function renamed(book: Book, target: Renamed, typed: string): Edit | Refusal {
  const name = oneLine(typed)
    .replace(/^`([^`]*)`$/, "$1")
    .normalize("NFC");
  const old = oldName(target);
  if (name === old) return { says: `name of ${old}`, text: book.text };
  if (name === "") return { refused: "A name is needed." };
  if (!canBeName(name)) return { refused: "A name has no backtick and no line end in it." };
  if (FIXED.has(name)) return { refused: `“${name}” always means the same in a formula; take another name.` };
  const clash = clashOf(book, target, name);
  if (clash !== undefined) return { refused: clash };
  return { says: `renaming ${old} to ${name}`, text: patched(book.text, renamePatches(book, target, name)) };
}

const oldName = (target: Renamed): string =>
  "value" in target
    ? target.value
    : "define" in target
      ? target.define
      : "column" in target
        ? target.column
        : target.row;

function clashOf(book: Book, target: Renamed, name: string): string | undefined {
  if ("value" in target) {
    const taken = placedItems(book).some(
      (p) => (p.item.type === "value" || p.item.type === "table") && p.item.name === name,
    );
    return taken ? `The book has a ${name} already.` : undefined;
  }
  if ("define" in target) {
    const taken = placedItems(book).some((p) => p.item.type === "define" && p.item.name === name);
    return taken ? `The book has a function ${name} already.` : undefined;
  }
  if ("row" in target) return undefined;
  const table = book.tree.tables.find((t) => t.name === target.of);
  const taken =
    table?.heading?.node.columns.some((c) => c.name === name) ||
    table?.columns.some((c) => c.node.name === name);
  return taken ? `${target.of} has a column ${name} already.` : undefined;
}

/** Every stretch that has to change. */
export function renamePatches(book: Book, target: Renamed, name: string): Patch[] {
  const patches: Patch[] = [];
  for (const statement of book.tree.statements) {
    const table = book.tree.tableOf.get(statement);
    const put = (span: Span, text: string) =>
      patches.push({ from: statement.at + span.from, to: statement.at + span.to, text });
    definition(statement, table, target, name, put);
    const inCell = statement.node.type === "row";
    const uses = new Uses(target, name, inCell, table, put);
    for (const { formula, bound } of formulasOf(statement))
      uses.walk(formula, new Set(bound), inTable(statement, table));
  }
  return patches;
}

/** The table whose columns are seen by bare names: only computed columns, feet and cells see them. */
function inTable(statement: Statement, table: TableTree | undefined): TableTree | undefined {
  const { type } = statement.node;
  return type === "column" || type === "foot" || type === "row" ? table : undefined;
}

/** The place where the name is given. */
function definition(
  statement: Statement,
  table: TableTree | undefined,
  target: Renamed,
  name: string,
  put: (span: Span, text: string) => void,
): void {
  const { node } = statement;
  if ("value" in target) {
    if ((node.type === "set" || node.type === "table") && node.name === target.value)
      put(node.nameSpan, writeName(name));
    return;
  }
  if ("define" in target) {
    if (node.type === "define" && node.name === target.define) put(node.nameSpan, writeName(name));
    return;
  }
  if (table?.name !== target.of) return;
  if ("row" in target) return;
  if ((node.type === "column" || node.type === "foot") && node.name === target.column)
    put(node.nameSpan, writeName(name));
  if (node.type === "heading") {
    const heading = node.columns.find((c) => c.name === target.column);
    if (heading) put(heading.nameSpan, headingName(name));
  }
}

/** A heading is plain words; only a name that ends in a bracket stands in backticks. */
const headingName = (name: string): string =>
  /\)\s*$/.test(name) ? `\`${name.replaceAll("|", "\\|")}\`` : name.replaceAll("|", "\\|");

/** All formulas of a statement, each with the names that it binds itself. */
export function formulasOf(statement: Statement): readonly { formula: Formula; bound: readonly string[] }[] {
  const { node } = statement;
  const plain = (...formulas: (Formula | undefined)[]) =>
    formulas.filter((f) => f !== undefined).map((formula) => ({ formula, bound: [] as string[] }));
  switch (node.type) {
    case "set":
      return plain(node.formula, node.trial?.from, node.trial?.to, node.trial?.step);
    case "define":
      return [{ formula: node.formula, bound: node.parameters.map((p) => p.name) }];
    case "column":
    case "foot":
    case "check":
      return plain(node.formula);
    case "row":
      return plain(...node.cells.map((c) => (c.content.type === "formula" ? c.content.formula : undefined)));
    case "chart":
      return node.style === "curve"
        ? [
            ...node.what.map((formula) => ({ formula, bound: [node.variable] })),
            ...plain(node.from, node.to, node.mark),
          ]
        : plain(...node.what, node.by);
    case "step":
      return plain(node.text, node.wait, ...node.asks.flatMap((a) => [a.path, a.expect]));
    case "seen":
      return plain(node.path);
    default:
      return [];
  }
}

/** Finds the calls of one name in a formula. */
class Uses {
  readonly #target: Renamed;
  readonly #name: string;
  readonly #inCell: boolean;
  readonly #home: TableTree | undefined;
  readonly #put: (span: Span, text: string) => void;

  constructor(
    target: Renamed,
    name: string,
    inCell: boolean,
    home: TableTree | undefined,
    put: (span: Span, text: string) => void,
  ) {
    this.#target = target;
    this.#name = name;
    this.#inCell = inCell;
    this.#home = home;
    this.#put = put;
  }

  /** `seen` is the table whose columns bare names mean here. */
  walk(f: Formula, bound: ReadonlySet<string>, seen: TableTree | undefined): void {
    switch (f.type) {
      case "name":
        this.#bare(f.name, f.span, bound, seen);
        return;
      case "part":
        this.#part(f, bound, seen);
        return;
      case "call":
        if ("define" in this.#target && f.name === this.#target.define)
          this.#put(f.nameSpan, writeName(this.#name, this.#inCell));
        for (const a of f.arguments) this.walk(a.value, bound, seen);
        return;
      case "text":
        for (const piece of f.pieces) if (typeof piece !== "string") this.walk(piece, bound, seen);
        return;
      case "find": {
        this.walk(f.from, bound, seen);
        this.walk(f.to, bound, seen);
        // A find over the name of a set varies that very set, so its variable is a use of the name.
        this.#bare(f.name, f.nameSpan, bound, seen);
        this.walk(f.goal, bound, seen);
        return;
      }
      case "where": {
        this.walk(f.of, bound, seen);
        this.walk(
          f.condition,
          bound,
          tableIn(f.of, this.#target) ? (ownTable(this.#target, this.#home) ?? seen) : seen,
        );
        return;
      }
      default:
        for (const child of childrenOf(f)) this.walk(child, bound, seen);
    }
  }

  #bare(name: string, span: Span, bound: ReadonlySet<string>, seen: TableTree | undefined): void {
    if (bound.has(name)) return;
    const { target, column } = { target: this.#target, column: seen !== undefined && hasColumn(seen, name) };
    if ("value" in target) {
      if (name === target.value && !column) this.#put(span, writeName(this.#name, this.#inCell));
    } else if ("column" in target && name === target.column && seen?.name === target.of && column) {
      this.#put(span, writeName(this.#name, this.#inCell));
    }
  }

  #part(
    f: Extract<Formula, { type: "part" }>,
    bound: ReadonlySet<string>,
    seen: TableTree | undefined,
  ): void {
    const { of } = f;
    const target = this.#target;
    const rename = () => this.#put(f.partSpan, writePart(this.#name, this.#inCell));
    if ("value" in target) {
      if (of.type === "name" && of.name === "book" && f.part === target.value) rename();
    } else if (!("define" in target)) {
      const wanted = "column" in target ? target.column : target.row;
      const of1 = of.type === "name" ? of.name : undefined;
      const of2 = of.type === "part" && of.of.type === "name" ? of.of.name : undefined;
      const isTable = (word: string | undefined) => word === target.of && !bound.has(word ?? "");
      if (f.part === wanted) {
        if (isTable(of1)) rename();
        else if ("column" in target && isTable(of2)) rename();
        else if ("column" in target && seen?.name === target.of && (of1 === "before" || of1 === "foot"))
          rename();
      }
    }
    if (of.type === "name" && (of.name === "book" || of.name === "before" || of.name === "foot")) return;
    this.walk(of, bound, seen);
  }
}

const hasColumn = (table: TableTree, name: string): boolean =>
  (table.heading?.node.columns.some((c) => c.name === name) ?? false) ||
  table.columns.some((c) => c.node.name === name);

/** A stand-in for the table that is renamed in, when a condition reads its columns from outside. */
function ownTable(target: Renamed, home: TableTree | undefined): TableTree | undefined {
  if ("value" in target || "define" in target) return home;
  if (home?.name === target.of) return home;
  return "column" in target
    ? ({ name: target.of, columns: [{ node: { name: target.column } }] } as unknown as TableTree)
    : home;
}

/** Whether a list comes from the table that is renamed in. */
function tableIn(f: Formula, target: Renamed): boolean {
  if ("value" in target || "define" in target) return false;
  if (f.type === "name") return f.name === target.of;
  if (f.type === "part") return tableIn(f.of, target);
  return childrenOf(f).some((child) => tableIn(child, target));
}

/** The formulas directly inside one. */
export function childrenOf(f: Formula): readonly Formula[] {
  switch (f.type) {
    case "list":
      return f.entries;
    case "call":
      return f.arguments.map((a) => a.value);
    case "part":
    case "negate":
    case "not":
    case "shown":
      return [f.of];
    case "spread":
      return [f.of, f.by];
    case "arithmetic":
    case "compare":
    case "logic":
      return [f.left, f.right];
    case "within":
      return [f.of, f.low, f.high];
    case "range":
      return f.step === undefined ? [f.from, f.to] : [f.from, f.to, f.step];
    case "choice":
      return [f.condition, f.yes, f.no];
    case "find":
      return [f.from, f.to, f.goal];
    case "where":
      return [f.of, f.condition];
    case "text":
      return f.pieces.filter((p): p is Formula => typeof p !== "string");
    default:
      return [];
  }
}
