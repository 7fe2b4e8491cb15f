import { Trouble } from "../quantity/trouble";
import { type NorrishName, norrishActivity } from "./activity";
import { rootBetween } from "./bracket";
import { SUCROSE_MOLAR, sucroseActivityCore, WATER_MOLAR } from "./sugar";

/**
 * Where ice first forms in a mix, and how much of the water is ice at a temperature below that.
 *
 * Ice is in equilibrium with water of one activity at each temperature (the ice line). Each solute lowers the
 * activity as if it were alone in all the liquid water, and the lowerings of ln a_w add (Ross).
 */

const ZERO_CELSIUS = 273.15;

/** Masses in the mix beside its water, kg. Lactose and milk solids count by the usual scheme of frozen desserts. */
export interface FrozenMix {
  readonly sucrose?: number;
  readonly glucose?: number;
  readonly fructose?: number;
  readonly maltose?: number;
  readonly lactose?: number;
  readonly glycerol?: number;
  readonly sorbitol?: number;
  readonly salt?: number;
  /** Milk solids without fat. */
  readonly milkSolids?: number;
  readonly ethanol?: number;
}

export type FrozenName = keyof FrozenMix;

/** −ln a_w of water in equilibrium with ice `dt` kelvin below 0 °C: fit to IAPWS ice Ih and supercooled water, 0 to 30 K. */
export const iceLine = (dt: number): number => dt * (9.6836e-3 + 4.118e-6 * dt);

/** Depressions (K) over powers of grams of solute for a gram of water, fitted to the CRC table, and how far they go. */
const DEPRESSION = {
  maltose: { terms: [5.2796, 1.9816], most: 0.44 },
  glycerol: { terms: [20.088, 8.4007, -5.5119], most: 0.4 },
  ethanol: { terms: [40.387, -21.151, 208.1, -276.43], most: 0.3 },
  salt: { terms: [57.306, 3.2758, 122.91], most: 0.23 },
} as const;

type Fitted = keyof typeof DEPRESSION;

/** The published scheme for milk: lactose is 0.545 of the solids without fat and counts as sucrose; its salts give 2.37 K for a gram in a gram of water. */
const MILK_LACTOSE = 0.545;
const MILK_SALTS = 2.37;

/** Coldest answer for mixtures, K below 0 °C; salt alone goes to its eutectic. */
const COLDEST = 20;
const SALT_COLDEST = 21.1;

/** Mass fraction of each that Norrish's form was judged to by freezing points (sorbitol: never), and to which it is answered. */
const JUDGED = { glucose: 0.3, fructose: 0.28, sorbitol: 0 } as const;
const NORRISH_MOST = 0.75;
/** Above this mass fraction sucrose should crystallise with the ice, and in a freezer does not. */
export const SUCROSE_EUTECTIC = 0.624;
const SUCROSE_MOST = 0.85;

/** Ethanol alone, mass % and °C, above 30 %: handbook table of antifreeze solutions. The first node is the polynomial's end. */
const STRONG_ETHANOL: readonly (readonly [number, number])[] = [
  [0.338, 23.6],
  [0.39, 28.7],
  [0.463, 33.9],
  [0.561, 41.0],
  [0.719, 51.3],
];

const depression = (name: Fitted, z: number): number => {
  const { terms } = DEPRESSION[name];
  let sum = 0;
  for (let i = terms.length - 1; i >= 0; i--) sum = (sum + terms[i]!) * z;
  return sum;
};

/** Everything that counts as sucrose. */
const sucroseIn = (mix: FrozenMix): number =>
  (mix.sucrose ?? 0) + (mix.lactose ?? 0) + MILK_LACTOSE * (mix.milkSolids ?? 0);

const NORRISH_NAMES = ["glucose", "fructose", "sorbitol"] as const satisfies readonly NorrishName[];
const FITTED_NAMES = Object.keys(DEPRESSION) as Fitted[];

/** −ln a_w of `water` kg of liquid water that holds the mix, at `kelvin`. */
function lowering(water: number, mix: FrozenMix, kelvin: number): number {
  let sum = 0;
  const sucrose = sucroseIn(mix) / water / SUCROSE_MOLAR;
  if (sucrose > 0) sum -= Math.log(sucroseActivityCore(sucrose / (sucrose + 1 / WATER_MOLAR), kelvin));
  for (const name of NORRISH_NAMES) {
    const mass = mix[name] ?? 0;
    if (mass > 0) sum -= Math.log(norrishActivity(name, mass / water, kelvin));
  }
  for (const name of FITTED_NAMES) {
    const mass = mix[name] ?? 0;
    if (mass > 0) sum += iceLine(depression(name, mass / water));
  }
  if (mix.milkSolids !== undefined && mix.milkSolids > 0) {
    sum += iceLine((MILK_SALTS * mix.milkSolids) / water);
  }
  return sum;
}

