import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { FailedCell } from "../../src/exchange/recalculation";
import { workbookOf } from "../../src/exchange/workbook";
import { kinds } from "../../src/quantity";
import { placeOf, recalculate } from "./recalculate";

/**
 * Each physics function that goes out as spreadsheet arithmetic is tried over its range: a book of one call is sent
 * out at one set of inputs, then the inputs are changed in the spreadsheet and in the book, and both must come to
 * the same, or both refuse. What differs is the search: the book searches to the last bit, cells take fixed steps.
 */
interface Trial {
  readonly call: string;
  /** Inputs by name: unit, low and high end, and whether the logarithm is spread evenly. */
  readonly inputs: Readonly<
    Record<string, readonly [unit: string, low: number, high: number, logarithmic?: boolean]>
  >;
  /** Largest relative difference; of temperatures relative to kelvin. */
  readonly within: number;
}
const strength = ["%vol", 0, 100] as const;
const mass = ["g", 1, 5000] as const;

const TRIALS: readonly Trial[] = [
  { call: "by_mass(q)", inputs: { q: strength }, within: 1e-8 },
  { call: "by_volume(p)", inputs: { p: ["%mas", 0, 100] }, within: 1e-10 },
  { call: "by_proof(q)", inputs: { q: strength }, within: 1e-8 },
  { call: "by_volume(r)", inputs: { r: ["proof", 1, 199] }, within: 1e-8 },
  { call: "spirit_density(q, temperature: t)", inputs: { q: strength, t: ["°C", -20, 40] }, within: 1e-9 },
  { call: "strength_from_density(d)", inputs: { d: ["kg/m^3", 790, 998] }, within: 1e-6 },
  {
    call: "strength_from_density(d, temperature: t)",
    inputs: { d: ["kg/m^3", 815, 985], t: ["°C", 0, 35] },
    within: 1e-5,
  },
  { call: "strength_at_20(q, t)", inputs: { q: ["%vol", 3, 97], t: ["°C", 5, 35] }, within: 1e-6 },
  {
    call: "volume_at_20(v, q, t)",
    inputs: { v: ["mL", 1, 9000], q: strength, t: ["°C", -15, 40] },
    within: 1e-9,
  },
  { call: "mass_of(v, q)", inputs: { v: ["mL", 1, 9000], q: strength }, within: 1e-9 },
  {
    call: "volume_of(m, q, temperature: t)",
    inputs: { m: mass, q: strength, t: ["°C", 0, 40] },
    within: 1e-9,
  },
  { call: "pure_volume(m, q)", inputs: { m: mass, q: strength }, within: 1e-8 },
  { call: "pure_mass(v, q)", inputs: { v: ["L", 0.1, 9], q: strength }, within: 1e-9 },
  {
    call: "marry([a, b, c], [q, r, s])",
    inputs: {
      a: ["mL", 10, 5000],
      b: ["mL", 10, 5000],
      c: ["mL", 10, 5000],
      q: strength,
      r: strength,
      s: strength,
    },
    within: 1e-6,
  },
  {
    call: "let_down(v, q, to: t)",
    inputs: { v: ["mL", 10, 5000], q: ["%vol", 30, 97], t: ["%vol", 1, 29] },
    within: 1e-7,
  },
  {
    call: "fortify(v, q, r, to: t)",
    inputs: { v: ["mL", 10, 5000], q: ["%vol", 0, 20], r: ["%vol", 60, 97], t: ["%vol", 21, 50] },
    within: 1e-7,
  },
  {
    call: "make_up(v, [a, b], [q, r], to: t)",
    inputs: {
      v: ["L", 3, 5],
      a: ["mL", 10, 300],
      b: ["mL", 10, 300],
      q: ["%vol", 30, 90],
      r: ["%vol", 30, 90],
      t: ["%vol", 30, 60],
    },
    within: 1e-6,
  },
  {
    call: "sweeten(v, q, m)",
    inputs: { v: ["mL", 1000, 5000], q: ["%vol", 1, 58], m: ["g", 0, 400] },
    within: 1e-8,
  },
  {
    call: "soak(v, q, m, w, wet_marc: z)",
    inputs: {
      v: ["mL", 600, 2000],
      q: ["%vol", 10, 90],
      m: ["g", 50, 200],
      w: ["%", 5, 85],
      z: ["g", 200, 400],
    },
    within: 1e-7,
  },
  {
    call: "cross_parts(q, r, to: t)",
    inputs: { q: ["%vol", 60, 97], r: ["%vol", 0, 20], t: ["%vol", 21, 59] },
    within: 1e-7,
  },
  {
    call: "cross_fill(v, q, r, to: t)",
    inputs: { v: ["mL", 10, 5000], q: ["%vol", 60, 97], r: ["%vol", 0, 20], t: ["%vol", 21, 59] },
    within: 1e-7,
  },
  {
    call: "cross_fill(v, q, r, to: t)",
    inputs: { v: ["mL", 10, 5000], q: ["°Bx", 60, 80], r: ["°Bx", 0, 20], t: ["°Bx", 21, 59] },
    within: 1e-8,
  },
  {
    call: "cross_add(m, q, r, to: t)",
    inputs: { m: mass, q: ["%", 1, 10], r: ["%", 30, 50], t: ["%", 11, 29] },
    within: 1e-9,
  },
  {
    call: "cross_add(v, q, r, to: t)",
    inputs: { v: ["mL", 10, 5000], q: ["%vol", 60, 97], r: ["%vol", 0, 20], t: ["%vol", 21, 59] },
    within: 1e-7,
  },
  {
    call: "syrup_density(w, temperature: t)",
    inputs: { w: ["°Bx", 0, 85], t: ["°C", 0, 100] },
    within: 1e-10,
  },
  {
    call: "solids_from_density(d, temperature: t)",
    inputs: { d: ["kg/m^3", 1000, 1430], t: ["°C", 5, 60] },
    within: 1e-6,
  },
  {
    call: "solids_from_index(n, temperature: t)",
    inputs: { n: ["nD", 1.335, 1.5], t: ["°C", 11, 29] },
    within: 1e-6,
  },
  { call: "index_from_solids(w)", inputs: { w: ["°Bx", 0, 85] }, within: 1e-10 },
  { call: "solids_at_20(w, t)", inputs: { w: ["°Bx", 5, 75], t: ["°C", 10, 30] }, within: 1e-10 },
  { call: "acid_corrected(w, a)", inputs: { w: ["°Bx", 5, 75], a: ["%", 0, 20] }, within: 1e-10 },
  { call: "reduce(m, w, to: t)", inputs: { m: mass, w: ["°Bx", 1, 30], t: ["°Bx", 31, 80] }, within: 1e-10 },
  {
    call: "honey_moisture(n, temperature: t)",
    inputs: { n: ["nD", 1.47, 1.507], t: ["°C", 10, 40] },
    within: 1e-9,
  },
  { call: "honey_density(w)", inputs: { w: ["%", 13, 25] }, within: 1e-9 },
  { call: "honey_activity(w)", inputs: { w: ["%", 13, 21] }, within: 1e-10 },
  {
    call: "infuse_honey(m, w, z, strength: p, solids: s, to: t)",
    inputs: {
      m: ["g", 500, 1500],
      w: ["%", 16, 19],
      z: ["g", 100, 800],
      p: ["%mas", 0, 50],
      s: ["°Bx", 0, 10],
      t: ["%", 17, 19],
    },
    within: 1e-7,
  },
  {
    call: "infuse_honey_limit(m, w, strength: p, solids: s, budget: b, flask: f, to: t)",
    inputs: {
      m: ["g", 500, 900],
      w: ["%", 17, 19],
      p: ["%mas", 1, 50],
      s: ["°Bx", 0, 10],
      b: ["g", 300, 900],
      f: ["L", 2, 5],
      t: ["%", 17, 19],
    },
    within: 1e-6,
  },
  { call: "pressure_for(t, strength: q)", inputs: { t: ["°C", 1, 75], q: strength }, within: 1e-8 },
  { call: "pressure_for(t, solids: w)", inputs: { t: ["°C", 1, 95], w: ["°Bx", 0, 85] }, within: 1e-8 },
  { call: "pressure_for(t, activity: a)", inputs: { t: ["°C", 1, 90], a: ["", 0.3, 0.99] }, within: 1e-8 },
  { call: "boils_at(p, strength: q)", inputs: { p: ["mbar", 15, 1050, true], q: strength }, within: 1e-6 },
  {
    call: "boils_at(p, activity: a)",
    inputs: { p: ["mbar", 15, 1050, true], a: ["", 0.3, 0.99] },
    within: 1e-6,
  },
  {
    call: "boils_at(p, solids: w)",
    inputs: { p: ["mbar", 15, 1050, true], w: ["°Bx", 0, 80] },
    within: 1e-6,
  },
  { call: "first_vapour(p, q)", inputs: { p: ["mbar", 20, 1050, true], q: ["%vol", 0.5, 99] }, within: 1e-5 },
  {
    call: "settle(b, c, strength: q)",
    inputs: { b: ["°C", 30, 60], c: ["°C", -15, 5], q: ["%vol", 0, 70] },
    within: 1e-5,
  },
  { call: "warm_to_cold(b, c)", inputs: { b: ["°C", 10, 60], c: ["°C", -20, 9] }, within: 1e-10 },
  {
    call: "absolute_pressure(p, air: a)",
    inputs: { p: ["mbar", 500, 900], a: ["mbar", 920, 1050] },
    within: 1e-10,
  },
  { call: "air_at(h)", inputs: { h: ["m", -400, 5000] }, within: 1e-9 },
  { call: "flash_point(q)", inputs: { q: ["%vol", 10, 100] }, within: 1e-9 },
  {
    call: "know_still(m, s, b, p)",
    inputs: { m: ["g", 50, 500], s: ["min", 5, 60], b: ["°C", 40, 60], p: ["mbar", 20, 60] },
    within: 1e-5,
  },
  {
    call: "chill_load(r, 0 %vol, p)",
    inputs: { r: ["mL/h", 50, 900], p: ["mbar", 15, 900, true] },
    within: 1e-6,
  },
  {
    call: "distil(v, q, p, take: z)",
    inputs: { v: ["mL", 500, 1000], q: ["%vol", 5, 60], p: ["mbar", 30, 900, true], z: ["mL", 20, 400] },
    within: 1e-3,
  },
  {
    call: "distil(v, q, p, take: z)",
    inputs: { v: ["mL", 500, 1000], q: ["%vol", 5, 60], p: ["mbar", 30, 900, true], z: ["g", 20, 350] },
    within: 1e-3,
  },
  {
    call: "distil(v, q, p, leave: r)",
    inputs: { v: ["mL", 500, 1000], q: ["%vol", 12, 75], p: ["mbar", 30, 900, true], r: ["%vol", 0.2, 11] },
    within: 1e-3,
  },
  {
    call: "distil(v, q, p, bath: b)",
    inputs: { v: ["mL", 500, 1000], q: ["%vol", 15, 60], p: ["mbar", 40, 60], b: ["°C", 30, 35] },
    within: 1e-3,
  },
  {
    call: "cuts(v, q, p, [a, b, c])",
    inputs: {
      v: ["mL", 600, 1000],
      q: ["%vol", 20, 60],
      p: ["mbar", 30, 900, true],
      a: ["mL", 20, 90],
      b: ["mL", 20, 90],
      c: ["mL", 20, 90],
    },
    within: 1e-3,
  },
  {
    call: "alcohol_out(v, q, p, to: r)",
    inputs: { v: ["mL", 500, 1000], q: ["%vol", 3, 14], p: ["mbar", 30, 900, true], r: ["%vol", 0.2, 2] },
    within: 1e-3,
  },
  {
    call: "run_time(v, q, p, b, u, leave: r)",
    inputs: {
      v: ["mL", 500, 1000],
      q: ["%vol", 12, 75],
      p: ["mbar", 30, 60, true],
      b: ["°C", 42, 60],
      u: ["W/K", 5, 40],
      r: ["%vol", 0.5, 11],
    },
    within: 1e-3,
  },
  {
    call: "run_time(v, q, p, b, u, leave: r)",
    inputs: {
      v: ["mL", 500, 1000],
      q: ["%vol", 30, 60],
      p: ["mbar", 39, 41],
      b: ["°C", 29.2, 31],
      u: ["W/K", 5, 40],
      r: ["%vol", 0.5, 2],
    },
    within: 1e-3,
  },
  {
    call: "run_time(v, q, p, b, u, take: z, charge_temperature: t)",
    inputs: {
      v: ["mL", 500, 1000],
      q: ["%vol", 20, 60],
      p: ["mbar", 30, 60, true],
      b: ["°C", 42, 60],
      u: ["W/K", 5, 40],
      z: ["mL", 20, 400],
      t: ["°C", 5, 35],
    },
    within: 1e-3,
  },
  {
    call: "run_time(v, q, p, b, u, leave: r, chill: w)",
    inputs: {
      v: ["mL", 500, 1000],
      q: ["%vol", 12, 75],
      p: ["mbar", 30, 60, true],
      b: ["°C", 42, 60],
      u: ["W/K", 5, 40],
      r: ["%vol", 0.5, 11],
      w: ["W", 60, 600, true],
    },
    within: 1e-3,
  },
  { call: "activity_from_solids(w)", inputs: { w: ["°Bx", 0, 85] }, within: 1e-9 },
  { call: 'activity_from_solids(w, solute: "glucose")', inputs: { w: ["°Bx", 0, 80] }, within: 1e-9 },
  { call: "salt_activity(m, z)", inputs: { m: ["g", 0, 30], z: ["g", 100, 200] }, within: 1e-9 },
  {
    call: "ice_point(z, sucrose: a, glucose: b, ethanol: c)",
    inputs: { z: ["g", 500, 800], a: ["g", 0, 250], b: ["g", 0, 80], c: ["g", 0, 30] },
    within: 1e-7,
  },
  {
    call: "ice_point(z, milk_solids: a, salt: b)",
    inputs: { z: ["g", 500, 800], a: ["g", 10, 150], b: ["g", 0, 20] },
    within: 1e-7,
  },
  {
    call: "ice_share(t, z, sucrose: a, glucose: b)",
    inputs: { t: ["°C", -18, -1], z: ["g", 500, 800], a: ["g", 50, 250], b: ["g", 10, 80] },
    within: 1e-5,
  },
  {
    call: "reduce_salty(m, s, w, to_mass: z)",
    inputs: { m: ["g", 1500, 2500], s: ["%", 1, 6], w: ["°Bx", 0, 12], z: ["g", 500, 1400] },
    within: 1e-8,
  },
  {
    call: "find p from 20 mbar to 1000 mbar so that boils_at(p, strength: q) is t",
    inputs: { q: ["%vol", 5, 90], t: ["°C", 30, 70] },
    within: 1e-4,
  },
  {
    call: "find m from 0 g to 490 g so that sweeten(v, q, m).strength is t",
    inputs: { v: ["mL", 1000, 1200], q: ["%vol", 36, 40], t: ["%vol", 32, 35] },
    within: 1e-6,
  },
  {
    call: "find x from 1 to 20 so that x^2 + x / b is a",
    inputs: { a: ["", 10, 300], b: ["", 1, 9] },
    within: 1e-6,
  },
];

