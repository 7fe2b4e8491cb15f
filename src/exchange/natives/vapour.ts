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
import type { NativeCall } from "./native";

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
export const MOLAR = { ethanol: 46.06844, water: 18.015268 };

/** A liquid as its vapour feels it: mole fraction of ethanol, and what hinders the water at a temperature. */
export interface BoiledPot {
  readonly x: Expression;
  readonly hindrance?: (kelvin: Expression) => Expression;
}

export const moles = (p: Expression): Expression =>
  over(
    over(p, number(MOLAR.ethanol)),
    plus(over(p, number(MOLAR.ethanol)), over(minus(number(1), p), number(MOLAR.water))),
  );
export const massOfMoles = (y: Expression): Expression =>
  over(
    times(y, number(MOLAR.ethanol)),
    plus(times(y, number(MOLAR.ethanol)), times(minus(number(1), y), number(MOLAR.water))),
  );

/** Partial pressures over a liquid at a temperature (kelvin), Pa. */
export function pressures(c: NativeCall, pot: BoiledPot, kelvin: Expression, about: string) {
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
