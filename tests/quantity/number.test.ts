import Big from "big.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  APPROXIMATE,
  addNum,
  approximate,
  compareNum,
  divideNum,
  exact,
  exactInteger,
  fractionOf,
  fromBig,
  isExact,
  multiplyNum,
  type Num,
  negateNum,
  powerNum,
  powerOfTen,
  raise,
  ratio,
  ratioOf,
  scaleNum,
  shiftNum,
  subtractNum,
  sumNum,
  toBig,
  wholeNum,
} from "../../src/quantity";
import { isBig, told, troubleOf } from "./writing";

const ROOM = 2 ** 49;

/** A decimal as a person types it: up to `digits` digits and up to `decimals` of them behind the point. */
const typed = (digits: number, decimals: number): fc.Arbitrary<string> =>
  fc
    .tuple(
      fc.boolean(),
      fc.bigInt({ min: 0n, max: 10n ** BigInt(digits) - 1n }),
      fc.integer({ min: 0, max: decimals }),
    )
    .map(([minus, mantissa, dp]) => {
      const text = mantissa.toString().padStart(dp + 1, "0");
      const number = dp === 0 ? text : `${text.slice(0, -dp)}.${text.slice(-dp)}`;
      return minus && mantissa !== 0n ? `-${number}` : number;
    });

/** What must hold of every exact number. */
function expectSound(n: Num): void {
  expect(n.v).toBe(Number(toBig(n).toString()));
  expect(Object.is(n.v, -0)).toBe(false);
  if (n.big !== undefined) {
    const beyond = Math.abs(n.v) * 10 ** n.dp > ROOM || n.dp > 22;
    expect(beyond).toBe(true);
  } else {
    expect(Math.abs(n.v) * 10 ** n.dp).toBeLessThanOrEqual(ROOM);
  }
}

describe("a typed number", () => {
  it("keeps the decimals that were typed", () => {
    expect(exact("12.50")).toMatchObject({ v: 12.5, dp: 2 });
    expect(exact("7")).toMatchObject({ v: 7, dp: 0 });
    expect(exact("-0.125")).toMatchObject({ v: -0.125, dp: 3 });
    expect(exact("1.5e3")).toMatchObject({ v: 1500, dp: 0 });
    expect(exact("2e-3")).toMatchObject({ v: 0.002, dp: 3 });
  });
  it("has no negative zero", () => {
    expect(Object.is(exact("-0.0").v, 0)).toBe(true);
    expect(Object.is(negateNum(exact("0")).v, 0)).toBe(true);
    expect(Object.is(multiplyNum(exact("0"), exact("-3")).v, 0)).toBe(true);
    expect(Object.is(approximate(-0).v, 0)).toBe(true);
  });
  it("may have 34 digits and no more", () => {
    const longest = "1234567890123456789012345678901234";
    expect(toBig(exact(longest)).toFixed()).toBe(longest);
    expect(toBig(exact(`0.000${longest}`)).toFixed()).toBe(`0.000${longest}`);
    expect(troubleOf(() => exact(`${longest}5`))).toMatchObject({ code: "number-too-long" });
    expect(troubleOf(() => exact(`${longest}5`)).says).toContain("34");
    expect(exact("000000000000000000000000000000000000000001.5").v).toBe(1.5);
  });
  it.each(["", ".5", "1,5", "1 000", "½", "0x10", "1e", "Infinity", "NaN", "__proto__"])(
    "is not %j",
    (text) => {
      expect(troubleOf(() => exact(text)).code).toBe("number-unreadable");
    },
  );
  it("stays inside the range of doubles", () => {
    expect(troubleOf(() => exact("1e400")).code).toBe("overflow");
    expect(troubleOf(() => exact("1e-400")).code).toBe("overflow");
    expect(exact("0e999").v).toBe(0);
    expect(exact("0e-999").v).toBe(0);
    expect(isExact(exact("1e300"))).toBe(true);
  });
  it("carries its decimal exactly when the double and the decimals do not determine it", () => {
    expect(isBig(exact("562949953421312"))).toBe(false);
    expect(isBig(exactInteger(562949953421312))).toBe(false);
    expect(isBig(exactInteger(-562949953421313))).toBe(true);
    expect(isBig(exact("562949953421313"))).toBe(true);
    expect(isBig(exact("0.562949953421312"))).toBe(false);
    expect(isBig(exact("56294995342131.3"))).toBe(true);
    expect(isBig(exact("0.00000000000000000000001"))).toBe(true);
    fc.assert(
      fc.property(typed(34, 30), (text) => {
        const n = exact(text);
        expectSound(n);
        expect(toBig(n).eq(new Big(text))).toBe(true);
      }),
    );
  });
});

