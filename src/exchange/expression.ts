/**
 * A spreadsheet formula as a small tree of our own, before it is written in the dialect of a file. It holds
 * only what both open formats know under one name and meaning, so that a reader never meets a function that
 * it lacks: nothing of our vocabulary can get in here.
 */
export type Expression =
  | { readonly type: "number"; readonly value: number }
  | { readonly type: "text"; readonly text: string }
  | { readonly type: "truth"; readonly value: boolean }
  | { readonly type: "cell"; readonly at: Place }
  /** A block of cells on one sheet, both corners included. */
  | { readonly type: "range"; readonly from: Place; readonly to: Place }
  | { readonly type: "call"; readonly name: SheetFunction; readonly arguments: readonly Expression[] }
  | {
      readonly type: "operation";
      readonly operator: Operator;
      readonly left: Expression;
      readonly right: Expression;
    }
  | { readonly type: "negate"; readonly of: Expression };

/** A cell: the name of its sheet, and its row and column counted from 0. */
export interface Place {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

export type Operator = "+" | "-" | "*" | "/" | "^" | "&" | "=" | "<>" | "<" | "<=" | ">" | ">=";

/** Functions with one name and meaning in OpenFormula 1.3 (part 4) and in SpreadsheetML. */
export const SHEET_FUNCTIONS = [
  "ABS",
  "AND",
  "AVERAGE",
  "BETADIST",
  "BETAINV",
  "COUNT",
  "EXP",
  "FIXED",
  "IF",
  "INDEX",
  "INT",
  "ISNUMBER",
  "LN",
  "LOG10",
  "LOWER",
  "MATCH",
  "MAX",
  "MEDIAN",
  "MIN",
  "NA",
  "NOT",
  "OR",
  "RANK",
  "RIGHT",
  "ROUND",
  "ROUNDDOWN",
  "ROUNDUP",
  "ROW",
  "SIGN",
  "SLOPE",
  "SQRT",
  "STDEV",
  "SUM",
  "SUMPRODUCT",
  "TINV",
  "TRIM",
  "VAR",
] as const;
export type SheetFunction = (typeof SHEET_FUNCTIONS)[number];

// ---- building ------------------------------------------------------------------------------------------

export const number = (value: number): Expression => ({ type: "number", value });
export const text = (t: string): Expression => ({ type: "text", text: t });
export const truth = (value: boolean): Expression => ({ type: "truth", value });
export const cell = (at: Place): Expression => ({ type: "cell", at });
export const range = (from: Place, to: Place): Expression => ({ type: "range", from, to });
export const call = (name: SheetFunction, ...args: Expression[]): Expression => ({
  type: "call",
  name,
  arguments: args,
});
export const operation = (operator: Operator, left: Expression, right: Expression): Expression => ({
  type: "operation",
  operator,
  left,
  right,
});

const isNumber = (e: Expression, value: number): boolean => e.type === "number" && e.value === value;

/** Sums, differences, products and quotients, without the parts that change nothing (`x + 0`, `x * 1`). */
export function plus(left: Expression, right: Expression): Expression {
  if (isNumber(left, 0)) return right;
  if (isNumber(right, 0)) return left;
  if (right.type === "negate") return operation("-", left, right.of);
  if (right.type === "number" && right.value < 0) return operation("-", left, number(-right.value));
  return operation("+", left, right);
}
export function minus(left: Expression, right: Expression): Expression {
  if (isNumber(right, 0)) return left;
  if (isNumber(left, 0)) return negated(right);
  if (right.type === "number" && right.value < 0) return operation("+", left, number(-right.value));
  return operation("-", left, right);
}
export function times(left: Expression, right: Expression): Expression {
  if (isNumber(left, 1)) return right;
  if (isNumber(right, 1)) return left;
  return operation("*", left, right);
}
export function over(left: Expression, right: Expression): Expression {
  if (isNumber(right, 1)) return left;
  return operation("/", left, right);
}
export const power = (base: Expression, exponent: number): Expression =>
  exponent === 1 ? base : operation("^", base, number(exponent));
export const negated = (of: Expression): Expression =>
  of.type === "number" ? number(-of.value) : of.type === "negate" ? of.of : { type: "negate", of };
/**
 * Multiplies by an exact factor. Factors that stand in the expression already are folded into it, so that
 * `(B2/1000000)*(C2/100)*1000000` goes out as `B2*C2/100`.
 */
export function scaled(e: Expression, numerator: number, denominator: number): Expression {
  if (e.type === "number") return number((e.value * numerator) / denominator);
  const inner = constantFactor(e);
  const [n, d] = reduced(inner.numerator * numerator, inner.denominator * denominator);
  return over(times(inner.rest, number(n)), number(d));
}

interface Factored {
  readonly numerator: number;
  readonly denominator: number;
  readonly rest: Expression;
}
/** The constant factor of a product or quotient, and what is left without it. */
function constantFactor(e: Expression): Factored {
  const plain = { numerator: 1, denominator: 1, rest: e };
  if (e.type !== "operation" || (e.operator !== "*" && e.operator !== "/")) return plain;
  const { left, right, operator } = e;
  if (right.type === "number" && right.value !== 0) {
    const inner = constantFactor(left);
    return operator === "*"
      ? { ...inner, numerator: inner.numerator * right.value }
      : { ...inner, denominator: inner.denominator * right.value };
  }
  if (left.type === "number" && operator === "*") {
    const inner = constantFactor(right);
    return { ...inner, numerator: inner.numerator * left.value };
  }
  const a = constantFactor(left);
  const b = constantFactor(right);
  if (a.rest === left && b.rest === right) return plain;
  return operator === "*"
    ? {
        numerator: a.numerator * b.numerator,
        denominator: a.denominator * b.denominator,
        rest: operation("*", a.rest, b.rest),
      }
    : {
        numerator: a.numerator * b.denominator,
        denominator: a.denominator * b.numerator,
        rest: operation("/", a.rest, b.rest),
      };
}

/** Lowest terms where both are whole; else the two numbers as they are. */
function reduced(n: number, d: number): [number, number] {
  let [p, q] = [n, d];
  for (let i = 0; i < 9 && !(Number.isSafeInteger(p) && Number.isSafeInteger(q)); i++)
    [p, q] = [p * 10, q * 10];
  if (!Number.isSafeInteger(p) || !Number.isSafeInteger(q)) return [n, d];
  let [a, b] = [Math.abs(p), Math.abs(q)];
  while (b !== 0) [a, b] = [b, a % b];
  return a === 0 ? [n, d] : [p / a, q / a];
}
/** Joins terms with an operator of any count; `empty` is the result for none. */
export function joined(
  terms: readonly Expression[],
  by: (a: Expression, b: Expression) => Expression,
  empty: Expression,
): Expression {
  return terms.length === 0 ? empty : terms.reduce((a, b) => by(a, b));
}

/** `c0 + x*(c1 + x*(c2 + …))`, Horner's scheme: fewest steps, and the one that loses the fewest digits. */
export function polynomial(coefficients: readonly Expression[], x: Expression): Expression {
  let sum = coefficients[coefficients.length - 1]!;
  for (let i = coefficients.length - 2; i >= 0; i--) sum = plus(coefficients[i]!, times(x, sum));
  return sum;
}

// ---- looking at it -------------------------------------------------------------------------------------

/** Every cell and range that an expression reads, in the order of writing. */
export function references(e: Expression, into: (Expression & { type: "cell" | "range" })[] = []) {
  switch (e.type) {
    case "cell":
    case "range":
      into.push(e);
      break;
    case "call":
      for (const a of e.arguments) references(a, into);
      break;
    case "operation":
      references(e.left, into);
      references(e.right, into);
      break;
    case "negate":
      references(e.of, into);
      break;
  }
  return into;
}

/** How deep calls and brackets nest; SpreadsheetML allows 64. */
export function depth(e: Expression): number {
  switch (e.type) {
    case "call":
      return 1 + e.arguments.reduce((d, a) => Math.max(d, depth(a)), 0);
    case "operation":
      return 1 + Math.max(depth(e.left), depth(e.right));
    case "negate":
      return 1 + depth(e.of);
    default:
      return 0;
  }
}

// ---- writing -------------------------------------------------------------------------------------------

export interface Dialect {
  readonly separator: string;
  cell(at: Place, home: string): string;
  range(from: Place, to: Place, home: string): string;
  truth(value: boolean): string;
}

/** `B`, `AA`: how both formats call a column counted from 0. */
export function columnLetters(column: number): string {
  let letters = "";
  for (let n = column + 1; n > 0; n = Math.floor((n - 1) / 26)) {
    letters = String.fromCharCode(65 + ((n - 1) % 26)) + letters;
  }
  return letters;
}

const quoted = (sheet: string): string => `'${sheet.replace(/'/g, "''")}'`;
const spot = (at: Place): string => columnLetters(at.column) + (at.row + 1);

/** SpreadsheetML: `'Single distillates'!B2`, arguments parted by commas. */
export const spreadsheetML: Dialect = {
  separator: ",",
  cell: (at, home) => (at.sheet === home ? spot(at) : `${quoted(at.sheet)}!${spot(at)}`),
  range: (from, to, home) =>
    (from.sheet === home ? "" : `${quoted(from.sheet)}!`) + `${spot(from)}:${spot(to)}`,
  truth: (value) => (value ? "TRUE" : "FALSE"),
};
/** OpenFormula: `[$'Single distillates'.B2]`, arguments parted by semicolons. */
export const openFormula: Dialect = {
  separator: ";",
  cell: (at, home) => (at.sheet === home ? `[.${spot(at)}]` : `[$${quoted(at.sheet)}.${spot(at)}]`),
  range: (from, to, home) =>
    from.sheet === home
      ? `[.${spot(from)}:.${spot(to)}]`
      : `[$${quoted(from.sheet)}.${spot(from)}:.${spot(to)}]`,
  truth: (value) => (value ? "TRUE()" : "FALSE()"),
};

const RANK: Readonly<Record<Operator, number>> = {
  "=": 1,
  "<>": 1,
  "<": 1,
  "<=": 1,
  ">": 1,
  ">=": 1,
  "&": 2,
  "+": 3,
  "-": 3,
  "*": 4,
  "/": 4,
  "^": 5,
};

/** The formula in a dialect, without `=` in front. `home` is the sheet on which it stands. */
export function write(e: Expression, dialect: Dialect, home: string): string {
  switch (e.type) {
    case "number":
      return writeNumber(e.value);
    case "text":
      return `"${e.text.replace(/"/g, '""')}"`;
    case "truth":
      return dialect.truth(e.value);
    case "cell":
      return dialect.cell(e.at, home);
    case "range":
      return dialect.range(e.from, e.to, home);
    case "call":
      return `${e.name}(${e.arguments.map((a) => write(a, dialect, home)).join(dialect.separator)})`;
    case "negate": {
      const inner = write(e.of, dialect, home);
      return e.of.type === "operation" || e.of.type === "negate" ? `-(${inner})` : `-${inner}`;
    }
    case "operation": {
      const rank = RANK[e.operator];
      const left = write(e.left, dialect, home);
      const right = write(e.right, dialect, home);
      return bracketLeft(e.left, rank, left) + e.operator + bracketRight(e.right, rank, e.operator, right);
    }
  }
}

// Spreadsheets bind a sign tighter than a power (`-2^2` is 4) and powers from the left, unlike mathematics;
// brackets leave no doubt. Additions and products keep their brackets too, so that a reader adds in our order.
function bracketLeft(e: Expression, rank: number, written: string): string {
  if (e.type === "operation")
    return RANK[e.operator] < rank || rank === 1 || rank === 5 ? `(${written})` : written;
  const signed = e.type === "negate" || (e.type === "number" && e.value < 0);
  return signed && rank === 5 ? `(${written})` : written;
}
function bracketRight(e: Expression, rank: number, operator: Operator, written: string): string {
  if (e.type === "operation") {
    const same = RANK[e.operator] === rank && operator !== "&";
    return RANK[e.operator] < rank || same ? `(${written})` : written;
  }
  return e.type === "negate" || (e.type === "number" && e.value < 0) ? `(${written})` : written;
}

/** A number at full precision: the shortest writing that reads back as the same double. */
export function writeNumber(value: number): string {
  if (!Number.isFinite(value)) throw new Error("a number that is not finite reached a formula");
  return String(value).replace("e+", "E").replace("e", "E");
}
