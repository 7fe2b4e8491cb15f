import fc from "fast-check";

/** Books out of the words of the language: some mean something, most do not. */

const NAMES = [
  "a",
  "b",
  "`bay leaf`",
  "t",
  "x",
  "y",
  "__proto__",
  "constructor",
  "before",
  "foot",
  "book",
  "été",
  "µ",
];
const NUMBERS = [
  "0",
  "1",
  "2.5",
  "3 g",
  "250 mL",
  "40 %vol",
  "12 %",
  "20 °C",
  "5 ± 0.2 g",
  "1e30",
  "0.1",
  "11.20 GBP",
  "2026-02-03",
];
const WORDS = [
  "in g",
  "is",
  "is not",
  "within",
  "to",
  "step",
  "if",
  "then",
  "else",
  "where",
  "find",
  "from",
  "so that",
  "and",
  "or",
  "not",
  "blank",
  "true",
  "false",
];
const SIGNS = [
  "+",
  "-",
  "*",
  "/",
  "^",
  "±",
  "<",
  "<=",
  ">",
  "=",
  "(",
  ")",
  "[",
  "]",
  ",",
  ".",
  ":",
  '"',
  "{",
  "}",
  "|",
  "@2ffcfed6",
  "#",
  "½",
  "“",
  "\u202e",
  "\t",
];
const CALLS = [
  "sum(",
  "mean(",
  "count(",
  "boils_at(",
  "marry(",
  "let_down(",
  "distil(",
  "pick(",
  "share_out(",
  "double(",
  "drift(",
  "first(",
];

const token = fc.oneof(
  fc.constantFrom(...NAMES),
  fc.constantFrom(...NUMBERS),
  fc.constantFrom(...WORDS),
  fc.constantFrom(...SIGNS),
  fc.constantFrom(...CALLS),
);

/** Formulas that can be read, so that values meet each other in every combination. */
const { formula } = fc.letrec<{ formula: string; atom: string }>((tie) => ({
  atom: fc.oneof(
    fc.constantFrom(...NUMBERS, "blank", "true", '"juniper"', '"{a} of {t.x}"'),
    fc.constantFrom(
      "a",
      "b",
      "c",
      "`bay leaf`",
      "t.x",
      "t.y",
      "t.first.x",
      "t.foot.x",
      "x",
      "y",
      "before.y",
      "foot.x",
      "t",
      "book.a",
    ),
  ),
  formula: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    tie("atom"),
    fc
      .tuple(tie("formula"), fc.constantFrom("+", "-", "*", "/", "^"), tie("formula"))
      .map(([l, o, r]) => `(${l} ${o} ${r})`),
    fc
      .tuple(tie("formula"), fc.constantFrom("<", ">=", "is", "is not", "and", "or"), tie("formula"))
      .map(([l, o, r]) => `(${l} ${o} ${r})`),
    fc
      .tuple(tie("formula"), tie("formula"), tie("formula"))
      .map(([c, l, r]) => `(if ${c} then ${l} else ${r})`),
    fc.tuple(tie("formula"), tie("formula")).map(([l, c]) => `(${l} where ${c})`),
    fc.tuple(tie("formula"), tie("formula")).map(([l, r]) => `[${l}, ${r}]`),
    fc.tuple(tie("formula"), fc.constantFrom("g", "mL", "%", "°C", "%vol")).map(([f, u]) => `(${f} in ${u})`),
    fc
      .tuple(
        fc.constantFrom(
          "sum",
          "mean",
          "largest",
          "median",
          "count",
          "abs",
          "sqrt",
          "whole",
          "double",
          "first",
          "share_out",
        ),
        tie("formula"),
      )
      .map(([f, v]) => `${f}(${v})`),
    fc.tuple(tie("formula"), tie("formula")).map(([v, s]) => `marry(${v}, ${s}).volume`),
    fc
      .tuple(tie("formula"), tie("formula"), tie("formula"))
      .map(([p, q, g]) => `(find z from ${p} to ${q} so that z * 2 is ${g})`),
    fc.tuple(tie("formula"), tie("formula")).map(([v, u]) => `(${v} ± ${u})`),
    fc.tuple(tie("formula"), tie("formula")).map(([l, r]) => `pick(${l}, ${r})`),
  ),
}));

const soup = fc.array(token, { maxLength: 10 }).map((tokens) => tokens.join(" "));
const anyFormula = fc.oneof({ weight: 4, arbitrary: formula }, { weight: 1, arbitrary: soup });
const cell = fc.oneof(
  fc.constantFrom("", "1", "2.5 g", "3 ± 0.1", "soon", "2026-02-03", "40 %vol", '"x"'),
  anyFormula.map((f) => `= ${f}`),
);

const statement = fc.oneof(
  fc.tuple(fc.constantFrom("a", "b", "c", "`bay leaf`", "z"), anyFormula).map(([n, f]) => `set ${n} = ${f}`),
  anyFormula.map((f) => `set b = ${f} try 1 g to 9 g`),
  anyFormula.map((f) => `define double(x) = ${f}`),
  anyFormula.map((f) => `check ${f} : "so"`),
  fc.tuple(anyFormula, anyFormula).map(([f, w]) => `step "add {${f}}" wait ${w} ask a expect ${w}`),
  fc.tuple(anyFormula, anyFormula).map(([f, g]) => `chart "c" : line ${f} by ${g}`),
  fc.tuple(anyFormula, formula).map(([f, g]) => `chart "c" : curve ${f} for q from 1 to ${g}`),
  soup,
  fc.constantFrom(
    "",
    "# remark",
    'book "B"',
    "language 1",
    "seen a @2ffcfed6",
    "table u",
    "| p | q |",
    "| -- | -- |",
  ),
);
const table = fc
  .tuple(
    fc.constantFrom(
      "| n | x (g) | y |",
      "| n | x | y (mL) |",
      "| n | x (date) | y (text) |",
      "| n | x | x |",
      "| n (g) | x | y |",
    ),
    fc.array(fc.tuple(fc.constantFrom("first", "second", "first", "", "2a"), cell, cell), { maxLength: 4 }),
    fc.array(
      fc
        .tuple(fc.constantFrom("column p =", "column q =", "foot x =", "foot y ="), anyFormula)
        .map(([h, f]) => `${h} ${f}`),
      { maxLength: 3 },
    ),
  )
  .map(([heading, rows, rest]) =>
    ["table t", heading, ...rows.map((r) => `| ${r.join(" | ")} |`), ...rest].join("\n"),
  );

export const randomBook = fc
  .array(fc.oneof({ weight: 4, arbitrary: statement }, { weight: 1, arbitrary: table }), { maxLength: 9 })
  .map((parts) => parts.join("\n"));

export interface Mutation {
  readonly at: number;
  readonly cut: number;
  readonly put: string;
}
/** A change somewhere in a text: characters taken out, and others put in. */
export const mutation = fc.record({
  at: fc.nat(100_000),
  cut: fc.nat(6),
  put: fc.oneof(
    token,
    fc.string({ maxLength: 4 }),
    fc.string({ unit: "binary", maxLength: 3 }),
    fc.constant("\n"),
  ),
});
export function mutated(text: string, { at, cut, put }: Mutation): string {
  const from = text.length === 0 ? 0 : at % (text.length + 1);
  return text.slice(0, from) + put + text.slice(from + cut);
}
