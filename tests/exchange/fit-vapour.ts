import { bubblePressure, partialPressures } from "../../src/matter/vapour";

/**
 * Fits the boiling temperature and the relative volatility of ethanol and water over composition and pressure, for
 * src/exchange/natives/fits.ts: least squares on Chebyshev polynomials, written out over powers. Run it with
 * `npx tsx tests/exchange/fit-vapour.ts` when the vapour model changes; fits.test.ts checks what it gave.
 */
const SKEW = 0.3;
const MIDDLE = 9.5;
const HALF = 2.2;

interface Point {
  readonly x: number;
  readonly l: number;
  readonly value: number;
  readonly weight: number;
}

function solve(a: number[][], b: number[]): number[] {
  const n = b.length;
  const m = a.map((row, i) => [...row, b[i]!]);
  for (let c = 0; c < n; c++) {
    let p = c;
    for (let r = c; r < n; r++) if (Math.abs(m[r]![c]!) > Math.abs(m[p]![c]!)) p = r;
    [m[c], m[p]] = [m[p]!, m[c]!];
    for (let r = c + 1; r < n; r++) {
      const f = m[r]![c]! / m[c]![c]!;
      for (let k = c; k <= n; k++) m[r]![k] = m[r]![k]! - f * m[c]![k]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    let s = m[r]![n]!;
    for (let c = r + 1; c < n; c++) s -= m[r]![c]! * x[c]!;
    x[r] = s / m[r]![r]!;
  }
  return x;
}

const chebyshev = (t: number, degree: number): number[] => {
  const out = [1, t];
  for (let k = 2; k <= degree; k++) out.push(2 * t * out[k - 1]! - out[k - 2]!);
  return out.slice(0, degree + 1);
};

/** Chebyshev polynomials as coefficients over powers. */
function powers(degree: number): number[][] {
  const out: number[][] = [[1], [0, 1]];
  for (let k = 2; k <= degree; k++) {
    const next = [0, ...out[k - 1]!.map((c) => 2 * c)];
    out[k - 2]!.forEach((c, i) => {
      next[i] = next[i]! - c;
    });
    out.push(next);
  }
  return out;
}

function fitted(points: readonly Point[], dz: number, dl: number): number[][] {
  const n = (dz + 1) * (dl + 1);
  const a = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const b = new Array<number>(n).fill(0);
  for (const p of points) {
    const tz = chebyshev((2 * p.x) / (p.x + SKEW * (1 - p.x)) - 1, dz);
    const tl = chebyshev((p.l - MIDDLE) / HALF, dl);
    const f = tz.flatMap((z) => tl.map((l) => z * l));
    const w = p.weight ** 2;
    for (let i = 0; i < n; i++) {
      b[i] = b[i]! + w * f[i]! * p.value;
      for (let j = 0; j < n; j++) a[i]![j] = a[i]![j]! + w * f[i]! * f[j]!;
    }
  }
  const c = solve(a, b);
  const [pz, pl] = [powers(dz), powers(dl)];
  const out = Array.from({ length: dz + 1 }, () => new Array<number>(dl + 1).fill(0));
  for (let i = 0; i <= dz; i++)
    for (let j = 0; j <= dl; j++)
      pz[i]!.forEach((u, s) => {
        pl[j]!.forEach((v, t) => {
          out[s]![t] = out[s]![t]! + c[i * (dl + 1) + j]! * u * v;
        });
      });
  return out;
}

function points(
  most: number,
  value: (x: number, kelvin: number) => number,
  weight: (v: number) => number,
): Point[] {
  const out: Point[] = [];
  for (let i = 0; i <= 90; i++) {
    const x = Math.max(1e-9, most * ((1 - Math.cos((Math.PI * i) / 90)) / 2) ** 1.8);
    for (let j = 0; j <= 24; j++) {
      const kelvin = 273.15 + ((1 - Math.cos((Math.PI * j) / 24)) / 2) * 105;
      const pascal = bubblePressure(x, kelvin);
      if (pascal > 112_000) continue;
      const v = value(x, kelvin);
      out.push({ x, l: Math.log(pascal), value: v, weight: weight(v) });
    }
  }
  return out;
}

const show = (name: string, rows: number[][]): void => {
  console.log(`export const ${name}: readonly (readonly number[])[] = [`);
  for (const row of rows) console.log(`  [${row.map((v) => Number(v.toPrecision(10))).join(", ")}],`);
  console.log("];");
};

show(
  "INVERSE_TEMPERATURE",
  fitted(
    points(
      1,
      (_x, t) => 1000 / t,
      (u) => 1 / u,
    ),
    8,
    4,
  ),
);
show(
  "LN_VOLATILITY",
  fitted(
    points(
      0.65,
      (x, t) => {
        const [e, w] = partialPressures(x, t);
        return Math.log(e / x / (w / (1 - x)));
      },
      () => 1,
    ),
    8,
    5,
  ),
);
