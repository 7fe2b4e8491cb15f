import type { ArithmeticNode, Formula } from "../../grammar";
import {
  APPROXIMATE,
  applyRatio,
  conversion,
  convertible,
  parseUnit,
  productUnit,
  quotientUnit,
  type Ratio,
  Trouble,
  type Unit,
} from "../quantity";
import { BLOCK, type ColumnStore, EXACT_LIMIT, NUMBER, powerOfTen } from "./blocks";
import type { Calculation } from "./calculation";
import type { Compiled } from "./compile";
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
  let program: Vector;
  try {
    program = rounded(new Weaver(node, values, leaves).weave(node.formula));
  } catch (refusal) {
    // Not arithmetic over plain columns, or trouble that the careful path will tell row by row.
    if (refusal === NOT_HERE || refusal instanceof Trouble) return;
    throw refusal;
  }
  if (leaves.size === 0 || typeof program.work === "number") return;
  store.unit = program.unit;
  store.dp = program.dp;
  for (let b = 0; b < store.blocks.length; b++) {
    const block = store.writable(b);
    const out = program.work(b);
    const size = block.values.length;
    const sources = [...leaves].map((leaf) => leaf.blocks[b]!);
    const whole = sources.every((s) => s.count === size);
    for (let i = 0; i < size; i++) {
      const v = out[i]!;
      if (!Number.isFinite(v) || (!whole && sources.some((s) => s.status[i] !== NUMBER))) continue;
      block.values[i] = v + 0;
      block.status[i] = NUMBER;
    }
  }
}

const NOT_HERE = Symbol("not for the fast path");

/** A value for every row of a block, or one number for all rows. */
type Work = number | ((block: number) => Float64Array);

interface Vector {
  readonly unit: Unit;
  /** Decimals when exact, or APPROXIMATE. */
  readonly dp: number;
  /** No row is larger than this. */
  readonly bound: number;
  /** Largest intermediate since the last rounding, in any unit on the way. */
  readonly peak: number;
  /** Operations since the last rounding. */
  readonly age: number;
  readonly work: Work;
}

/** Operations that may pass between two roundings and keep the error below half a unit of the last decimal. */
const MOST_AGE = 4;
const MOST_DECIMALS = 15;
/** Terms of one run: every term holds a block of its own, and the work of a run nests. */
const LONGEST_RUN = 64;

class Weaver {
  private readonly node: ComputedNode;
  private readonly values: Calculation;
  private readonly leaves: Set<ColumnStore>;

  constructor(node: ComputedNode, values: Calculation, leaves: Set<ColumnStore>) {
    this.node = node;
    this.values = values;
    this.leaves = leaves;
  }

  weave(formula: Formula): Vector {
    switch (formula.type) {
      case "number": {
        const q = literal(formula);
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
        return { ...of, work: each(of.work, (v) => 0 - v) };
      }
      case "shown": {
        if (!this.rowwise(formula)) return this.constant(formula);
        const of = this.weave(formula.of);
        const unit = parseUnit(formula.unit.text);
        if (of.unit === unit) return of;
        if (convertible(of.unit, unit)) throw NOT_HERE;
        const { factor, shift } = conversion(of.unit, unit);
        if (shift || of.unit.offset || unit.offset || of.unit.kind !== unit.kind) throw NOT_HERE;
        return { ...scaled(of, factor), unit };
      }
      case "arithmetic": {
        if (!this.rowwise(formula)) return this.constant(formula);
        const { first, steps } = spineOf(formula);
        if (steps.length > LONGEST_RUN) throw NOT_HERE;
        let value = this.weave(first);
        for (const step of steps) value = operate(step, value, this.weave(step.right));
        return value;
      }
      default:
        if (this.rowwise(formula)) throw NOT_HERE;
        return this.constant(formula);
    }
  }

  private compiled(formula: Formula): Compiled {
    return compileIn(formula, {
      names: this.values.plan.names,
      table: this.node.table,
      place: "row",
      frames: [],
    });
  }

  /** Whether a formula looks at this row or the row before. */
  private rowwise(formula: Formula): boolean {
    for (const looks of this.compiled(formula).references.values()) {
      if (looks.has("row") || looks.has("before")) return true;
    }
    return false;
  }

  private column(key: string): Vector {
    const store = this.values.store(key);
    if (!store?.unit || store.unit.offset) throw NOT_HERE;
    this.leaves.add(store);
    return {
      unit: store.unit,
      dp: store.dp,
      bound: store.magnitude,
      peak: store.magnitude,
      age: 0,
      work: (block) => store.blocks[block]!.values,
    };
  }

  /** Something that is the same in every row is worked out once. */
  private constant(formula: Formula): Vector {
    const value = this.values.evaluate(this.compiled(formula).code, this.node, 0);
    if (value.type !== "quantity" || value.spread || value.notes || value.n.big || value.unit.offset)
      throw NOT_HERE;
    return scalar(value.n.v, value.n.dp, value.unit);
  }
}

function operate(node: ArithmeticNode, left: Vector, right: Vector): Vector {
  switch (node.operator) {
    case "+":
    case "-":
      return sum(left, right, node.operator === "+" ? 1 : -1);
    case "*":
      return product(left, right);
    case "/":
      return quotient(left, right, node.right.type === "number" && POWER_OF_TEN.test(node.right.digits));
    default:
      throw NOT_HERE;
  }
}

function scalar(v: number, dp: number, unit: Unit): Vector {
  if (unit.offset) throw NOT_HERE;
  return { unit, dp, bound: Math.abs(v), peak: Math.abs(v), age: 0, work: v };
}

const isExact = (v: Vector): boolean => v.dp !== APPROXIMATE;

