import {
  applyPatches,
  type BookTree,
  childrenOf,
  type Formula,
  formulasIn,
  formulasOf,
  highlight,
  parseBook,
  parseFormula,
  printFormula,
  type Span,
  type SyntaxMessage,
  tidy,
} from "../../grammar";

/**
 * A long run of random inputs through the parser: `npx tsx tests/bench/parser-fuzz.ts [count] [seed]`. Three kinds take
 * turns: any characters, pieces of the language in any order, and sound books and formulas with random edits. For
 * each: nothing throws, every place lies inside the text, what reads without a fault prints and reads back the same;
 * for books also that reading after an edit equals reading afresh. The first input that breaks a rule is printed and
 * ends the run with code 1.
 */

const COUNT = Number(process.argv[2] ?? 1_000_000);
const SEED = Number(process.argv[3] ?? 1);

let state = SEED >>> 0;
/** A whole number below `below` (mulberry32). */
function below(below: number): number {
  state = (state + 0x6d2b79f5) >>> 0;
  let t = state;
  t = Math.imul(t ^ (t >>> 15), t | 1);
  t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
  return Math.floor((((t ^ (t >>> 14)) >>> 0) / 4294967296) * below);
}
function pick<T>(list: readonly T[]): T {
  return list[below(list.length)]!;
}

const SIGNS = '()[]{}"`,:.=+-*/^±<>|\\#@;!?%°‰€–“”‘½ \n\t'.split("");
const WORDS =
  "set define table column foot check chart step seen book about part language and or not is in within to step if then else find from so that where true false blank try ask wait expect by for mark bars line dots curve before foot a volume x L mL %vol g °C GBP/L m^3".split(
    " ",
  );
const NUMBERS =
  "0 1 42 2.4 1e3 1e-3 12,5 1/2 1_000 .5 5. 2026-02-03 2026-02-30 3.2.2026 1.2.3 99999999999999999999999999999999999".split(
    " ",
  );
const ODD = [
  "`x y`",
  "`open",
  '"text',
  '"{',
  '}"',
  '"a {b} c"',
  "@2ffcfed6",
  "\uFEFF",
  "\u200B",
  "\u202E",
  "é",
  "e\u0301",
  "😀",
  "\uD800",
  "\0",
  "\r\n",
  "\r",
  "\u2028",
  "== ",
  "!=",
  "<>",
  "+-",
  "≤",
  "≠",
  "×",
  "−",
  "²",
  "'x'",
  "“x”",
  "£3",
];
const LINES = [
  "set a = 2.4 L * f(b, to: 42 %vol) - (c + 1) / 2",
  "set `bay leaf` = if a > 2 L then [1, 2, 3] else b where c is not blank",
  "set r = 10 mbar to 40 mbar step 10 mbar",
  "set x = find y from 1 to 2 so that y^2 is 2 try 1 to 3",
  "define f(a, b c) = a",
  "define f(a, b) = a * b ± 0.5 K",
  'table t "T"',
  "| item | volume (mL) | price (GBP/L) |",
  "|---|---|---|",
  "| juniper | 2400 | 61.2 ± 0.3 %vol | # remark",
  "| bay leaf | = volume * 2 | |",
  "column cost = volume * price + before.cost + foot.cost",
  "foot cost = sum(cost where volume > 1 mL)",
  'check a within 1 to 3 : "ok"',
  'chart "T" : bars t.cost, t.volume by t.item',
  'chart "T" : curve f(x) for x from 1 to 2 mark a',
  'step "Stir in {water.add in mL} of {"{a}"}." wait 40 min ask runs.got in mL expect 400 mL ± 10 mL',
  'seen t.foot.cost @2ffcfed6 "x"',
  "# a comment",
  "",
];

function piece(): string {
  const kind = below(10);
  if (kind < 4) return pick(WORDS);
  if (kind < 7) return pick(SIGNS);
  return kind < 8 ? pick(NUMBERS) : pick(ODD);
}
function soup(most: number): string {
  let text = "";
  for (let i = below(most); i > 0; i--) text += piece() + (below(3) > 0 ? " " : "");
  return text;
}
function noise(most: number): string {
  let text = "";
  for (let i = below(most); i > 0; i--)
    text += String.fromCodePoint(below(4) > 0 ? below(0x100) : below(0x11000));
  return text;
}
function lines(most: number): string {
  let text = "";
  for (let i = below(most); i > 0; i--) text += pick(LINES) + (below(8) > 0 ? "\n" : "\r\n");
  return text;
}
function spoilt(text: string): string {
  let out = text;
  for (let i = below(4); i > 0; i--) {
    const at = below(out.length + 1);
    out = out.slice(0, at) + (below(2) > 0 ? piece() : "") + out.slice(at + below(6));
  }
  return out;
}

