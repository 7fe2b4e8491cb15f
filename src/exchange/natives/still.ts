import { FLASH_POINTS } from "../../matter/flammability";
import {
  call,
  type Expression,
  minus,
  number,
  operation,
  over,
  plus,
  polynomial,
  times,
} from "../expression";
import type { Native, NativeCall } from "./native";
import { both } from "./spirit";
import { volumeFraction } from "./spirit-maths";
import { sucroseActivity, sucroseMoles } from "./sugar";

/** Boiling under low pressure, as in src/matter/vapour.ts and boiling.ts: pressures over a liquid in a line of helper cells. */
const WATER = {
  name: "vapour pressure of water: ln pc (Pa), Tc (K), a1 … a6",
  source: "IAPWS SR1-86 (Wagner and Pruss)",
  values: [
    Math.log(22_064_000),
    647.096,
    -7.85951783,
    1.84408259,
    -11.7866497,
    22.6807411,
    -15.9618719,
    1.80122502,
  ],
};
const ETHANOL = {
  name: "vapour pressure of ethanol: ln pc (Pa), Tc (K), A, B, C, D",
  source: "Wagner 2.5/5 form (Poling, Prausnitz and O'Connell, 5th ed.)",
  values: [Math.log(6_132_000), 513.92, -8.68587, 1.17831, -4.8762, 1.588],
};
const ACTIVITY = {
  name: "activity of ethanol and water: a0 b0 c0, a1 b1 c1, a2 b2, a3 b3",
  source: "skewed Redlich-Kister form, our regression to published data",
  values: [1.40103, -0.36836, -8.94061, 0.34826, -1.22451, -6.212, -0.10762, -0.93439, 0.00054, 0.24224],
};
const SKEW = 0.4;
const MOLAR = { ethanol: 46.06844, water: 18.015268 };

/** A liquid as its vapour feels it: mole fraction of ethanol, and what hinders the water at a temperature. */
interface Pot {
  readonly x: Expression;
  readonly hindrance?: (kelvin: Expression) => Expression;
}

