import type { ArithmeticNode, ChoiceNode, Formula, NumberNode, PartNode } from "../../grammar";
import {
  APPROXIMATE,
  compatible,
  conversion,
  convertible,
  parseUnit,
  productUnit,
  type Quantity,
  quotientUnit,
  type Ratio,
  type Unit,
} from "../quantity";
import { BLOCK, type ColumnStore, EXACT_LIMIT, powerOfTen } from "./blocks";
import type { Calculation } from "./calculation";
import type { Code } from "./environment";
import {
  addNumber,
  addRuns,
  divideBy,
  divideInto,
  divideRuns,
  giveBack,
  multiplyBy,
  multiplyRuns,
  type Run,
  roundProduct,
  roundTo,
  roundWhole,
  subtractFrom,
  subtractRuns,
  takeRun,
} from "./kernels";
import { literal, POWER_OF_TEN } from "./literals";
import type { ColumnName, Names } from "./names";
import { type ComputedNode, compileIn } from "./plan";
import { ADD, DIVIDE, MULTIPLY, Register, ROUND, type RowProgram, SUBTRACT } from "./row-program";
import { spineOf } from "./syntax";

/** Thrown where a formula is not for the fast path. */
export const NOT_HERE = Symbol("not for the fast path");

/** A value for every row of a block. */
export interface Strip {
  /** Where the values are: in a column that is only read, or in `out`. */
  run(block: number, n: number, out?: Run): Run;
  /** A run that is this strip's own and may be written over once it has been read. */
  readonly own?: Run;
  /** It is another strip times a number, which a rounding can do on its way. */
  readonly product?: { readonly of: Strip; readonly by: number } | undefined;
}
/** A value for every row, one number for all rows, or what hangs on the row before and is worked out row by row. */
type Work = number | Strip | Register;

export interface Vector {
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

/** A column that builds on its own row before: what that row holds, and the steps that hang on it. */
export interface Chaining {
  readonly before: Vector;
  readonly program: RowProgram;
}

/**
 * Turns a formula into loops over blocks of rows. Units, factors and decimals are settled here, once for the
 * whole column, and it is proved from the largest value of each column that no intermediate leaves the range
 * in which one rounding makes it exact. Throws `NOT_HERE`, or `Trouble`, where the careful path must do it.
 */
export class Weaver {
  private readonly node: ComputedNode;
  private readonly values: Calculation;
  private readonly chaining: Chaining | undefined;
  /** Columns that must hold a plain number in this row. */
  readonly beside = new Set<ColumnStore>();
  /** Columns that must hold a plain number in the row before. */
  readonly above = new Set<ColumnStore>();
  /** Runs that were taken for what comes on the way. */
  private readonly taken: Run[] = [];

  constructor(node: ComputedNode, values: Calculation, chaining?: Chaining) {
    this.node = node;
    this.values = values;
    this.chaining = chaining;
  }

  /** Gives back the runs that its strips write to: they are not to be run any more. */
  release(): void {
    giveBack(this.taken.splice(0));
  }

  weave(formula: Formula): Vector {
    switch (formula.type) {
      case "number": {
        const q = numberOf(formula);
        if (q.n.big) throw NOT_HERE;
        return scalar(q.n.v, q.n.dp, q.unit);
      }
      case "name": {
        const column = this.node.table.byName.get(formula.name);
        return column ? this.column(column) : this.constant(formula);
      }
      case "part": {
        const column = this.columnBefore(formula);
        if (column !== undefined) return this.rowBefore(column);
        if (this.part(formula).rowwise) throw NOT_HERE;
        return this.constant(formula);
      }
      case "choice": {
        if (!this.part(formula).rowwise) return this.constant(formula);
        return this.choice(formula);
      }
      case "negate": {
        const of = this.weave(formula.of);
        return { ...of, work: this.less(0, of.work) };
      }
      case "shown": {
        if (!this.part(formula).rowwise) return this.constant(formula);
        const of = this.weave(formula.of);
        const unit = parseUnit(formula.unit.text);
        if (of.unit === unit) return of;
        if (convertible(of.unit, unit)) throw NOT_HERE;
        const { factor, shift } = conversion(of.unit, unit);
        if (shift || of.unit.kind !== unit.kind) throw NOT_HERE;
        return { ...this.scaled(of, factor), unit };
      }
      case "arithmetic": {
        if (!this.part(formula).rowwise) return this.constant(formula);
        const { first, steps } = spineOf(formula);
        if (steps.length > LONGEST_RUN) throw NOT_HERE;
        let value = this.weave(first);
        for (const step of steps) value = this.operate(step, value, this.weave(step.right));
        return value;
      }
      default:
        if (this.part(formula).rowwise) throw NOT_HERE;
        return this.constant(formula);
    }
  }

  /** A part of a formula as code, and whether it looks at this row or the row before. */
  private part(formula: Formula): Part {
    const { names } = this.values.plan;
    const { table } = this.node;
    const known = parts.get(formula);
    if (known?.shape === names.shape && known.table === table.name) return known;
    // It has been counted with the whole formula.
    const compiled = compileIn(formula, { names, table, place: "row", frames: [] }, { parts: 0 });
    const { references, followed, limited, code } = compiled;
    const rowwise = [...references.values()].some((all) => all.has("row") || all.has("before"));
    const part = { shape: names.shape, table: table.name, code, rowwise };
    // What hangs on other formulas too, or on how much room the book has left, is found out anew.
    if (followed.size === 0 && !limited) parts.set(formula, part);
    return part;
  }

  /** A column with plain numbers in it, in a unit that begins at nothing. */
  private numbersIn(key: string): ColumnStore {
    const store = this.values.store(key);
    if (!store?.unit || store.unit.offset) throw NOT_HERE;
    return store;
  }

