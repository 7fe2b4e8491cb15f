import { Trouble } from "../quantity/trouble";
import { ETHANOL_DENSITY, spiritDensity } from "./spirit";

/**
 * A clean spirit as its two masses, kg. Masses add and subtract where volumes do not, so every balance is kept in
 * them and volumes (m³ at 20 °C) are worked out at the end.
 */
export interface Liquid {
  readonly ethanol: number;
  readonly water: number;
}

/** A liquid from its mass (kg) and mass fraction of ethanol. */
export const liquidOfMass = (mass: number, p: number): Liquid => ({
  ethanol: mass * p,
  water: mass * (1 - p),
});

/** A liquid from its volume at 20 °C (m³) and mass fraction of ethanol. */
export const liquidOfVolume = (volume: number, p: number): Liquid =>
  liquidOfMass(volume * spiritDensity(p), p);

export const massOf = (liquid: Liquid): number => liquid.ethanol + liquid.water;

/** Mass fraction of ethanol. @throws Trouble `nothing-there` for an empty liquid, which has no strength */
export function fractionOf(liquid: Liquid): number {
  const mass = massOf(liquid);
  if (mass > 0) return Math.min(1, Math.max(0, liquid.ethanol / mass));
  throw new Trouble({
    code: "nothing-there",
    says: "There is no liquid here, so it has no strength.",
    help: "Give an amount greater than nothing.",
  });
}

/** Volume at 20 °C, m³. */
export function volumeOf(liquid: Liquid): number {
  const mass = massOf(liquid);
  return mass > 0 ? mass / spiritDensity(fractionOf(liquid)) : 0;
}

/** Volume of the pure alcohol at 20 °C, m³. */
export const pureVolumeOf = (liquid: Liquid): number => liquid.ethanol / ETHANOL_DENSITY;

export const together = (liquids: readonly Liquid[]): Liquid => {
  let ethanol = 0;
  let water = 0;
  for (const liquid of liquids) {
    ethanol += liquid.ethanol;
    water += liquid.water;
  }
  return { ethanol, water };
};

export const without = (whole: Liquid, part: Liquid): Liquid => ({
  ethanol: whole.ethanol - part.ethanol,
  water: whole.water - part.water,
});

export const times = (liquid: Liquid, factor: number): Liquid => ({
  ethanol: liquid.ethanol * factor,
  water: liquid.water * factor,
});
