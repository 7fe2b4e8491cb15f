import { type Gap, type Value, waiting } from "../vocabulary/value";
import { Allowance, both, type Cost, NO_COST, TOO_MUCH } from "./allowance";
import { ColumnList, ColumnStore } from "./blocks";
import { cellValue, type Nature, natureOf } from "./cells";
import { Chain } from "./chain";
import { type UnitWork, workUnit } from "./circle";
import type { Code, Draw, Environment, Rows, Values } from "./environment";
import { Waiting } from "./environment";
import { faultFrom, guarded } from "./fault";
import { Left, LongLists } from "./long-lists";
import { rowsKey } from "./names";
import { oneValue, spanOfUnit } from "./node-faults";
import { PIECE, type Pieces, whole } from "./pieces";
import type { ComputedNode, FormulaNode, Plan, PlanNode, TypedNode } from "./plan";
import { type Change, isAsBefore, rowsChange, rowsToWork, sameNature } from "./recipes";
import { rowsUnlike, sameValue } from "./sameness";
import type { SearchesMet } from "./search";
import { lastly, StandIn } from "./stand-in";
import { vectorise } from "./vector";

/** Work of a computed cell beside that of its formula: it is kept. */
const CELL_WORK = 4;
/** Rows of a block in which a part of a formula takes as long as a part of one cell by itself. */
const ROWS_AT_ONCE = 32;

interface Slot {
  value?: Value;
  store?: ColumnStore;
  list?: ColumnList;
  rows?: Rows;
  complete: boolean;
  change: Change;
  nature?: Nature;
  /** Missing in a trial, whose work counts where the trial is asked for. */
  cost?: Cost;
  /** It holds the place of what is still to be worked out, or something in it does. */
  waits?: true;
}

/**
 * The values of a plan. A calculation made after another one keeps every value that the change does not
 * reach, and stops where a value comes out the same. A trial (`find`) is a calculation laid over another:
 * it holds only what depends on the value that is turned.
 */
export class Calculation implements Values {
  readonly plan: Plan;
  private readonly slots = new Map<string, Slot>();
  private readonly base: Calculation | undefined;
  /** What it may take; a trial shares that of the calculation under it. */
  readonly allowance: Allowance;
  readonly draw?: Draw;
  /** While a book is worked out; questions about it are answered at once. */
  searches: SearchesMet | undefined;

  private constructor(plan: Plan, base: Calculation | undefined, allowance: Allowance, draw?: Draw) {
    this.plan = plan;
    this.base = base;
    this.allowance = allowance;
    if (draw) this.draw = draw;
  }

  /** Whether it ran into a limit, so that what became of a value may hang on what came before it. */
  private limited = false;
  /** At least what a fresh calculation would take for what was taken over from the one before. */
  private kept = NO_COST;

  /** The lists of the formula that is being worked out, where it may be left in the middle. */
  private lists: LongLists | undefined;
  /** What the checks, charts and steps are until all values are there. */
  private waits: Gap | undefined;

  /** All of it in one go; see `inPieces`. */
  static of(plan: Plan, previous?: Calculation): Calculation {
    const calculation = Calculation.for(plan);
    return whole(calculation.inPieces(previous)) ? calculation : Calculation.of(plan);
  }

  /** A calculation in which nothing is worked out yet. */
  static for(plan: Plan, piece = PIECE): Calculation {
    return new Calculation(plan, undefined, new Allowance(piece));
  }

  /**
   * Works everything out. What is taken over from the calculation before counts as if it were worked out here. Where
   * that, or the calculation before, comes to a limit, it all has to be worked out anew, which is told by `false`: an
   * edited book stops where a freshly opened one stops.
   */
  *inPieces(previous?: Calculation): Pieces<boolean> {
    const before = previous?.limited ? undefined : previous;
    const { components } = this.plan;
    // What was typed is there first: it hangs on nothing and takes no time.
    for (const component of components) if (isTyped(component[0]!)) this.workWhole(component, before);
    for (const component of components) {
      if (this.slots.has(component[0]!.key)) continue;
      const pieces = this.work(component, before);
      if (pieces) yield* pieces;
      if (this.allowance.isPieceDone()) yield;
    }
    if (before && this.allowance.isStopped(this.kept)) return false;
    this.limited = this.allowance.isStopped();
    return true;
  }