  private column({ key }: ColumnName): Vector {
    const store = this.numbersIn(key);
    this.beside.add(store);
    return ofColumn(store, { run: (block) => store.blocks[block]!.values });
  }

  /** The column of which a formula takes the row before. */
  private columnBefore({ of, part }: PartNode): ColumnName | undefined {
    return of.type === "name" && of.name === "before" ? this.node.table.byName.get(part) : undefined;
  }

  private rowBefore({ key }: ColumnName): Vector {
    if (key === this.node.key) {
      if (!this.chaining) throw NOT_HERE;
      return this.chaining.before;
    }
    const store = this.numbersIn(key);
    this.above.add(store);
    const own = this.take();
    return ofColumn(store, {
      own,
      run(block, n, out = own) {
        const { values } = store.blocks[block]!;
        // Only the first row of the table has none before it, and that is left to the careful path.
        const first = block === 0 ? 0 : store.blocks[block - 1]!.values[BLOCK - 1]!;
        out.set(values.subarray(0, n - 1), 1);
        out[0] = first;
        return out;
      },
    });
  }

  /** `if before.x is blank then … else …`: where there is a number it is not blank, and other rows are not for here. */
  private choice({ condition, yes, no }: ChoiceNode): Vector {
    if (condition.type !== "compare") throw NOT_HERE;
    const { operator, left, right } = condition;
    const looksAt = right.type === "blank" ? left : left.type === "blank" ? right : undefined;
    if (!looksAt || (operator !== "is" && operator !== "is not")) throw NOT_HERE;
    const column =
      looksAt.type === "part"
        ? this.columnBefore(looksAt)
        : looksAt.type === "name" && this.node.table.byName.get(looksAt.name);
    if (!column) throw NOT_HERE;
    this.weave(looksAt);
    const [taken, other] = operator === "is" ? [no, yes] : [yes, no];
    const value = this.weave(taken);
    // A constant that is not taken is judged all the same: both branches come to one kind of thing.
    if (other.type === "number") compatible(value.unit, this.weave(other).unit, "choose");
    else if (other.type === "text" || other.type === "date" || other.type === "truth") throw NOT_HERE;
    return value;
  }

  /** Something that is the same in every row is worked out once. */
  private constant(formula: Formula): Vector {
    const value = this.values.evaluate(this.part(formula).code, this.node, 0);
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
    return { ...v, work: this.round(v.work, powerOfTen(v.dp)), error: 1, peak: v.bound };
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
    return isUnity(factor) ? product : { ...this.scaled(product, factor), unit };
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
    if (a instanceof Register || b instanceof Register) return this.step(ADD, a, b);
    if (typeof a === "number") {
      if (typeof b === "number") return a + b;
      return this.strip(b, (out, x, n) => addNumber(out, x, a, n));
    }
    if (typeof b === "number") return this.strip(a, (out, x, n) => addNumber(out, x, b, n));
    return this.both(a, b, addRuns);
  }

  private less(a: Work, b: Work): Work {
    if (a instanceof Register || b instanceof Register) return this.step(SUBTRACT, a, b);
    if (typeof a === "number") {
      if (typeof b === "number") return a - b;
      return this.strip(b, (out, x, n) => subtractFrom(out, a, x, n));
    }
    if (typeof b === "number") return this.strip(a, (out, x, n) => addNumber(out, x, -b, n));
    return this.both(a, b, subtractRuns);
  }

  private times(a: Work, b: Work): Work {
    if (a instanceof Register || b instanceof Register) return this.step(MULTIPLY, a, b);
    if (typeof a === "number") {
      if (typeof b === "number") return a * b;
      return this.multiple(b, a);
    }
    if (typeof b === "number") return this.multiple(a, b);
    return this.both(a, b, multiplyRuns);
  }

  private multiple(of: Strip, by: number): Strip {
    return this.strip(of, (out, x, n) => multiplyBy(out, x, by, n), { of, by });
  }

  private over(a: Work, b: Work): Work {
    if (a instanceof Register || b instanceof Register) return this.step(DIVIDE, a, b);
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

  private round(work: Work, scale: number): Work {
    if (work instanceof Register) return this.step(ROUND, work, scale);
    if (typeof work === "number") return Math.round(work * scale) / scale + 0;
    if (scale === 1) return this.strip(work, roundWhole);
    const { product } = work;
    if (product) return this.strip(product.of, (out, x, n) => roundProduct(out, x, product.by, scale, n));
    return this.strip(work, (out, x, n) => roundTo(out, x, scale, n));
  }

  private step(operation: Parameters<RowProgram["step"]>[0], a: Work, b: Work): Register {
    return this.chaining!.program.step(operation, a, b);
  }

  private strip(of: Strip, kernel: Kernel, product?: Strip["product"]): Strip {
    const own = of.own ?? this.take();
    return {
      own,
      product,
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

/** What a part of a formula is in a table of a book whose names mean what they mean in this one. */
interface Part {
  readonly shape: Names["shape"];
  readonly table: string;
  readonly code: Code;
  readonly rowwise: boolean;
}
const parts = new WeakMap<Formula, Part>();

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

/** What a column holds, or the row before of it: no row is larger than its largest. */
function ofColumn(store: ColumnStore, work: Strip): Vector {
  const { magnitude } = store;
  return { unit: store.unit!, dp: store.dp, bound: magnitude, peak: magnitude, error: 1, work };
}

function approximately(unit: Unit, work: Work): Vector {
  return { unit, dp: APPROXIMATE, bound: 0, peak: 0, error: 1, work };
}

export const isExact = (v: Vector): boolean => v.dp !== APPROXIMATE;
const isUnity = (r: Ratio): boolean => r.num === r.den;
