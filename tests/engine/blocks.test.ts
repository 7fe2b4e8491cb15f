import { describe, expect, it } from "vitest";
import {
  BLOCK,
  Block,
  ColumnList,
  ColumnStore,
  columnTotal,
  EXACT_LIMIT,
  NUMBER,
  powerOfTen,
  WAITING,
  WHOLE,
} from "../../src/engine/blocks";
import { finish, roundTo, roundWhole } from "../../src/engine/kernels";
import {
  APPROXIMATE,
  add,
  approximate,
  exact,
  format,
  parseUnit,
  plainUnit,
  quantity,
  spreadBy,
  toBig,
} from "../../src/quantity";
import { gap, text, type Value } from "../../src/vocabulary/value";

const litre = parseUnit("L");
const q = (digits: string, unit = plainUnit) => quantity(exact(digits), unit);
const about = (v: number, unit = plainUnit) => quantity(approximate(v), unit);
const storeOf = (values: readonly Value[]): ColumnStore => {
  const store = new ColumnStore(values.length);
  values.forEach((value, row) => {
    store.set(row, value);
  });
  return store;
};
/** How each row is kept: as a plain number, whole, or not at all yet. */
const kept = (store: ColumnStore): string =>
  store.blocks
    .flatMap(({ status }) => [...status])
    .map((s) => (s === NUMBER ? "n" : s === WHOLE ? "w" : s === WAITING ? "-" : "?"))
    .join("");

describe("a column's store", () => {
  it.each([
    [0, []],
    [1, [1]],
    [1023, [1023]],
    [1024, [1024]],
    [1025, [1024, 1]],
    [2048, [1024, 1024]],
    [2049, [1024, 1024, 1]],
  ])("of %d rows has blocks of %j", (length, sizes) => {
    expect(new ColumnStore(length).blocks.map((b) => b.values.length)).toEqual(sizes);
    const filled = ColumnStore.filled(length, text("x"));
    expect(filled.blocks.map((b) => b.values.length)).toEqual(sizes);
    expect(filled.length).toBe(length);
    for (const row of [0, 1, 1022, 1023, 1024, 1025, length - 1])
      if (row >= 0 && row < length)
        expect([row, filled.isReady(row), filled.get(row)]).toEqual([row, true, text("x")]);
    expect(filled.allNumbers).toBe(false);
  });
  it.each([
    // what is laid down, how each row is kept, unit and decimals of the column
    ["numbers of one unit", [q("1", litre), q("2.50", litre)], "nn", "L 2"],
    ["more decimals below", [q("1"), q("0.125"), q("2.5")], "nnn", " 3"],
    ["another unit", [q("1", litre), q("2", parseUnit("mL")), q("3", litre)], "nwn", "L 0"],
    ["a text, a gap", [text("a"), q("1"), gap("not yet")], "wnw", " 0"],
    ["nothing but texts", [text("a"), text("")], "ww", "undefined 0"],
    ["approximate", [about(1 / 3), about(0.5)], "nn", ` ${APPROXIMATE}`],
    ["exact behind approximate", [about(1 / 3), q("1")], "nw", ` ${APPROXIMATE}`],
    ["approximate behind exact", [q("1"), about(1 / 3)], "nw", " 0"],
    ["an uncertainty", [spreadBy(q("5"), q("1"), "r"), q("5")], "wn", " 0"],
    ["a remark", [quantity(exact("5"), plainUnit, undefined, [{ text: "so" }]), q("5")], "wn", " 0"],
    ["more digits than a double has", [q("12345678901234567890"), q("5")], "wn", " 0"],
    ["a mantissa of 2^49", [q("562949953421312")], "n", " 0"],
    ["one beyond", [q("1"), q("562949953421313")], "nw", " 0"],
    ["minus 2^49", [q("-562949953421312"), q("-562949953421313")], "nw", " 0"],
    ["decimals that those above have no room for", [q("5629499534214"), q("0.01")], "nw", " 0"],
    ["and just have", [q("5629499534213"), q("0.01")], "nn", " 2"],
    ["decimals that it has itself no room for", [q("1"), q("5629499534213.13")], "nw", " 0"],
    ["and just has", [q("1"), q("5629499534213.12")], "nn", " 2"],
    ["a number that has no room for those above", [q("0.01"), q("5629499534214")], "nw", " 2"],
    ["and just has, of fewer decimals", [q("0.01"), q("5629499534213")], "nn", " 2"],
  ])("keeps %s", (_, values, how, is) => {
    const store = storeOf(values);
    expect([kept(store), `${store.unit === undefined ? undefined : store.unit.text} ${store.dp}`]).toEqual([
      how,
      is,
    ]);
    values.forEach((value, row) => {
      const got = store.get(row);
      if (value.type !== "quantity" || got.type !== "quantity") expect(got).toBe(value);
      else {
        expect([got.unit, got.spread, got.notes]).toEqual([value.unit, value.spread, value.notes]);
        if (value.n.dp === APPROXIMATE) expect(got.n).toEqual(value.n);
        else expect(toBig(got.n).toFixed()).toBe(toBig(value.n).toFixed());
      }
    });
  });
});

