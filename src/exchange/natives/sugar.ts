import { SYRUP_CONSTANTS, WATER_INDEX } from "../../matter/sugar";
import {
  call,
  type Expression,
  minus,
  number,
  operation,
  over,
  plus,
  polynomial,
  power,
  times,
} from "../expression";
import type { Native, NativeCall } from "./native";
import { between, both } from "./ranges";

/** Sugar in water: density, index, water activity and their inverses, as in src/matter/sugar.ts. */
const DENSITY_SOURCE = "Bubník, Kadlec, Urban & Bruhns, Sugar Technologists Manual (1995), p. 164";
const DENSITY_20 = {
  name: "syrup density above water, powers 1, 2 … of w",
  source: DENSITY_SOURCE,
  values: [...SYRUP_CONSTANTS.density[0]!],
};
const WARM = SYRUP_CONSTANTS.density.map((row, i) => ({
  name: `syrup density, ((t - 20)/100)^${i}, powers 1, 2 … of w`,
  source: DENSITY_SOURCE,
  values: [...row],
}));
const WATER = {
  name: "density of water (kg/m3), powers of t",
  source: "Kell's form, as used with the syrup density",
  values: [999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12],
};
const INDEX = {
  name: "refractive index of syrup at 20 °C, powers of w",
  source: "fit to the ICUMSA 1974 scale, within 0.000005",
  values: [...SYRUP_CONSTANTS.index],
};
const slopeOf = (values: readonly number[]): number[] => values.slice(1).map((v, k) => (k + 1) * v);
const INDEX_SLOPE = { name: "slope of that index", source: "derivative", values: slopeOf(INDEX.values) };
const START_INDEX = {
  name: "first guess of w from the index",
  source: "fit, within 0.00005",
  values: [0.0000471533, 6.98909, -17.8097, 44.6734, -55.8928],
};
const START_DENSITY = {
  name: "first guess of w from (density - water)/1000",
  source: "fit at 20 °C, within 0.00004",
  values: [0.0000233606, 2.59251, -2.30063, 2.07482, -0.891952],
};

/** Terms of the density over powers 0, 1, 2 … of w at a temperature in kelvin; 20 °C without one. */
function densityTerms(c: NativeCall, kelvin: Expression | undefined): readonly Expression[] {
  const stated = kelvin === undefined || (kelvin.type === "number" && Math.abs(kelvin.value - 293.15) < 1e-9);
  const t = stated ? number(20) : c.step("temperature (°C)", minus(kelvin!, number(273.15)));
  const water = c.step(
    "density of water then (kg/m3)",
    over(polynomial(c.constants(WATER), t), plus(number(1), times(number(16.887236e-3), t))),
  );
  if (stated) return [water, ...c.constants(DENSITY_20)];
  const theta = c.step("(t - 20)/100", over(minus(t, number(20)), number(100)));
  const rows = WARM.map((set) => c.constants(set));
  return [
    water,
    ...rows[0]!.map((_, k) =>
      c.step(
        `syrup density then, power ${k + 1} of w`,
        polynomial(
          rows.flatMap((row) => (row[k] === undefined ? [] : [row[k]!])),
          theta,
        ),
      ),
    ),
  ];
}

export function syrupDensity(c: NativeCall, w: Expression, kelvin?: Expression): Expression {
  return polynomial(densityTerms(c, kelvin), w);
}

function solidsFromDensity(c: NativeCall, rho: Expression, kelvin?: Expression): Expression {
  const terms = densityTerms(c, kelvin);
  const wanted = c.step("density (kg/m3)", rho);
  let w = c.step(
    "solids, first guess",
    polynomial(c.constants(START_DENSITY), over(minus(wanted, terms[0]!), number(1000))),
  );
  const slope = terms.slice(1).map((t, k) => times(number(k + 1), t));
  for (let i = 1; i <= 4; i++) {
    w = c.step(
      `solids, step ${i}`,
      minus(w, over(minus(polynomial(terms, w), wanted), polynomial(slope, w))),
    );
  }
  return c.within(w, between(w, -1e-9, 0.85 + 1e-9));
}

