import {
  call,
  type Expression,
  joined,
  minus,
  number,
  operation,
  over,
  plus,
  polynomial,
  times,
} from "../expression";
import { place, type StillTerms } from "./fitted-still";
import type { NativeCall } from "./native";
import { both } from "./ranges";
import { density, densitySlope } from "./spirit-maths";
import { MOLAR, moles } from "./vapour";

/**
 * Rayleigh's distillation in spreadsheet arithmetic: with s = ln x and h = x/(y - x), the moles in the pot are
 * W = W0 exp(-∫ h ds). The integral is taken by Gauss-Legendre over a handful of places, the vapour there from a
 * fit (fits.ts). Where an amount is asked for, the end is found by Newton's method, each step adding the stretch
 * to the last. What comes out is within `RUN_ERROR` of the book.
 */
export const RUN_ERROR = 3e-4;

// ---- the integral -----------------------------------------------------------------------------------------

/** Nodes (0 to 1) and weights of Gauss-Legendre rules. */
export function gauss(n: number): { nodes: number[]; weights: number[] } {
  const nodes: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < n; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let k = 0; k < 60; k++) {
      let [a, b] = [1, x];
      for (let j = 2; j <= n; j++) [a, b] = [b, ((2 * j - 1) * x * b - (j - 1) * a) / j];
      slope = (n * (x * b - a)) / (x * x - 1);
      x -= b / slope;
    }
    nodes.push((1 + x) / 2);
    weights.push(1 / ((1 - x * x) * slope * slope));
  }
  return { nodes, weights };
}

/** h = x/(y - x) at s = ln x. */
export function pace(
  c: NativeCall,
  still: StillTerms,
  s: Expression,
  about: string,
): { x: Expression; h: Expression; alpha: Expression } {
  const x = c.step(`${about}: x`, call("EXP", s));
  const alpha = c.step(
    `${about}: volatility`,
    call("EXP", polynomial(still.volatility, c.step(`${about}: z`, place(x)))),
  );
  const h = c.step(
    `${about}: x/(y - x)`,
    over(
      plus(number(1), times(minus(alpha, number(1)), x)),
      times(minus(alpha, number(1)), minus(number(1), x)),
    ),
  );
  return { x, h, alpha };
}

/** ∫ h ds from one place down to another. */
function stretch(
  c: NativeCall,
  still: StillTerms,
  from: Expression,
  to: Expression,
  n: number,
  about: string,
): Expression {
  const { nodes, weights } = gauss(n);
  const span = c.step(`${about}: span of ln x`, minus(from, to));
  const terms = nodes.map((node, i) => {
    const s = plus(to, times(number(node), span));
    return times(number(weights[i]!), pace(c, still, s, `${about}, place ${i + 1}`).h);
  });
  return c.step(`${about}: ∫ x/(y - x) d ln x`, times(span, joined(terms, plus, number(0))));
}

/** The state of a run when the pot has come down to s = ln x. */
export interface RunState {
  readonly s: Expression;
  readonly x: Expression;
  /** Moles left in the pot. */
  readonly moles: Expression;
  readonly leftMass: Expression;
  readonly leftEthanol: Expression;
  readonly takenMass: Expression;
  readonly takenEthanol: Expression;
}

export interface Charge {
  readonly mass: Expression;
  readonly ethanol: Expression;
  readonly moles: Expression;
  readonly x: Expression;
  readonly s: Expression;
}

const MOST_STRENGTH_BY_MOLES = 0.65;

/** A charge of spirit; its mole fraction must be inside the fit. */
export function chargeOf(c: NativeCall, mass: Expression, p: Expression): Charge {
  const x = c.step("charge: mole fraction of ethanol", moles(p));
  const inside = both(operation(">", x, number(1e-7)), operation("<=", x, number(MOST_STRENGTH_BY_MOLES)));
  return {
    mass,
    ethanol: c.step("charge: alcohol (kg)", times(mass, p)),
    moles: c.step(
      "charge: kilomoles",
      plus(
        over(times(mass, p), number(MOLAR.ethanol)),
        over(times(mass, minus(number(1), p)), number(MOLAR.water)),
      ),
    ),
    x,
    s: c.step("charge: ln x", call("LN", c.within(x, inside))),
  };
}

