import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";

/**
 * Ethanol and water as a liquid: density, and strength in its three scales. The strength that everything here works
 * with is the mass fraction of ethanol, 0 to 1; temperatures are kelvin, densities kg/m³ (true, not weighed in air).
 *
 * Source: OIML R 22 (1973/75), the same formula as Council Directive 76/766/EEC; valid from −20 to 40 °C.
 */

const ZERO_CELSIUS = 273.15;
/** 20 °C, at which strengths by volume and volumes of spirit are stated. */
export const STATED_KELVIN = 293.15;
/** 60 °F, at which US proof is stated. */
const PROOF_KELVIN = ZERO_CELSIUS + 140 / 9;

const A = [
  998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042, -613838.1234,
  747017.2998, -547846.1354, 223446.0334, -39032.85426,
] as const;
const B = [-0.20618513, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.169354e-9, -9.9739231e-11] as const;
/** Rows are powers 1 to 5 of (t − 20), columns powers 1, 2 … of the mass fraction. */
const C = [
  [
    0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792, 3924.090430035045,
    -12101.64659068747, 22486.46550400788, -26055.62982188164, 18523.73922069467, -7420.201433430137,
    1285.617841998974,
  ],
  [
    -0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029, -50.29988758547014,
    109.635566657757, -142.2753946421155, 108.043594285623, -44.14153236817392, 7.442971530188783,
  ],
  [
    -6.802995733503803e-4, 1.876837790289664e-2, -0.2002561813734156, 1.02299296671922, -2.895696483903638,
    4.810060584300675, -4.672147440794683, 2.458043105903461, -0.5411227621436812,
  ],
  [4.075376675622027e-6, -8.76305857347111e-6, 6.515031360099368e-6, -1.51578483698721e-6],
  [-2.788074354782409e-8, 1.345612883493354e-8],
] as const;

/** The constants of the formula, for whoever writes it out elsewhere (a coefficient sheet of an export). */
export const DENSITY_CONSTANTS = { a: A, b: B, c: C } as const;

/** Horner's scheme, lowest power first. */
function polynomial(terms: readonly number[], x: number): number {
  let sum = 0;
  for (let i = terms.length - 1; i >= 0; i--) sum = sum * x + terms[i]!;
  return sum;
}

/** Density at 20 °C, where every term of temperature is zero. */
const densityAt20 = (p: number): number => polynomial(A, p);

function densityAt(p: number, kelvin: number): number {
  const d = kelvin - STATED_KELVIN;
  if (d === 0) return densityAt20(p);
  let warmth = 0;
  for (let i = C.length - 1; i >= 0; i--) warmth = d * (warmth + p * polynomial(C[i]!, p));
  return densityAt20(p) + d * polynomial(B, d) + warmth;
}

/** Density of pure ethanol at 20 °C, 789.239 kg/m³: the mass of a litre of alcohol in every strength by volume. */
export const ETHANOL_DENSITY = densityAt20(1);
/** Density of water at 20 °C by the same formula. */
export const WATER_DENSITY = densityAt20(0);

/** A strength worked out may stand a last digit beyond its end; it is the end then. */
const OVERSHOOT = 1e-10;

function fraction(p: number): number {
  if (p >= -OVERSHOOT && p <= 1 + OVERSHOOT) return Math.min(1, Math.max(0, p));
  throw new Trouble({
    code: "out-of-range",
    says: `A strength lies between 0 and 100 %, and this is ${percent(p)}.`,
    help: "Check the number and its unit: 42 %vol, not 42 or 4200 %vol.",
  });
}

function needLiquid(kelvin: number): void {
  if (kelvin >= ZERO_CELSIUS - 20 && kelvin <= ZERO_CELSIUS + 40) return;
  throw new Trouble({
    code: "out-of-range",
    says: `The density of spirit is known from -20 to 40 °C, and this is ${inCelsius(kelvin)}.`,
    help: "Bring the spirit near 20 °C before you measure it.",
  });
}

const percent = (x: number): string => `${Number((100 * x).toFixed(3))} %`;
const inCelsius = (kelvin: number): string => `${Number((kelvin - ZERO_CELSIUS).toFixed(2))} °C`;

/**
 * Density of ethanol and water, kg/m³ in vacuum.
 *
 * @param p mass fraction of ethanol, 0 to 1
 * @param kelvin temperature, 253.15 to 313.15 K (and liquid: ice is not noticed)
 * @throws Trouble `out-of-range`
 * Source: OIML R 22. Against outside tables within 0.12 kg/m³, against water (IAPWS-95) within 0.007.
 */
export function spiritDensity(p: number, kelvin: number = STATED_KELVIN): number {
  const share = fraction(p);
  needLiquid(kelvin);
  return densityAt(share, kelvin);
}

/** Ethanol per volume of spirit at 20 °C (0.42 for 42 %vol) from the mass fraction. */
export function volumeFraction(p: number): number {
  const share = fraction(p);
  // The twelfth-order sum is good to 1e-13, which next to pure ethanol must not come out as more than all.
  return Math.min(1, (share * densityAt20(share)) / ETHANOL_DENSITY);
}