function solidsFromIndex(c: NativeCall, index: Expression): Expression {
  const n = c.step("refractive index", index);
  let w = c.step("solids, first guess", polynomial(c.constants(START_INDEX), minus(n, number(WATER_INDEX))));
  for (let i = 1; i <= 2; i++) {
    const miss = minus(polynomial(c.constants(INDEX), w), n);
    w = c.step(`solids, step ${i}`, minus(w, over(miss, polynomial(c.constants(INDEX_SLOPE), w))));
  }
  return c.within(call("MAX", number(0), w), between(w, -1e-4, 0.85 + 1e-9));
}

/** A reading (mass fraction) brought to 20 °C. */
function at20(c: NativeCall, reading: Expression, kelvin: Expression | undefined): Expression {
  if (kelvin === undefined || (kelvin.type === "number" && Math.abs(kelvin.value - 293.15) < 1e-9))
    return reading;
  const b = c.step("reading, a fraction", reading);
  const d = c.step("degrees above 20 °C", minus(kelvin, number(293.15)));
  const first = polynomial([number(0.0572902), number(0.0644834), number(-0.0565131)], b);
  const second = polynomial([number(0.000316691), number(-0.00030122), number(-0.000377747)], b);
  const corrected = plus(b, over(times(d, plus(first, times(d, second))), number(100)));
  return c.within(corrected, both(between(d, -10 - 1e-9, 10 + 1e-9), between(b, 0, 0.85)));
}

/** Water activity of sucrose at a mole fraction and a temperature. */
export function sucroseActivity(x: Expression, kelvin: Expression): Expression {
  const shape = plus(number(1), times(x, minus(number(-1.0038), times(number(0.24653), x))));
  const exponent = times(over(number(-17638 / 8.314462618), kelvin), times(power(x, 2), shape));
  return times(minus(number(1), x), call("EXP", exponent));
}
/** Mole fraction of sucrose in a solution of mass fraction w. */
export const sucroseMoles = (w: Expression): Expression =>
  over(over(w, number(342.296)), plus(over(w, number(342.296)), over(minus(number(1), w), number(18.01528))));

/** With alcohol or salt given the book refuses, so there is nothing to write out. */
const plainJuice = (c: NativeCall): boolean =>
  ["strength", "salt"].every((name) => c.kindOf(name) === undefined || c.constant(name) === 0);

const onlySugar = (write: Native["write"], error = 1e-9): Native => ({
  error,
  write(c) {
    if (!plainJuice(c)) c.refuse("with alcohol or salt in it");
    return write(c);
  },
});

export const sugar: Readonly<Record<string, Native>> = {
  water_in: onlySugar((c) => minus(number(1), c.number("solids"))),
  syrup_density: onlySugar((c) => {
    const w = c.number("solids");
    return c.within(syrupDensity(c, w, c.optional("temperature")), between(w, 0, 0.85));
  }),
  solids_from_density: onlySugar((c) => solidsFromDensity(c, c.number("density"), c.optional("temperature"))),
  solids_from_index: onlySugar((c) =>
    at20(c, solidsFromIndex(c, c.number("index")), c.optional("temperature")),
  ),
  index_from_solids: onlySugar((c) => {
    const w = c.number("solids");
    return c.within(polynomial(c.constants(INDEX), w), between(w, 0, 0.85));
  }),
  solids_at_20: onlySugar((c) => at20(c, c.number("reading"), c.number("temperature"))),
  acid_corrected: onlySugar((c) => {
    const a = times(number(100), c.number("acid"));
    const brix = times(a, minus(number(0.1963), times(number(0.000563), a)));
    return c.within(plus(c.number("reading"), over(brix, number(100))), between(c.number("acid"), 0, 0.2));
  }),
  reduce: onlySugar((c) => {
    const mass = c.number("mass");
    const solids = c.number("solids");
    const to = c.number("to");
    const left = c.step(
      "mass that stays (kg)",
      c.within(
        over(times(mass, solids), to),
        both(operation(">", solids, number(0)), operation(">=", to, solids), between(to, 0, 1)),
      ),
    );
    return { parts: { "left.mass": left, "taken.mass": minus(mass, left), factor: over(to, solids) } };
  }),
};
