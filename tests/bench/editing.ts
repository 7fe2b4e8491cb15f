import { parseBook } from "../../grammar";
import { openBook } from "../../src/engine";
import { type ColumnStore, columnTotal } from "../../src/engine/blocks";
import { Calculation } from "../../src/engine/calculation";
import { cellsKey, footKey, setKey } from "../../src/engine/names";
import { makePlan } from "../../src/engine/plan";
import { plain } from "../../src/quantity";
import { number, tableText } from "./columns";
import type { Line } from "./table";
import { shortened } from "./table";
import { compared } from "./timing";

const ROWS = 100_000;

/** Throws away what a column remembers of its blocks, as after a change of every one of them. */
function forget(store: ColumnStore): void {
  for (const block of store.blocks) {
    block.largest = undefined;
    block.mantissas = undefined;
    block.doubles = undefined;
    block.numbers = undefined;
  }
}

export function totals(): readonly Line[] {
  const calculation = Calculation.of(makePlan(parseBook(tableText(ROWS, []))));
  const store = calculation.store(cellsKey("t", "a"))!;
  const values = Float64Array.from({ length: ROWS }, (_, row) => Number(number(row, 0)));
  let mantissas = 0n;
  for (let row = 0; row < ROWS; row++) mantissas += BigInt(number(row, 0).replace(".", ""));
  const total = columnTotal(store)!;
  if (BigInt(Math.round(total.n.v * 100)) !== mantissas) throw new Error("the exact total is wrong");
  const [bare, ours, kept] = compared(
    [
      () => {
        let sum = 0;
        for (let i = 0; i < values.length; i++) sum += values[i]!;
        return sum;
      },
      () => {
        forget(store);
        return columnTotal(store)!.n.v;
      },
      () => columnTotal(store)!.n.v,
    ],
    { warmUp: 400 },
  );
  return [
    {
      measure: "exact total of 100,000 numbers, against a plain sum; equal to the sum of whole numbers",
      ratio: ours!.ratio,
      limit: 3,
      figures: `${shortened(ours!.micros)} µs and ${shortened(bare!.micros)} µs; ${shortened(kept!.micros)} µs when nothing has changed`,
    },
  ];
}

export function editing(): readonly Line[] {
  const text = `${tableText(ROWS, ["a * rate + b"])}\nfoot f0 = sum(f0)\n`;
  const other = text.replace(/^(\| r50000 \|) [\d.]+/mu, "$1 77.77");
  if (other === text) throw new Error("no row was edited");
  const third = text.replace(/^(\| r50001 \|) [\d.]+/mu, "$1 77.77");
  const first = parseBook(text);
  const goal = parseBook(other, first);
  // From two books in turn, so that nothing found out about the difference of two is used again.
  const starts = [first, parseBook(third, first)].map((tree) => {
    const plan = makePlan(tree);
    return { before: Calculation.of(plan), plan: makePlan(goal, plan) };
  });
  const foot = (c: Calculation): number => {
    const value = c.value(footKey("t", "f0"));
    if (value.type !== "quantity") throw new Error("the total is no number");
    return value.n.v;
  };
  const fresh = makePlan(goal);
  for (const { plan, before } of starts) {
    if (foot(Calculation.of(plan, before)) !== foot(Calculation.of(fresh)))
      throw new Error("an edit comes to something else than a full recalculation");
  }
  let turn = 0;
  const [full, edit] = compared(
    [
      () => foot(Calculation.of(fresh)),
      () => {
        const { plan, before } = starts[turn++ % 2]!;
        return foot(Calculation.of(plan, before));
      },
    ],
    { rounds: 7 },
  );
  const book = openBook(text);
  const [opened, edited] = compared(
    [
      () => Number(openBook(other).ask("t.foot.f0").value),
      () => Number(book.edit(other).ask("t.foot.f0").value),
    ],
    { rounds: 5, warmUp: 400 },
  );
  return [
    {
      measure: "one row of 100,000 edited, with the total: values only, against a full recalculation",
      ratio: edit!.ratio,
      limit: 1 / 50,
      figures: `${shortened(edit!.micros)} µs and ${shortened(full!.micros)} µs`,
    },
    {
      measure: "the same from text to total, reading included, against opening the book",
      ratio: edited!.ratio,
      figures: `${shortened(edited!.micros / 1000)} ms and ${shortened(opened!.micros / 1000)} ms`,
    },
  ];
}

