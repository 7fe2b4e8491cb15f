import type { ArithmeticNode, Formula, NumberNode } from "../../grammar";
import {
  APPROXIMATE,
  conversion,
  convertible,
  parseUnit,
  productUnit,
  type Quantity,
  quotientUnit,
  type Ratio,
  Trouble,
  type Unit,
} from "../quantity";
import { type Block, type ColumnStore, EXACT_LIMIT, NUMBER, powerOfTen } from "./blocks";
import type { Calculation } from "./calculation";
import type { Compiled } from "./compile";
import {
  addNumber,
  addRuns,
  divideBy,
  divideInto,
  divideRuns,
  finish,
  giveBack,
  multiplyBy,
  multiplyRuns,
  type Run,
  roundTo,
  roundWhole,
  subtractFrom,
  subtractRuns,
  takeRun,
} from "./kernels";
import { literal, POWER_OF_TEN } from "./literals";
import { cellsKey } from "./names";
import { type ComputedNode, compileIn } from "./plan";
import { spineOf } from "./syntax";

/**
 * The fast path of a computed column: arithmetic over columns of plain numbers, a block of rows at a time,
 * in doubles. Units, factors and decimals are settled once for the whole column. It gives the very bits that
 * the careful path gives: an exact result is rounded once to its decimals, which is right as long as no
 * intermediate mantissa passes 2^49 (that is proved from the largest value of each column first); rows that
 * hold anything but a plain number, and rows that come out as no number, are left to the careful path.
 */
export function vectorise(node: ComputedNode, store: ColumnStore, values: Calculation): void {
  const leaves = new Set<ColumnStore>();
  const weaver = new Weaver(node, values, leaves);
  try {
    const { work, unit, dp, bound } = weaver.rounded(weaver.weave(node.formula));
    if (typeof work === "number") return;
    store.unit = unit;
    store.dp = dp;
    store.bound = bound;
    const sources = [...leaves];
    for (let b = 0; b < store.blocks.length; b++)
      fill(store.writable(b), b, work, sources, dp !== APPROXIMATE);
  } catch (refusal) {
    // Not arithmetic over plain columns, or trouble that the careful path will tell row by row.
    if (refusal !== NOT_HERE && !(refusal instanceof Trouble)) throw refusal;
  } finally {
    giveBack(weaver.taken);
  }
}

function fill(
  block: Block,
  index: number,
  work: Strip,
  sources: readonly ColumnStore[],
  exact: boolean,
): void {
  const { values, status } = block;
  const size = values.length;
  const out = work.run(index, size, values);
  if (out !== values) values.set(out.length === size ? out : out.subarray(0, size));
  // An exact number is below the bound that was proved, and was freed of −0 when it was rounded.
  const finite = exact || finish(values);
  const whole = sources.every((s) => s.blocks[index]!.count === size);
  if (finite && whole) {
    status.fill(NUMBER);
    block.numbers = size;
    return;
  }
  for (let i = 0; i < size; i++) {
    if (!Number.isFinite(values[i]!)) continue;
    if (!whole && sources.some((s) => s.blocks[index]!.status[i] !== NUMBER)) continue;
    status[i] = NUMBER;
  }
}

const NOT_HERE = Symbol("not for the fast path");

/** A value for every row of a block. */
interface Strip {
  /** Where the values are: in a column that is only read, or in `out`. */
  run(block: number, n: number, out?: Run): Run;
  /** A run that is this strip's own and may be written over once it has been read. */
  readonly own?: Run;
}
/** A value for every row, or one number for all rows. */
type Work = number | Strip;

interface Vector {
  readonly unit: Unit;
  /** Decimals when exact, or APPROXIMATE. */
  readonly dp: number;
  /** No row is larger than this. */
  readonly bound: number;
  /** Largest intermediate since the last rounding, in any unit on the way. */
  readonly peak: number;
  /** Error of the doubles, in halves of the last bit of `peak`: 1 when each is the double nearest to its decimal. */
  readonly error: number;
  readonly work: Work;
}

