import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Composition,
  compose,
  type Mix,
  type Stock,
  type Target,
  type Task,
} from "../../src/matter/composition";
import { best, nearestTo, reach, worthOf } from "../../src/matter/linear";
import { massFraction, spiritDensity, volumeFraction } from "../../src/matter/spirit";
import { ethanolAtMost, strengthOfSweet, sweetDensity } from "../../src/matter/sweet";
import { Trouble } from "../../src/quantity/trouble";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const L = 1e-3;

const stock = (name: string, most: number, ethanol: number, solids = 0): Stock => ({
  name,
  most,
  ethanol,
  solids,
});
const strengthTarget = (stocks: readonly Stock[], q: number, high = q): Target => ({
  name: "to_strength",
  of: stocks.map((s) => s.ethanol),
  bounds: () => [massFraction(q), massFraction(high)],
  show: (e) => `${(100 * volumeFraction(e)).toFixed(3)} %vol`,
});
const taskOf = (stocks: readonly Stock[], targets: readonly Target[], rest: Partial<Task> = {}): Task => ({
  stocks,
  targets,
  total: { volume: L },
  density: sweetDensity,
  objective: { type: "wish", shares: stocks.map(() => 1 / stocks.length) },
  showTotal: (kg: number, mix: Mix) => `${((kg / mix.density) * 1000).toFixed(3)} L`,
  showStock: (i) => `${stocks[i]!.most.toFixed(3)} kg`,
  ...rest,
});
const sum = (x: readonly number[]): number => x.reduce((a, b) => a + b, 0);
const trouble = (f: () => unknown): Trouble => {
  try {
    f();
  } catch (error) {
    if (error instanceof Trouble) return error;
    throw error;
  }
  throw new Error("no trouble");
};
const attempt = (task: Task): Composition | undefined => {
  try {
    return compose(task);
  } catch (error) {
    if (error instanceof Trouble) return undefined;
    throw error;
  }
};

const cellar = [
  stock("strong", 0.6, massFraction(0.96)),
  stock("middle", 0.8, massFraction(0.4)),
  stock("water", 2, 0),
];

const stocksOf = fc.array(
  fc.record({ most: between(0.05, 1.5), ethanol: between(0, 0.9), price: between(0.5, 30) }),
  { minLength: 2, maxLength: 8 },
);

