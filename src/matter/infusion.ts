import { Trouble } from "../quantity/trouble";

/**
 * Honey mixed with an infusion and brought back to its moisture under vacuum: a mass balance of solids, water
 * and ethanol. All masses in kg, all compositions mass fractions. Solids are taken not to distil and the
 * little mass of the aroma is left out.
 */

export interface HoneyMix {
  readonly honey: number;
  /** Water in the honey. */
  readonly moisture: number;
  /** Ethanol in the infusion. */
  readonly ethanol: number;
  /** Dissolved solids in the infusion. */
  readonly solids: number;
  /** Moisture wanted at the end. */
  readonly to: number;
  /** Ethanol that may stay at the end. */
  readonly alcoholLeft: number;
}

export interface HoneyRun {
  readonly mixedMoisture: number;
  readonly takenWater: number;
  readonly takenAlcohol: number;
  readonly takenMass: number;
  readonly leftMass: number;
}

const grams = (kg: number): string => `${Number((1000 * kg).toPrecision(5))} g`;
const percent = (fraction: number): string => `${Number((100 * fraction).toFixed(3))} %`;

function needShares(mix: HoneyMix): void {
  const wrong = (says: string, help?: string): never => {
    throw new Trouble({ code: "out-of-range", says, ...(help === undefined ? {} : { help }) });
  };
  if (!(mix.honey > 0)) wrong("There must be some honey, and its mass is not more than 0.");
  if (!(mix.moisture >= 0 && mix.moisture < 1)) wrong(`Honey cannot hold ${percent(mix.moisture)} water.`);
  if (!(mix.ethanol >= 0 && mix.solids >= 0 && mix.ethanol + mix.solids <= 1)) {
    wrong(
      `An infusion cannot hold ${percent(mix.ethanol)} alcohol and ${percent(mix.solids)} solids by mass.`,
      "Together they are at most 100 %.",
    );
  }
  if (!(mix.to > 0 && mix.alcoholLeft >= 0 && mix.to + mix.alcoholLeft < 1)) {
    wrong(
      `A honey of ${percent(mix.to)} water and ${percent(mix.alcoholLeft)} alcohol by mass has no room for solids.`,
      "Water and alcohol that stay must be under 100 % together.",
    );
  }
}

/**
 * What must be driven off when `infusion` kg are stirred into the honey.
 *
 * @throws Trouble `too-dry` when water would have to be added, `not-enough-alcohol` when more is to stay than is there
 * Source: mass balance.
 */
export function infuseHoney(mix: HoneyMix, infusion: number): HoneyRun {
  needShares(mix);
  if (!(infusion >= 0)) {
    throw new Trouble({ code: "out-of-range", says: "The mass of the infusion cannot be negative." });
  }
  const solids = mix.honey * (1 - mix.moisture) + infusion * mix.solids;
  const water = mix.honey * mix.moisture + infusion * (1 - mix.ethanol - mix.solids);
  const alcohol = infusion * mix.ethanol;
  const leftMass = solids / (1 - mix.to - mix.alcoholLeft);
  const takenWater = water - mix.to * leftMass;
  const takenAlcohol = alcohol - mix.alcoholLeft * leftMass;
  const mass = mix.honey + infusion;
  const grain = 1e-12 * mass;
  if (takenWater < -grain) {
    throw new Trouble({
      code: "too-dry",
      says:
        `The mix holds too little water for ${percent(mix.to)}: when the alcohol is off it is drier than that, ` +
        `and ${grams(-takenWater)} of water would have to be added.`,
      help: "Ask for a lower moisture, or take a weaker infusion.",
    });
  }
  if (takenAlcohol < -grain) {
    throw new Trouble({
      code: "not-enough-alcohol",
      says: `${percent(mix.alcoholLeft)} alcohol is to stay, ${grams(mix.alcoholLeft * leftMass)}, but the infusion brings only ${grams(alcohol)}.`,
      help: "Let less alcohol stay, or take more or stronger infusion.",
    });
  }
  return {
    mixedMoisture: water / mass,
    takenWater: Math.max(0, takenWater),
    takenAlcohol: Math.max(0, takenAlcohol),
    takenMass: mass - leftMass,
    leftMass,
  };
}