/**
 * Most error before a rounding. A mantissa of at most 2^49 in error by (6 + 1) * 2^-53 of itself, the last 1
 * for the scaling that goes before the rounding, is less than half a unit off: 7/16.
 */
const MOST_ERROR = 6;
const MOST_DECIMALS = 15;
/** Terms of one run: every term holds a block of its own, and the work of a run nests. */
const LONGEST_RUN = 64;

class Weaver {
  private readonly node: ComputedNode;
  private readonly values: Calculation;
  private readonly leaves: Set<ColumnStore>;
  /** Runs that were taken for what comes on the way. */
  readonly taken: Run[] = [];

  constructor(node: ComputedNode, values: Calculation, leaves: Set<ColumnStore>) {
    this.node = node;
    this.values = values;
    this.leaves = leaves;
  }

  weave(formula: Formula): Vector {
    switch (formula.type) {
      case "number": {
        const q = numberOf(formula);
        if (q.n.big) throw NOT_HERE;
        return scalar(q.n.v, q.n.dp, q.unit);
      }
      case "name": {
        const { table } = this.node;
        if (table.byName.has(formula.name)) return this.column(cellsKey(table.name, formula.name));
        return this.constant(formula);
      }
      case "negate": {
        const of = this.weave(formula.of);
        return { ...of, work: this.less(0, of.work) };
      }
      case "shown": {
        if (!this.rowwise(formula)) return this.constant(formula);
        const of = this.weave(formula.of);
        const unit = parseUnit(formula.unit.text);
        if (of.unit === unit) return of;
        if (convertible(of.unit, unit)) throw NOT_HERE;
        const { factor, shift } = conversion(of.unit, unit);
        if (shift || of.unit.offset || unit.offset || of.unit.kind !== unit.kind) throw NOT_HERE;
        return { ...this.scaled(of, factor), unit };
      }
      case "arithmetic": {
        if (!this.rowwise(formula)) return this.constant(formula);
        const { first, steps } = spineOf(formula);
        if (steps.length > LONGEST_RUN) throw NOT_HERE;
        let value = this.weave(first);
        for (const step of steps) value = this.operate(step, value, this.weave(step.right));
        return value;
      }
      default:
        if (this.rowwise(formula)) throw NOT_HERE;
        return this.constant(formula);
    }
  }

  private compiled(formula: Formula): Compiled {
    // A part of a formula that has been counted as a whole.
    const { names } = this.values.plan;
    return compileIn(formula, { names, table: this.node.table, place: "row", frames: [] }, { parts: 0 });
  }

  /** Whether a formula looks at this row or the row before. */
  private rowwise(formula: Formula): boolean {
    const compiled = this.compiled(formula);
    let looks = looksAtRow.get(compiled);
    if (looks === undefined) {
      looks = [...compiled.references.values()].some((all) => all.has("row") || all.has("before"));
      looksAtRow.set(compiled, looks);
    }
    return looks;
  }

  private column(key: string): Vector {
    const store = this.values.store(key);
    if (!store?.unit || store.unit.offset) throw NOT_HERE;
    this.leaves.add(store);
    const work: Strip = { run: (block) => store.blocks[block]!.values };
    return { unit: store.unit, dp: store.dp, bound: store.magnitude, peak: store.magnitude, error: 1, work };
  }

  /** Something that is the same in every row is worked out once. */
  private constant(formula: Formula): Vector {
    const value = this.values.evaluate(this.compiled(formula).code, this.node, 0);
    if (value.type !== "quantity" || value.spread || value.notes || value.n.big || value.unit.offset)
      throw NOT_HERE;
    return scalar(value.n.v, value.n.dp, value.unit);
  }

  private operate(node: ArithmeticNode, left: Vector, right: Vector): Vector {
    switch (node.operator) {
      case "+":
      case "-":
        return this.sum(left, right, node.operator);
      case "*":
        return this.product(left, right);
      case "/":
        return this.quotient(
          left,
          right,
          node.right.type === "number" && POWER_OF_TEN.test(node.right.digits),
        );
      default:
        throw NOT_HERE;
    }
  }

