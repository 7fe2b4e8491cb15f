import { FLASH_POINTS } from "../../matter/flammability";
import { kinds } from "../../quantity";
import { call, type Expression, minus, number, operation, over, plus, times } from "../expression";
import { fittedBoiling, stillTerms } from "./fitted-still";
import type { Native, NativeCall } from "./native";
import { both } from "./ranges";
import { density, volumeFraction, waterDensity } from "./spirit-maths";
import { sucroseActivity, sucroseMoles } from "./sugar";
import { type BoiledPot, massOfMoles, moles, pressures } from "./vapour";

function potOf(c: NativeCall): BoiledPot {
  const p = c.number("strength");
  const solids = c.optional("solids");
  const activity = c.optional("activity");
  const noSugar = solids === undefined || (solids.type === "number" && solids.value === 0);
  const clear = activity === undefined || (activity.type === "number" && activity.value === 1);
  const dry = p.type === "number" && p.value === 0;
  const x = dry ? p : c.step("ethanol, mole fraction", moles(p));
  if (noSugar && clear) return { x };
  if (!noSugar && !clear) c.refuse("for solids and an activity together");
  if (!clear) {
    const aw = c.step(
      "water activity",
      c.within(
        activity!,
        both(operation(">=", activity!, number(0.3)), operation("<=", activity!, number(1))),
      ),
    );
    return { x, hindrance: () => aw };
  }
  // With alcohol and sugar together the book first searches for the masses: only where no alcohol is, it is arithmetic.
  const w = c.step("solids, a fraction", solids!);
  const safe = dry
    ? w
    : c.step(
        "solids, where there is no alcohol",
        c.within(w, callOr(operation("<", p, number(1e-9)), operation("=", w, number(0)))),
      );
  const y = c.step(
    "sucrose, mole fraction",
    sucroseMoles(c.within(safe, both(operation(">=", safe, number(0)), operation("<=", safe, number(0.85))))),
  );
  return { x, hindrance: (kelvin) => sucroseActivity(y, kelvin) };
}
const callOr = (a: Expression, b: Expression): Expression => call("OR", a, b);

/** Steps of the search on 1/T against ln p: a first one along the usual slope, then along the last chord. */
const SEARCH_STEPS = 6;
const USUAL_SLOPE = -5200;

/** Temperature at which a pot boils under a pressure, kelvin, and ethanol's share of the pressure then. */
function boiling(c: NativeCall, pot: BoiledPot, pascal: Expression) {
  const inRange = (kelvin: Expression): Expression =>
    c.within(
      kelvin,
      both(operation(">=", kelvin, number(273.15 - 1e-6)), operation("<=", kelvin, number(403.15))),
    );
  if (pot.hindrance === undefined)
    return inRange(fittedBoiling(c, stillTerms(c, pascal), pot.x, "boil").kelvin);
  const wanted = c.step("ln of the pressure", call("LN", c.within(pascal, pressureRange(pascal))));
  const at = (inverse: Expression, about: string) => {
    const kelvin = c.step(`${about}: temperature (K)`, over(number(1), inverse));
    return { kelvin, ...pressures(c, pot, kelvin, about) };
  };
  let inverse: Expression = number(1 / 310);
  let last = at(inverse, "try 1");
  let miss = c.step("try 1: too high by, in ln p", minus(call("LN", last.total), wanted));
  let slope: Expression = number(USUAL_SLOPE);
  for (let i = 2; i <= SEARCH_STEPS; i++) {
    const next = c.step(`try ${i}: 1/T`, minus(inverse, over(miss, slope)));
    last = at(next, `try ${i}`);
    const nextMiss = c.step(`try ${i}: too high by, in ln p`, minus(call("LN", last.total), wanted));
    // Once it is at rest the chord has no length, and the slope before serves on.
    const chord = over(minus(nextMiss, miss), minus(next, inverse));
    const atRest = operation("<", call("ABS", minus(next, inverse)), number(1e-12));
    slope = c.step(`try ${i}: slope`, call("IF", atRest, slope, chord));
    inverse = next;
    miss = nextMiss;
  }
  const settled = c.step("1/T, settled", minus(inverse, over(miss, slope)));
  return inRange(c.step("temperature (K)", over(number(1), settled)));
}