export interface HoneyLimits {
  /** Mass of water that can be driven off in the time there is. */
  readonly budget?: number | undefined;
  /** The flask that holds honey and infusion at the start, m³, and the share of it that may be filled. */
  readonly flask?:
    | {
        readonly volume: number;
        readonly fill: number;
        readonly honeyDensity: number;
        readonly infusionDensity: number;
      }
    | undefined;
}

export interface HoneyLimit extends HoneyRun {
  readonly infusion: number;
  readonly limitedBy: "water" | "flask";
}

/**
 * The most infusion that the honey can take within a budget of water and a flask.
 *
 * @throws Trouble `no-limit` when nothing limits it, `over-budget` when the honey alone needs more than the budget,
 * `flask-full` when the honey alone fills the flask, and whatever {@link infuseHoney} says of the answer
 */
export function infuseHoneyLimit(mix: HoneyMix, limits: HoneyLimits): HoneyLimit {
  needShares(mix);
  if (limits.budget === undefined && limits.flask === undefined) {
    throw new Trouble({
      code: "missing-argument",
      says: "Nothing limits the infusion yet: neither a budget of water nor a flask is given.",
      help: "Say `budget: 400 g`, the water that the still can drive off in the time there is, or `flask: 2 L`, or both.",
    });
  }
  const byWater = limits.budget === undefined ? Number.POSITIVE_INFINITY : mostByWater(mix, limits.budget);
  const byFlask = limits.flask === undefined ? Number.POSITIVE_INFINITY : mostByFlask(mix, limits.flask);
  const infusion = Math.min(byWater, byFlask);
  if (infusion === Number.POSITIVE_INFINITY) {
    throw new Trouble({
      code: "no-limit",
      says: "This infusion brings no water that must be driven off again, so the budget of water sets no limit.",
      help: "Give the flask, whose room is then the only limit.",
    });
  }
  const run = infuseHoney(mix, infusion);
  if (limits.budget !== undefined && run.takenWater > limits.budget * (1 + 1e-9)) {
    throw new Trouble({
      code: "over-budget",
      says: `Even with the flask full of infusion ${grams(run.takenWater)} of water must go, and the budget is ${grams(limits.budget)}.`,
      help: "Raise the budget of water, or accept a moister honey.",
    });
  }
  return { infusion, limitedBy: byWater <= byFlask ? "water" : "flask", ...run };
}

function mostByWater(mix: HoneyMix, budget: number): number {
  const k = mix.to / (1 - mix.to - mix.alcoholLeft);
  const honeyAlone = mix.honey * mix.moisture - k * mix.honey * (1 - mix.moisture);
  const perInfusion = 1 - mix.ethanol - mix.solids - k * mix.solids;
  if (perInfusion <= 0) return Number.POSITIVE_INFINITY;
  if (budget < honeyAlone) {
    const left = mix.honey - budget;
    const water = mix.honey * mix.moisture - budget;
    throw new Trouble({
      code: "over-budget",
      says:
        `The honey alone must lose ${grams(honeyAlone)} of water to reach ${percent(mix.to)}, ` +
        `and the budget is ${grams(budget)}: no infusion can be added.`,
      help: `With ${grams(budget)} off, the honey alone reaches ${percent(water / left)}.`,
    });
  }
  return (budget - honeyAlone) / perInfusion;
}

function mostByFlask(mix: HoneyMix, flask: NonNullable<HoneyLimits["flask"]>): number {
  const room = flask.fill * flask.volume - mix.honey / flask.honeyDensity;
  if (!(room >= 0)) {
    throw new Trouble({
      code: "flask-full",
      says:
        `The honey alone takes ${Number(((1e6 * mix.honey) / flask.honeyDensity).toPrecision(4))} mL, ` +
        `more than ${percent(flask.fill)} of the flask (${Number((1e6 * flask.fill * flask.volume).toPrecision(4))} mL).`,
      help: "Take a larger flask or less honey.",
    });
  }
  return flask.infusionDensity * room;
}