  /** The same values, each the double nearest to its decimal. Throws when that cannot be promised. */
  rounded(v: Vector): Vector {
    if (!isExact(v)) return v;
    if (v.dp > MOST_DECIMALS || v.peak * powerOfTen(v.dp) > EXACT_LIMIT) throw NOT_HERE;
    if (v.error === 1) return v;
    const scale = powerOfTen(v.dp);
    const work =
      v.dp === 0
        ? this.one(v.work, (x) => Math.round(x) + 0, roundWhole)
        : this.one(
            v.work,
            (x) => Math.round(x * scale) / scale + 0,
            (out, x, n) => roundTo(out, x, scale, n),
          );
    return { ...v, work, error: 1, peak: v.bound };
  }

  private sum(a: Vector, b: Vector, sign: "+" | "-"): Vector {
    let right = b;
    if (a.unit !== b.unit) {
      // A percentage beside a plain number carries a remark: that is for the careful path.
      if (a.unit.kind !== b.unit.kind || a.unit.kind.id === "plain" || convertible(b.unit, a.unit))
        throw NOT_HERE;
      const { factor, shift } = conversion(b.unit, a.unit);
      if (shift) throw NOT_HERE;
      right = this.scaled(b, factor);
    }
    const exactly = isExact(a) && isExact(right);
    const left = exactly && a.error < MOST_ERROR ? a : this.rounded(a);
    right = exactly && right.error < MOST_ERROR ? right : this.rounded(right);
    const work = sign === "+" ? this.plus(left.work, right.work) : this.less(left.work, right.work);
    if (!exactly) return approximately(a.unit, work);
    const bound = left.bound + right.bound;
    return {
      unit: a.unit,
      dp: Math.max(left.dp, right.dp),
      bound,
      peak: Math.max(left.peak, right.peak, bound),
      // The errors weigh as the bounds do, so the larger one stands for both.
      error: Math.max(left.error, right.error) + 1,
      work,
    };
  }

  private product(a: Vector, b: Vector): Vector {
    const { unit, factor } = productUnit(a.unit, b.unit);
    const exactly = isExact(a) && isExact(b);
    const fits = exactly && a.error + b.error < MOST_ERROR;
    const left = fits ? a : this.rounded(a);
    const right = fits ? b : this.rounded(b);
    const work = this.times(left.work, right.work);
    if (!exactly) return approximately(unit, this.byRatio(work, factor));
    const bound = left.bound * right.bound;
    const product: Vector = {
      unit,
      dp: left.dp + right.dp,
      bound,
      peak: Math.max(left.peak, right.peak, bound),
      error: left.error + right.error + 1,
      work,
    };
    return { ...this.scaled(product, factor), unit };
  }

  private quotient(a: Vector, b: Vector, byPowerOfTen: boolean): Vector {
    const { unit, factor } = quotientUnit(a.unit, b.unit);
    if (byPowerOfTen && isExact(a) && typeof b.work === "number" && b.work > 0) {
      const power = Math.round(Math.log10(b.work));
      return { ...this.scaled(this.shifted(a, -power), factor), unit };
    }
    const left = this.rounded(a).work;
    const right = this.rounded(b).work;
    const { n, d } = factor;
    return approximately(
      unit,
      this.over(n === 1 ? left : this.times(left, n), d === 1 ? right : this.times(right, d)),
    );
  }

  /** Times a factor of units, as `scaleNum` does it. */
  private scaled(v: Vector, factor: Ratio): Vector {
    if (isUnity(factor)) return v;
    if (!isExact(v) || factor.dp < 0)
      return approximately(v.unit, this.byRatio(this.rounded(v).work, factor));
    if (!Number.isNaN(factor.ten)) return this.shifted(v, factor.ten);
    const of = v.error + 2 > MOST_ERROR ? this.rounded(v) : v;
    const by = factor.v;
    const bound = of.bound * Math.abs(by);
    return {
      unit: of.unit,
      dp: of.dp + factor.dp,
      bound,
      peak: Math.max(of.peak, bound),
      error: of.error + 2,
      work: this.times(of.work, by),
    };
  }