  /**
   * What there is while it is being worked out, as a calculation of its own. What is not there yet is a gap that says
   * so, unless it is as it was in the calculation before.
   */
  soFar(says: string, previous?: Calculation): Calculation {
    const before = previous?.limited ? undefined : previous;
    const there = Calculation.for(this.plan);
    there.waits = waiting(`this ${says}`);
    for (const [key, slot] of this.slots) if (slot.complete) there.slots.set(key, slot);
    for (const component of this.plan.components) {
      if (component.every((node) => there.slots.has(node.key))) continue;
      if (before && there.areUntouched(component, before)) there.keepAll(component, before);
      else for (const node of component) there.stopgap(node, says, before?.slot(node.key));
    }
    return there;
  }

  /** Puts gaps where nothing is worked out yet; what was typed into a column is no gap. */
  private stopgap(node: PlanNode, says: string, before: Slot | undefined): void {
    const core = { complete: true, change: "all", waits: true } as const;
    const path = node.pathOf(-1);
    if (node.type === "rows") this.slots.set(node.key, { rows: node.rows, complete: true, change: "all" });
    else if (node.type === "formula")
      this.slots.set(node.key, { value: lastly(waiting(`${path} ${says}`, path), before?.value), ...core });
    else {
      const gap = waiting(`${path} ${says}`);
      const { count } = this.rows(node.table.name);
      if (node.type === "computed") {
        this.slots.set(node.key, { store: StandIn.for(count, gap, before?.store), ...core });
        return;
      }
      const store = new ColumnStore(count);
      this.slots.set(node.key, { store, nature: natureIn(node), ...core });
      for (let row = 0; row < count; row++)
        store.set(row, node.formulas.has(row) ? gap : this.typedCell(node, row));
      store.seal();
    }
  }

  /** Whether it is no calculation of what there is so far. */
  get isWhole(): boolean {
    return this.waits === undefined;
  }

  /** How many values and cells are still to be worked out. */
  get left(): number {
    let left = 0;
    for (const node of this.plan.nodes.values()) {
      const slot = this.slots.get(node.key);
      if (node.type === "rows" || slot?.complete) continue;
      if (node.type === "formula") left++;
      else {
        const next = slot?.store ? slot.store.firstWaiting() : 0;
        if (next >= 0) left += this.rows(node.table.name).count - next;
      }
    }
    return left;
  }

  // ---- Values

  value(key: string): Value {
    const slot = this.slot(key);
    if (!slot?.complete) throw new Waiting(key, -1);
    return slot.value!;
  }

  cell(key: string, row: number): Value {
    const slot = this.slot(key);
    if (!slot?.store || (!slot.complete && !slot.store.isReady(row))) throw new Waiting(key, row);
    return slot.store.get(row);
  }

  column(key: string): ColumnList {
    const slot = this.slot(key);
    if (!slot?.store) throw new Waiting(key, 0);
    if (!slot.complete) {
      const waiting = slot.store.firstWaiting();
      if (waiting >= 0) throw new Waiting(key, waiting);
    }
    // Cells that are as they were may stand in rows that are called otherwise now.
    const origin = this.originOf(key);
    if (slot.list?.store !== slot.store || slot.list.origin.names !== origin.names)
      slot.list = new ColumnList(slot.store, origin);
    return slot.list;
  }

  rows(table: string): Rows {
    return this.slot(rowsKey(table))!.rows!;
  }

  count(): void {
    this.allowance.count();
  }

  spend(work: number): void {
    this.allowance.spend(work);
  }

  /** Spends the work of a formula, then does it; a fault in its place when there is no work left. */
  private charged(node: PlanNode, row: number, parts: number, work: () => Value): Value {
    return guarded(
      () => ({ path: node.pathOf(row), ...spanOfUnit(node, row) }),
      () => {
        this.spend(parts);
        return work();
      },
    );
  }

  trial(set: string, value: Value, wanted: ReadonlySet<string>): Values {
    const trial = new Calculation(this.plan, this, this.allowance, this.draw);
    trial.slots.set(set, { value, complete: true, change: "all" });
    for (const component of this.plan.between(set, wanted)) trial.workWhole(component);
    return trial;
  }

