import { APPROXIMATE, type Unit } from "../quantity";
import { BLOCK, type ColumnStore, EXACT_LIMIT, NUMBER, powerOfTen } from "./blocks";
import type { Calculation } from "./calculation";
import type { ComputedNode } from "./plan";
import { RowProgram, type Runner } from "./row-program";
import { arePlain, isPlain, woven } from "./vector";
import { type Vector, Weaver } from "./weaver";

/**
 * How much of the range of exact numbers the row before may take up: how much it needs for itself hangs on
 * what is done with it.
 */
const SHARES = [2 ** -1, 2 ** -10, 2 ** -25];
/** Weavings of one column: each follows a change of the column's unit or decimals. */
const MOST_WEAVINGS = 6;

/**
 * The fast path of a column that builds on its own row before, such as `before.stock - used`: it is worked
 * out row by row in doubles, with the bits that the careful path gives. The first row, rows that look at
 * anything but plain numbers, and what leaves the range of exact numbers are for the careful path.
 */
export class Chain {
  private readonly node: ComputedNode;
  private readonly store: ColumnStore;
  private readonly values: Calculation;
  private loom: Loom | undefined;
  private weavings = 0;
  private unit: Unit | undefined;
  private dp = 0;

  constructor(node: ComputedNode, store: ColumnStore, values: Calculation) {
    this.node = node;
    this.store = store;
    this.values = values;
  }

  /** Works out the rows behind one that is there, as far as it can. Returns the first row that was not. */
  run(from: number): number {
    const { store } = this;
    let row = from;
    while (row < store.length) {
      const loom = this.readied();
      const stop = loom ? loom.run(store, row) : row;
      // A block is left at its end when all of it could be done.
      if (stop % BLOCK !== 0 || stop === row) return stop;
      row = stop;
    }
    return row;
  }

  /** Gives back what it took; it cannot run any more. */
  release(): void {
    this.loom?.weaver.release();
    this.loom = undefined;
    this.weavings = MOST_WEAVINGS;
  }

  /** The loom for the column as it now is: what its numbers are is known only once there are some. */
  private readied(): Loom | undefined {
    const { unit, dp } = this.store;
    if (unit === undefined || (unit === this.unit && dp === this.dp)) return this.loom;
    if (this.weavings++ >= MOST_WEAVINGS) return undefined;
    this.unit = unit;
    this.dp = dp;
    this.loom?.weaver.release();
    this.loom = this.weave(unit, dp);
    return this.loom;
  }

  private weave(unit: Unit, dp: number): Loom | undefined {
    if (unit.offset) return undefined;
    const range = dp === APPROXIMATE ? 0 : EXACT_LIMIT / powerOfTen(dp);
    for (const share of dp === APPROXIMATE ? [0] : SHARES) {
      const program = new RowProgram();
      const bound = range * share;
      const before: Vector = { unit, dp, bound, peak: bound, error: 1, work: program.before };
      const weaver = new Weaver(this.node, this.values, { before, program });
      const result = woven(weaver, this.node);
      // What comes out must be a number such as it was made from, or the next row is another matter.
      if (
        result?.unit === unit &&
        (dp === APPROXIMATE
          ? result.dp === APPROXIMATE
          : result.dp !== APPROXIMATE && result.dp <= dp && result.bound <= range)
      ) {
        const most = dp === APPROXIMATE ? Number.POSITIVE_INFINITY : bound;
        return new Loom(weaver, program.runner(program.register(result.work)), most);
      }
      weaver.release();
    }
    return undefined;
  }
}

/** A formula made ready to be run row by row. */
class Loom {
  readonly weaver: Weaver;
  private readonly runner: Runner;
  /** The largest row before with which the next one is proved to be right. */
  private readonly most: number;
  /** The block that was looked at last, and whether all of its rows look at plain numbers only. */
  private index = -1;
  private isAllPlain = false;

  constructor(weaver: Weaver, runner: Runner, most: number) {
    this.weaver = weaver;
    this.runner = runner;
    this.most = most;
  }

  /** Works out rows of the block in which `row` stands. Returns the first row that was not. */
  run(store: ColumnStore, row: number): number {
    const { status, values } = store.blocks[((row - 1) / BLOCK) | 0]!;
    if (status[(row - 1) % BLOCK] !== NUMBER) return row;
    const index = (row / BLOCK) | 0;
    const first = row % BLOCK;
    const { beside, above } = this.weaver;
    const size = store.blocks[index]!.values.length;
    if (this.index !== index) {
      this.index = index;
      this.isAllPlain = arePlain(beside, above, index, size);
    }
    let until = first;
    if (this.isAllPlain) until = size;
    else while (until < size && isPlain(beside, above, index, until)) until++;
    if (until === first) return row;
    const block = store.writable(index);
    const stop = this.runner.run(block, index, first, until, values[(row - 1) % BLOCK]!, this.most);
    store.wrote(index, first, stop);
    return index * BLOCK + stop;
  }
}
