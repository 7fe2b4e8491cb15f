import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";
import { ETHANOL_MOLAR_MASS } from "./ethanol";
import { follow } from "./integration";
import { fractionOf, type Liquid, massOf, times, volumeOf, without } from "./liquid";
import { volumeFraction } from "./spirit";
import {
  bubblePressure,
  bubbleTemperature,
  type Hindrance,
  massFractionOfMoles,
  moleFraction,
  NO_HINDRANCE,
  vapourFraction,
} from "./vapour";
import { WATER_MOLAR_MASS } from "./water";

/**
 * Simple batch distillation: one theoretical plate, pot well mixed, vapour that leaves in equilibrium with the pot,
 * all of it condensed, nothing held up on the way (Rayleigh). With W moles in the pot and t = −ln(W/W₀),
 * dx/dt = −(y − x). It is smooth and has no division by y − x, so an azeotropic charge simply stays as it is.
 */

/** What leaves a still, and the state of its pot, when the pot's liquid has the mole fraction `x`. */
export interface Still {
  /** Mole fraction of ethanol in what goes over. */
  goesOver(x: number): number;
  /** Temperature of the pot, K. */
  temperature(x: number): number;
  /** Pressure, Pa. */
  pressure(x: number): number;
}

/** What a real still does that the model of one plate does not. Shares, 0 when left out. */
export interface Departures {
  /** Share of the vapour (by amount) that condenses on the way, in equilibrium, and runs back. */
  readonly reflux?: number;
  /** Share of the distillate (by mass) that is pot liquid. */
  readonly carryOver?: number;
  /** Addition to the vapour's mole fraction, faded out near pure water and pure ethanol: how the model's error is felt. */
  readonly shift?: number;
  /** What dissolved matter does to the vapour. */
  readonly hindrance?: Hindrance;
}

/** A still held at one pressure. */
export function isobaricStill(pascal: number, departures: Departures = {}): Still {
  const { reflux = 0, carryOver = 0, shift = 0, hindrance = NO_HINDRANCE } = departures;
  // Each boiling temperature starts its neighbour's search; it belongs to this still alone.
  let near = 310;
  const temperature = (x: number): number => {
    near = bubbleTemperature(x, pascal, hindrance, near);
    return near;
  };
  const equilibrium = (x: number): number => shifted(vapourFraction(x, temperature(x), hindrance), shift);
  return {
    temperature,
    pressure: () => pascal,
    goesOver(x) {
      let y = equilibrium(x);
      if (reflux > 0) y = afterReflux(y, reflux, equilibrium);
      return carryOver > 0 ? withPotLiquid(y, x, carryOver) : y;
    },
  };
}

/** A still whose pressure is lowered so that the pot stays at one temperature. */
export function isothermalStill(kelvin: number, departures: Departures = {}): Still {
  const { shift = 0, hindrance = NO_HINDRANCE } = departures;
  return {
    temperature: () => kelvin,
    pressure: (x) => bubblePressure(x, kelvin, hindrance),
    goesOver: (x) => shifted(vapourFraction(x, kelvin, hindrance), shift),
  };
}

/** Nothing is shifted where the vapour is pure; the full shift holds from 5 to 95 mol %. */
const shifted = (y: number, shift: number): number =>
  shift === 0 ? y : y + shift * Math.min(1, y / 0.05, (1 - y) / 0.05);

/** Vapour left after a share of it has condensed: (1 − r) y(ξ) + r ξ = y, where ξ is the liquid that runs back. */
function afterReflux(y: number, reflux: number, equilibrium: (x: number) => number): number {
  if (y <= 0 || y >= 1) return y;
  const back = rootBetween((x) => (1 - reflux) * equilibrium(x) + reflux * x - y, 0, 1, {
    what: "the strength of what runs back",
  });
  return equilibrium(back);
}

function withPotLiquid(y: number, x: number, share: number): number {
  return moleFraction((1 - share) * massFractionOfMoles(y) + share * massFractionOfMoles(x));
}

/** How far a run goes. Amounts are of distillate, after losses. */
export type End =
  | { readonly type: "volume"; readonly volume: number }
  | { readonly type: "mass"; readonly mass: number }
  /** Mass fraction of ethanol left in the pot. */
  | { readonly type: "strength"; readonly left: number }
  /** Ethanol left in the pot, kg. */
  | { readonly type: "ethanol"; readonly left: number }
  /** Pot temperature, K. */
  | { readonly type: "temperature"; readonly kelvin: number };

export interface Run {
  readonly charge: Liquid;
  /** Distillate in the receiver. */
  readonly taken: Liquid;
  /** What escaped on the way, of the same strength. */
  readonly lost: Liquid;
  readonly left: Liquid;
  /** Mole fractions in the pot at the start and at the end. */
  readonly startX: number;
  readonly endX: number;
  /** −ln of the share of moles left. */
  readonly t: number;
}

/** Longest run: a pot of which one part in 10¹³ is left has boiled dry. */
const DRY = 30;

/**
 * Runs a still from `charge` to `end`.
 *
 * @param lost share of what leaves the pot that never reaches the receiver
 * @throws Trouble `more-than-charge`, `not-reached`, `did-not-converge`
 */
