import type { AromaCompound } from "./aroma-sources";
import { follow } from "./integration";
import type { Liquid } from "./liquid";
import { type End, isobaricStill, type Run, runStill } from "./still";

/**
 * Which share of an aroma compound comes over in a one-plate run: an order of magnitude, never a yield.
 *
 * The compound is so dilute that it does not disturb the run of ethanol and water (still.ts). Its volatility is
 * K = H(x, T)/P, with a Henry constant that is read from water, from ethanol, and bent between the two:
 * ln H = (1 - φ) ln Hw + φ ln He - k φ (1 - φ), φ the share of ethanol by volume before mixing. With t = -ln(W/W0) of
 * the pot's moles, d ln n / dt = -K, so the share that has left is 1 - exp(-∫K dt).
 *
 * Basis: log-linear cosolvency rule with a bend chosen here after seeing measured solubilities in mixtures; the
 * constants and their sources are in aroma-data.ts. No measured batch recovery of a botanical compound could be read.
 */

const R = 8.314462618;
const REFERENCE = 298.15;
/** Molar volumes of ethanol and water, cm³/mol. */
const ETHANOL_VOLUME = 58.68;
const WATER_VOLUME = 18.07;

/** Factor within which a volatility is trusted, between 15 and 40 °C: a judgement from many comparisons, no statistic. */
export const USUAL_FACTOR = 3;

/** Share of ethanol by volume before mixing. */
const volumeShare = (x: number): number =>
  (ETHANOL_VOLUME * x) / (ETHANOL_VOLUME * x + WATER_VOLUME * (1 - x));

/**
 * ln of the Henry constant (kPa per mole fraction) of a compound in a liquid of ethanol mole fraction x, at a
 * temperature in kelvin.
 */
export function lnHenry(compound: AromaCompound, x: number, kelvin: number): number {
  const fall = 1 / kelvin - 1 / REFERENCE;
  const inWater = Math.log(compound.henry.value) - compound.henrySlope.value * fall;
  const { inEthanol, bend } = compound.mixing;
  const inSpirit =
    Math.log((inEthanol * compound.vapourPressure.value) / 1000) -
    ((1000 * compound.vaporisation.value) / R) * fall;
  const share = volumeShare(x);
  return (1 - share) * inWater + share * inSpirit - bend * share * (1 - share);
}

/** Volatility of a compound over a boiling pot: mole fraction in the vapour over that in the liquid. Pressure in Pa. */
export function volatility(compound: AromaCompound, x: number, kelvin: number, pascal: number): number {
  return (1000 * Math.exp(lnHenry(compound, x, kelvin))) / pascal;
}

/** What a run does with a compound. */
export interface AromaRun {
  readonly run: Run;
  /** Shares of the compound in the charge, 0 to 1: what left the pot, and the band for the factor within which K is known. */
  readonly taken: number;
  readonly low: number;
  readonly high: number;
  /** Volatility over the pot at the start and at the end. */
  readonly startK: number;
  readonly endK: number;
  /** The same of ethanol; undefined for a charge of water. */
  readonly startEthanolK?: number;
  /** Pot temperature at the start and at the end, K. */
  readonly startKelvin: number;
  readonly endKelvin: number;
}

/**
 * Follows a compound through a run at one pressure.
 *
 * @param pascal absolute pressure; trusted from 2 to 15 kPa
 * @param charge trusted up to 80 % vol
 * @throws Trouble as `runStill`
 */
export function comesOver(compound: AromaCompound, charge: Liquid, pascal: number, end: End): AromaRun {
  const still = isobaricStill(pascal);
  const run = runStill(still, charge, end);
  const clamped = (x: number): number => Math.min(1, Math.max(0, x));
  const course = follow(
    (_t, [x]) => {
      const inside = clamped(x!);
      return [
        -(still.goesOver(inside) - inside),
        volatility(compound, inside, still.temperature(inside), pascal),
      ];
    },
    { t: 0, state: [run.startX, 0] },
    () => -1,
    run.t,
    "the aroma compound",
  );
  // The exponent is proportional to K: a band in K is the same band in the exponent.
  const exponent = course.state[1]!;
  const factor = compound.within ?? USUAL_FACTOR;
  const gone = (by: number): number => -Math.expm1(-exponent * by);
  const startKelvin = still.temperature(run.startX);
  const endKelvin = still.temperature(run.endX);
  return {
    run,
    taken: gone(1),
    low: gone(1 / factor),
    high: gone(factor),
    startK: volatility(compound, run.startX, startKelvin, pascal),
    endK: volatility(compound, run.endX, endKelvin, pascal),
    ...(run.startX > 0 ? { startEthanolK: still.goesOver(run.startX) / run.startX } : {}),
    startKelvin,
    endKelvin,
  };
}