  /** The same book with several values set otherwise, as far as `wanted` depends on them. */
  with(settings: ReadonlyMap<string, Value>, wanted: ReadonlySet<string>): Calculation {
    const other = new Calculation(this.plan, this, this.allowance, this.draw);
    const reached = new Set<readonly PlanNode[]>();
    for (const [key, value] of settings) {
      other.slots.set(key, { value, complete: true, change: "all" });
      for (const component of this.plan.between(key, wanted)) reached.add(component);
    }
    for (const component of this.plan.components) {
      if (reached.has(component) && !component.some((node) => settings.has(node.key)))
        other.workWhole(component);
    }
    return other;
  }

  /**
   * One Monte Carlo trial: everything that `wanted` needs and that carries uncertainty, worked out again
   * with each input off by what was drawn for it.
   */
  drawn(wanted: string, draw: Draw): Calculation {
    const trial = new Calculation(this.plan, this, this.allowance, draw);
    for (const component of this.plan.above(wanted)) {
      if (component.some((node) => this.carriesSpread(node.key))) trial.workWhole(component);
    }
    return trial;
  }

  private carriesSpread(key: string): boolean {
    const slot = this.slot(key);
    if (slot?.value) return hasSpread(slot.value);
    return slot?.store?.blocks.some((b) => b.whole?.some((v) => v !== undefined && hasSpread(v))) ?? false;
  }

  /** The column's store, for readers that show many rows. */
  store(key: string): ColumnStore | undefined {
    return this.slot(key)?.store;
  }

  nature(key: string): Nature | undefined {
    return this.slot(key)?.nature;
  }

  has(key: string): boolean {
    return this.slot(key) !== undefined;
  }

  /** Whether none of these was changed by the last edit. */
  unchanged(keys: Iterable<string>): boolean {
    for (const key of keys) if (this.slot(key)?.change !== "none") return false;
    return true;
  }

  /** A formula worked out here, outside or inside a table's row. */
  evaluate(code: Code, owner: Environment["owner"], row = -1): Value {
    if (this.waits && owner.isSink) return this.waits;
    return code({ values: this, owner, row, locals: undefined, route: "" });
  }

  /** The same for a question that may take so much work; undefined where it takes more. */
  evaluateWithin(work: number, code: Code, owner: Environment["owner"], row = -1): Value | undefined {
    const within = new Calculation(this.plan, this, this.allowance.within(work));
    const value = within.evaluate(code, owner, row);
    return within.allowance.isStopped() ? undefined : value;
  }

  private slot(key: string): Slot | undefined {
    return this.slots.get(key) ?? this.base?.slot(key);
  }

  private originOf(key: string): ColumnList["origin"] {
    const node = this.plan.nodes.get(key) as ComputedNode | TypedNode;
    const rows = this.rows(node.table.name);
    return { table: node.table.name, rows: rows.numbers, names: rows.names };
  }

  // ---- working out

  /** Works a component out, or gives the pieces in which that is done where it may take long. */
  private work(component: readonly PlanNode[], previous: Calculation | undefined): Pieces<void> | undefined {
    const single = component.length === 1 ? component[0]! : undefined;
    if (single && !single.references.has(single.key)) return this.workOne(single, previous);
    if (!previous || !this.areUntouched(component, previous)) return this.workCircle(component, previous);
    this.keepAll(component, previous);
    return undefined;
  }

  private workWhole(component: readonly PlanNode[], previous?: Calculation): void {
    // In a trial this is a part of a formula, and of the piece to which the formula belongs.
    this.allowance.withoutRest(() => {
      const pieces = this.work(component, previous);
      if (pieces) whole(pieces);
    });
  }

  private *workCircle(component: readonly PlanNode[], previous: Calculation | undefined): Pieces<void> {
    const { putOff } = this;
    const { counted } = this.allowance;
    const [first] = component;
    if (component.length === 1 && first?.type === "computed" && buildsOnRowBefore(first))
      yield* this.workColumn(first);
    else {
      yield* this.workTogether(component);
      // Each may come to stand by itself after an edit, and would then take no more than all of them together.
      for (const node of component) this.slots.get(node.key)!.cost = this.allowance.since(counted);
    }
    if (this.putOff > putOff) for (const node of component) this.slots.get(node.key)!.waits = true;
    if (previous) for (const node of component) this.settleChange(node, previous);
  }

