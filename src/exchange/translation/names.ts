import type { Formula } from "../../../grammar";
import { exactInteger, parseUnit, quantity } from "../../quantity";
import type { Value } from "../../vocabulary";
import { type Expression, type Place, range } from "../expression";
import type { Desk } from "./calls";
import { type Layout, placeOfCell, type SetSpot, type TableSpot, termOfCell } from "./layout";
import { withoutBlock } from "./operators";
import { isEmpty, type ListTerm, NotLive, quantityTerm, type Term } from "./term";

/** What names and paths of a book mean in a spreadsheet: cells, columns, parts. */
export class Names {
  constructor(
    private readonly layout: Layout,
    /** Translates a formula of the book outside any table. */
    private readonly termOf: (formula: Formula, desk: Desk) => Term,
  ) {}

  bookName(name: string, desk: Desk): Term {
    const set = this.layout.sets.get(name);
    if (set !== undefined) return this.setTerm(set, desk);
    if (this.layout.tables.has(name)) return { type: "table", name };
    throw new NotLive(`nothing is called ${name}`);
  }

  setTerm(set: SetSpot, desk: Desk): Term {
    const { value } = set.item.shown;
    const formula = set.item.statement.node.type === "set" ? set.item.statement.node.formula : undefined;
    // A selection is written out again where it is used: its own cells hold only what was chosen when it went out.
    if (value.type === "list" && formula?.type === "where") return this.termOf(formula, desk);
    let next = 0;
    const walk = (v: Value): Term => {
      if (v.type === "record")
        return { type: "record", parts: new Map([...v.parts].map(([k, part]) => [k, walk(part)])) };
      if (v.type === "list") {
        const entries = v.entries.map(walk);
        return {
          type: "list",
          length: entries.length,
          entry: (i) => entries[i]!,
          gaps: v.entries.some((e) => e.type === "gap"),
          ...(v.origin === undefined ? {} : { origin: v.origin }),
        };
      }
      const spot = set.cells[next++]!;
      if (v.type === "gap") return this.emptySet(spot.at, formula, desk, spot.shown.path);
      return termOfCell(v, spot.at, false) ?? unknown(v, spot.shown.path);
    };
    return walk(value);
  }

  /** A value that is not there yet: its formula tells of what kind it will be. */
  emptySet(at: Place, formula: Formula | undefined, desk: Desk, path: string): Term {
    const reference: Expression = { type: "cell", at };
    if (formula?.type === "shown" && formula.of.type === "blank") {
      return quantityTerm(reference, parseUnit(formula.unit.text), [isEmpty(reference)]);
    }
    const term = formula === undefined || formula.type === "blank" ? undefined : this.termOf(formula, desk);
    if (term === undefined || !("missing" in term)) {
      throw new NotLive(`what ${path} would hold is not known yet`);
    }
    return { ...term, expression: reference, missing: [isEmpty(reference)] } as Term;
  }

  column(table: TableSpot, name: string): ListTerm {
    const column = table.columns.get(name)!;
    const { rowCount } = table.item;
    const first = placeOfCell(table, 0, column);
    const last = placeOfCell(table, Math.max(0, rowCount - 1), column);
    return {
      type: "list",
      length: rowCount,
      entry: (row) => this.cellTerm(table, name, row),
      origin: { table: table.item.name, rows: table.names.map((_, i) => i), names: table.names },
      gaps: column.gaps,
      ...(rowCount > 0 ? { block: range(first, last) as ListTerm["block"] } : {}),
    };
  }

  cellTerm(table: TableSpot, name: string, row: number): Term {
    const column = table.columns.get(name)!;
    const { value } = table.item.cell(row, column.index);
    const unit = table.item.columns[column.index]!.unitOf;
    const like = unit === undefined ? undefined : quantity(exactInteger(0), unit);
    const term = termOfCell(
      value,
      placeOfCell(table, row, column),
      column.gaps,
      like ?? this.likeColumn(table, column.index),
    );
    return term ?? unknown(value, `${table.item.name}.${name}`);
  }

  /** A filled cell of the column, to know what an empty one would be. */
  likeColumn(table: TableSpot, index: number): Value | undefined {
    for (let row = 0; row < Math.min(table.item.rowCount, 200); row++) {
      const { value } = table.item.cell(row, index);
      if (value.type !== "gap" && value.type !== "fault") return value;
    }
    return undefined;
  }

  foot(table: TableSpot, name: string): Term {
    const foot = table.item.feet.get(name);
    const column = table.columns.get(name);
    if (foot === undefined || column === undefined || table.footRow === undefined)
      throw new NotLive(`there is no foot ${name}`);
    const at = { sheet: table.sheet, row: table.footRow, column: column.column };
    const { value } = foot.shown;
    const unit = table.item.columns[column.index]!.unitOf;
    const like = unit === undefined ? undefined : quantity(exactInteger(0), unit);
    return termOfCell(value, at, value.type === "gap", like) ?? unknown(value, foot.shown.path);
  }

  partOf(term: Term, part: string): Term {
    if (term.type === "table") {
      const table = this.layout.tables.get(term.name)!;
      if (table.columns.has(part)) return this.column(table, part);
      const row = table.names.indexOf(part);
      if (row < 0 || table.names.indexOf(part, row + 1) >= 0) throw new NotLive(`there is no row ${part}`);
      const cells = [...table.columns.keys()].map(
        (name) => [name, () => this.cellTerm(table, name, row)] as const,
      );
      return { type: "record", parts: new LazyParts(cells) };
    }
    if (term.type === "record") {
      const found = term.parts.get(part);
      if (found !== undefined) return found;
    }
    if (term.type === "list") {
      const named = term.origin?.names.indexOf(part) ?? -1;
      if (named >= 0) return term.entry(named);
      if (/^\d+$/.test(part) && Number(part) >= 1 && Number(part) <= term.length)
        return term.entry(Number(part) - 1);
      return { ...withoutBlock(term), entry: (i) => this.partOf(term.entry(i), part) };
    }
    if (term.type === "blank") return term;
    throw new NotLive(`there is no part ${part}`);
  }
}

/** Parts made when they are asked for. */
class LazyParts extends Map<string, Term> {
  private readonly makers: ReadonlyMap<string, () => Term>;
  constructor(makers: readonly (readonly [string, () => Term])[]) {
    super();
    this.makers = new Map(makers);
  }
  override get(name: string): Term | undefined {
    return this.makers.get(name)?.();
  }
}

function unknown(value: Value, path: string): never {
  throw new NotLive(
    value.type === "fault" ? `${path} is a fault` : `what ${path} would hold is not known yet`,
  );
}