export function runStill(still: Still, charge: Liquid, end: End, lost = 0): Run {
  const moles = charge.ethanol / ETHANOL_MOLAR_MASS + charge.water / WATER_MOLAR_MASS;
  const startX = charge.ethanol / ETHANOL_MOLAR_MASS / moles;
  const leftAt = (t: number, x: number): Liquid => {
    const stays = moles * Math.exp(-t);
    return { ethanol: stays * x * ETHANOL_MOLAR_MASS, water: stays * (1 - x) * WATER_MOLAR_MASS };
  };
  const over = (t: number, x: number): Liquid => without(charge, leftAt(t, x));
  const goal = goalOf(still, charge, end, 1 - lost, startX, leftAt, over);
  const course = follow(
    (_t, [x]) => [-(still.goesOver(clamped(x!)) - x!)],
    { t: 0, state: [startX] },
    (t, [x]) => goal(t, clamped(x!)),
    DRY,
    "the run",
  );
  if (!course.met) throw notReached(end);
  const endX = clamped(course.state[0]!);
  const gone = over(course.t, endX);
  const taken = times(gone, 1 - lost);
  return {
    charge,
    taken,
    lost: without(gone, taken),
    left: leftAt(course.t, endX),
    startX,
    endX,
    t: course.t,
  };
}

const clamped = (x: number): number => Math.min(1, Math.max(0, x));

function goalOf(
  still: Still,
  charge: Liquid,
  end: End,
  arrives: number,
  startX: number,
  leftAt: (t: number, x: number) => Liquid,
  over: (t: number, x: number) => Liquid,
): (t: number, x: number) => number {
  switch (end.type) {
    case "volume": {
      needLess(end.volume, arrives * volumeOf(charge), "mL");
      return (t, x) => (t === 0 ? -1 : arrives * volumeOf(over(t, x)) - end.volume);
    }
    case "mass": {
      needLess(end.mass, arrives * massOf(charge), "g");
      return (t, x) => arrives * massOf(over(t, x)) - end.mass;
    }
    case "strength": {
      const wanted = moleFraction(end.left);
      const falls = still.goesOver(startX) > startX;
      if (falls ? wanted >= startX || wanted <= 0 : wanted <= startX)
        throw cannotLeave(end.left, startX, falls);
      return (_t, x) => (falls ? wanted - x : x - wanted);
    }
    case "ethanol":
      return (t, x) => end.left - leftAt(t, x).ethanol;
    case "temperature":
      return (_t, x) => still.temperature(x) - end.kelvin;
  }
}

function needLess(asked: number, most: number, unit: "mL" | "g"): void {
  if (asked < most) return;
  const shown = (si: number): string =>
    `${Number((si * (unit === "mL" ? 1e6 : 1e3)).toPrecision(5))} ${unit}`;
  throw new Trouble({
    code: "more-than-charge",
    says: `The pot holds ${shown(most)} to give, and ${shown(asked)} are asked: a run to dryness cannot be worked out, and must not be done.`,
    help: "Take less, and leave liquid in the flask to the end.",
  });
}

function cannotLeave(left: number, startX: number, falls: boolean): Trouble {
  const percent = (p: number): string => `${Number((100 * volumeFraction(p)).toPrecision(4))} %vol`;
  const start = percent(massFractionOfMoles(startX));
  if (left <= 0) {
    return new Trouble({
      code: "not-reached",
      says: "A pot never comes to exactly no alcohol: the last of it thins out without end.",
      help: "Leave a little, for example leave: 0.1 %vol.",
    });
  }
  return new Trouble({
    code: "not-reached",
    says: falls
      ? `The pot starts at ${start} and gets weaker, so it never holds ${percent(left)}.`
      : `A pot of ${start} does not get weaker here (its vapour is no stronger than the liquid), so it never holds ${percent(left)}.`,
    help: "Give leave as a strength between 0 and that of the charge.",
  });
}

function notReached(end: End): Trouble {
  return new Trouble({
    code: "not-reached",
    says:
      end.type === "temperature"
        ? "The pot never gets that warm: it boils dry first."
        : "The run does not come to that end before the pot is dry.",
    help: "Ask for an earlier end.",
  });
}

/**
 * Mole fraction at which the pot has warmed to `kelvin`, from which point a bath that gives no more ends the run.
 * Undefined when the pot, down to pure water, never gets so warm; the charge's own when it does not even begin.
 */
export function stallFraction(still: Still, startX: number, kelvin: number): number | undefined {
  if (still.temperature(startX) >= kelvin) return startX;
  if (still.temperature(0) <= kelvin) return undefined;
  return rootBetween((x) => kelvin - still.temperature(x), 0, startX, {
    what: "the strength at which the run stalls",
  });
}

/** What went over between the ends of successive jars, for the same still. */
export function runCuts(
  still: Still,
  charge: Liquid,
  jars: readonly ({ readonly volume: number } | { readonly mass: number })[],
): readonly Run[] {
  const runs: Run[] = [];
  let pot = charge;
  for (const jar of jars) {
    const end: End =
      "volume" in jar ? { type: "volume", volume: jar.volume } : { type: "mass", mass: jar.mass };
    const run = runStill(still, pot, end);
    runs.push(run);
    pot = run.left;
  }
  return runs;
}

/** Strength of a liquid that the pot or the receiver holds, as a mass fraction; the pot's when nothing has come over yet. */
export const strengthOf = (liquid: Liquid, otherwise: number): number =>
  massOf(liquid) > 0 ? fractionOf(liquid) : otherwise;