/** The same values, each the double nearest to its decimal. Throws when that cannot be promised. */
function rounded(v: Vector): Vector {
  if (!isExact(v)) return v;
  if (v.dp > MOST_DECIMALS || v.peak * powerOfTen(v.dp) > EXACT_LIMIT) throw NOT_HERE;
  if (v.age === 0) return v;
  const scale = powerOfTen(v.dp);
  const work =
    v.dp === 0 ? each(v.work, (x) => Math.round(x)) : each(v.work, (x) => Math.round(x * scale) / scale);
  return { ...v, work, age: 0, peak: v.bound };
}

function settle(v: Vector): Vector {
  return v.age >= MOST_AGE ? rounded(v) : v;
}

function sum(a: Vector, b: Vector, sign: 1 | -1): Vector {
  let right = b;
  if (a.unit !== b.unit) {
    // A percentage beside a plain number carries a remark: that is for the careful path.
    if (a.unit.kind !== b.unit.kind || a.unit.kind.id === "plain" || convertible(b.unit, a.unit))
      throw NOT_HERE;
    const { factor, shift } = conversion(b.unit, a.unit);
    if (shift) throw NOT_HERE;
    right = scaled(b, factor);
  }
  const work =
    sign === 1 ? both(a.work, right.work, (x, y) => x + y) : both(a.work, right.work, (x, y) => x - y);
  if (isExact(a) && isExact(right)) {
    const bound = a.bound + right.bound;
    return settle({
      unit: a.unit,
      dp: Math.max(a.dp, right.dp),
      bound,
      peak: Math.max(a.peak, right.peak, bound),
      age: Math.max(a.age, right.age) + 1,
      work,
    });
  }
  const left = rounded(a);
  const other = rounded(right);
  return {
    unit: a.unit,
    dp: APPROXIMATE,
    bound: 0,
    peak: 0,
    age: 0,
    work:
      sign === 1
        ? both(left.work, other.work, (x, y) => x + y)
        : both(left.work, other.work, (x, y) => x - y),
  };
}

function product(a: Vector, b: Vector): Vector {
  const { unit, factor } = productUnit(a.unit, b.unit);
  if (isExact(a) && isExact(b)) {
    const bound = a.bound * b.bound;
    const raw: Vector = {
      unit,
      dp: a.dp + b.dp,
      bound,
      peak: Math.max(a.peak, b.peak, bound),
      age: a.age + b.age + 1,
      work: both(a.work, b.work, (x, y) => x * y),
    };
    return settle({ ...scaled(raw, factor), unit });
  }
  const left = rounded(a);
  const right = rounded(b);
  const work = isUnity(factor)
    ? both(left.work, right.work, (x, y) => x * y)
    : both(left.work, right.work, (x, y) => applyRatio(x * y, factor));
  return { unit, dp: APPROXIMATE, bound: 0, peak: 0, age: 0, work };
}

function quotient(a: Vector, b: Vector, byPowerOfTen: boolean): Vector {
  const { unit, factor } = quotientUnit(a.unit, b.unit);
  if (byPowerOfTen && isExact(a) && typeof b.work === "number") {
    const power = Math.round(Math.log10(b.work));
    return settle({ ...scaled(shifted(a, -power), factor), unit });
  }
  const left = rounded(a);
  const right = rounded(b);
  const { n, d } = factor;
  const work = both(left.work, right.work, (x, y) => (y === 0 ? Number.NaN : (x * n) / (y * d)));
  return { unit, dp: APPROXIMATE, bound: 0, peak: 0, age: 0, work };
}

const isUnity = (r: Ratio): boolean => r.num === r.den;

/** Times a factor of units, as `scaleNum` does it. */
function scaled(v: Vector, factor: Ratio): Vector {
  if (isUnity(factor)) return v;
  if (!isExact(v) || factor.dp < 0) {
    const exactly = rounded(v);
    return {
      unit: v.unit,
      dp: APPROXIMATE,
      bound: 0,
      peak: 0,
      age: 0,
      work: each(exactly.work, (x) => applyRatio(x, factor)),
    };
  }
  if (!Number.isNaN(factor.ten)) return shifted(v, factor.ten);
  const by = factor.v;
  const bound = v.bound * Math.abs(by);
  return {
    ...v,
    dp: v.dp + factor.dp,
    bound,
    peak: Math.max(v.peak, bound),
    age: v.age + 1,
    work: each(v.work, (x) => x * by),
  };
}

/** Times a power of ten. */
function shifted(v: Vector, power: number): Vector {
  if (power === 0) return v;
  const by = powerOfTen(Math.abs(power));
  const bound = power > 0 ? v.bound * by : v.bound / by;
  return {
    ...v,
    dp: Math.max(0, v.dp - power),
    bound,
    peak: Math.max(v.peak, bound),
    age: v.age + 1,
    work: power > 0 ? each(v.work, (x) => x * by) : each(v.work, (x) => x / by),
  };
}

function each(work: Work, f: (x: number) => number): Work {
  if (typeof work === "number") return f(work);
  const out = new Float64Array(BLOCK);
  return (block) => {
    const x = work(block);
    for (let i = 0; i < x.length; i++) out[i] = f(x[i]!);
    return out;
  };
}

function both(a: Work, b: Work, f: (x: number, y: number) => number): Work {
  if (typeof a === "number") {
    if (typeof b === "number") return f(a, b);
    return each(b, (y) => f(a, y));
  }
  if (typeof b === "number") return each(a, (x) => f(x, b));
  const out = new Float64Array(BLOCK);
  return (block) => {
    const x = a(block);
    const y = b(block);
    const size = Math.min(x.length, y.length);
    for (let i = 0; i < size; i++) out[i] = f(x[i]!, y[i]!);
    return out;
  };
}
