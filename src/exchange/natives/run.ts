import { kinds } from "../../quantity";
import { call, type Expression, minus, number, operation, over, times } from "../expression";
import { fittedBoiling, type StillTerms, stillTerms } from "./fitted-still";
import type { Native, NativeCall } from "./native";
import { both } from "./ranges";
import {
  type Charge,
  chargeOf,
  RUN_ERROR,
  type RunState,
  runToFraction,
  runToGoal,
  takenGoal,
} from "./rayleigh";
import { density, pureDensity, volumeFraction, waterDensity } from "./spirit-maths";
import { stallAt, stalling } from "./stall";
import { massOfMoles, moles } from "./vapour";

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
export function charged(c: NativeCall): { p: Expression; mass: Expression } {
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
export const guessed = (mass: Expression, charge: Charge): Expression =>
  over(over(mass, number(30)), charge.moles);

/** Where a run ends that takes an amount or leaves a strength. */
export function wantedEnd(
  c: NativeCall,
  still: StillTerms,
  charge: Charge,
  p: Expression,
  mass: Expression,
  arrives: Expression,
): RunState {
  const leave = c.optional("leave");
  const take = c.optional("take");
  if (leave !== undefined)
    return runToFraction(c, still, charge, c.step("wanted mole fraction", moles(leave)));
  if (take === undefined) return c.refuse("without an amount to take or a strength to leave");
  const wanted = c.step("what must go over, in SI units", over(take, arrives));
  const byMass = isMass(c, "take");
  const less = operation("<", wanted, byMass ? mass : over(mass, density(c, p)));
  const amount = c.step("the same, if the pot holds it", c.within(wanted, less));
  const aboutMass = byMass ? amount : times(amount, number(880));
  return runToGoal(c, still, charge, guessed(aboutMass, charge), takenGoal(c, amount, byMass));
}

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
  let begun = charge;
  if (stall !== undefined) {
    // A bath that does not boil the pot at all, or that boils it dry where it was to end the run, ends nothing.
    const boils = operation("<", stall.x, charge.x);
    const ends = take === undefined && leave === undefined ? both(call("NOT", stall.never), boils) : boils;
    begun = {
      ...charge,
      x: c.step("charge: mole fraction, if the bath can do it", c.within(charge.x, ends)),
    };
  }
  if (leave === undefined && take === undefined && stall !== undefined) {
    end = runToFraction(c, still, begun, stall.x);
  } else end = wantedEnd(c, still, charge, p, mass, arrives);
  const start = fittedBoiling(c, still, begun.x, "first boil");
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
      : stalling(c, stall, charge.x, take === undefined && leave === undefined ? undefined : end)),
  };
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
