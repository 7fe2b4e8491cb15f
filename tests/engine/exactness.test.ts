import Big from "big.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { EXACT_LIMIT, NUMBER } from "../../src/engine/blocks";
import { workingsOf } from "../../src/engine/book";
import { cellsKey } from "../../src/engine/names";
import { sameValue } from "../../src/engine/sameness";
import { toBig } from "../../src/quantity";
import { carefulColumn } from "./careful";

/**
 * Typed decimals under + − × and decimal factors of units, through whole books: the oracle is big.js, which
 * the fast path of columns does not use. `INVACUO_RUNS` asks for a longer search.
 */

const Decimal = Big();
Decimal.DP = 60;
const RUNS = Number(process.env.INVACUO_RUNS ?? 400);

/** A decimal as a person types it. */
const decimal = (most: number, places: number) =>
  fc
    .tuple(fc.boolean(), fc.integer({ min: 0, max: most }), fc.nat(places), fc.nat(999_999_999))
    .map(([minus, whole, dp, rest]) => {
      const digits = dp === 0 ? "" : `.${String(rest).padStart(9, "0").slice(0, dp)}`;
      return `${minus ? "-" : ""}${whole}${digits}`;
    });

/** A formula over the columns a, b, c with its value by the oracle. */
interface Arithmetic {
  readonly text: string;
  readonly value: (row: Readonly<Record<string, Big>>) => Big;
}
const { arithmetic } = fc.letrec<{ arithmetic: Arithmetic; leaf: Arithmetic }>((tie) => ({
  leaf: fc.oneof(
    fc.constantFrom("a", "b", "c").map((name): Arithmetic => ({ text: name, value: (row) => row[name]! })),
    decimal(99, 3).map(
      (text): Arithmetic => ({
        text: text.startsWith("-") ? `(${text})` : text,
        value: () => new Decimal(text),
      }),
    ),
  ),
  arithmetic: fc.oneof(
    { depthSize: "small" },
    tie("leaf"),
    fc.tuple(tie("arithmetic"), fc.constantFrom("+", "-", "*"), tie("arithmetic")).map(
      ([l, o, r]): Arithmetic => ({
        text: `(${l.text} ${o} ${r.text})`,
        value: (row) => {
          const [x, y] = [l.value(row), r.value(row)];
          return o === "+" ? x.plus(y) : o === "-" ? x.minus(y) : x.times(y);
        },
      }),
    ),
    fc.tuple(tie("arithmetic"), fc.constantFrom(10, 100, 1000)).map(
      ([l, k]): Arithmetic => ({
        text: `(${l.text} / ${k})`,
        value: (row) => l.value(row).times(new Decimal(1).div(k)),
      }),
    ),
  ),
}));

const digitsOf = (b: Big): number => b.c.length;

/** The exact value of a cell, or undefined when the cell is approximate. */
function exactly(value: unknown): Big | undefined {
  const q = value as ReturnType<ReturnType<typeof openBook>["value"]>;
  if (q?.type !== "quantity") throw new Error(`no number: ${JSON.stringify(q)}`);
  return q.n.dp < 0 ? undefined : toBig(q.n);
}

/** Whether a column came from the fast path, as far as its store tells. */
function storedPlainly(book: ReturnType<typeof openBook>, column: string): boolean {
  const store = workingsOf(book).calculation.store(cellsKey("t", column))!;
  return store.blocks.every((b) => b.status.every((s) => s === NUMBER));
}

