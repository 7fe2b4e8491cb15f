import { kinds } from "../../quantity";
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
import { fittedBoiling, place, type StillTerms, stillTerms } from "./fitted-still";
import type { Native, NativeCall } from "./native";
import { both } from "./spirit";
import { density, densitySlope, pureDensity, volumeFraction, waterDensity } from "./spirit-maths";
import { MOLAR, massOfMoles, moles, pressures } from "./vapour";

/**
 * Rayleigh's distillation in spreadsheet arithmetic: with s = ln x and h = x/(y - x), the moles in the pot are
 * W = W0 exp(-∫ h ds). The integral is taken by Gauss-Legendre over a handful of places, the vapour there from a
 * fit (fits.ts). Where an amount is asked for, the end is found by Newton's method, each step adding the stretch
 * to the last. What comes out is within `RUN_ERROR` of the book.
 */
export const RUN_ERROR = 3e-4;
// ---- the integral -----------------------------------------------------------------------------------------

/** Nodes (0 to 1) and weights of Gauss-Legendre rules. */
function gauss(n: number): { nodes: number[]; weights: number[] } {
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
function pace(
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

// ---- results ------------------------------------------------------------------------------------------------

/** Volume, mass, strength and pure alcohol of a liquid by its two masses. */
export function amounts(c: NativeCall, prefix: string, mass: Expression, ethanol: Expression) {
  const p = c.step(`${prefix}: alcohol by mass`, over(ethanol, mass));
  return {
    [`${prefix}.volume`]: over(mass, density(c, p)),
    [`${prefix}.mass`]: mass,
    [`${prefix}.strength`]: volumeFraction(c, p),
    [`${prefix}.alcohol`]: over(ethanol, pureDensity(c)),
  };
}

const isMass = (c: NativeCall, name: string): boolean => c.kindOf(name) === kinds.mass;
const zero = (c: NativeCall, name: string): boolean =>
  c.optional(name) === undefined || c.constant(name) === 0;

/** The charge of a call: its mass, and its strength by mass. */
function charged(c: NativeCall): { p: Expression; mass: Expression } {
  const p = c.number("strength");
  const amount = c.number("volume");
  const there = c.step("charge, in SI units", c.within(amount, operation(">", amount, number(0))));
  const mass = isMass(c, "volume") ? there : c.step("charge: mass (kg)", times(there, density(c, p)));
  const flask = c.optional("flask");
  if (flask === undefined) return { p, mass };
  const half = times(number(0.5 + 1e-9), flask);
  return {
    p,
    mass: c.step(
      "charge, in at most half a flask (kg)",
      c.within(mass, operation("<=", over(mass, density(c, p)), half)),
    ),
  };
}

/** Share of the charge's moles that an amount of distillate may hold, for a first guess. */
const guessed = (mass: Expression, charge: Charge): Expression => over(over(mass, number(30)), charge.moles);

function distil(c: NativeCall) {
  if (!zero(c, "reflux") || !zero(c, "carry_over")) c.refuse("with reflux or carry-over");
  const { p, mass } = charged(c);
  if (p.type === "number" && p.value === 0) c.refuse("for a charge without alcohol");
  const still = stillTerms(c, c.number("pressure"));
  const charge = chargeOf(c, mass, p);
  const lost = c.optional("lost") ?? number(0);
  const arrives =
    lost.type === "number" ? number(1 - lost.value) : c.step("share that arrives", minus(number(1), lost));
  const take = c.optional("take");
  const leave = c.optional("leave");
  const bath = c.optional("bath");
  const stall =
    bath === undefined ? undefined : stallAt(c, still, charge.x, minus(bath, c.number("still_gap")));
  let end: RunState;
  if (leave === undefined && take === undefined && stall !== undefined)
    end = runToFraction(c, still, charge, stall.x);
  else if (leave !== undefined)
    end = runToFraction(c, still, charge, c.step("wanted mole fraction", moles(leave)));
  else if (take !== undefined) {
    const wanted = c.step("what must go over, in SI units", over(take, arrives));
    const byMass = isMass(c, "take");
    const less = operation("<", wanted, byMass ? mass : over(mass, density(c, p)));
    const amount = c.step("the same, if the pot holds it", c.within(wanted, less));
    const aboutMass = byMass ? amount : times(amount, number(880));
    end = runToGoal(c, still, charge, guessed(aboutMass, charge), takenGoal(c, amount, byMass));
  } else return c.refuse("without an amount to take or a strength to leave");
  const start = fittedBoiling(c, still, charge.x, "first boil");
  const last = fittedBoiling(c, still, end.x, "last boil");
  const taken = amounts(
    c,
    "taken",
    c.step("taken (kg)", times(end.takenMass, arrives)),
    c.step("alcohol taken (kg)", times(end.takenEthanol, arrives)),
  );
  const { "left.alcohol": _, ...left } = amounts(c, "left", end.leftMass, end.leftEthanol);
  return {
    ...taken,
    ...left,
    recovered: over(times(end.takenEthanol, arrives), charge.ethanol),
    start_temperature: start.kelvin,
    end_temperature: last.kelvin,
    first_drops: volumeFraction(
      c,
      c.step("first drops, by mass", massOfMoles(c.step("first drops, mole fraction", start.vapour))),
    ),
    ...(stall === undefined
      ? {}
      : stalling(c, stall, take === undefined && leave === undefined ? undefined : end)),
  };
}

/** Where a bath gives no more: the mole fraction at which the pot has warmed to a temperature, and whether it ever does. */
interface Stall {
  readonly x: Expression;
  readonly never: Expression;
}

/** Steps on the fit, which cost a cell each, before the model itself is asked. */
const STALL_STEPS = 6;

function stallAt(c: NativeCall, still: StillTerms, start: Expression, kelvin: Expression): Stall {
  const warm = c.step("pot when the bath gives no more (K)", kelvin);
  const water = pressures(c, { x: number(0) }, warm, "water at that temperature").total;
  const never = operation(">=", call("LN", water), still.lnPressure);
  const terms = still.inverse();
  const slope = terms.slice(1).map((t, k) => times(number(k + 1), t));
  const wanted = c.step("1000/T wanted", over(number(1000), warm));
  let z = c.step("stall: z, first guess", place(over(start, number(4))));
  const lowest = number(-1);
  const highest = c.step("stall: z of the charge", place(start));
  for (let i = 1; i <= STALL_STEPS; i++) {
    const next = minus(z, over(minus(polynomial(terms, z), wanted), polynomial(slope, z)));
    z = c.step(`stall: z, step ${i}`, call("MAX", lowest, call("MIN", highest, next)));
  }
  const w = over(plus(z, number(1)), number(2));
  let x = c.step(
    "stall: x, fitted",
    call("MAX", number(1e-7), over(times(number(0.3), w), minus(number(1), times(number(0.7), w)))),
  );
  const miss = (at: Expression, about: string): Expression =>
    c.step(
      `${about}: ln p too high by`,
      minus(call("LN", pressures(c, { x: at }, warm, about).total), still.lnPressure),
    );
  const first = miss(x, "stall, fitted");
  const beside = c.step("stall: x beside it", times(number(1.01), x));
  const chord = c.step("stall: slope", over(minus(miss(beside, "stall, beside"), first), minus(beside, x)));
  x = c.step("stall: x, better", minus(x, over(first, chord)));
  x = c.step("stall: x", minus(x, over(miss(x, "stall, better"), chord)));
  return { x, never };
}

function stalling(c: NativeCall, stall: Stall, end: RunState | undefined) {
  const past =
    end === undefined
      ? call("NOT", stall.never)
      : both(call("NOT", stall.never), operation("<", end.x, times(stall.x, number(1 - 1e-9))));
  const left = volumeFraction(c, c.step("left when it stalls, by mass", massOfMoles(stall.x)));
  return { stalls: past, stalls_at: call("IF", stall.never, call("NA"), left) };
}

/** Jar by jar: each is a run from where the last one ended. */
function cuts(c: NativeCall) {
  const { p, mass } = charged(c);
  const still = stillTerms(c, c.number("pressure"));
  let charge = chargeOf(c, mass, p);
  const byMass = isMass(c, "jars");
  return c.together("jars").map((jar, i) => {
    const amount = jar.values[0]!;
    const about = byMass ? amount : times(amount, number(850));
    const end = runToGoal(c, still, charge, guessed(about, charge), takenGoal(c, amount, byMass));
    const taken = amounts(c, "jar", end.takenMass, end.takenEthanol);
    const left = amounts(c, "pot", end.leftMass, end.leftEthanol);
    const pot = fittedBoiling(c, still, end.x, `pot after jar ${i + 1}`);
    charge = { mass: end.leftMass, ethanol: end.leftEthanol, moles: end.moles, x: end.x, s: end.s };
    return {
      strength: taken["jar.strength"],
      pure_volume: taken["jar.alcohol"],
      pot_temperature: pot.kelvin,
      "left.strength": left["pot.strength"],
      "left.volume": left["pot.volume"],
    };
  });
}

function alcoholOut(c: NativeCall) {
  const { p, mass } = charged(c);
  const still = stillTerms(c, c.number("pressure"));
  const charge = chargeOf(c, mass, p);
  const to = c.number("to");
  const total = c.step("volume of the charge (m3)", over(mass, density(c, p)));
  const whole = c.step("mass of as much at the goal (kg)", times(total, density(c, to)));
  const inside = both(operation(">", to, number(0)), operation("<", to, p));
  const stays = c.step("alcohol that stays (kg)", c.within(times(whole, to), inside));
  const share = c.step(
    "share of the moles that goes over, guessed",
    over(over(minus(charge.ethanol, stays), number(12)), charge.moles),
  );
  const end = runToGoal(c, still, charge, share, (state, slope) => ({
    // The logarithm is nearly straight in ln x.
    off: call("LN", over(state.leftEthanol, stays)),
    change: over(minus(number(0), slope.ethanol), state.leftEthanol),
  }));
  const water = c.step("water to give back (kg)", minus(whole, end.leftMass));
  const { "left.alcohol": _, ...left } = amounts(c, "left", end.leftMass, end.leftEthanol);
  return {
    ...amounts(c, "taken", end.takenMass, end.takenEthanol),
    ...left,
    add: over(water, waterDensity(c)),
    add_mass: water,
    total,
    end_temperature: fittedBoiling(c, still, end.x, "last boil").kelvin,
  };
}

export const run: Readonly<Record<string, Native>> = {
  distil: { error: RUN_ERROR, write: (c) => ({ parts: distil(c) }) },
  alcohol_out: { error: RUN_ERROR, write: (c) => ({ parts: alcoholOut(c) }) },
  cuts: { error: RUN_ERROR, write: (c) => ({ rows: cuts(c) }) },
};