describe("a column's store that is written again", () => {
  it("forgets what it knew of a block: its largest number, its count and its totals", () => {
    const store = storeOf([q("3"), q("-5"), q("1")]);
    expect([store.magnitude, store.allNumbers, store.blocks[0]!.count]).toEqual([5, true, 3]);
    expect(columnTotal(store)).toMatchObject({ n: { v: -1, dp: 0 } });
    store.set(1, q("2"));
    expect([store.magnitude, store.allNumbers, store.blocks[0]!.count]).toEqual([3, true, 3]);
    expect(columnTotal(store)).toMatchObject({ n: { v: 6, dp: 0 } });
    // More decimals: the totals of mantissas are of the old ones.
    store.set(1, q("0.25"));
    expect(columnTotal(store)).toMatchObject({ n: { v: 4.25, dp: 2 } });
    store.set(2, text("none"));
    expect([store.magnitude, store.allNumbers, store.blocks[0]!.count]).toEqual([3, false, 2]);
    expect(columnTotal(store)).toBeUndefined();
    store.clear(0);
    expect([kept(store), store.isReady(0), store.isReady(1), store.blocks[0]!.count]).toEqual([
      "-nw",
      false,
      true,
      1,
    ]);
    expect(store.magnitude).toBe(0.25);
    store.clear(2);
    store.set(2, q("7"));
    store.set(0, q("8"));
    expect([store.get(0), store.get(1), store.get(2)].map((v) => v.type === "quantity" && format(v))).toEqual(
      ["8", "0.25", "7"],
    );
    expect(columnTotal(store)).toMatchObject({ n: { v: 15.25, dp: 2 } });
  });
  it("has more decimals in one block: the totals of all others are counted anew", () => {
    const store = storeOf(Array.from({ length: BLOCK + 2 }, () => q("1")));
    expect(columnTotal(store)).toMatchObject({ n: { v: 1026, dp: 0 } });
    store.set(BLOCK, q("0.5"));
    expect(columnTotal(store)).toMatchObject({ n: { v: 1025.5, dp: 1 } });
  });
  it("gives a row that was cleared as what it is now, also the one laid down last", () => {
    const store = storeOf([q("1"), q("2")]);
    expect(store.get(1)).toMatchObject({ n: { v: 2 } });
    store.set(1, gap("not yet"));
    expect(store.get(1)).toMatchObject({ type: "gap" });
    store.set(1, q("4"));
    store.clear(1);
    expect(store.isReady(1)).toBe(false);
    expect(store.get(1)).not.toMatchObject({ n: { v: 4, dp: 1 } });
    // One of fewer decimals than the column is read as one of as many.
    store.set(0, q("0.5"));
    store.set(1, q("3"));
    expect(store.get(1)).toMatchObject({ n: { v: 3, dp: 1 } });
    store.set(1, q("0.7"));
    expect(store.get(1)).toMatchObject({ n: { v: 0.7, dp: 1 } });
  });
  it("is copied block by block, so that an earlier reader sees what was there", () => {
    const old = storeOf(Array.from({ length: BLOCK + 1 }, (_, i) => (i === 5 ? text("old") : q("1")))).seal();
    old.bound = 40;
    const now = new ColumnStore(BLOCK + 1, old);
    expect([now.unit, now.dp, now.bound]).toEqual([plainUnit, 0, 40]);
    now.set(0, q("9"));
    now.set(5, text("new"));
    expect(now.blocks[0]).not.toBe(old.blocks[0]);
    expect(now.blocks[1]).toBe(old.blocks[1]);
    expect([old.get(0), old.get(5)]).toMatchObject([{ n: { v: 1 } }, { text: "old" }]);
    expect([now.get(0), now.get(5), now.get(1)]).toMatchObject([
      { n: { v: 9 } },
      { text: "new" },
      { n: { v: 1 } },
    ]);
    const own = now.blocks[0];
    now.set(1, q("8"));
    expect(now.blocks[0]).toBe(own);
    // Of another length nothing is taken over.
    const other = new ColumnStore(3, old);
    expect([kept(other), other.unit, other.bound]).toEqual(["---", undefined, 0]);
    // A store that was sealed copies what it wrote itself.
    const mine = old.blocks[1];
    old.set(BLOCK, q("3"));
    expect(old.blocks[1]).not.toBe(mine);
  });
  it("hears of numbers that were written into its blocks", () => {
    const store = storeOf([q("1"), q("2"), q("3"), q("4")]);
    expect(store.magnitude).toBe(4);
    store.blocks[0]!.values.set([-70, -60, -50, 9]);
    store.wrote(0, 1, 3);
    expect([store.bound, store.magnitude]).toEqual([60, 70]);
  });
});

