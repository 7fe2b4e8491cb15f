import { describe, expect, it } from "vitest";
import { ethanolReads, saltReads } from "../../src/matter/misreading";
import {
  acidCorrected,
  indexFromSolids,
  readingCorrection,
  solidsFromIndex,
  syrupDensity,
} from "../../src/matter/sugar";
import solutions from "./points/solutions.json";

/** IAPWS-95 at 1 atm, kg/m3, computed here with the open library `iapws`. */
const IAPWS: readonly (readonly [number, number])[] = [
  [5, 999.9666],
  [10, 999.7025],
  [15, 999.1026],
  [20, 998.2072],
  [25, 997.0476],
  [30, 995.6495],
  [40, 992.2164],
  [50, 988.035],
  [60, 983.1958],
  [70, 977.7646],
  [80, 971.7904],
];

const at = (t: number): number => 273.15 + t;

describe("sugar, computed outside this project (Python, the same equations)", () => {
  it("has the density of the table at 20 °C", () => {
    for (const [brix, density] of [
      [0, 998.203],
      [10, 1038.115],
      [20, 1080.977],
      [30, 1127.032],
      [40, 1176.518],
      [50, 1229.654],
      [60, 1286.611],
      [70, 1347.478],
      [80, 1412.2],
      [85, 1445.938],
    ] as const) {
      expect(syrupDensity(brix / 100)).toBeCloseTo(density, 3);
    }
  });

  it("adds -0.34 °Bx at 15 °C to 20 °Bx and 0.20, 0.97, 1.91 °Bx for 1, 5, 10 % acid", () => {
    expect(100 * readingCorrection(0.2, at(15))).toBeCloseTo(-0.33, 2);
    for (const [acid, add] of [
      [0.01, 0.2],
      [0.05, 0.97],
      [0.1, 1.91],
    ] as const) {
      expect(100 * (acidCorrected(0.1, acid) - 0.1)).toBeCloseTo(add, 2);
    }
  });

  it("has water 0.003 to 0.006 kg/m3 below IAPWS-95 from 5 to 80 °C", () => {
    for (const [t, iapws] of IAPWS) {
      const off = syrupDensity(0, at(t)) - iapws;
      expect(off).toBeGreaterThan(-0.006);
      expect(off).toBeLessThan(-0.0025);
    }
  });
});

// CRC indices of brine and of ethanol in water (points/solutions.json), read on the sugar scale; some were also
// computed outside this project: salt 1, 10, 16 % as 1.2, 11.7, 18.4 °Bx, ethanol 1, 5, 10, 20, 30, 40 % as
// 0.43, 2.1, 4.5, 9.4, 13.6, 16.6 °Bx.
describe("what misleads a refractometer", () => {
  for (const [solute, reads] of [
    ["salt", saltReads],
    ["ethanol", ethanolReads],
  ] as const) {
    it(`is ${solute}, by what its index reads, within 0.15 °Bx`, () => {
      const rows = solutions.rows.filter((r) => r.solute === solute && r.nD !== null && r.mass_pct <= 40);
      expect(rows.length).toBeGreaterThan(20);
      for (const row of rows) {
        expect(Math.abs(100 * (reads(row.mass_pct / 100) - solidsFromIndex(row.nD!)))).toBeLessThan(0.15);
      }
    });
  }
});

describe("sugar, against a published inverse", () => {
  // 11758.74 n^5 - … seen at liquisearch.com/brix/tables: right in shape, but rounding of its coefficients shifts it by
  // -0.015 (below 5 °Bx) to -0.026 °Bx (near 84), so it serves only as a check of the shape.
  const published = (n: number): number =>
    ((((11758.74 * n - 88885.21) * n + 270177.93) * n - 413145.8) * n + 318417.95) * n - 99127.4536;

  it("keeps nearly one distance to it everywhere", () => {
    for (let brix = 1; brix <= 84; brix++) {
      const n = indexFromSolids(brix / 100);
      const off = published(n) - 100 * solidsFromIndex(n);
      expect(off).toBeGreaterThan(-0.027);
      expect(off).toBeLessThan(-0.014);
    }
  });

  it("agrees with our own inverse polynomial within its 0.0043 °Bx", () => {
    for (let brix = 0; brix <= 85; brix++) {
      const y = indexFromSolids(brix / 100) - 1.333;
      const b =
        0.0112417 + y * (699.79384 + y * (-1827.4525 + y * (5260.0028 + y * (-11022.202 + y * 12942.439))));
      expect(Math.abs(b - brix)).toBeLessThan(0.008);
    }
  });

  // Short cut from apparent specific gravity, 0 to 40 °Bx: seen in an encyclopedia article (liquisearch.com/brix/tables).
  // It was fitted to gravities in air on the older scale and drifts by 0.02 °Bx at 40.
  it("is met by the short cut from specific gravity within 0.03 °Bx", () => {
    const air = 1.2;
    for (let brix = 0; brix <= 40; brix += 2) {
      const s = (syrupDensity(brix / 100) - air) / (syrupDensity(0) - air);
      const b = ((182.46007 * s - 775.68212) * s + 1262.7794) * s - 669.56218;
      expect(Math.abs(b - brix)).toBeLessThan(0.03);
    }
  });
});