function potOf(c: NativeCall): Pot {
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

const moles = (p: Expression): Expression =>
  over(
    over(p, number(MOLAR.ethanol)),
    plus(over(p, number(MOLAR.ethanol)), over(minus(number(1), p), number(MOLAR.water))),
  );
const massOfMoles = (y: Expression): Expression =>
  over(
    times(y, number(MOLAR.ethanol)),
    plus(times(y, number(MOLAR.ethanol)), times(minus(number(1), y), number(MOLAR.water))),
  );

/** Partial pressures over a liquid at a temperature (kelvin), Pa. */
function pressures(c: NativeCall, pot: Pot, kelvin: Expression, about: string) {
  const dry = pot.x.type === "number" && pot.x.value === 0;
  const w = c.constants(WATER);
  const tauW = c.step(`${about}: 1 - T/Tc of water`, minus(number(1), over(kelvin, w[1]!)));
  const root = call("SQRT", tauW);
  const cube = operation("^", tauW, number(3));
  const water = c.step(
    `${about}: ln of water's pressure (Pa)`,
    plus(
      w[0]!,
      times(
        over(w[1]!, kelvin),
        plus(
          times(tauW, plus(w[2]!, times(w[3]!, root))),
          times(
            cube,
            plus(
              w[4]!,
              plus(
                times(w[5]!, root),
                plus(times(w[6]!, tauW), times(times(w[7]!, cube), times(tauW, root))),
              ),
            ),
          ),
        ),
      ),
    ),
  );
  const hindered = (e: Expression): Expression =>
    pot.hindrance === undefined ? e : times(e, pot.hindrance(kelvin));
  if (dry) {
    const total = c.step(`${about}: pressure (Pa)`, hindered(call("EXP", water)));
    return { ethanol: number(0) as Expression, total };
  }
  const e = c.constants(ETHANOL);
  const tauE = c.step(`${about}: 1 - T/Tc of ethanol`, minus(number(1), over(kelvin, e[1]!)));
  const rootE = call("SQRT", tauE);
  const squared = operation("^", tauE, number(2));
  const ethanol = c.step(
    `${about}: ln of ethanol's pressure (Pa)`,
    plus(
      e[0]!,
      times(
        over(e[1]!, kelvin),
        plus(
          times(tauE, plus(e[2]!, times(e[3]!, rootE))),
          times(squared, plus(times(e[4]!, rootE), times(e[5]!, operation("^", tauE, number(3))))),
        ),
      ),
    ),
  );
  const [lnE, lnW] = activities(c, pot.x, kelvin, about);
  const pe = c.step(`${about}: ethanol over the liquid (Pa)`, times(pot.x, call("EXP", plus(lnE, ethanol))));
  const pw = hindered(times(minus(number(1), pot.x), call("EXP", plus(lnW, water))));
  return { ethanol: pe, total: c.step(`${about}: pressure (Pa)`, plus(pe, pw)) };
}

/** Natural logarithms of the activity coefficients. */
function activities(
  c: NativeCall,
  x: Expression,
  kelvin: Expression,
  about: string,
): [Expression, Expression] {
  const k = c.constants(ACTIVITY);
  const q = c.step(`${about}: 330/T - 1`, minus(over(number(330), kelvin), number(1)));
  const r = c.step(`${about}: ln(T/330) + 330/T - 1`, plus(call("LN", over(kelvin, number(330))), q));
  const a0 = plus(k[0]!, plus(times(k[1]!, q), times(k[2]!, r)));
  const a1 = c.step(`${about}: A1`, plus(k[3]!, plus(times(k[4]!, q), times(k[5]!, r))));
  const a2 = c.step(`${about}: A2`, plus(k[6]!, times(k[7]!, q)));
  const a3 = c.step(`${about}: A3`, plus(k[8]!, times(k[9]!, q)));
  const d = c.step("x + 0.4 (1 - x)", plus(x, times(number(SKEW), minus(number(1), x))));
  const u = c.step("1 - 2 x / that", minus(number(1), over(times(number(2), x), d)));
  const f = c.step(`${about}: F`, polynomial([a0, a1, a2, a3], u));
  const slope = over(
    times(number(-2 * SKEW), polynomial([a1, times(number(2), a2), times(number(3), a3)], u)),
    operation("^", d, number(2)),
  );
  const xw = times(x, minus(number(1), x));
  const g = c.step(`${about}: g`, times(xw, f));
  const dg = c.step(
    `${about}: dg/dx`,
    plus(times(minus(number(1), times(number(2), x)), f), times(xw, slope)),
  );
  return [plus(g, times(minus(number(1), x), dg)), minus(g, times(x, dg))];
}

/** Steps of the search on 1/T against ln p: a first one along the usual slope, then along the last chord. */
const SEARCH_STEPS = 6;
const USUAL_SLOPE = -5200;

/** Temperature at which a pot boils under a pressure, kelvin, and ethanol's share of the pressure then. */
function boiling(c: NativeCall, pot: Pot, pascal: Expression) {
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
  const kelvin = c.step("temperature (K)", over(number(1), settled));
  return {
    kelvin,
    settled: c.within(
      kelvin,
      both(operation(">=", kelvin, number(273.15 - 1e-6)), operation("<=", kelvin, number(403.15))),
    ),
  };
}

const pressureRange = (p: Expression): Expression =>
  both(operation(">=", p, number(100)), operation("<=", p, number(110_000 * (1 + 1e-12))));
const potWarmth = (t: Expression): Expression =>
  both(operation(">=", t, number(273.15 - 1e-9)), operation("<=", t, number(403.15 + 1e-9)));

function pressureFor(c: NativeCall, pot: Pot, kelvin: Expression): Expression {
  const t = c.step("temperature (K)", c.within(kelvin, potWarmth(kelvin)));
  const { total } = pressures(c, pot, t, "pot");
  return c.within(total, operation("<=", total, number(110_000)));
}

/** The search comes to rest within a millionth of a kelvin; the exact difference is tried in the tests. */
const SEARCHED = 1e-8;

export const still: Readonly<Record<string, Native>> = {
  boils_at: { error: SEARCHED, write: (c) => boiling(c, potOf(c), c.number("pressure")).settled },
  pressure_for: { error: 1e-9, write: (c) => pressureFor(c, potOf(c), c.number("temperature")) },
  first_vapour: {
    error: SEARCHED,
    write(c) {
      const pot = potOf(c);
      const { settled } = boiling(c, pot, c.number("pressure"));
      const kelvin = c.step("boiling temperature (K)", settled);
      const { ethanol, total } = pressures(c, pot, kelvin, "vapour");
      const p = c.step(
        "alcohol of the vapour, by mass",
        massOfMoles(c.step("its mole fraction", over(ethanol, total))),
      );
      return volumeFraction(c, p);
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