/** Mass fraction from the strength by volume at 20 °C: the inverse of {@link volumeFraction}. */
export function massFraction(q: number): number {
  return solveFraction(fraction(q), STATED_KELVIN);
}

/**
 * Strength by volume at 60 °F, half the US proof as a fraction, from the mass fraction. It differs from
 * {@link volumeFraction} by less than 0.1 %vol, but it is not the same number.
 */
export function proofFraction(p: number): number {
  const share = fraction(p);
  return Math.min(1, (share * densityAt(share, PROOF_KELVIN)) / densityAt(1, PROOF_KELVIN));
}

/** Mass fraction from half the US proof as a fraction: the inverse of {@link proofFraction}. */
export function massFractionFromProof(q60: number): number {
  return solveFraction(fraction(q60), PROOF_KELVIN);
}

/** p·ρ(p) rises strictly with p, so Newton's step from a near start lands; the bracket catches it if it ever should not. */
function solveFraction(q: number, kelvin: number): number {
  if (q === 0 || q === 1) return q;
  const wanted = q * densityAt(1, kelvin);
  const miss = (p: number): number => p * densityAt(p, kelvin) - wanted;
  let p = q * (0.79 + 0.21 * q * q);
  for (let step = 0; step < 20; step++) {
    const h = 1e-6;
    const slope = (miss(p + h) - miss(p - h)) / (2 * h);
    const next = p - miss(p) / slope;
    if (!(next > 0 && next < 1)) break;
    if (Math.abs(next - p) <= 4 * Number.EPSILON) return next;
    p = next;
  }
  return rootBetween(miss, 0, 1, { what: "the mass of alcohol in this strength" });
}

/** Half of the last digit in which the ends are told, kg/m³: water at "998.20" is still water. A twelfth of the formula's error. */
export const DENSITY_SLACK = 0.005;

/**
 * Mass fraction of ethanol of a spirit with this true density, from 20 °C or another temperature.
 *
 * @throws Trouble `out-of-range` when no mixture of ethanol and water has this density
 */
export function massFractionFromDensity(density: number, kelvin: number = STATED_KELVIN): number {
  needLiquid(kelvin);
  const water = densityAt(0, kelvin);
  const ethanol = densityAt(1, kelvin);
  if (!(density <= water + DENSITY_SLACK && density >= ethanol - DENSITY_SLACK)) {
    throw new Trouble({
      code: "out-of-range",
      says:
        `At ${inCelsius(kelvin)} ethanol and water lie between ${ethanol.toFixed(2)} and ${water.toFixed(2)} kg/m^3, ` +
        `and this is ${Number(density.toFixed(2))} kg/m^3.`,
      help:
        density > water
          ? "Denser than water means sugar or extract (or salt): distil a sample, make it up with water and measure that."
          : "Check the unit of the density, and the temperature.",
    });
  }
  if (density >= water) return 0;
  if (density <= ethanol) return 1;
  return rootBetween((p) => densityAt(p, kelvin) - density, 0, 1, { what: "the strength of this density" });
}

/** Cubic expansion of the glass of an alcoholometer, 1/K (usual value; with it the published tables are met to 0.03 %vol). */
const GLASS_EXPANSION = 25e-6;

/**
 * Mass fraction of ethanol from a glass alcoholometer marked at 20 °C and read in a liquid at another temperature.
 *
 * @param reading the mark at the surface, as a volume fraction (0.40 for 40 %vol)
 * @param kelvin temperature of the liquid, 253.15 to 313.15 K
 * @param marked temperature for which the instrument is marked, 20 °C unless given
 */
export function massFractionFromAlcoholometer(
  reading: number,
  kelvin: number,
  marked: number = STATED_KELVIN,
): number {
  needLiquid(kelvin);
  const shown = solveFraction(fraction(reading), marked);
  const density = densityAt(shown, marked) / (1 + GLASS_EXPANSION * (kelvin - marked));
  return massFractionFromDensity(density, kelvin);
}

/** Density of air and of the weights in a weighing by convention, kg/m³. */
const AIR_DENSITY = 1.2;
const WEIGHTS_DENSITY = 8000;

/** Density as weighed in air (what some instruments and duty tables show) from the true density, both kg/m³. */
export const densityInAir = (density: number): number =>
  density - AIR_DENSITY * (1 - density / WEIGHTS_DENSITY);

/**
 * True density of a spirit from one flask weighed full to the same mark with the spirit and with water, both at
 * `kelvin` and net of the flask. The buoyancy of the air is allowed for.
 */
export function densityByFlask(spirit: number, water: number, kelvin: number = STATED_KELVIN): number {
  needLiquid(kelvin);
  return (spirit / water) * (densityAt(0, kelvin) - AIR_DENSITY) + AIR_DENSITY;
}
