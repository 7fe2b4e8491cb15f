import { Trouble } from "../quantity/trouble";
import { latentHeat } from "./condenser";
import { ETHANOL_MOLAR_MASS } from "./ethanol";
import { follow } from "./integration";
import type { Liquid } from "./liquid";
import { massOf } from "./liquid";
import type { Run, Still } from "./still";
import { massFractionOfMoles } from "./vapour";
import { WATER_MOLAR_MASS } from "./water";

/**
 * How long a run takes: heat passes from bath to pot as UA (bath − pot), at most as much as the chiller removes, and
 * evaporates what leaves: dt = L dm / Q. The pot's own warming during the run (a few per cent) is left out; warming
 * the charge to its boil is counted apart, when its first temperature is known.
 */

/** What a still can pass: W/K from bath to pot, and at most so many watts. */
export interface Heating {
  readonly bath: number;
  readonly perKelvin: number;
  /** Power of the chiller at the coolant's temperature, W; absent when it never limits. */
  readonly chill?: number;
}

/** Heat from the bath into a pot at `kelvin`, W. */
const passed = (heating: Heating, kelvin: number): number =>
  Math.min(heating.perKelvin * (heating.bath - kelvin), heating.chill ?? Number.POSITIVE_INFINITY);

/** From one timed run: what was evaporated (kg, mass fraction of ethanol in the vapour), in s, with the pot at `pot` K. */
export function calibrate(
  driven: number,
  p: number,
  seconds: number,
  bath: number,
  pot: number,
): { readonly power: number; readonly perKelvin: number } {
  if (!(driven > 0 && seconds > 0)) {
    throw new Trouble({
      code: "nothing-there",
      says: "Something must have come over, in a time greater than nothing.",
      help: "Weigh the receiver before and after, from the first drop on.",
    });
  }
  if (!(bath > pot)) {
    throw new Trouble({
      code: "bath-too-cold",
      says: `A bath of ${celsius(bath)} cannot have boiled this pot, which boils at ${celsius(pot)} at that pressure.`,
      help: "Check the pressure (absolute) and the bath's thermometer.",
    });
  }
  const power = (driven * latentHeat(p, pot)) / seconds;
  return { power, perKelvin: power / (bath - pot) };
}

const celsius = (kelvin: number): string => `${Number((kelvin - 273.15).toFixed(2))} °C`;

export type Limit = "bath" | "chiller" | "both";

/** Seconds of a run up to its ends, and what held it back. */
export interface Timing {
  readonly seconds: number;
  /** Mass that leaves the pot in a second at the end, kg/s, and its mass fraction of ethanol. */
  readonly lastRate: number;
  readonly lastFraction: number;
  readonly limit: Limit;
}

/**
 * Time that a run takes at the boil.
 *
 * @param t how far: −ln of the share of moles left, from `run`
 * @throws Trouble `bath-too-cold` when the bath cannot boil the end of the run
 */
export function timeRun(still: Still, run: Run, heating: Heating, t: number = run.t): Timing {
  const { perKelvin, chill } = heating;
  if (!(perKelvin > 0) || (chill !== undefined && !(chill > 0))) {
    throw new Trouble({
      code: "nothing-there",
      says: "The heat that passes for each kelvin, and the chiller's power, must be greater than nothing.",
      help: "know_still finds the first from one timed run of water.",
    });
  }
  const moles =
    massOf(run.charge) === 0
      ? 0
      : run.charge.ethanol / ETHANOL_MOLAR_MASS + run.charge.water / WATER_MOLAR_MASS;
  /** d(seconds)/dt at a place of the run. */
  const pace = (at: number, x: number): number => {
    const y = still.goesOver(x);
    const p = massFractionOfMoles(y);
    const kelvin = still.temperature(x);
    const mass = moles * Math.exp(-at) * (y * ETHANOL_MOLAR_MASS + (1 - y) * WATER_MOLAR_MASS);
    return (mass * latentHeat(p, kelvin)) / passed(heating, kelvin);
  };
  const hottest = Math.max(still.temperature(run.startX), still.temperature(run.endX));
  if (!(heating.bath > hottest)) throw tooCold(heating.bath, hottest, still.temperature(run.startX));
  // Where bath and chiller give way to one another the pace has a corner: stop there and go on, so that steps stay long.
  const corner = chill === undefined ? Number.POSITIVE_INFINITY : heating.bath - chill / perKelvin;
  const slope = (at: number, [x]: readonly number[]): number[] => [-(still.goesOver(x!) - x!), pace(at, x!)];
  let course: { t: number; state: readonly number[] } = { t: 0, state: [run.startX, 0] };
  const chilled = chill !== undefined && still.temperature(run.startX) < corner;
  let limit: Limit = chilled ? "chiller" : "bath";
  if (chilled) {
    const met = follow(slope, course, (_t, [x]) => still.temperature(x!) - corner, t, "the time of the run");
    course = met;
    if (met.met && met.t < t) limit = "both";
  }
  if (course.t < t) course = follow(slope, course, () => -1, t, "the time of the run");
  const [x, seconds] = course.state;
  const y = still.goesOver(x!);
  const kelvin = still.temperature(x!);
  const lastFraction = massFractionOfMoles(y);
  return {
    seconds: seconds!,
    lastRate: passed(heating, kelvin) / latentHeat(lastFraction, kelvin),
    lastFraction,
    limit,
  };
}

function tooCold(bath: number, hottest: number, first: number): Trouble {
  return new Trouble({
    code: "bath-too-cold",
    says:
      bath <= first
        ? `A bath of ${celsius(bath)} does not even begin this run: the pot boils at ${celsius(first)}.`
        : `A bath of ${celsius(bath)} cannot boil the end of this run: the pot would be at ${celsius(hottest)} then, and it stops by itself before that.`,
    help: "Use a warmer bath or a lower pressure, or stop earlier; distil with `bath` says where it stops.",
  });
}

/** Heat capacity of liquid water and ethanol, J/(kg K), from memory and an encyclopedia's page. */
const WATER_HEAT = 4180;
const ETHANOL_HEAT = 2440;

/** Seconds that the bath needs to warm a charge from `from` to its boil at `to`, without losses; heat capacities add by mass (an estimate). */
export function warmingTime(charge: Liquid, from: number, to: number, heating: Heating): number {
  if (from >= to) return 0;
  const heat = charge.ethanol * ETHANOL_HEAT + charge.water * WATER_HEAT;
  return (heat / heating.perKelvin) * Math.log((heating.bath - from) / (heating.bath - to));
}

/** How a run's time grows with the flask: with its area for the same charge when the bath limits, with the charge when the chiller does. */
export function scaleTime(seconds: number, flask: number, to: number, limit: "bath" | "chiller"): number {
  if (!(flask > 0 && to > 0)) {
    throw new Trouble({
      code: "nothing-there",
      says: "Both flasks must have a size greater than nothing.",
      help: "Give the volumes that are marked on them.",
    });
  }
  return seconds * (limit === "bath" ? Math.cbrt(to / flask) : to / flask);
}