function require(holds: boolean, rule: string): void {
  if (!holds) throw new Error(rule);
}
function inside({ from, to }: Span, length: number, what: string): void {
  require(from >= 0 && from <= to && to <= length, `${what} lies outside the text`);
}
function checkMessages(messages: readonly SyntaxMessage[], length: number): void {
  for (const message of messages) {
    inside(message.span, length, "a message");
    require(message.says.length > 0 &&
      !/undefined|NaN/.test(message.says + (message.help ?? "")), "a message without words");
    for (const { edits } of message.fixes ?? []) for (const { span } of edits) inside(span, length, "a fix");
  }
}
function checkFormula(root: Formula, length: number): void {
  inside(root.span, length, "a formula");
  for (const one of formulasIn(root))
    for (const child of childrenOf(one))
      require(child.span.from >= one.span.from &&
        child.span.to <= one.span.to, "a formula lies outside the one around it");
}
const plain = (value: unknown): string =>
  JSON.stringify(value, (key, inner: unknown) =>
    key === "span" || key === "slot" || key.endsWith("Span") ? undefined : inner,
  );

function tryFormula(text: string): void {
  const { formula, messages } = parseFormula(text);
  checkMessages(messages, text.length);
  checkFormula(formula, text.length);
  if (messages.length > 0) return;
  const printed = printFormula(formula);
  const again = parseFormula(printed);
  require(again.messages.length === 0, `prints as ${printed}, which has a fault`);
  require(plain(again.formula) === plain(formula), `prints as ${printed}, which reads otherwise`);
}

function checkBook(tree: BookTree): void {
  let reached = 0;
  checkMessages(tree.messages, tree.text.length);
  for (const { at, length, node, messages } of tree.statements) {
    require(at >= reached && length > 0 && at + length <= tree.text.length, "a statement out of its place");
    reached = at + length;
    checkMessages(messages, length);
    for (const one of formulasOf(node)) checkFormula(one, length);
  }
}

function tryBook(text: string): void {
  const tree = parseBook(text);
  checkBook(tree);
  const from = below(text.length + 1);
  const edited = applyPatches(text, [
    { from, to: Math.min(text.length, from + below(12)), insert: below(3) > 0 ? piece() : "" },
  ]);
  const next = parseBook(edited, tree);
  const fresh = parseBook(edited);
  require(JSON.stringify(next.statements) ===
    JSON.stringify(fresh.statements), `after an edit to ${JSON.stringify(edited)} the statements differ`);
  require(JSON.stringify(next.messages) ===
    JSON.stringify(fresh.messages), `after an edit to ${JSON.stringify(edited)} the messages differ`);
  if (below(4) === 0) {
    const tidied = tidy(text);
    require(tidy(tidied) === tidied, "tidying twice is not tidying once");
    highlight(text);
  }
}

const started = performance.now();
let slowest = 0;
for (let i = 0; i < COUNT; i++) {
  const kind = i % 8;
  const text =
    kind === 0
      ? noise(40)
      : kind < 4
        ? soup(30)
        : kind < 6
          ? spoilt(pick(LINES).replace(/^set \S+ = /, ""))
          : spoilt(lines(8) + (kind === 7 ? soup(12) : ""));
  const before = performance.now();
  try {
    if (kind < 6) tryFormula(text);
    else tryBook(text);
  } catch (error) {
    console.error(
      `input ${i} of seed ${SEED} breaks a rule: ${error instanceof Error ? error.message : String(error)}\n${JSON.stringify(text)}`,
    );
    if (error instanceof Error) console.error(error.stack);
    process.exit(1);
  }
  slowest = Math.max(slowest, performance.now() - before);
  if (i > 0 && i % 100_000 === 0)
    console.log(`${i} inputs, ${((performance.now() - started) / 1000).toFixed(0)} s`);
}
console.log(
  `${COUNT} inputs of seed ${SEED}: no throw, every rule holds; ${((performance.now() - started) / 1000).toFixed(1)} s, slowest ${slowest.toFixed(1)} ms`,
);