describe("whether a column is in its own unit", () => {
  const edited = (values: readonly Value[], row: number, value: Value): boolean => {
    const store = storeOf(values);
    store.clear(row);
    store.set(row, value);
    return store.isInOwnUnit;
  };
  const mL = parseUnit("mL");
  it.each([
    ["the first row goes to another unit", [q("1", litre), q("2", litre)], 0, q("5", mL), false],
    ["the second row does", [q("1", litre), q("2", litre)], 1, q("5", mL), true],
    ["the first becomes approximate", [q("1"), q("2")], 0, about(0.5), false],
    ["the first of approximate ones becomes exact", [about(0.5), about(2)], 0, q("1"), false],
    ["the only row goes to another unit", [q("1", litre)], 0, q("5", mL), false],
    ["the only row becomes a text", [q("1", litre)], 0, text("x"), false],
    ["the first becomes a gap", [q("1", litre), q("2", litre)], 0, gap("not yet"), true],
    [
      "the first gets an uncertainty",
      [q("1", litre), q("2", litre)],
      0,
      spreadBy(q("5", mL), q("1", mL), "r"),
      true,
    ],
    [
      "the first gets a remark",
      [q("1"), q("2")],
      0,
      quantity(exact("5"), mL, undefined, [{ text: "so" }]),
      true,
    ],
    [
      "the first gets more digits than a double has",
      [q("1"), q("2")],
      0,
      q("12345678901234567890", mL),
      true,
    ],
    ["the first leaves the exact range", [q("1"), q("2")], 0, q("562949953421313"), true],
    ["there are texts only", [text("a"), text("b")], 0, text("c"), true],
  ])("when %s", (_, values, row, value, is) => expect(edited(values, row, value)).toBe(is));
});