describe("arithmetic of decimals", () => {
  it.each([
    ["0.1 + 0.2", addNum(exact("0.1"), exact("0.2")), "0.3"],
    ["0.3 - 0.1", subtractNum(exact("0.3"), exact("0.1")), "0.2"],
    ["4.35 * 100", multiplyNum(exact("4.35"), exact("100")), "435"],
    ["1.1 * 1.1", multiplyNum(exact("1.1"), exact("1.1")), "1.21"],
    ["1e30 + 0.001", addNum(exact("1e30"), exact("0.001")), "1000000000000000000000000000000.001"],
  ])("%s is exact", (_, n, result) => {
    expect(isExact(n)).toBe(true);
    expect(toBig(n).toFixed()).toBe(result);
  });

  interface Tree {
    readonly n: Num;
    readonly big: Big;
    /** Most digits that any step of the oracle needed. */
    readonly digits: number;
  }
  const { tree } = fc.letrec<{ tree: Tree; leaf: Tree; node: Tree }>((tie) => ({
    leaf: typed(9, 6).map((text) => ({ n: exact(text), big: new Big(text), digits: 9 })),
    node: fc.tuple(fc.constantFrom("+", "-", "*"), tie("tree"), tie("tree")).map(([operator, a, b]) => {
      const n =
        operator === "+"
          ? addNum(a.n, b.n)
          : operator === "-"
            ? subtractNum(a.n, b.n)
            : multiplyNum(a.n, b.n);
      const big =
        operator === "+" ? a.big.plus(b.big) : operator === "-" ? a.big.minus(b.big) : a.big.times(b.big);
      return { n, big, digits: Math.max(a.digits, b.digits, big.c.length) };
    }),
    tree: fc.oneof({ depthSize: "medium" }, tie("leaf"), tie("node")),
  }));
  it("agrees with big.js for every formula of + - * on typed decimals", () => {
    let deep = 0;
    fc.assert(
      fc.property(tree, ({ n, big, digits }) => {
        if (digits <= 34) {
          expect(isExact(n)).toBe(true);
          expect(toBig(n).eq(big)).toBe(true);
          expectSound(n);
          if (digits > 15) deep++;
        } else if (isExact(n)) {
          // A step was approximate, and an approximate number never becomes exact again by itself: only 0 * x may.
          expect(n.v).toBe(Number(big.toString()));
        }
      }),
      { numRuns: 3000 },
    );
    // The sample must reach beyond what doubles hold, or it shows nothing.
    expect(deep).toBeGreaterThan(50);
  });

  it("is exact where large products nearly cancel, below, at and beyond 2^49", () => {
    const power = fc.integer({ min: 44, max: 62 });
    fc.assert(
      fc.property(
        power,
        fc.bigInt({ min: 2n ** 15n, max: 2n ** 24n }),
        fc.integer({ min: 0, max: 6 }),
        fc.integer({ min: 0, max: 6 }),
        fc.bigInt({ min: -3n, max: 3n }),
        (bits, factor, dpA, dpB, step) => {
          const other = 2n ** BigInt(bits) / factor;
          const a = new Big(factor.toString()).times(`1e-${dpA}`);
          const b = new Big(other.toString()).times(`1e-${dpB}`);
          const product = a.times(b);
          const near = product.plus(new Big(step.toString()).times(`1e-${dpA + dpB}`));
          const n = subtractNum(multiplyNum(exact(a.toFixed()), exact(b.toFixed())), exact(near.toFixed()));
          expect(isExact(n)).toBe(true);
          expect(toBig(n).eq(product.minus(near))).toBe(true);
          expectSound(n);
        },
      ),
      { numRuns: 3000 },
    );
  });

  it("becomes approximate when a result would need more than 34 digits", () => {
    const long = exact("1.2345678901234567");
    const square = multiplyNum(long, long);
    expect(isExact(square)).toBe(true);
    const fourth = multiplyNum(square, long);
    expect(fourth.dp).toBe(APPROXIMATE);
    expect(fourth.v).toBeCloseTo(1.2345678901234567 ** 3, 14);
  });

  it("tells overflow and not-a-number", () => {
    expect(troubleOf(() => multiplyNum(exact("1e300"), exact("1e300"))).code).toBe("overflow");
    expect(troubleOf(() => approximate(Number.NaN)).code).toBe("not-a-number");
    expect(troubleOf(() => approximate(Number.NEGATIVE_INFINITY)).code).toBe("overflow");
    expect(told(() => approximate(Number.POSITIVE_INFINITY))).toContain("division by something close to 0");
    expect(told(() => powerNum(exact("-8"), exact("0.5")))).toContain("before the `^`");
    expect(told(() => approximate(Number.NaN))).toContain("logarithm of a negative number");
  });
});