describe("columns of typed decimals", () => {
  it("come to the very decimal, and to the bits of the careful path", () => {
    let plainly = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(decimal(99_999, 4), decimal(999, 3), decimal(9, 6)), {
          minLength: 1,
          maxLength: 5,
        }),
        arithmetic,
        (rows, { text, value }) => {
          const book = openBook(
            [
              "table t",
              "| n | a (number) | b (number) | c (number) |",
              ...rows.map(([a, b, c], i) => `| r${i} | ${a} | ${b} | ${c} |`),
              `column f = ${text}`,
              "foot f = sum(f)",
            ].join("\n"),
          );
          expect(book.messages).toEqual([]);
          const { calculation } = workingsOf(book);
          const careful = carefulColumn(cellsKey("t", "f"), calculation);
          let total = new Decimal(0);
          rows.forEach(([a, b, c], i) => {
            const wanted = value({ a: new Decimal(a), b: new Decimal(b), c: new Decimal(c) });
            total = total.plus(wanted);
            const cell = book.value(`t.r${i}.f`)!;
            expect(sameValue(cell, careful[i]!)).toBe(true);
            const met = exactly(cell);
            if (met === undefined) expect(digitsOf(wanted)).toBeGreaterThan(20);
            else {
              expect(met.eq(wanted)).toBe(true);
              expect((cell as { n: { v: number } }).n.v).toBe(Number(wanted.toString()) + 0);
            }
          });
          const foot = exactly(book.value("t.foot.f"));
          if (foot !== undefined) expect(foot.eq(total)).toBe(true);
          if (storedPlainly(book, "f")) plainly++;
        },
      ),
      { numRuns: RUNS, seed: 20261125 },
    );
    // The comparison says something only when the fast path was taken often.
    expect(plainly).toBeGreaterThan(RUNS / 3);
  });

  it.each([2 ** 31 - 1, 2 ** 31 + 1, 2 ** 38])(
    "total 2,500 rows of mantissas up to %d to the last unit",
    (largest) => {
      // Signs and sizes that no order of adding makes easy; the same ones every time.
      const mantissas = Array.from({ length: 2500 }, (_, i) => {
        const size = largest - ((i * 7919) % 1000) * (i % 3 === 0 ? 1 : 10_007);
        return BigInt(i % 5 === 0 ? -size : size);
      });
      const typed = (m: bigint) => new Decimal(m.toString()).div(1000).toFixed(3);
      const book = openBook(
        [
          "table t",
          "| n | a (number) |",
          ...mantissas.map((m, i) => `| r${i} | ${typed(m)} |`),
          "foot a = sum(a)",
        ].join("\n"),
      );
      const total = mantissas.reduce((sum, m) => sum + m, 0n);
      expect(exactly(book.value("t.foot.a"))!.eq(typed(total))).toBe(true);
    },
  );

  it("nearly cancel about 2^49 without a bit lost", () => {
    const nearly = fc
      .tuple(fc.integer({ min: 2 ** 46, max: 2 ** 53 }), fc.integer({ min: -40, max: 40 }), fc.nat(6))
      .map(([mantissa, off, dp]) => {
        const typed = (m: number) => new Decimal(m).div(new Decimal(10).pow(dp)).toFixed(dp);
        return { a: typed(mantissa), b: typed(mantissa + off), dp };
      });
    let inside = 0;
    let outside = 0;
    fc.assert(
      fc.property(fc.array(nearly, { minLength: 1, maxLength: 4 }), decimal(9, 2), (pairs, k) => {
        const factor = k.replace("-", "");
        const book = openBook(
          [
            "table t",
            "| n | a (number) | b (number) |",
            ...pairs.map(({ a, b }, i) => `| r${i} | ${a} | ${b} |`),
            "column d = a - b",
            `column e = (a - b) * ${factor} + a - b`,
            `column g = a * ${factor} - b * ${factor}`,
            "column h = (a + b) / 1000 - a / 1000 - b / 1000",
          ].join("\n"),
        );
        expect(book.messages).toEqual([]);
        const { calculation } = workingsOf(book);
        const by = new Decimal(factor);
        for (const column of ["d", "e", "g", "h"]) {
          const careful = carefulColumn(cellsKey("t", column), calculation);
          pairs.forEach(({ a, b }, i) => {
            const [x, y] = [new Decimal(a), new Decimal(b)];
            const d = x.minus(y);
            const wanted =
              column === "d"
                ? d
                : column === "e"
                  ? d.times(by).plus(d)
                  : column === "g"
                    ? d.times(by)
                    : new Decimal(0);
            const cell = book.value(`t.r${i}.${column}`)!;
            expect(sameValue(cell, careful[i]!)).toBe(true);
            expect(exactly(cell)!.eq(wanted)).toBe(true);
          });
        }
        const largest = Math.max(...pairs.map(({ a, dp }) => Number(a) * 10 ** dp));
        if (largest <= EXACT_LIMIT) inside++;
        else outside++;
      }),
      { numRuns: RUNS, seed: 20261125 },
    );
    expect(inside).toBeGreaterThan(0);
    expect(outside).toBeGreaterThan(0);
  });

  it("stay exact through decimal factors of units, of mass, volume, money and ratios", () => {
    const mass = fc.tuple(decimal(9999, 3), fc.constantFrom("g", "kg", "mg")).map(([n, u]) => ({
      text: `${n.replace("-", "")} ${u}`,
      grams: new Decimal(n.replace("-", "")).times(u === "kg" ? "1000" : u === "mg" ? "0.001" : "1"),
    }));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(mass, mass, decimal(99, 2), decimal(99, 2)), { minLength: 1, maxLength: 4 }),
        (rows) => {
          const book = openBook(
            [
              "table t",
              "| n | m (g) | w (kg) | price (GBP/kg) | share (%) |",
              ...rows.map(
                ([m, w, price, share], i) =>
                  `| r${i} | ${m.text} | ${w.text} | ${price.replace("-", "")} | ${share} |`,
              ),
              "column both = m + w",
              "column other = w - m",
              "column cost = m * price",
              "column part = m * share",
              "column shown = both in kg",
              "foot cost = sum(cost)",
            ].join("\n"),
          );
          expect(book.messages).toEqual([]);
          const { calculation } = workingsOf(book);
          let total = new Decimal(0);
          rows.forEach(([m, w, p, s], i) => {
            const price = new Decimal(p.replace("-", ""));
            const wanted = new Map([
              ["both", m.grams.plus(w.grams)],
              ["other", w.grams.minus(m.grams).times("0.001")],
              ["cost", m.grams.times(price).times("0.001")],
              ["part", m.grams.times(s).times("0.01")],
              ["shown", m.grams.plus(w.grams).times("0.001")],
            ]);
            total = total.plus(wanted.get("cost")!);
            for (const [column, value] of wanted) {
              const cell = book.value(`t.r${i}.${column}`)!;
              expect(exactly(cell)!.eq(value), `${column}: ${exactly(cell)} is not ${value}`).toBe(true);
              expect(sameValue(cell, carefulColumn(cellsKey("t", column), calculation)[i]!)).toBe(true);
            }
          });
          expect(exactly(book.value("t.foot.cost"))!.eq(total)).toBe(true);
        },
      ),
      { numRuns: Math.ceil(RUNS / 2), seed: 20261125 },
    );
  });

  it("print the decimal and nothing else", () => {
    fc.assert(
      fc.property(decimal(9999, 4), decimal(999, 3), (a, b) => {
        const book = openBook(`set a = ${a}\nset b = ${b}\nset s = a + b\nset d = a - b\nset p = a * b`);
        const [x, y] = [new Decimal(a), new Decimal(b)];
        for (const [name, wanted] of [
          ["s", x.plus(y)],
          ["d", x.minus(y)],
          ["p", x.times(y)],
        ] as const) {
          if (digitsOf(wanted) <= 12) expect(book.ask(name).text).toBe(wanted.toFixed());
        }
      }),
      { numRuns: RUNS, seed: 20261125 },
    );
  });
});