describe("the total of a column", () => {
  const total = (values: readonly Value[]): string | undefined => {
    const sum = columnTotal(storeOf(values));
    return sum && `${sum.n.dp === APPROXIMATE ? sum.n.v : toBig(sum.n).toFixed()} ${sum.unit.text}`.trim();
  };
  const added = (values: readonly ReturnType<typeof q>[]): string => {
    const sum = values.reduce((a, b) => add(a, b));
    return `${toBig(sum.n).toFixed()} ${sum.unit.text}`.trim();
  };
  it.each([
    ["no rows", [], undefined],
    ["one row", [q("2.5", litre)], "2.5 L"],
    ["three rows", [q("0.1"), q("0.2"), q("0.3")], "0.6"],
    ["five rows", ["1", "2", "4", "8", "16"].map((d) => q(d)), "31"],
    ["six rows", ["1", "2", "4", "8", "16", "32"].map((d) => q(d)), "63"],
    ["seven rows", ["1", "2", "4", "8", "16", "32", "64"].map((d) => q(d)), "127"],
    ["eight rows", ["1", "2", "4", "8", "16", "32", "64", "128"].map((d) => q(d)), "255"],
    ["approximate rows", [about(0.1), about(0.2), about(0.3)], `${0.1 + 0.2 + 0.3}`],
    ["a gap", [q("1"), gap("not yet")], undefined],
    ["texts", [text("a")], undefined],
    ["temperatures", [q("20", parseUnit("°C")), q("30", parseUnit("°C"))], undefined],
    ["differences of temperature", [q("20", parseUnit("K")), q("30", parseUnit("K"))], "50 K"],
    ["what is no number any more", [about(1.7e308), about(1.7e308)], undefined],
    ["mantissas of 2^49 together", [q("281474976710656"), q("281474976710656")], "562949953421312"],
    ["more than that", [q("281474976710656"), q("281474976710657")], undefined],
    ["less than minus that", [q("-281474976710656"), q("-281474976710657")], undefined],
    ["what cancels", [q("281474976710656"), q("-281474976710657")], "-1"],
  ])("of %s", (_, values, sum) => expect(total(values)).toBe(sum));
  it.each([1, 3, 4, 1023, 1024, 1025, 2051])(
    "of %d rows is that of the rows one after the other",
    (count) => {
      for (const most of ["21474836.46", "21474836.47", "21474836.48", "21474836.49", "98765432.17"]) {
        const values = Array.from({ length: count }, (_, i) =>
          q(i % 3 === 0 ? most : `${i % 10}.${(i % 89) + 10}`),
        );
        expect(total(values)).toBe(added(values));
      }
    },
  );
  it("is none where the sum of mantissas may leave the whole numbers of doubles", () => {
    // 2^53 - 1 over 40 rows is 225,179,981,368,524.775 each.
    const rows = (digits: string) =>
      Array.from({ length: 40 }, (_, i) => q(i % 2 === 0 ? digits : `-${digits}`));
    expect(total(rows("225179981368524"))).toBe("0");
    expect(total(rows("225179981368525"))).toBeUndefined();
  });
});

describe("a block", () => {
  it.each([1, 2, 3, 4, 5, 7, 8, 1024])("of %d rows counts its numbers, wherever one is missing", (size) => {
    for (const missing of new Set([0, Math.floor(size / 2), size - 1])) {
      const block = new Block(size);
      expect(block.count).toBe(0);
      block.status.fill(NUMBER);
      block.numbers = undefined;
      block.status[missing] = WHOLE;
      expect(block.count).toBe(size - 1);
      block.status[missing] = NUMBER;
      block.numbers = undefined;
      expect(block.count).toBe(size);
    }
  });
  it("takes the largest of its numbers only", () => {
    const block = new Block(3);
    expect(block.magnitude).toBe(0);
    block.values.set([1, -9, 4]);
    block.status.set([NUMBER, WHOLE, NUMBER]);
    block.largest = undefined;
    expect(block.magnitude).toBe(4);
  });
});

describe("a column as a list", () => {
  it("has its entries made once, of the column's unit", () => {
    const list = new ColumnList(storeOf([q("1", litre), gap("not yet"), text("x")]), {
      table: "t",
      rows: [0, 1, 2],
      names: ["a", "b", "c"],
    });
    expect(list.entries.map((e) => (e.type === "quantity" ? format(e) : e.type))).toEqual([
      "1 L",
      "gap",
      "text",
    ]);
    expect(list.entries).toBe(list.entries);
    expect(list.unit).toBe(litre);
  });
});

describe("loops", () => {
  it("turn -0 into 0 and tell whether every number is finite", () => {
    for (const [values, is] of [
      [[1, -0, 3], true],
      [[], true],
      [[1, Number.POSITIVE_INFINITY], false],
      [[Number.NaN, 1], false],
      [[Number.NEGATIVE_INFINITY], false],
    ] as const) {
      const run = Float64Array.from(values);
      expect(finish(run)).toBe(is);
      for (const v of run) expect(Object.is(v, -0)).toBe(false);
    }
  });
  it("round to the double nearest to a decimal", () => {
    const run = Float64Array.from([0.1 + 0.2, 1.0999999999999999, -0.30000000000000004, -0]);
    roundTo(run, run, 10, 3);
    expect([...run]).toEqual([0.3, 1.1, -0.3, -0]);
    const whole = Float64Array.from([2.0000000000000004, -2.9999999999999996, -0, 0.25]);
    roundWhole(whole, whole, 3);
    expect([...whole]).toEqual([2, -3, 0, 0.25]);
  });
  it("know the powers of ten, also those beyond the exact ones", () => {
    expect([0, 1, 15, 22, 23, 30].map(powerOfTen)).toEqual([1, 10, 1e15, 1e22, 1e23, 1e30]);
    expect(EXACT_LIMIT).toBe(562949953421312);
  });
});