const fractionIn = (water: number, mass: number): number => mass / (mass + water);

/** Least water, kg, in which every solute is still inside its range. */
function leastWater(mix: FrozenMix): { readonly water: number; readonly by: string; readonly most: number } {
  let worst = { water: 0, by: "", most: 1 };
  const consider = (by: string, mass: number, most: number): void => {
    const water = (mass * (1 - most)) / most;
    if (water > worst.water) worst = { water, by, most };
  };
  for (const name of FITTED_NAMES) consider(name, mix[name] ?? 0, DEPRESSION[name].most);
  for (const name of NORRISH_NAMES) consider(name, mix[name] ?? 0, NORRISH_MOST);
  consider("sucrose and lactose", sucroseIn(mix), SUCROSE_MOST);
  return worst;
}

function needMix(water: number, mix: FrozenMix): void {
  if (!(water > 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: "Ice needs some water, and there is none.",
      help: "Give the mass of the water in the mix, that of fruit and milk included.",
    });
  }
  for (const [name, mass] of Object.entries(mix) as [FrozenName, number | undefined][]) {
    if (mass !== undefined && !(mass >= 0)) {
      throw new Trouble({ code: "out-of-range", says: `There cannot be less than no ${told(name)}.` });
    }
  }
}

const told = (name: FrozenName): string => (name === "milkSolids" ? "milk solids" : name);
const percent = (fraction: number): string => `${Number((100 * fraction).toFixed(1))} %`;

/** The only solute of a mix, or nothing when there are none or several. */
function onlySolute(mix: FrozenMix): FrozenName | undefined {
  const there = (Object.keys(mix) as FrozenName[]).filter((name) => (mix[name] ?? 0) > 0);
  return there.length === 1 ? there[0] : undefined;
}

const coldestOf = (mix: FrozenMix): number => (onlySolute(mix) === "salt" ? SALT_COLDEST : COLDEST);

/**
 * Temperature at which ice first forms in `water` kg that hold the mix, in kelvin.
 *
 * @throws Trouble `out-of-range` beyond a solute's table or below −20 °C (salt alone −21.1 °C, ethanol alone −51.3 °C)
 * Source: ice line by IAPWS data; sucrose Starzak & Peacock; glucose, fructose Norrish; others fits to the CRC table; mixtures Ross.
 */
export function icePoint(water: number, mix: FrozenMix): number {
  needMix(water, mix);
  if (onlySolute(mix) === "ethanol") {
    const p = fractionIn(water, mix.ethanol!);
    if (p > DEPRESSION.ethanol.most) return ZERO_CELSIUS - strongEthanol(p);
    return ZERO_CELSIUS - depression("ethanol", mix.ethanol! / water);
  }
  needInside(water, mix);
  const coldest = coldestOf(mix);
  const miss = (dt: number): number => iceLine(dt) - lowering(water, mix, ZERO_CELSIUS - dt);
  if (miss(0) === 0) return ZERO_CELSIUS;
  if (miss(coldest + 0.01) < 0) {
    throw new Trouble({
      code: "out-of-range",
      says: `Ice would first form below ${-coldest} °C, and no model here is to be believed there.`,
      help: "Take less sugar, salt or alcohol, or test a spoonful in the freezer.",
    });
  }
  return ZERO_CELSIUS - rootBetween(miss, 0, coldest + 0.01, { what: "the temperature at which ice forms" });
}

function needInside(water: number, mix: FrozenMix): void {
  const least = leastWater(mix);
  if (water >= least.water * (1 - 1e-12)) return;
  throw new Trouble({
    code: "out-of-range",
    says: `The freezing of a mix is known for at most ${percent(least.most)} ${least.by} in ${least.by} and water, and this is more.`,
    help: "Thin it; or freeze a spoonful and see.",
  });
}

function strongEthanol(p: number): number {
  const start: readonly [number, number] = [
    DEPRESSION.ethanol.most,
    depression("ethanol", DEPRESSION.ethanol.most / (1 - DEPRESSION.ethanol.most)),
  ];
  let low = start;
  for (const high of STRONG_ETHANOL) {
    if (p <= high[0] + 1e-12) return low[1] + ((high[1] - low[1]) * (p - low[0])) / (high[0] - low[0]);
    low = high;
  }
  throw new Trouble({
    code: "out-of-range",
    says: `The freezing of spirit is known to 71.9 % ethanol by mass (-51.3 °C), and this is ${percent(p)}.`,
    help: "No freezer or bench chiller freezes it.",
  });
}

/**
 * Share of the water that is ice at `kelvin`, 0 to 1.
 *
 * @throws Trouble `out-of-range` below −20 °C, or when what stays liquid leaves a solute's table
 */
