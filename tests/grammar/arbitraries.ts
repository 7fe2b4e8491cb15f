import fc from "fast-check";
import { type Formula, printFormula, quoteText, type Span, writeName } from "../../grammar";

/** Random trees, texts and books. */

const NOWHERE: Span = { from: 0, to: 0 };
type Text = Extract<Formula, { type: "text" }>;

const NAMES = [
  ...["volume", "strength", "price", "a", "b2", "_x", "žitná", "水", "L", "h"],
  ...["by", "mark", "try", "bars", "set", "table", "book", "foot", "before"],
  ...[
    "bay leaf",
    "to",
    "where",
    "blank",
    "2a",
    'say "x"',
    "a{b}",
    "a|b",
    "#1",
    "x\\y",
    " padded ",
    "a.b",
    "½",
  ],
];
export const name = fc.constantFrom(...NAMES);
export const unit = fc.constantFrom(
  "L",
  "mL",
  "%vol",
  "% vol",
  "%",
  "‰",
  "GBP/L",
  "m^3",
  "m³",
  "°C",
  "K",
  "kJ/kg/K",
  "W*h",
  "s^-1",
  "us_gal",
);
const digits = fc.constantFrom(
  "0",
  "1",
  "42",
  "2.4",
  "0.001",
  "007",
  "11.20",
  "-1",
  "-2.50",
  "1000000000000000000000000000000000",
);
const date = fc.constantFrom("2026-02-03", "2024-02-29", "0001-01-01", "9999-12-31");
const plain = fc.constantFrom("add ", " now", 'a "quote"', "\\", "{", "}", "|", "žluť", "#", "’s", " ");

/** Text pieces as a reading gives them: no two plain ones side by side, none empty unless it is the only one. */
function textOf(formula: fc.Arbitrary<Formula>): fc.Arbitrary<Text> {
  return fc.array(fc.oneof(plain, formula), { maxLength: 4 }).map((pieces) => {
    const joined: (string | Formula)[] = [];
    for (const piece of pieces) {
      const last = joined.at(-1);
      if (typeof piece === "string" && typeof last === "string") joined[joined.length - 1] = last + piece;
      else joined.push(piece);
    }
    return { type: "text", pieces: joined.length === 0 ? [""] : joined, span: NOWHERE };
  });
}

const number = fc
  .tuple(digits, fc.option(unit, { nil: undefined }))
  .map(
    ([d, u]): Formula =>
      u === undefined
        ? { type: "number", digits: d, span: NOWHERE }
        : { type: "number", digits: d, unit: { text: u, span: NOWHERE }, span: NOWHERE },
  );

/** Any tree that a formula can have. Places are left at 0. */
export const formula: fc.Arbitrary<Formula> = fc.letrec<{ formula: Formula; leaf: Formula }>((tie) => {
  const f = tie("formula");
  const span = NOWHERE;
  const two = fc.tuple(f, f);
  const three = fc.tuple(f, f, f);
  const leaf = fc.oneof(
    number,
    number,
    name.map((n): Formula => ({ type: "name", name: n, span })),
    date.map((iso): Formula => ({ type: "date", iso, span })),
    fc.boolean().map((value): Formula => ({ type: "truth", value, span })),
    fc.constant<Formula>({ type: "blank", span }),
  );
  const argument = fc
    .tuple(fc.option(name, { nil: undefined }), f)
    .map(([label, value]) => (label === undefined ? { value } : { label, labelSpan: span, value }));
  return {
    leaf,
    formula: fc.oneof(
      { maxDepth: 5, withCrossShrink: true, depthSize: "small" },
      leaf,
      textOf(f),
      fc.array(f, { maxLength: 3 }).map((entries): Formula => ({ type: "list", entries, span })),
      fc
        .tuple(name, fc.array(argument, { maxLength: 3 }))
        .map(([n, given]): Formula => ({ type: "call", name: n, nameSpan: span, arguments: given, span })),
      fc
        .tuple(f, fc.oneof(name, date, fc.constantFrom("2", "2a", "to")))
        .map(([of, part]): Formula => ({ type: "part", of, part, partSpan: span, span })),
      f.map((of): Formula => ({ type: "negate", of, span })),
      f.map((of): Formula => ({ type: "not", of, span })),
      two.map(([of, by]): Formula => ({ type: "spread", of, by, span })),
      fc.tuple(fc.constantFrom("+", "-", "*", "/", "^"), f, f).map(
        ([operator, left, right]): Formula => ({
          type: "arithmetic",
          operator,
          left,
          right,
          operatorSpan: span,
          span,
        }),
      ),
      fc.tuple(fc.constantFrom("<", "<=", ">", ">=", "is", "is not"), f, f).map(
        ([operator, left, right]): Formula => ({
          type: "compare",
          operator,
          left,
          right,
          operatorSpan: span,
          span,
        }),
      ),
      fc.tuple(fc.constantFrom("and", "or"), f, f).map(
        ([operator, left, right]): Formula => ({
          type: "logic",
          operator,
          left,
          right,
          operatorSpan: span,
          span,
        }),
      ),
      three.map(([of, low, high]): Formula => ({ type: "within", of, low, high, span })),
      fc.tuple(f, unit).map(([of, u]): Formula => ({ type: "shown", of, unit: { text: u, span }, span })),
      fc
        .tuple(f, f, fc.option(f, { nil: undefined }))
        .map(
          ([from, to, step]): Formula =>
            step === undefined ? { type: "range", from, to, span } : { type: "range", from, to, step, span },
        ),
      three.map(([condition, yes, no]): Formula => ({ type: "choice", condition, yes, no, span })),
      fc
        .tuple(name, f, f, f)
        .map(
          ([n, from, to, goal]): Formula => ({ type: "find", name: n, nameSpan: span, from, to, goal, span }),
        ),
      two.map(([of, condition]): Formula => ({ type: "where", of, condition, span })),
    ),
  };
}).formula;