  /** Times a power of ten. */
  private shifted(v: Vector, power: number): Vector {
    if (power === 0) return v;
    const of = v.error >= MOST_ERROR ? this.rounded(v) : v;
    const by = powerOfTen(Math.abs(power));
    const bound = power > 0 ? of.bound * by : of.bound / by;
    return {
      unit: of.unit,
      dp: Math.max(0, of.dp - power),
      bound,
      peak: Math.max(of.peak, bound),
      error: of.error + 1,
      work: power > 0 ? this.times(of.work, by) : this.over(of.work, by),
    };
  }

  // ---- work: each operation with the loop that does it

  private plus(a: Work, b: Work): Work {
    if (typeof a === "number") {
      if (typeof b === "number") return a + b;
      return this.strip(b, (out, x, n) => addNumber(out, x, a, n));
    }
    if (typeof b === "number") return this.strip(a, (out, x, n) => addNumber(out, x, b, n));
    return this.both(a, b, addRuns);
  }

  private less(a: Work, b: Work): Work {
    if (typeof a === "number") {
      if (typeof b === "number") return a - b;
      return this.strip(b, (out, x, n) => subtractFrom(out, a, x, n));
    }
    if (typeof b === "number") return this.strip(a, (out, x, n) => addNumber(out, x, -b, n));
    return this.both(a, b, subtractRuns);
  }

  private times(a: Work, b: Work): Work {
    if (typeof a === "number") {
      if (typeof b === "number") return a * b;
      return this.strip(b, (out, x, n) => multiplyBy(out, x, a, n));
    }
    if (typeof b === "number") return this.strip(a, (out, x, n) => multiplyBy(out, x, b, n));
    return this.both(a, b, multiplyRuns);
  }

  private over(a: Work, b: Work): Work {
    if (typeof a === "number") {
      if (typeof b === "number") return a / b;
      return this.strip(b, (out, x, n) => divideInto(out, a, x, n));
    }
    if (typeof b === "number") return this.strip(a, (out, x, n) => divideBy(out, x, b, n));
    return this.both(a, b, divideRuns);
  }

  /** As `applyRatio` does it. */
  private byRatio(work: Work, { n, d }: Ratio): Work {
    if (d === 1) return n === 1 ? work : this.times(work, n);
    return this.over(n === 1 ? work : this.times(work, n), d);
  }

  private one(work: Work, single: (x: number) => number, kernel: Kernel): Work {
    return typeof work === "number" ? single(work) : this.strip(work, kernel);
  }

  private strip(of: Strip, kernel: Kernel): Strip {
    const own = of.own ?? this.take();
    return {
      own,
      run(block, n, out = own) {
        kernel(out, of.run(block, n), n);
        return out;
      },
    };
  }

  private both(a: Strip, b: Strip, kernel: (out: Run, x: Run, y: Run, n: number) => void): Strip {
    const own = a.own ?? b.own ?? this.take();
    return {
      own,
      run(block, n, out = own) {
        kernel(out, a.run(block, n), b.run(block, n), n);
        return out;
      },
    };
  }

  private take(): Run {
    const run = takeRun();
    this.taken.push(run);
    return run;
  }
}

const looksAtRow = new WeakMap<Compiled, boolean>();

/** What numbers in formulas stand for, kept as long as the formula is. */
const numbers = new WeakMap<NumberNode, Quantity>();
function numberOf(node: NumberNode): Quantity {
  const known = numbers.get(node);
  if (known) return known;
  const value = literal(node);
  numbers.set(node, value);
  return value;
}

type Kernel = (out: Run, x: Run, n: number) => void;

function scalar(v: number, dp: number, unit: Unit): Vector {
  if (unit.offset) throw NOT_HERE;
  return { unit, dp, bound: Math.abs(v), peak: Math.abs(v), error: 1, work: v };
}

function approximately(unit: Unit, work: Work): Vector {
  return { unit, dp: APPROXIMATE, bound: 0, peak: 0, error: 1, work };
}

const isExact = (v: Vector): boolean => v.dp !== APPROXIMATE;
const isUnity = (r: Ratio): boolean => r.num === r.den;