const pressureRange = (p: Expression): Expression =>
  both(operation(">=", p, number(100)), operation("<=", p, number(110_000 * (1 + 1e-12))));
const potWarmth = (t: Expression): Expression =>
  both(operation(">=", t, number(273.15 - 1e-9)), operation("<=", t, number(403.15 + 1e-9)));

function pressureFor(c: NativeCall, pot: BoiledPot, kelvin: Expression): Expression {
  const t = c.step("temperature (K)", c.within(kelvin, potWarmth(kelvin)));
  const { total } = pressures(c, pot, t, "pot");
  return c.within(total, operation("<=", total, number(110_000)));
}

/** The search comes to rest within a millionth of a kelvin; the exact difference is tried in the tests. */
const SEARCHED = 1e-6;

/** Alcohol by mass of the vapour over a pot at a temperature. */
function vapourOver(c: NativeCall, pot: BoiledPot, kelvin: Expression, about: string): Expression {
  if (pot.x.type === "number" && pot.x.value === 0) return number(0);
  const { ethanol, total } = pressures(c, pot, kelvin, about);
  return massOfMoles(c.step(`${about}: mole fraction of the vapour`, over(ethanol, total)));
}

/** Heat that evaporates a kilogram, J/kg. */
export function latentHeat(p: Expression, kelvin: Expression): Expression {
  const t = minus(kelvin, number(273.15));
  const water = times(
    number(1000),
    minus(
      minus(number(2500.106), times(number(2.291413), t)),
      times(number(0.001403373), operation("^", t, number(2))),
    ),
  );
  if (p.type === "number" && p.value === 0) return water;
  const ethanol = times(
    number(918_600),
    operation("^", over(minus(number(513.9), kelvin), number(215.75)), number(0.328)),
  );
  return plus(times(p, ethanol), times(minus(number(1), p), water));
}

/** Temperature at which a distillate begins to freeze, K; absolute zero where no coolant here freezes it. */
function spiritIce(c: NativeCall, p: Expression): Expression {
  if (p.type === "number" && p.value === 0) return number(273.15);
  const z = c.step("alcohol for a part of water", over(p, minus(number(1), call("MIN", p, number(0.999)))));
  const thin = times(
    z,
    plus(
      number(40.387),
      times(z, plus(number(-21.151), times(z, plus(number(208.1), times(z, number(-276.43)))))),
    ),
  );
  // A handbook's table of strong spirit, straight between its rows; the first row is where the polynomial ends.
  const start = 0.3 / 0.7;
  const table: [number, number][] = [
    [0.3, start * (40.387 + start * (-21.151 + start * (208.1 - 276.43 * start)))],
    [0.338, 23.6],
    [0.39, 28.7],
    [0.463, 33.9],
    [0.561, 41],
    [0.719, 51.3],
  ];
  let depth: Expression = number(273.15);
  for (let i = table.length - 1; i >= 1; i--) {
    const [p0, d0] = table[i - 1]!;
    const [p1, d1] = table[i]!;
    const line = plus(number(d0), times(number((d1 - d0) / (p1 - p0)), minus(p, number(p0))));
    depth = call("IF", operation("<=", p, number(p1)), line, depth);
  }
  return minus(number(273.15), call("IF", operation("<=", p, number(0.3)), thin, depth));
}

