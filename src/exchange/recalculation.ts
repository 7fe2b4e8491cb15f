import { incompleteBeta, quantileOfT } from "../matter/statistics";
import type { Expression, Operator, Place } from "./expression";

/**
 * Works a spreadsheet formula out, as an office suite would. Every formula is worked out here before it goes
 * out, on the values of the cells that it reads, and stays home when it does not come to the value of the
 * book (see workbook.ts): a slip in a translation costs a live cell, never a wrong number.
 */
export type Content = number | string | boolean | null;
/** The mark of a failed cell, such as a division by zero; it takes with it whatever uses it. */
export class FailedCell {
  constructor(readonly says: string) {}
}
type Result = Content | FailedCell;
/** A block, row by row; single values are blocks of one where an array is wanted. */
type Block = readonly (readonly Result[])[];

export type ReadCell = (at: Place) => Content;

/** The value of a formula, or a `FailedCell`. `read` gives the contents of the cells. */
export function workOut(e: Expression, read: ReadCell): Result {
  const value = evaluate(e, read);
  return isBlock(value) ? (value[0]?.[0] ?? null) : value;
}

const isBlock = (v: Result | Block): v is Block => Array.isArray(v);

function evaluate(e: Expression, read: ReadCell): Result | Block {
  switch (e.type) {
    case "number":
      return e.value;
    case "text":
      return e.text;
    case "truth":
      return e.value;
    case "cell":
      return read(e.at);
    case "range":
      return readBlock(e.from, e.to, read);
    case "negate":
      return lift1(evaluate(e.of, read), (v) => {
        const n = toNumber(v);
        return n instanceof FailedCell ? n : -n;
      });
    case "operation":
      return lift2(evaluate(e.left, read), evaluate(e.right, read), (a, b) => operate(e.operator, a, b));
    case "call":
      return applied(e, read);
  }
}

function readBlock(from: Place, to: Place, read: ReadCell): Block {
  const rows: Result[][] = [];
  for (let row = from.row; row <= to.row; row++) {
    const line: Result[] = [];
    for (let column = from.column; column <= to.column; column++)
      line.push(read({ sheet: from.sheet, row, column }));
    rows.push(line);
  }
  return rows;
}

function lift1(v: Result | Block, f: (v: Result) => Result): Result | Block {
  return isBlock(v)
    ? v.map((row) => row.map((x) => (x instanceof FailedCell ? x : f(x))))
    : v instanceof FailedCell
      ? v
      : f(v);
}
function lift2(a: Result | Block, b: Result | Block, f: (a: Content, b: Content) => Result): Result | Block {
  const one = (x: Result, y: Result): Result =>
    x instanceof FailedCell ? x : y instanceof FailedCell ? y : f(x, y);
  if (!isBlock(a) && !isBlock(b)) return one(a, b);
  const rows = Math.max(isBlock(a) ? a.length : 1, isBlock(b) ? b.length : 1);
  const columns = Math.max(isBlock(a) ? (a[0]?.length ?? 0) : 1, isBlock(b) ? (b[0]?.length ?? 0) : 1);
  const at = (v: Result | Block, r: number, c: number): Result =>
    isBlock(v) ? (v[v.length === 1 ? 0 : r]?.[v[0]!.length === 1 ? 0 : c] ?? null) : v;
  return Array.from({ length: rows }, (_, r) =>
    Array.from({ length: columns }, (_, c) => one(at(a, r, c), at(b, r, c))),
  );
}

/** The number that a value stands for in arithmetic: an empty cell is 0, text is a failure. */
function toNumber(v: Result): number | FailedCell {
  if (v instanceof FailedCell) return v;
  if (v === null) return 0;
  if (typeof v === "boolean") return v ? 1 : 0;
  if (typeof v === "number") return v;
  return new FailedCell(`"${v}" is no number`);
}
const finite = (n: number): Result => (Number.isFinite(n) ? n : new FailedCell("not a finite number"));

function operate(operator: Operator, a: Content, b: Content): Result {
  switch (operator) {
    case "&":
      return shownText(a) + shownText(b);
    case "=":
      return ordered(a, b) === 0;
    case "<>":
      return ordered(a, b) !== 0;
    case "<":
      return ordered(a, b) < 0;
    case "<=":
      return ordered(a, b) <= 0;
    case ">":
      return ordered(a, b) > 0;
    case ">=":
      return ordered(a, b) >= 0;
  }
  const x = toNumber(a);
  const y = toNumber(b);
  if (x instanceof FailedCell) return x;
  if (y instanceof FailedCell) return y;
  switch (operator) {
    case "+":
      return finite(x + y);
    case "-":
      return finite(x - y);
    case "*":
      return finite(x * y);
    case "/":
      return y === 0 ? new FailedCell("division by zero") : finite(x / y);
    case "^":
      return finite(x ** y);
  }
}