function stateAt(
  c: NativeCall,
  charge: Charge,
  s: Expression,
  integral: Expression,
  about: string,
): RunState {
  const x = c.step(`${about}: x`, call("EXP", s));
  const left = c.step(
    `${about}: kilomoles left`,
    times(charge.moles, call("EXP", minus(number(0), integral))),
  );
  const leftEthanol = c.step(`${about}: alcohol left (kg)`, times(times(left, x), number(MOLAR.ethanol)));
  const leftMass = c.step(
    `${about}: mass left (kg)`,
    plus(leftEthanol, times(times(left, minus(number(1), x)), number(MOLAR.water))),
  );
  return {
    s,
    x,
    moles: left,
    leftMass,
    leftEthanol,
    takenMass: c.step(`${about}: mass taken (kg)`, minus(charge.mass, leftMass)),
    takenEthanol: c.step(`${about}: alcohol taken (kg)`, minus(charge.ethanol, leftEthanol)),
  };
}

/** Places of the first integral, which spans the whole run. */
const FIRST_NODES = 10;

/** A run to a mole fraction left in the pot. */
export function runToFraction(c: NativeCall, still: StillTerms, charge: Charge, x: Expression): RunState {
  const s = c.step(
    "end: ln x",
    call("LN", c.within(x, both(operation(">", x, number(0)), operation("<", x, charge.x)))),
  );
  return stateAt(c, charge, s, stretch(c, still, charge.s, s, FIRST_NODES, "run"), "end");
}

/** What a run ends by: how far it is off at a state, and how that changes with ln x. */
export type Goal = (
  state: RunState,
  slope: { readonly mass: Expression; readonly ethanol: Expression },
  about: string,
) => { off: Expression; change: Expression };

/** A run to an amount: Newton's method on ln x from a guess by two coarse steps. */
export function runToGoal(
  c: NativeCall,
  still: StillTerms,
  charge: Charge,
  share: Expression,
  goal: Goal,
): RunState {
  // Moles that go over, for a guess: `share` of the charge's.
  const t = c.step(
    "guess: -ln of the moles left",
    minus(number(0), call("LN", minus(number(1), call("MIN", number(0.98), share)))),
  );
  let s: Expression = charge.s;
  for (let i = 1; i <= 2; i++) {
    const here = pace(c, still, s, `guess ${i}`);
    const middle = c.step(`guess ${i}: ln x half-way`, minus(s, over(times(number(0.25), t), here.h)));
    const there = pace(c, still, middle, `guess ${i}, half-way`);
    s = c.step(`guess ${i}: ln x`, minus(s, over(times(number(0.5), t), there.h)));
  }
  let integral: Expression = number(0);
  let from: Expression = charge.s;
  let state: RunState | undefined;
  for (const [i, n] of [FIRST_NODES, 6, 4, 3, 2].entries()) {
    const about = `try ${i + 1}`;
    integral = c.step(
      `${about}: -ln of the moles left`,
      plus(integral, stretch(c, still, from, s, n, about)),
    );
    state = stateAt(c, charge, s, integral, about);
    from = s;
    const { h, alpha } = pace(c, still, s, `${about}, end`);
    const y = c.step(
      `${about}: vapour`,
      over(times(alpha, state.x), plus(number(1), times(minus(alpha, number(1)), state.x))),
    );
    // A change of ln x by one takes W h moles of vapour out of the pot, the other way round.
    const flow = c.step(`${about}: kilomoles for a change of ln x`, times(minus(number(0), state.moles), h));
    const ethanol = times(times(flow, y), number(MOLAR.ethanol));
    const mass = plus(ethanol, times(times(flow, minus(number(1), y)), number(MOLAR.water)));
    const { off, change } = goal(
      state,
      { mass: c.step(`${about}: mass for it`, mass), ethanol: c.step(`${about}: alcohol for it`, ethanol) },
      about,
    );
    const step = over(off, change);
    // Never further at once than a factor of e³ in x, so that a poor guess cannot run away.
    s = c.step(`${about}: next ln x`, minus(s, call("MAX", number(-3), call("MIN", number(3), step))));
  }
  const last = c.step("end: -ln of the moles left", plus(integral, stretch(c, still, from, s, 2, "end")));
  return stateAt(c, charge, s, last, "end");
}

/** Ends when so much distillate has been taken, as mass or as volume. */
export function takenGoal(c: NativeCall, amount: Expression, byMass: boolean): Goal {
  return (state, slope, about) => {
    if (byMass) return { off: minus(state.takenMass, amount), change: slope.mass };
    const p = c.step(`${about}: strength taken, by mass`, over(state.takenEthanol, state.takenMass));
    const rho = c.step(`${about}: density taken (kg/m3)`, density(c, p));
    const bend = c.step(`${about}: slope of the density`, densitySlope(c, p));
    const turned = minus(slope.ethanol, times(p, slope.mass));
    return {
      off: minus(over(state.takenMass, rho), amount),
      change: over(minus(slope.mass, over(times(bend, turned), rho)), rho),
    };
  };
}