export const still: Readonly<Record<string, Native>> = {
  boils_at: { error: SEARCHED, write: (c) => boiling(c, potOf(c), c.number("pressure")) },
  pressure_for: { error: 1e-9, write: (c) => pressureFor(c, potOf(c), c.number("temperature")) },
  first_vapour: {
    error: SEARCHED,
    write(c) {
      const pot = potOf(c);
      const kelvin = c.step("boiling temperature (K)", boiling(c, pot, c.number("pressure")));
      return volumeFraction(c, vapourOver(c, pot, kelvin, "vapour"));
    },
  },
  settle: {
    error: SEARCHED,
    write(c) {
      const pot = potOf(c);
      const warm = c.number("warm_side");
      const coolant = c.number("coolant");
      const boils = c.step(
        "pot (K)",
        c.within(
          minus(c.number("bath"), warm),
          both(operation(">", warm, number(0)), operation("<", coolant, minus(c.number("bath"), warm))),
        ),
      );
      const pascal = c.step("pressure (Pa)", pressureFor(c, pot, boils));
      const first = c.step("first distillate, by mass", vapourOver(c, pot, boils, "pot"));
      const over_ = c.step("first distillate, mole fraction", moles(first));
      const glass = c.step(
        "glass of the condenser (K)",
        call("MAX", plus(coolant, number(5)), number(263.15)),
      );
      const held = pressures(c, { x: over_ }, glass, "on the glass").total;
      const cold = pressures(c, { x: over_ }, number(273.15), "distillate at 0 °C").total;
      const own = fittedBoiling(c, stillTerms(c, pascal), over_, "receiver").kelvin;
      return {
        parts: {
          pressure: pascal,
          boils_at: boils,
          warm_side: warm,
          cold_side: minus(boils, coolant),
          holds: operation(">=", pascal, held),
          ices: operation("<", coolant, spiritIce(c, first)),
          receiver_below: call("IF", operation("<=", pascal, cold), number(273.15), own),
        },
      };
    },
  },
  know_still: {
    error: SEARCHED,
    write(c) {
      const pot = potOf(c);
      const kelvin = c.step("pot (K)", boiling(c, pot, c.number("pressure")));
      const p = c.step("vapour, by mass", vapourOver(c, pot, kelvin, "pot"));
      const amount = c.number("driven_off");
      const mass = c.kindOf("driven_off") === kinds.mass ? amount : times(amount, density(c, p));
      const power = c.step("power (W)", over(times(mass, latentHeat(p, kelvin)), c.number("time")));
      const gap = minus(c.number("bath"), kelvin);
      return {
        parts: {
          power,
          per_kelvin: over(power, c.within(gap, operation(">", gap, number(0)))),
        },
      };
    },
  },
  chill_load: {
    error: SEARCHED,
    write(c) {
      const p = c.number("over");
      if (!(p.type === "number" && p.value === 0))
        c.refuse("for spirit: the dew point of its vapour is searched for");
      const kelvin = c.step("dew point (K)", boiling(c, { x: number(0) }, c.number("pressure")));
      const rate = c.number("rate");
      const mass = c.kindOf("rate") === kinds.massRate ? rate : times(rate, waterDensity(c));
      return times(mass, latentHeat(p, kelvin));
    },
  },
  warm_to_cold: {
    error: 0,
    write(c) {
      const across = minus(c.number("bath"), c.number("coolant"));
      return c.within(across, operation(">", across, number(0)));
    },
  },
  absolute_pressure: {
    error: 0,
    write(c) {
      const below = c.number("below");
      const air = c.number("air");
      return c.within(
        minus(air, below),
        both(
          operation(">=", below, number(0)),
          operation("<", below, air),
          operation(">=", air, number(50_000)),
          operation("<=", air, number(110_000)),
        ),
      );
    },
  },
  air_at: {
    error: 1e-10,
    write(c) {
      const h = c.number("height");
      const air = times(
        number(101_325),
        operation("^", minus(number(1), times(number(2.25577e-5), h)), number(5.25588)),
      );
      return c.within(air, both(operation(">=", h, number(-430)), operation("<=", h, number(5000))));
    },
  },
  flash_point: {
    error: 1e-10,
    write(c) {
      const q = c.step("strength by volume, a fraction", c.number("strength"));
      const line = (i: number): Expression => {
        const [q0, t0] = FLASH_POINTS[i - 1]!;
        const [q1, t1] = FLASH_POINTS[i]!;
        return plus(number(273.15 + t0), times(number((t1 - t0) / (q1 - q0)), minus(q, number(q0))));
      };
      let written = line(FLASH_POINTS.length - 1);
      for (let i = FLASH_POINTS.length - 2; i >= 1; i--) {
        written = call("IF", operation("<=", q, number(FLASH_POINTS[i]![0])), line(i), written);
      }
      return c.within(written, both(operation(">=", q, number(0.1)), operation("<=", q, number(1))));
    },
  },
};