const shownText = (v: Content): string =>
  v === null ? "" : typeof v === "boolean" ? (v ? "TRUE" : "FALSE") : String(v);

/** Spreadsheet order: numbers before text before true and false; text without regard to capitals; an empty cell is 0 or "". */
function ordered(a: Content, b: Content): number {
  const kind = (v: Content): number =>
    typeof v === "number" || v === null ? 0 : typeof v === "string" ? 1 : 2;
  if (a === null && typeof b === "string") return ordered("", b);
  if (b === null && typeof a === "string") return ordered(a, "");
  if (kind(a) !== kind(b)) return kind(a) - kind(b);
  if (typeof a === "string" && typeof b === "string") {
    const x = a.toLowerCase();
    const y = b.toLowerCase();
    return x < y ? -1 : x > y ? 1 : 0;
  }
  return Number(a ?? 0) - Number(b ?? 0);
}

function applied(e: Expression & { type: "call" }, read: ReadCell): Result | Block {
  const arg = (i: number): Result | Block => evaluate(e.arguments[i]!, read);
  const one = (i: number): Result => {
    const v = arg(i);
    return isBlock(v) ? (v[0]?.[0] ?? null) : v;
  };
  const numeric = (f: (x: number) => number): Result | Block =>
    lift1(arg(0), (v) => {
      const n = toNumber(v);
      return n instanceof FailedCell ? n : finite(f(n));
    });
  switch (e.name) {
    case "IF": {
      const condition = one(0);
      if (condition instanceof FailedCell) return condition;
      return condition ? arg(1) : arg(2);
    }
    case "AND":
    case "OR": {
      const all: boolean[] = [];
      for (let i = 0; i < e.arguments.length; i++) {
        for (const v of flat(arg(i))) {
          if (v instanceof FailedCell) return v;
          all.push(Boolean(v));
        }
      }
      return e.name === "AND" ? all.every(Boolean) : all.some(Boolean);
    }
    case "NOT":
      return lift1(arg(0), (v) => !v);
    case "ISNUMBER":
      return isBlock(arg(0))
        ? (arg(0) as Block).map((row) => row.map((v) => typeof v === "number"))
        : typeof arg(0) === "number";
    case "NA":
      return new FailedCell("not available");
    case "ABS":
      return numeric(Math.abs);
    case "SIGN":
      return numeric(Math.sign);
    case "SQRT":
      return numeric(Math.sqrt);
    case "EXP":
      return numeric(Math.exp);
    case "LN":
      return numeric(Math.log);
    case "LOG10":
      return numeric(Math.log10);
    case "INT":
      return numeric(Math.floor);
    case "ROUND":
    case "ROUNDDOWN":
    case "ROUNDUP":
      return rounded(e.name, one(0), one(1));
    case "LOWER":
      return lift1(arg(0), (v) => shownText(v as Content).toLowerCase());
    case "TRIM":
      return lift1(arg(0), (v) =>
        shownText(v as Content)
          .trim()
          .replace(/ +/g, " "),
      );
    case "RIGHT": {
      const [shown, count] = [one(0), toNumber(one(1))];
      if (shown instanceof FailedCell) return shown;
      return count instanceof FailedCell ? count : shownText(shown).slice(-count);
    }
    case "FIXED":
      return fixed(one(0), one(1));
    case "ROW": {
      const of = e.arguments[0]!;
      if (of.type === "cell") return of.at.row + 1;
      if (of.type !== "range") return new FailedCell("ROW needs a place");
      return Array.from({ length: of.to.row - of.from.row + 1 }, (_, i) => [of.from.row + 1 + i]);
    }
    case "SUMPRODUCT":
      return sumProduct(e.arguments.map((_, i) => arg(i)));
    case "INDEX": {
      const block = arg(0);
      const at = toNumber(one(1));
      if (at instanceof FailedCell) return at;
      return isBlock(block) && at >= 1 && at <= block.length
        ? block[Math.trunc(at) - 1]![0]!
        : new FailedCell("no such row");
    }
    case "MATCH": {
      const wanted = one(0);
      if (wanted instanceof FailedCell) return wanted;
      const at = flat(arg(1)).findIndex(
        (v) => !(v instanceof FailedCell) && v !== null && ordered(v, wanted) === 0,
      );
      return at < 0 ? new FailedCell("not found") : at + 1;
    }
    case "TINV":
    case "BETADIST":
    case "BETAINV":
      return distribution(
        e.name,
        e.arguments.map((_, i) => toNumber(one(i))),
      );
    case "RANK": {
      const x = toNumber(one(0));
      if (x instanceof FailedCell) return x;
      const ascending = e.arguments.length > 2 && one(2) === 1;
      return 1 + numbersIn([arg(1)]).filter((v) => (ascending ? v < x : v > x)).length;
    }
    case "SLOPE":
      return slope(flat(arg(0)), flat(arg(1)));
    default:
      return total(
        e.name,
        e.arguments.map((_, i) => arg(i)),
      );
  }
}