  /** A node that hangs on nothing of its own: everything it needs is there. */
  private workOne(node: PlanNode, previous: Calculation | undefined): Pieces<void> | undefined {
    if (node.type === "rows") {
      const old = previous?.slot(node.key)?.rows;
      this.slots.set(node.key, {
        rows: node.rows,
        complete: true,
        change: old ? rowsChange(old, node.rows) : "all",
      });
      return undefined;
    }
    if (previous && this.areUntouched([node], previous)) {
      this.keepAll([node], previous);
      return undefined;
    }
    if (node.type !== "formula") return this.workCells(node, previous);
    const { putOff } = this;
    const { counted: start } = this.allowance;
    if (this.searches) return this.workFormula(node, previous, start, putOff);
    this.keepFormula(node, previous, this.formulaValue(node), start, putOff);
    return undefined;
  }

  /** A formula that may be left in the middle of a list. */
  private *workFormula(
    node: FormulaNode,
    previous: Calculation | undefined,
    start: Cost,
    putOff: number,
  ): Pieces<void> {
    const { allowance, searches } = this;
    const lists = new LongLists(allowance);
    for (;;) {
      this.lists = lists;
      try {
        this.keepFormula(node, previous, this.formulaValue(node), start, putOff);
        return;
      } catch (signal) {
        if (!(signal instanceof Left)) throw signal;
      } finally {
        this.lists = undefined;
      }
      yield;
      lists.begin();
      allowance.rewind(start);
      searches?.forget(node.pathOf(-1));
    }
  }

  private keepFormula(
    node: FormulaNode,
    previous: Calculation | undefined,
    value: Value,
    start: Cost,
    putOff: number,
  ): void {
    const slot: Slot = { value, complete: true, change: "all", cost: this.allowance.since(start) };
    if (this.putOff > putOff) slot.waits = true;
    this.slots.set(node.key, slot);
    if (previous) this.settleChange(node, previous);
  }

  private *workCells(node: ComputedNode | TypedNode, previous: Calculation | undefined): Pieces<void> {
    const { putOff } = this;
    const rows = previous && this.rowsToWork(node, previous);
    if (rows) yield* this.workRows(node, rows, previous!);
    else {
      yield* this.workColumn(node);
      if (previous) this.settleChange(node, previous);
    }
    if (this.putOff > putOff) this.slots.get(node.key)!.waits = true;
  }

  /** Takes over the values of the calculation before, with what they took. */
  private keepAll(component: readonly PlanNode[], previous: Calculation): void {
    for (const { key } of component) {
      const slot = previous.slot(key)!;
      this.slots.set(key, { ...slot, change: "none" });
      this.kept = both(this.kept, slot.cost);
    }
  }

  entries(place: string): ((make: () => Value) => Value) | undefined {
    return this.searches?.within ? undefined : this.lists?.entries(place);
  }

  /** Searches that were put off so far. */
  get putOff(): number {
    return this.searches?.putOff ?? 0;
  }

  private formulaValue(node: FormulaNode): Value {
    if (!node.compiled) {
      return faultFrom(
        { code: "unread", says: "This statement cannot be read." },
        { path: node.pathOf(-1), from: 0, to: node.statement.length },
      );
    }
    const { code, parts } = node.compiled;
    return this.charged(node, -1, parts, () => this.evaluate(code, node));
  }

  private *workColumn(node: ComputedNode | TypedNode): Pieces<void> {
    const count = this.rows(node.table.name).count;
    if (node.type === "computed" && this.allowance.isSpent) {
      const fault = faultFrom(TOO_MUCH, { path: node.pathOf(-1), ...spanOfUnit(node, -1) });
      this.slots.set(node.key, { store: ColumnStore.filled(count, fault), complete: true, change: "all" });
      return;
    }
    const store = new ColumnStore(count);
    const slot: Slot = { store, complete: false, change: "all" };
    if (node.type === "typed") slot.nature = natureIn(node);
    this.slots.set(node.key, slot);
    const { counted } = this.allowance;
    const isFast =
      node.type === "computed" &&
      this.allowance.affords((node.compiled.parts / ROWS_AT_ONCE + CELL_WORK) * count);
    if (isFast && buildsOnRowBefore(node)) yield* this.workChain(node, store);
    else {
      if (isFast) vectorise(node, store, this, () => store.set(0, this.cellOf(node, 0)));
      for (let row = store.firstWaiting(); row >= 0; row = store.firstWaiting(row)) {
        row = this.someCells(node, store, row);
        if (row < count && !store.isReady(row)) yield;
      }
    }
    store.seal();
    slot.complete = true;
    const cost = this.allowance.since(counted);
    // After an edit of one row, perhaps no row can be worked out on the fast path.
    const byCell = node.type === "computed" ? (node.compiled.parts + CELL_WORK) * count : 0;
    slot.cost = both(cost, { calls: 0, work: byCell });
  }