describe("a blend of several stocks", () => {
  it("balances mass and alcohol to 1e-9, meets the volume asked for, and takes no more than there is", () => {
    let made = 0;
    fc.assert(
      fc.property(stocksOf, between(0.05, 0.95), between(0.1, 0.9), (rows, along, part) => {
        const stocks = rows.map((r, i) => stock(`s${i}`, r.most, r.ethanol));
        const ethanols = stocks.map((s) => s.ethanol);
        const q = volumeFraction(
          Math.min(...ethanols) + along * (Math.max(...ethanols) - Math.min(...ethanols)),
        );
        const litres = part * sum(stocks.map((s) => s.most));
        const found = attempt(
          taskOf(stocks, [strengthTarget(stocks, q)], {
            total: { volume: litres * L },
            objective: { type: "cost", per: rows.map((r) => r.price) },
          }),
        );
        if (found === undefined) return;
        made++;
        const mass = sum(found.masses);
        const alcohol = sum(found.masses.map((m, i) => m * stocks[i]!.ethanol));
        expect(Math.abs(mass / spiritDensity(massFraction(q)) / (litres * L) - 1)).toBeLessThan(1e-9);
        expect(Math.abs(alcohol / mass - massFraction(q))).toBeLessThan(1e-9);
        found.masses.forEach((m, i) => {
          expect(m).toBeGreaterThanOrEqual(0);
          expect(m).toBeLessThanOrEqual(stocks[i]!.most * (1 + 1e-9));
        });
      }),
      { numRuns: 300 },
    );
    expect(made).toBeGreaterThan(60);
  });

  it("is the cheapest: no shift between any three stocks that keeps the target is cheaper", () => {
    let made = 0;
    fc.assert(
      fc.property(stocksOf, between(0.1, 0.8), (rows, share) => {
        const stocks = rows.map((r, i) => stock(`s${i}`, r.most, r.ethanol));
        const ethanols = stocks.map((s) => s.ethanol);
        const q = volumeFraction(
          Math.min(...ethanols) + share * (Math.max(...ethanols) - Math.min(...ethanols)),
        );
        const found = attempt(
          taskOf(stocks, [strengthTarget(stocks, q)], {
            total: { mass: 0.5 },
            objective: { type: "cost", per: rows.map((r) => r.price) },
          }),
        );
        if (found === undefined) return;
        made++;
        const cost = sum(found.masses.map((m, i) => m * rows[i]!.price));
        // A direction that keeps mass and alcohol: for three stocks it is unique.
        for (let a = 0; a < stocks.length; a++) {
          for (let b = 0; b < stocks.length; b++) {
            for (let c = 0; c < stocks.length; c++) {
              if (a === b || b === c || a === c) continue;
              const [ea, eb, ec] = [ethanols[a]!, ethanols[b]!, ethanols[c]!];
              const d = [eb - ec, ec - ea, ea - eb] as const;
              const step = 1e-4;
              const moved = found.masses.slice();
              moved[a]! += step * d[0];
              moved[b]! += step * d[1];
              moved[c]! += step * d[2];
              if (moved.some((m, i) => m < 0 || m > stocks[i]!.most)) continue;
              expect(sum(moved.map((m, i) => m * rows[i]!.price))).toBeGreaterThanOrEqual(cost - 1e-8);
            }
          }
        }
      }),
      { numRuns: 150 },
    );
    expect(made).toBeGreaterThan(50);
  });

  it("does not care about the order of the stocks, nor about the size of the batch", () => {
    fc.assert(
      fc.property(stocksOf, between(0.1, 0.6), between(2, 50), (rows, q, times) => {
        const stocks = rows.map((r, i) => stock(`s${i}`, r.most, r.ethanol));
        const per = rows.map((r) => r.price);
        const one = attempt(
          taskOf(stocks, [strengthTarget(stocks, q)], { objective: { type: "cost", per } }),
        );
        if (one === undefined) return;
        const cost = (c: Composition, p: readonly number[]): number => sum(c.masses.map((m, i) => m * p[i]!));
        const back = stocks.slice().reverse();
        const turned = compose(
          taskOf(back, [strengthTarget(back, q)], {
            objective: { type: "cost", per: per.slice().reverse() },
          }),
        );
        expect(cost(turned, per.slice().reverse()) / cost(one, per)).toBeCloseTo(1, 7);
        const large = stocks.map((s) => ({ ...s, most: s.most * times }));
        const many = compose(
          taskOf(large, [strengthTarget(large, q)], {
            objective: { type: "cost", per },
            total: { volume: times * L },
          }),
        );
        expect(cost(many, per) / cost(one, per) / times).toBeCloseTo(1, 7);
      }),
      { numRuns: 100 },
    );
  });

  it("settles with sugar and strength by volume together: made to 1e-9, or refused for a reason", () => {
    const row = fc.record({
      most: between(0.05, 1.5),
      alcohol: between(0, 0.9),
      sugar: fc.oneof(fc.constant(0), between(0, 0.7)),
      price: between(0, 30),
    });
    let made = 0;
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 0, maxLength: 8 }),
        between(0.05, 0.6),
        between(0.02, 0.3),
        fc.constantFrom(0, 0.1),
        between(0.2, 2),
        fc.boolean(),
        (rows, q, w, wide, litres, cheap) => {
          const stocks = [
            ...rows.map((r, i) => stock(`s${i}`, r.most, (1 - r.sugar) * r.alcohol, r.sugar)),
            stock("spirit", 0.8, 0.93),
            stock("syrup", 0.4, 0, 0.65),
            stock("water", 0.5, 0),
          ];
          const strength: Target = {
            name: "to_strength",
            of: stocks.map((s) => s.ethanol),
            bounds: (mix) => [ethanolAtMost(q, mix.solids), ethanolAtMost(q + wide, mix.solids)],
            show: (e, mix) => String(strengthOfSweet(e, mix.solids)),
          };
          const sweet: Target = {
            name: "to_solids",
            of: stocks.map((s) => s.solids),
            bounds: () => [w, w + wide],
            show: (s) => String(s),
          };
          const per = [...rows.map((r) => r.price), 15, 2, 0];
          const task = taskOf(stocks, [strength, sweet], {
            total: { volume: litres * L },
            ...(cheap ? { objective: { type: "cost", per } as const } : {}),
          });
          let found: Composition;
          try {
            found = compose(task);
          } catch (error) {
            expect((error as Trouble).code).toMatch(/^(target-impossible|targets-conflict|too-little)$/u);
            return;
          }
          made++;
          const mass = sum(found.masses);
          const e = sum(found.masses.map((m, i) => m * stocks[i]!.ethanol)) / mass;
          const s = sum(found.masses.map((m, i) => m * stocks[i]!.solids)) / mass;
          expect(Math.abs(mass / sweetDensity(e, s) / (litres * L) - 1)).toBeLessThan(1e-9);
          expect(strengthOfSweet(e, s)).toBeGreaterThan(q - 1e-9);
          expect(strengthOfSweet(e, s)).toBeLessThan(q + wide + 1e-9);
          expect(s).toBeGreaterThan(w - 1e-9);
          expect(s).toBeLessThan(w + wide + 1e-9);
        },
      ),
      { numRuns: 500 },
    );
    expect(made).toBeGreaterThan(100);
  });

  it("is not led astray by many stocks that are alike to the last digit", () => {
    const alike = Array.from({ length: 5 }, (_, i) => stock(`water ${i}`, 0.05, i === 4 ? 1e-14 : 0));
    const stocks = [
      ...alike,
      stock("spirit", 0.8, 0.93),
      stock("syrup", 0.4, 0, 0.65),
      stock("water", 0.5, 0),
    ];
    const exact = (name: string, of: readonly number[], v: number): Target => ({
      name,
      of,
      bounds: () => [v, v],
      show: String,
    });
    const targets = [
      exact(
        "to_strength",
        stocks.map((s) => s.ethanol),
        0.32,
      ),
      exact(
        "to_solids",
        stocks.map((s) => s.solids),
        0.19893609412340654,
      ),
    ];
    const found = compose(taskOf(stocks, targets, { total: { volume: 0.2 * L } }));
    expect(found.mix.ethanol).toBeCloseTo(0.32, 9);
    expect(found.mix.solids).toBeCloseTo(0.19893609412340654, 9);
  });

  it("gives the wish itself when the wish is possible", () => {
    const shares = [0.2, 0.3, 0.5];
    const found = compose(taskOf(cellar, [], { total: { mass: 1 }, objective: { type: "wish", shares } }));
    found.masses.forEach((m, i) => {
      expect(m).toBeCloseTo(shares[i]!, 9);
    });
    expect(found.limitedBy).toEqual([]);
  });

  it("takes a wish by volume when the total is a volume: shares of the parts before they contract", () => {
    const found = compose(
      taskOf(cellar, [strengthTarget(cellar, 0.4)], { objective: { type: "wish", shares: [0, 1, 0] } }),
    );
    expect(found.masses[1]! / spiritDensity(massFraction(0.4)) / L).toBeCloseTo(0.8439, 3);
    expect(found.limitedBy.join()).toContain("middle");
  });

  it("uses all of everything when that is just what is wanted", () => {
    const mass = sum(cellar.map((s) => s.most));
    const found = compose(taskOf(cellar, [], { total: { mass } }));
    found.masses.forEach((m, i) => {
      expect(m).toBeCloseTo(cellar[i]!.most, 9);
    });
  });

  it("keeps a range, and says at which end it stands", () => {
    const per = [20, 9, 0];
    const found = compose(
      taskOf(cellar, [strengthTarget(cellar, 0.38, 0.45)], { objective: { type: "cost", per } }),
    );
    expect(volumeFraction(found.mix.ethanol)).toBeCloseTo(0.38, 9);
    expect(found.limitedBy).toEqual(["to_strength at its least, 38.000 %vol"]);
  });

  it("gives the same bits each time", () => {
    const task = taskOf(cellar, [strengthTarget(cellar, 0.42)], {
      objective: { type: "cost", per: [20, 9, 0] },
    });
    expect(compose(task)).toEqual(compose(task));
  });
});