/** A chain of 100,000 cells, each on the one before, whose first is changed. */
export function chain(): readonly Line[] {
  const plan = makePlan(
    parseBook(tableText(ROWS, ["if before.f0 is blank then rate + a else before.f0 + a"])),
  );
  const base = Calculation.of(plan);
  const key = cellsKey("t", "f0");
  const wanted = new Set([key]);
  const rates = [plain("1.5"), plain("2.5")];
  let turn = 0;
  const add = Float64Array.from({ length: ROWS }, (_, row) => Number(number(row, 0)));
  const out = new Float64Array(ROWS);
  const last = (c: Calculation): number => {
    const value = c.cell(key, ROWS - 1);
    if (value.type !== "quantity") throw new Error("the chain has no end");
    return value.n.v;
  };
  const [bare, ours] = compared(
    [
      () => {
        let at = [1.5, 2.5][turn++ % 2]!;
        for (let i = 0; i < ROWS; i++) {
          at += add[i]!;
          out[i] = at;
        }
        return out[ROWS - 1]!;
      },
      () => {
        base.allowance.recount();
        return last(base.trial(setKey("rate"), rates[turn++ % 2]!, wanted) as Calculation);
      },
    ],
    { warmUp: 600 },
  );
  const sets = (first: string): string =>
    [`set v0 = ${first}`, ...Array.from({ length: ROWS - 1 }, (_, i) => `set v${i + 1} = v${i} + 1`)].join(
      "\n",
    );
  const trees = [parseBook(sets("1"))];
  trees.push(parseBook(sets("2"), trees[0]));
  const plans = [makePlan(trees[0]!)];
  plans.push(makePlan(trees[1]!, plans[0]));
  const before = Calculation.of(plans[0]!);
  const end = (c: Calculation): number => {
    const value = c.value(setKey(`v${ROWS - 1}`));
    if (value.type !== "quantity") throw new Error("the chain has no end");
    return value.n.v;
  };
  const [bareSets, named] = compared(
    [
      () => {
        let at = turn++ % 2;
        for (let i = 0; i < ROWS; i++) {
          at += 1;
          out[i] = at;
        }
        return out[ROWS - 1]!;
      },
      () => end(Calculation.of(plans[1]!, before)),
    ],
    { rounds: 7, warmUp: 400 },
  );
  return [
    {
      measure: "a chain of 100,000 cells in a column, its head changed, against a plain loop",
      ratio: ours!.ratio,
      limit: 80,
      figures: `${shortened(ours!.micros / 1000)} ms and ${shortened(bare!.micros / 1000)} ms`,
    },
    {
      measure: "a chain of 100,000 named values, its head changed, against a plain loop",
      ratio: named!.ratio,
      figures: `${shortened(named!.micros / 1000)} ms and ${shortened(bareSets!.micros / 1000)} ms`,
    },
  ];
}

/** What a row costs in a short and in a long book. */
export function growth(): readonly Line[] {
  const formulas = ["a * b / 1000 * rate", "f0 + c", "if f1 > 50 then d else f1"];
  const text = (rows: number): string => `${tableText(rows, formulas)}\nfoot f2 = sum(f2)\n`;
  const [small, large] = [text(1000), text(ROWS)];
  const [short, long] = compared(
    [
      () => Number(openBook(small).ask("t.foot.f2").value),
      () => Number(openBook(large).ask("t.foot.f2").value),
    ],
    { rounds: 5, warmUp: 800, sample: 200 },
  );
  const each = long!.micros / ROWS / (short!.micros / 1000);
  return [
    {
      measure: "opening a book: a row of 100,000, against a row of 1,000",
      ratio: each,
      limit: 1.5,
      figures: `${shortened(long!.micros / ROWS)} µs and ${shortened(short!.micros / 1000)} µs a row`,
    },
  ];
}