  /** Works out cells from a row on, as far as they are waiting, or until a piece is done; the row behind the last of them. */
  private someCells(node: ComputedNode | TypedNode, store: ColumnStore, from: number): number {
    const { allowance } = this;
    const enough = allowance.untilPiece;
    let row = from;
    // Where one row waits the next ones mostly do too.
    for (; row < store.length && allowance.spent < enough && !store.isReady(row); row++)
      store.set(row, this.cellOf(node, row));
    return row;
  }

  /** A column whose rows are worked out from the top, each with the one before. */
  private *workChain(node: ComputedNode, store: ColumnStore): Pieces<void> {
    const chain = new Chain(node, store, this);
    for (let row = 0; row < store.length; row = chain.run(row + 1)) {
      store.set(row, this.cellOf(node, row));
      if (this.allowance.isPieceDone()) yield;
    }
    chain.release();
  }

  private cellOf(node: ComputedNode | TypedNode, row: number): Value {
    return node.type === "computed" ? this.computedCell(node, row) : this.typedCell(node, row);
  }

  private computedCell(node: ComputedNode, row: number): Value {
    const { code, parts } = node.compiled;
    if (!this.allowance.take(parts + CELL_WORK))
      return this.charged(node, row, parts + CELL_WORK, () => this.evaluate(code, node, row));
    const value = this.evaluate(code, node, row);
    return value.type === "list" || value.type === "record"
      ? oneValue(value, () => node.pathOf(row), node.formula.span)
      : value;
  }

  private typedCell(node: TypedNode, row: number): Value {
    // The path is written out only where something has to be said: it costs more than the value.
    const path = (): string => node.pathOf(row);
    const index = node.column.typed!;
    const statement = node.table.tree.rows[row]!;
    const formula = (): Value => {
      const { code, parts } = node.formulas.get(row)!;
      return oneValue(
        this.charged(node, row, parts, () => this.evaluate(code, node, row)),
        path,
        spanOfUnit(node, row),
      );
    };
    return cellValue(statement, index, this.slots.get(node.key)!.nature!, path, formula, this.draw);
  }

  /** Rows to be worked out again when the rest may stay; undefined when the whole column must be. */
  private rowsToWork(node: ComputedNode | TypedNode, previous: Calculation): Set<number> | undefined {
    const old = previous.slot(node.key);
    const before = previous.plan.nodes.get(node.key);
    const count = this.rows(node.table.name).count;
    if (!old?.store || old.waits || old.store.length !== count || !before || before.type !== node.type)
      return undefined;
    const nature = node.type === "typed" ? natureIn(node) : undefined;
    if (nature && !sameNature(nature, old.nature)) return undefined;
    return rowsToWork(
      node,
      before as ComputedNode | TypedNode,
      count,
      (key) => this.slot(key)?.change ?? "all",
    );
  }

  private *workRows(
    node: ComputedNode | TypedNode,
    rows: ReadonlySet<number>,
    previous: Calculation,
  ): Pieces<void> {
    const old = previous.slot(node.key)!;
    const store = new ColumnStore(old.store!.length, old.store);
    const slot: Slot = { store, complete: false, change: "all", ...(old.nature && { nature: old.nature }) };
    this.slots.set(node.key, slot);
    for (const row of rows) store.clear(row);
    const changed = new Set<number>();
    const { counted } = this.allowance;
    for (const row of rows) {
      store.set(row, this.cellOf(node, row));
      if (!sameValue(store.get(row), old.store!.get(row))) changed.add(row);
      if (this.allowance.isPieceDone()) yield;
    }
    store.seal();
    slot.complete = true;
    if (!store.isInOwnUnit) {
      // The rows that were kept were laid down in a unit that a column worked out anew would not have.
      yield* this.workColumn(node);
      this.settleChange(node, previous);
      return;
    }
    slot.cost = both(this.allowance.since(counted), old.cost);
    this.kept = both(this.kept, old.cost);
    if (changed.size === 0) this.slots.set(node.key, { ...old, change: "none", cost: slot.cost });
    else slot.change = changed;
  }