describe("approximate columns", () => {
  it("come to the bits of the careful path, faults in their rows included", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(decimal(999, 3), fc.oneof(decimal(99, 2), fc.constantFrom("0", "", "= 1 / 3"))), {
          minLength: 1,
          maxLength: 6,
        }),
        arithmetic,
        (rows, { text }) => {
          const formula = text.replaceAll("c", "(a / b)");
          const book = openBook(
            [
              "table t",
              "| n | a (number) | b (number) |",
              ...rows.map(([a, b], i) => `| r${i} | ${a} | ${b} |`),
              `column f = ${formula}`,
              "column g = f * 3 - a",
            ].join("\n"),
          );
          const { calculation } = workingsOf(book);
          for (const column of ["f", "g"]) {
            const careful = carefulColumn(cellsKey("t", column), calculation);
            rows.forEach((_, i) => {
              expect(sameValue(book.value(`t.r${i}.${column}`)!, careful[i]!)).toBe(true);
            });
          }
        },
      ),
      { numRuns: RUNS, seed: 20261125 },
    );
  });
});

describe("a column of temperatures", () => {
  it("is not added up, whether it was typed or worked out, and has a mean", () => {
    const book = openBook(
      "table run\n| at | bath (°C) |\n| a | 40 |\n| b | 42 |\ncolumn warmer = bath + 0.5 K\nfoot bath = sum(bath)\n" +
        "set typed = sum(run.bath)\nset worked = sum(run.warmer)\nset middle = mean(run.warmer)\n",
    );
    expect(book.messages.filter((m) => m.severity === "fault").map((m) => m.code)).toEqual(
      Array(3).fill("temperatures-do-not-add"),
    );
    expect(book.value("middle")).toMatchObject({ n: { v: 41.5 } });
  });
});

describe("shares", () => {
  it("of money and volumes add to exactly the whole, each within a step of its own", () => {
    fc.assert(
      fc.property(
        fc.array(decimal(9999, 2), { minLength: 1, maxLength: 8 }),
        fc.constantFrom("0.01", "0.1", "1"),
        (amounts, step) => {
          const typed = amounts.map((a) => new Decimal(a).abs());
          fc.pre(typed.some((a) => a.gt(0)));
          const book = openBook(
            `set amounts = [${typed.map((a) => `${a.toFixed()} GBP`).join(", ")}]\nset shares = share_out(amounts, step: ${step} %)\nset whole = sum(shares)`,
          );
          expect(book.messages).toEqual([]);
          expect(exactly(book.value("whole"))!.eq(100)).toBe(true);
          const total = typed.reduce((sum, a) => sum.plus(a), new Decimal(0));
          typed.forEach((amount, i) => {
            const share = exactly(book.value(`shares.${i + 1}`))!;
            expect(share.minus(amount.times(100).div(total)).abs().lt(step)).toBe(true);
          });
        },
      ),
      { numRuns: Math.ceil(RUNS / 2), seed: 20261125 },
    );
  });
});