describe("a blend that cannot be", () => {
  it("names the target, the span that is possible, and the nearest, which then is possible", () => {
    const said = trouble(() => compose(taskOf(cellar, [strengthTarget(cellar, 0.9)])));
    expect(said.code).toBe("target-impossible");
    expect(said.says).toMatch(/to_strength stands in the way.*from 0\.000 %vol to 82\.035 %vol/u);
    const nearest = Number(/is ([\d.]+) %vol/u.exec(said.help!)![1]) / 100;
    expect(attempt(taskOf(cellar, [strengthTarget(cellar, nearest - 1e-5)]))).toBeDefined();
    expect(attempt(taskOf(cellar, [strengthTarget(cellar, nearest + 1e-4)]))).toBeUndefined();
  });

  it("that fails only by two targets together, offers the nearest of each", () => {
    const stocks = [stock("spirit", 1, 0.5), stock("syrup", 0.3, 0, 0.65), stock("water", 5, 0)];
    const solidsTarget = (w: number): Target => ({
      name: "to_solids",
      of: stocks.map((s) => s.solids),
      bounds: () => [w, w],
      show: (x) => `${(100 * x).toFixed(4)} °Bx`,
    });
    const byMass = (e: number): Target => ({
      name: "to_strength",
      of: stocks.map((s) => s.ethanol),
      bounds: () => [e, e],
      show: (x) => `${(100 * x).toFixed(4)} %mas`,
    });
    const asked = (e: number, w: number): Task =>
      taskOf(stocks, [byMass(e), solidsTarget(w)], { total: { mass: 1 } });
    const said = trouble(() => compose(asked(0.4, 0.19)));
    expect(said.help).toBe(
      "The nearest that is possible: to_strength 35.3846 %mas, or to_solids 13.0000 °Bx.",
    );
    expect(attempt(asked(0.353846, 0.19))).toBeDefined();
    expect(attempt(asked(0.4, 0.13))).toBeDefined();
  });

  it("says so when no single target is to blame", () => {
    const stocks = [stock("a", 1, 0.5, 0.1), stock("b", 1, 0.1, 0.1)];
    const fixed = (name: string, of: readonly number[], v: number): Target => ({
      name,
      of,
      bounds: () => [v, v],
      show: (x) => String(x),
    });
    const said = trouble(() =>
      compose(
        taskOf(
          stocks,
          [
            fixed("to_strength", [0.5, 0.1], 0.2),
            fixed("to_solids", [0.5, 0.1], 0.3),
            fixed("to_content", [0.5, 0.1], 0.4),
          ],
          { total: { mass: 1 } },
        ),
      ),
    );
    expect(said.code).toBe("targets-conflict");
    expect(said.says).toContain("to_strength, to_solids, to_content");
  });

  it("says how much there is when it is too little, contraction counted", () => {
    const said = trouble(() => compose(taskOf(cellar, [], { total: { volume: 5 * L } })));
    expect(said.code).toBe("too-little");
    expect(said.says).toMatch(/come to 3\.\d+ L in all, and 5\.000 L is wanted/u);
  });

  it("refuses nothing, negative stocks and no stocks", () => {
    expect(trouble(() => compose(taskOf(cellar, [], { total: { mass: 0 } }))).code).toBe("out-of-range");
    expect(trouble(() => compose(taskOf([stock("a", -1, 0)], []))).says).toContain("less than none of a");
    expect(trouble(() => compose(taskOf([], []))).code).toBe("no-stocks");
    expect(trouble(() => compose(taskOf([stock("a", 0, 0)], []))).says).toContain("nothing in stock");
  });
});