const bookFor = (trial: Trial, values: Readonly<Record<string, number>>): string =>
  Object.entries(trial.inputs)
    .map(([name, [unit]]) => `set ${name} = ${Number(values[name]!.toPrecision(10))} ${unit}`.trim())
    .join("\n") + `\nset result = ${trial.call}\n`;

const at = (low: number, high: number, part: number, logarithmic = false): number =>
  logarithmic ? low * (high / low) ** part : low + (high - low) * part;

describe("a function written out in cells", () => {
  it.each(TRIALS)("$call follows its inputs as the book does", (trial) => {
    const names = Object.keys(trial.inputs);
    const start = Object.fromEntries(
      names.map((n) => [n, at(trial.inputs[n]![1], trial.inputs[n]![2], 0.43, trial.inputs[n]![3])]),
    );
    const book = openBook(bookFor(trial, start));
    expect(book.messages.filter((m) => m.severity === "fault").map((m) => m.says)).toEqual([]);
    const { workbook, fates } = workbookOf(book);
    for (const fate of fates) expect(fate.reason, `${fate.path} of ${trial.call}`).toBeUndefined();
    expect(fates.length).toBeGreaterThan(0);
    let compared = 0;
    let refused = 0;
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 1000 }), {
          minLength: names.length,
          maxLength: names.length,
        }),
        (parts) => {
          const values = Object.fromEntries(
            names.map((n, i) => [
              n,
              Number(
                at(
                  trial.inputs[n]![1],
                  trial.inputs[n]![2],
                  parts[i]! / 1000,
                  trial.inputs[n]![3],
                ).toPrecision(10),
              ),
            ]),
          );
          const now = book.edit(bookFor(trial, values));
          const read = recalculate(
            workbook,
            new Map(
              names.map((n) => {
                const { sheet, row, column } = placeOf(workbook, n);
                return [`${sheet}!${row}!${column}`, values[n]!];
              }),
            ),
          );
          const said = JSON.stringify(values);
          for (const { path } of fates) {
            const got = read(placeOf(workbook, path));
            const want = now.value(path);
            if (want === undefined || want.type === "fault") {
              // The book refuses, or has no such part then: the cell must not make up a number.
              if (typeof got === "number" && want?.type === "fault")
                throw new Error(`${path} is ${got} where the book refuses (${want.says}) at ${said}`);
              refused++;
              continue;
            }
            if (want.type === "quantity") {
              if (got instanceof FailedCell)
                throw new Error(`${path} fails (${got.says}) where the book has ${want.n.v} at ${said}`);
              const zero = want.unit.kind === kinds.temperature ? 273.15 : 0;
              // Small differences of large amounts are judged by the large ones.
              const size = Math.abs(want.n.v) + zero + (path.endsWith("contraction") ? 100 : 0);
              const apart = Math.abs((got as number) - want.n.v);
              if (!(apart <= trial.within * size + 1e-9))
                throw new Error(`${path} is ${got}, not ${want.n.v}: ${apart / size} apart at ${said}`);
            } else if (want.type === "truth") expect(Boolean(got), `${path} at ${said}`).toBe(want.value);
            compared++;
          }
        },
      ),
      { seed: 5, numRuns: Number(process.env.NATIVE_RUNS ?? 60) },
    );
    expect(compared).toBeGreaterThan(refused);
  });
});