describe("the sum of many", () => {
  const list = fc.array(typed(12, 8), { minLength: 1, maxLength: 60 });
  it("is exact whatever the order", () => {
    fc.assert(
      fc.property(list, fc.infiniteStream(fc.nat()), (texts, keys) => {
        const oracle = texts.reduce((sum, text) => sum.plus(text), new Big(0));
        const shuffled = texts
          .map((text): [number, string] => [keys.next().value!, text])
          .sort(([a], [b]) => a - b)
          .map(([, text]) => text);
        for (const order of [texts, shuffled]) {
          const n = sumNum(order.map(exact));
          expect(isExact(n)).toBe(true);
          expect(toBig(n).eq(oracle)).toBe(true);
          expectSound(n);
        }
      }),
      { numRuns: 500 },
    );
  });
  it("is exact where single steps leave the room of doubles", () => {
    const big = fc.oneof(typed(17, 3), typed(30, 12), typed(4, 4));
    fc.assert(
      fc.property(fc.array(big, { minLength: 1, maxLength: 40 }), (texts) => {
        const oracle = texts.reduce((sum, text) => sum.plus(text), new Big(0));
        const n = sumNum(texts.map(exact));
        if (oracle.c.length <= 34) expect(toBig(n).eq(oracle)).toBe(true);
        else expect(n.v).toBe(Number(oracle.toString()));
      }),
      { numRuns: 500 },
    );
  });
  it("is exact where whole numbers meet decimals that leave no room for them", () => {
    for (const [texts, total] of [
      [["281474976710657", "0.001"], "281474976710657.001"],
      [["-281474976710657", "-0.001"], "-281474976710657.001"],
      [["281474976710657", "-0.001"], "281474976710656.999"],
      [["562949953421312", "-562949953421312", "0.1"], "0.1"],
    ] as const) {
      expect(toBig(sumNum(texts.map(exact))).toFixed()).toBe(total);
    }
  });
  it("carries the rounding of approximate numbers along", () => {
    const parts = [1, 1e100, 1, -1e100].map(approximate);
    expect(sumNum(parts).v).toBe(2);
    expect(sumNum(parts).dp).toBe(APPROXIMATE);
    expect(sumNum([exact("0.1"), approximate(1), exact("0.2")]).v).toBe(1.3);
  });
  it("of nothing is 0", () => {
    expect(sumNum([])).toMatchObject({ v: 0, dp: 0 });
  });
});

describe("division and powers", () => {
  it("are approximate", () => {
    expect(divideNum(exact("1"), exact("4"))).toMatchObject({ v: 0.25, dp: APPROXIMATE });
    expect(powerNum(exact("2"), exact("3"))).toMatchObject({ v: 8, dp: APPROXIMATE });
  });
  it("stay exact for a literal divisor that is a power of ten", () => {
    expect(divideNum(exact("12.5"), exact("100"), true)).toMatchObject({ v: 0.125, dp: 3 });
    expect(divideNum(exact("12.5"), exact("0.01"), true)).toMatchObject({ v: 1250, dp: 0 });
    expect(divideNum(exact("12.5"), exact("1.00"), true).dp).toBe(1);
    expect(divideNum(exact("12.5"), exact("20"), true).dp).toBe(APPROXIMATE);
    expect(divideNum(exact("12.5"), exact("100"), false).dp).toBe(APPROXIMATE);
    expect(divideNum(approximate(12.5), exact("100"), true).dp).toBe(APPROXIMATE);
  });
  it("know a power of ten", () => {
    for (const [text, power] of [
      ["1", 0],
      ["1000", 3],
      ["0.001", -3],
      ["1.0", 0],
      ["1e25", 25],
      ["1e-25", -25],
    ] as const) {
      expect(powerOfTen(exact(text))).toBe(power);
    }
    for (const text of ["0", "2", "20", "-10", "0.5", "11"]) expect(powerOfTen(exact(text))).toBeNaN();
    expect(powerOfTen(approximate(10))).toBeNaN();
  });
  it("have no result for 0 and for roots of negatives", () => {
    expect(troubleOf(() => divideNum(exact("1"), exact("0"))).code).toBe("division-by-zero");
    expect(troubleOf(() => divideNum(exact("0"), exact("0"))).code).toBe("division-by-zero");
    expect(troubleOf(() => powerNum(exact("0"), exact("-1"))).code).toBe("division-by-zero");
    expect(troubleOf(() => powerNum(exact("-8"), exact("0.5"))).code).toBe("not-a-number");
    expect(troubleOf(() => powerNum(exact("10"), exact("400"))).code).toBe("overflow");
    expect(powerNum(exact("0"), exact("0")).v).toBe(1);
  });
  it("raise whole powers by multiplying, near to the library's", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.integer({ min: -20, max: 20 }),
        (base, n) => {
          expect(Math.abs(raise(base, n) / base ** n - 1)).toBeLessThan(1e-14);
        },
      ),
    );
    expect(raise(-2, 3)).toBe(-8);
    expect(raise(2, 0.5)).toBe(2 ** 0.5);
  });
});