describe("the linear program", () => {
  it("misses nothing that is inside the reach, and everything outside", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(between(0.05, 1), between(0, 1)), { minLength: 2, maxLength: 10 }),
        between(-0.2, 1.2),
        (rows, along) => {
          const caps = rows.map(([cap]) => cap);
          if (sum(caps) < 1) return;
          const of = rows.map(([, v]) => v);
          const [low, high] = reach(of, { caps, bounds: [] });
          if (high - low < 1e-6) return;
          const target = low + along * (high - low);
          const { miss } = nearestTo({ caps, bounds: [{ of, low: target, high: target }] });
          if (along > 1e-6 && along < 1 - 1e-6) expect(miss).toBe(0);
          if (along < -1e-6 || along > 1 + 1e-6) expect(miss).toBeGreaterThan(0);
        },
      ),
    );
  });
  it("reaches the same best as all corners tried one by one", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(between(0.2, 1), between(0, 1), between(0, 10)), { minLength: 3, maxLength: 6 }),
        (rows) => {
          const caps = rows.map(([cap]) => cap);
          const of = rows.map(([, v]) => v);
          const per = rows.map(([, , c]) => c);
          if (sum(caps) < 1.01) return;
          const [low, high] = reach(of, { caps, bounds: [] });
          if (high - low < 0.05) return;
          const goal = (low + high) / 2;
          const found = best({ caps, bounds: [{ of, low: goal, high: goal }] }, { type: "cost", per });
          expect(worthOf(found.x, { type: "cost", per })).toBeCloseTo(cornerCost(caps, of, per, goal), 6);
        },
      ),
      { numRuns: 60 },
    );
  });
});

/** Least cost over all corners: every stock but two stands at nothing or at its cap, the two meet sum and goal. */
function cornerCost(
  caps: readonly number[],
  of: readonly number[],
  per: readonly number[],
  goal: number,
): number {
  const n = caps.length;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      for (let mask = 0; mask < 1 << n; mask++) {
        if (mask & (1 << i) || mask & (1 << j)) continue;
        const x = caps.map((cap, k) => (mask & (1 << k) ? cap : 0));
        const rest = 1 - sum(x);
        const need = goal - sum(x.map((v, k) => v * of[k]!));
        const det = of[j]! - of[i]!;
        if (Math.abs(det) < 1e-9) continue;
        x[i] = (rest * of[j]! - need) / det;
        x[j] = (need - rest * of[i]!) / det;
        if (x.some((v, k) => v < -1e-9 || v > caps[k]! + 1e-9)) continue;
        least = Math.min(least, sum(x.map((v, k) => v * per[k]!)));
      }
    }
  }
  return least;
}