export function iceShare(kelvin: number, water: number, mix: FrozenMix): number {
  needMix(water, mix);
  const dt = ZERO_CELSIUS - kelvin;
  if (dt <= 0) return 0;
  if (dt > COLDEST + 1e-9) {
    throw new Trouble({
      code: "out-of-range",
      says: `The share of ice is reckoned down to -20 °C, and this is ${Number((-dt).toFixed(2))} °C.`,
      help: "Below that sugar turns to glass and no equilibrium is reached.",
    });
  }
  if (lowering(water, mix, kelvin) >= iceLine(dt)) {
    needInside(water, mix);
    return 0;
  }
  const liquid = liquidWater(dt, water, mix);
  return 1 - liquid / water;
}

/** Liquid water left at `dt` kelvin below 0 °C, kg: the water in which the mix would begin to freeze there. */
function liquidWater(dt: number, water: number, mix: FrozenMix): number {
  const kelvin = ZERO_CELSIUS - dt;
  const goal = iceLine(dt);
  const least = leastWater(mix);
  if (least.water === 0) return 0;
  const low = least.water;
  if (lowering(low, mix, kelvin) < goal) {
    throw new Trouble({
      code: "out-of-range",
      says:
        `At ${Number((-dt).toFixed(2))} °C what stays liquid would hold more than ${percent(least.most)} ${least.by}, ` +
        "beyond what is known of it.",
      help: "Ask for a warmer temperature.",
    });
  }
  // In the logarithm, so that a trace of solute leaves its trace of water too.
  const thinned = (u: number): number => lowering(water * Math.exp(-u), mix, kelvin) - goal;
  return (
    water * Math.exp(-rootBetween(thinned, 0, Math.log(water / low), { what: "the water that stays liquid" }))
  );
}

/**
 * Why an ice point or share is less sure than usual, as sentences: solutes past what freezing points judged,
 * glassy sucrose, sugar with alcohol.
 */
export function freezingRemarks(liquid: number, mix: FrozenMix): readonly string[] {
  const remarks: string[] = [];
  if (fractionIn(liquid, sucroseIn(mix)) > SUCROSE_EUTECTIC) {
    remarks.push(
      "Past 62 % sugar in what stays liquid it should crystallise and in a freezer turns to glass: an estimate.",
    );
  }
  for (const name of NORRISH_NAMES) {
    const mass = mix[name] ?? 0;
    if (mass > 0 && fractionIn(liquid, mass) > JUDGED[name]) {
      remarks.push(
        JUDGED[name] === 0
          ? `No freezing points of ${name} were seen to judge this by: an estimate.`
          : `Past ${percent(JUDGED[name])} ${name} in what stays liquid no freezing points were there to judge this by: an estimate.`,
      );
    }
  }
  const ethanol = mix.ethanol ?? 0;
  if (ethanol > 0) {
    if (onlySolute(mix) !== "ethanol") {
      remarks.push(
        "No freezing points of sugar or salt together with alcohol were found: an estimate, 1 K when there is over 5 % alcohol.",
      );
    } else if (fractionIn(liquid, ethanol) > 0.12) {
      remarks.push(
        "Published tables of spirit's freezing point differ by 0.5 K at 20 % and by 1.5 K at 30 % alcohol by mass.",
      );
    }
  }
  return remarks;
}

/** Standard uncertainty of the freezing model for this composition, K. */
export function icePointUncertainty(liquid: number, mix: FrozenMix): number {
  const single: number[] = [];
  const sucrose = fractionIn(liquid, sucroseIn(mix));
  if (sucrose > 0) single.push(sucrose <= 0.42 ? 0.03 : sucrose <= 0.62 ? 0.4 : 1.5);
  for (const [name, judged, inside] of [
    ["glucose", JUDGED.glucose, 0.05],
    ["fructose", JUDGED.fructose, 0.1],
    ["sorbitol", JUDGED.sorbitol, 0],
  ] as const) {
    const mass = mix[name] ?? 0;
    if (mass > 0) single.push(fractionIn(liquid, mass) <= judged ? inside : 0.5);
  }
  if ((mix.maltose ?? 0) > 0) single.push(0.03);
  if ((mix.glycerol ?? 0) > 0) single.push(0.15);
  if ((mix.salt ?? 0) > 0) single.push(0.05);
  const ethanol = fractionIn(liquid, mix.ethanol ?? 0);
  if (ethanol > 0) single.push(ethanol <= 0.12 ? 0.1 : ethanol <= 0.2 ? 0.5 : 1.5);
  const worst = single.length === 0 ? 0 : Math.max(...single);
  const mixed = onlySolute(mix) === undefined && single.length > 0;
  if (!mixed) return mix.milkSolids !== undefined && mix.milkSolids > 0 ? Math.hypot(worst, 0.1) : worst;
  return Math.hypot(worst, ethanol > 0.05 ? 1 : ethanol > 0 ? 0.4 : 0.1);
}