describe("scaling", () => {
  const factors = [
    "1000",
    "0.001",
    "28.349523125",
    "0.45359237",
    "3785.411784",
    "133.322387415",
    "60",
    "1.8",
  ];
  it("by a decimal factor is exact", () => {
    fc.assert(
      fc.property(typed(12, 6), fc.constantFrom(...factors), (text, factor) => {
        const n = scaleNum(exact(text), ratioOf(factor));
        expect(toBig(n).eq(new Big(text).times(factor))).toBe(true);
        expectSound(n);
      }),
      { numRuns: 1000 },
    );
  });
  it("by a factor that never ends is approximate", () => {
    const n = scaleNum(exact("9"), ratio(5, 9));
    expect(n).toMatchObject({ v: 5, dp: APPROXIMATE });
  });
  it("there and back by a power of ten leaves the decimals as they were", () => {
    fc.assert(
      fc.property(typed(12, 6), fc.integer({ min: -12, max: 12 }), (text, power) => {
        const n = exact(text);
        const back = shiftNum(shiftNum(n, power), -power);
        expect(toBig(back).eq(toBig(n))).toBe(true);
        expectSound(shiftNum(n, power));
      }),
    );
    expect(shiftNum(exact("2.4"), 3)).toMatchObject({ v: 2400, dp: 0 });
    expect(shiftNum(exact("2400"), -3)).toMatchObject({ v: 2.4, dp: 3 });
  });
});

describe("comparing and cutting", () => {
  it("orders exact numbers exactly", () => {
    const pair = fc.oneof(typed(20, 10), typed(6, 4));
    fc.assert(
      fc.property(pair, pair, (a, b) => {
        expect(compareNum(exact(a), exact(b))).toBe(new Big(a).cmp(b));
        expect(compareNum(exact(a), exact(a))).toBe(0);
      }),
      { numRuns: 1000 },
    );
    expect(compareNum(exact("9007199254740993"), exact("9007199254740992"))).toBe(1);
    // The longer one on either side, its double the same as the other's.
    expect(compareNum(exact("0.50000000000000001"), exact("0.5"))).toBe(1);
    expect(compareNum(exact("0.5"), exact("0.50000000000000001"))).toBe(-1);
  });
  it("orders an exact number and an approximate one as doubles", () => {
    expect(compareNum(exact("9007199254740993"), approximate(9007199254740992))).toBe(0);
    expect(compareNum(approximate(9007199254740992), exact("9007199254740993"))).toBe(0);
    expect(compareNum(approximate(2), exact("9007199254740993"))).toBe(-1);
  });
  it("orders neighbours that differ in one last digit", () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 1n, max: 2n ** 53n }), fc.integer({ min: 0, max: 12 }), (mantissa, dp) => {
        const a = fromBig(new Big(mantissa.toString()).times(`1e-${dp}`));
        const b = fromBig(new Big((mantissa + 1n).toString()).times(`1e-${dp}`));
        expect(compareNum(a, b)).toBe(-1);
        expect(compareNum(b, a)).toBe(1);
      }),
    );
  });
  it("gives whole numbers below, above and nearest", () => {
    const whole = (text: string, way: "down" | "up" | "nearest"): number => wholeNum(exact(text), way).v;
    expect([whole("2.7", "down"), whole("2.7", "up"), whole("2.7", "nearest")]).toEqual([2, 3, 3]);
    expect([whole("-2.7", "down"), whole("-2.7", "up"), whole("-2.5", "nearest")]).toEqual([-3, -2, -3]);
    expect([whole("3", "down"), whole("3.00", "up"), whole("2.5", "nearest")]).toEqual([3, 3, 3]);
    expect(wholeNum(divideNum(exact("0.3"), exact("0.1")), "down")).toMatchObject({ v: 3, dp: 0 });
    expect(wholeNum(approximate(3.0000000001), "up").v).toBe(3);
    expect(wholeNum(approximate(3.001), "up").v).toBe(4);
    expect(wholeNum(approximate(-2.5), "nearest").v).toBe(-3);
    expect(wholeNum(exact("2.9999999999999996"), "down").v).toBe(2);
  });
  it("gives a number as a fraction of whole numbers", () => {
    expect(fractionOf(exact("-12.50"))).toEqual({ num: -125n, den: 10n });
    expect(fractionOf(exactInteger(1200))).toEqual({ num: 1200n, den: 1n });
    expect(fractionOf(exact("0"))).toEqual({ num: 0n, den: 1n });
  });
});