const PIECES = [
  ...'( ) [ ] { } " ` , : . = + - * / ^ ± < <= > >= | \\| # @ ; ! ? % ° € – “ ” ‘ ½ \\ \n \t'.split(" "),
  ..."set define table column foot check chart step seen book about part language".split(" "),
  ..."and or not is in within to step if then else find from so that where true false blank".split(" "),
  ..."try ask wait expect by for mark bars line dots curve before foot".split(" "),
  ..."1 2.4 1e3 12,5 1/2 1_000 .5 2026-02-03 3.2.2026 a volume `x y` `open L mL %vol @2ffcfed6 \uFEFF \u200B é 😀 \r\n \r".split(
    " ",
  ),
  " ",
  "\n",
  "\n\n",
  "| a | b |\n",
  '"x {a} y"',
];

/** Pieces of the language in any order, with blanks and without. */
export const soup = fc
  .array(fc.tuple(fc.constantFrom(...PIECES), fc.constantFrom("", " ")), { maxLength: 40 })
  .map((pieces) => pieces.map(([piece, blank]) => piece + blank).join(""));

/** Any text at all. */
export const anything = fc.oneof(
  fc.string({ unit: "binary", maxLength: 60 }),
  fc.string({ unit: "grapheme", maxLength: 60 }),
  soup,
);

// ---- books

const cellText = fc.oneof(
  fc.constantFrom(
    "",
    "2400",
    "61.2 ± 0.3 %vol",
    "-5 °C",
    "2026-02-03",
    "a remark",
    "12,5",
    "2 eggs",
    "x \\| y",
    '"quoted {x}"',
    "11.20 GBP/L",
  ),
  formula.map((f) => `= ${printFormula(f, { inCell: true })}`),
);

const comment = fc.constantFrom("", "", "", " # a remark", "   #x");
const heading = fc.constantFrom(
  "item",
  "volume (mL)",
  "price (GBP/L)",
  "note (text)",
  "on (date)",
  "strength",
  "`odd (name)`",
  "n (number)",
);

const table = fc
  .tuple(
    name,
    fc.uniqueArray(heading, { minLength: 1, maxLength: 4 }),
    fc.boolean(),
    fc.array(fc.tuple(fc.array(cellText, { minLength: 4, maxLength: 4 }), comment), { maxLength: 4 }),
  )
  .chain(([n, headings, ruled, rows]) =>
    fc
      .tuple(fc.array(fc.tuple(name, formula), { maxLength: 2 }), fc.boolean())
      .map(([columns, foot]) => [
        `table ${writeName(n)}`,
        `| ${headings.join(" | ")} |`,
        ...(ruled ? [`|${headings.map(() => "---").join("|")}|`] : []),
        ...rows.map(([cells, remark]) => `|${headings.map((_, i) => ` ${cells[i]} `).join("|")}|${remark}`),
        ...columns.map(([c, f]) => `column ${writeName(c)} = ${printFormula(f)}`),
        ...(foot ? [`foot ${writeName("volume")} = sum(volume)`] : []),
      ]),
  );

const line = fc.oneof(
  fc.tuple(name, formula, comment).map(([n, f, c]) => [`set ${writeName(n)} = ${printFormula(f)}${c}`]),
  fc
    .tuple(name, name, formula)
    .map(([n, p, f]) => [`define ${writeName(n)}(${writeName(p)}) = ${printFormula(f)}`]),
  fc.tuple(formula, plain).map(([f, t]) => [`check ${printFormula(f)} : ${quoteText(t)}`]),
  fc.tuple(formula, formula).map(([f, g]) => [`chart "T" : bars ${printFormula(f)} by ${printFormula(g)}`]),
  fc
    .tuple(formula, name)
    .map(([f, n]) => [`chart "T" : curve ${printFormula(f)} for ${writeName(n)} from 1 to 2`]),
  textOf(formula).map((t) => [`step ${printFormula(t)}`]),
  fc.constantFrom(
    ['part "Stills"'],
    ["# a comment"],
    [""],
    ["", ""],
    ["set broken = ("],
    ["nonsense here"],
    ["set long = 1 +", "  # remark", "  2"],
  ),
  table,
);

const joined = (lines: fc.Arbitrary<readonly (readonly string[])[]>): fc.Arbitrary<string> =>
  fc
    .tuple(lines, fc.constantFrom("\n", "\n", "\r\n"), fc.boolean(), fc.constantFrom("", "", "\uFEFF"))
    .map(([all, end, closed, mark]) => mark + all.flat().join(end) + (closed ? end : ""));

/** A whole book, mostly well formed, with any line ends. */
export const book: fc.Arbitrary<string> = joined(fc.array(line, { maxLength: 8 }));

/** A book that has a table, whatever else. */
export const bookWithTable: fc.Arbitrary<string> = joined(
  fc
    .tuple(fc.array(line, { maxLength: 3 }), table, fc.array(line, { maxLength: 4 }))
    .map(([a, b, c]) => [...a, b, ...c]),
);