  /** Whether nodes that need each other, and all that they look at, are as they were. */
  private areUntouched(component: readonly PlanNode[], previous: Calculation): boolean {
    const members = component.length === 1 ? undefined : new Set(component.map((node) => node.key));
    return component.every((node) => {
      if (!isAsBefore(node, previous.plan.nodes.get(node.key))) return false;
      const slot = previous.slot(node.key);
      if (!slot?.complete || slot.waits) return false;
      for (const key of node.references.keys()) {
        // A member is judged by its own recipe.
        if (key !== node.key && !members?.has(key) && this.slots.get(key)?.change !== "none") return false;
      }
      return true;
    });
  }

  private settleChange(node: PlanNode, previous: Calculation): void {
    const slot = this.slots.get(node.key)!;
    const old = previous.slot(node.key);
    if (!old?.complete) return;
    if (slot.value && old.value) {
      if (sameValue(slot.value, old.value))
        this.slots.set(node.key, { ...old, change: "none", ...(slot.cost && { cost: slot.cost }) });
      return;
    }
    if (slot.store && old.store && slot.store.length === old.store.length) {
      const changed = rowsUnlike(slot.store, old.store);
      slot.change = changed.size === 0 ? "none" : changed;
    }
  }

  /** Nodes that need each other, cell by cell. */
  private *workTogether(component: readonly PlanNode[]): Pieces<void> {
    const byKey = new Map(component.map((n) => [n.key, n]));
    for (const node of component) {
      if (node.type === "formula") this.slots.set(node.key, { complete: false, change: "all" });
      else if (node.type !== "rows") {
        const store = new ColumnStore(this.rows(node.table.name).count);
        const slot: Slot = { store, complete: false, change: "all" };
        if (node.type === "typed") slot.nature = natureIn(node);
        this.slots.set(node.key, slot);
      }
    }
    const unit: UnitWork = {
      isReady: (node, row) => this.isReady(node, row),
      work: (node, row) => (node.type === "formula" ? this.formulaValue(node) : this.cellOf(node, row)),
      put: (node, row, value) => this.put(node, row, value),
      isPieceDone: () => this.allowance.isPieceDone(),
    };
    for (const node of component) {
      if (node.type === "formula") yield* workUnit(node, -1, byKey, unit);
      else if (node.type !== "rows") {
        const { store } = this.slots.get(node.key)!;
        for (let row = 0; row < store!.length; row++)
          if (!store!.isReady(row)) yield* workUnit(node, row, byKey, unit);
      }
    }
    for (const node of component) {
      const slot = this.slots.get(node.key)!;
      slot.store?.seal();
      slot.complete = true;
    }
  }

  private isReady(node: PlanNode, row: number): boolean {
    const slot = this.slots.get(node.key)!;
    return slot.complete || (node.type === "formula" ? slot.value !== undefined : slot.store!.isReady(row));
  }

  private put(node: PlanNode, row: number, value: Value): void {
    const slot = this.slots.get(node.key)!;
    if (node.type === "formula") {
      slot.value = value;
      slot.complete = true;
    } else slot.store!.set(row, value);
  }
}

/** What was typed, and stands there without being worked out. */
const isTyped = (node: PlanNode): boolean =>
  node.type === "rows" || (node.type === "typed" && node.formulas.size === 0);

const natureIn = ({ table, column }: TypedNode): Nature => natureOf(table, column.typed!);

function hasSpread(value: Value): boolean {
  if (value.type === "quantity") return value.spread !== undefined;
  if (value.type === "list") return value.entries.some(hasSpread);
  if (value.type === "record") return [...value.parts.values()].some(hasSpread);
  return false;
}

/** Whether a column looks at itself in the row before only, so that its rows can be worked out from the top. */
function buildsOnRowBefore(node: ComputedNode): boolean {
  const looks = node.references.get(node.key);
  return looks?.size === 1 && looks.has("before");
}