const flat = (v: Result | Block): readonly Result[] => (isBlock(v) ? v.flat() : [v]);

/** Numbers among the arguments: in blocks text, empty cells and truths are passed over, as totals do. */
function numbersIn(values: readonly (Result | Block)[]): number[] {
  return values.flatMap((v) =>
    isBlock(v)
      ? v.flat().filter((x): x is number => typeof x === "number")
      : typeof v === "number"
        ? [v]
        : [],
  );
}

function total(name: string, values: readonly (Result | Block)[]): Result {
  for (const v of values.flatMap((x) => flat(x))) if (v instanceof FailedCell) return v;
  const xs = numbersIn(values);
  const sum = xs.reduce((a, b) => a + b, 0);
  const none = new FailedCell("no numbers");
  switch (name) {
    case "SUM":
      return finite(sum);
    case "COUNT":
      return xs.length;
    case "AVERAGE":
      return xs.length === 0 ? none : finite(sum / xs.length);
    case "MIN":
      return xs.length === 0 ? 0 : Math.min(...xs);
    case "MAX":
      return xs.length === 0 ? 0 : Math.max(...xs);
    case "MEDIAN": {
      const sorted = [...xs].sort((a, b) => a - b);
      const middle = sorted.length >> 1;
      if (sorted.length === 0) return none;
      return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
    }
    case "VAR":
    case "STDEV": {
      if (xs.length < 2) return none;
      const mean = sum / xs.length;
      const variance = xs.reduce((a, x) => a + (x - mean) ** 2, 0) / (xs.length - 1);
      return finite(name === "VAR" ? variance : Math.sqrt(variance));
    }
  }
  return new FailedCell(`unknown function ${name}`);
}

function sumProduct(blocks: readonly (Result | Block)[]): Result {
  const lists = blocks.map(flat);
  let sum = 0;
  for (let i = 0; i < lists[0]!.length; i++) {
    let product = 1;
    for (const entries of lists) {
      const v = entries[i] ?? null;
      if (v instanceof FailedCell) return v;
      // Text and truths in a block count as 0.
      product *= typeof v === "number" ? v : 0;
    }
    sum += product;
  }
  return finite(sum);
}

function slope(ys: readonly Result[], xs: readonly Result[]): Result {
  const pairs: [number, number][] = [];
  ys.forEach((y, i) => {
    const x = xs[i];
    if (typeof x === "number" && typeof y === "number") pairs.push([x, y]);
  });
  const mx = pairs.reduce((s, p) => s + p[0], 0) / pairs.length;
  const my = pairs.reduce((s, p) => s + p[1], 0) / pairs.length;
  const below = pairs.reduce((s, p) => s + (p[0] - mx) ** 2, 0);
  return below === 0
    ? new FailedCell("division by zero")
    : finite(pairs.reduce((s, p) => s + (p[0] - mx) * (p[1] - my), 0) / below);
}

function rounded(name: "ROUND" | "ROUNDDOWN" | "ROUNDUP", value: Result, digits: Result): Result {
  const x = toNumber(value);
  const d = toNumber(digits);
  if (x instanceof FailedCell) return x;
  if (d instanceof FailedCell) return d;
  // Through decimal text, because x * 10^d in doubles misses ties such as 1.005.
  const shifted = Number(`${Math.abs(x)}e${d}`);
  const n = Number.isNaN(shifted) ? Math.abs(x) * 10 ** d : shifted;
  const whole = name === "ROUND" ? Math.floor(n + 0.5) : name === "ROUNDDOWN" ? Math.floor(n) : Math.ceil(n);
  return finite(Math.sign(x) * Number(`${whole}e${-d}`));
}

function fixed(value: Result, digits: Result): Result {
  const x = rounded("ROUND", value, digits);
  return typeof x === "number" && typeof digits === "number"
    ? x.toFixed(Math.max(0, digits))
    : (x as FailedCell);
}

/** Student's t and the beta distribution. The inverse is wanted for the second parameter 0.5 only, where it is that of t. */
function distribution(name: "TINV" | "BETADIST" | "BETAINV", args: readonly (number | FailedCell)[]): Result {
  const failed = args.find((a) => a instanceof FailedCell);
  if (failed !== undefined) return failed;
  const [x, a, b] = args as number[];
  if (name === "TINV")
    return x! > 0 && x! < 1 && a! >= 1 ? quantileOfT(x!, Math.trunc(a!)) : new FailedCell("outside");
  if (name === "BETADIST")
    return x! >= 0 && x! <= 1 ? incompleteBeta(x!, 1 - x!, a!, b!) : new FailedCell("outside");
  if (b !== 0.5 || !(x! > 0 && x! < 1)) return new FailedCell("outside");
  const t = quantileOfT(x!, 2 * a!);
  return (2 * a!) / (2 * a! + t * t);
}
