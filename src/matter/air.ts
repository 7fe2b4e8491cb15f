import { Trouble } from "../quantity/trouble";

/** The air outside: what a dial that reads below the room is measured from. */

/** Standard error of the air's pressure when nobody read a barometer, relative: weather moves it by 3 % either way (limits, so divided by √3). */
export const WEATHER_ERROR = 0.03 / Math.sqrt(3);

/**
 * Pressure of the air at a height above the sea, Pa, by the standard atmosphere (ICAO, from memory).
 *
 * @param height −430 (the lowest shore) to 5000 m
 * @throws Trouble `out-of-range`
 */
export function airPressure(height: number): number {
  if (height >= -430 && height <= 5000) return 101_325 * (1 - 2.25577e-5 * height) ** 5.25588;
  throw new Trouble({
    code: "out-of-range",
    says: `The standard air is used from -430 to 5000 m, and this is ${Number(height.toPrecision(5))} m.`,
    help: "Check the height and its unit.",
  });
}

/**
 * Absolute pressure, Pa, from a gauge that reads how far it is below the air.
 *
 * @throws Trouble `out-of-range` when the reading is no vacuum or more than all of the air
 */
export function absolutePressure(below: number, air: number): number {
  if (!(air >= 50_000 && air <= 110_000)) {
    throw new Trouble({
      code: "out-of-range",
      says: `The air's pressure lies between 500 and 1100 mbar, and this is ${Number((air / 100).toPrecision(5))} mbar.`,
      help: "Read a barometer that is not corrected to sea level, or use air_at(height).",
    });
  }
  if (below >= 0 && below < air) return air - below;
  throw new Trouble({
    code: "out-of-range",
    says:
      below < 0
        ? "A reading below the room is given without its minus sign."
        : `The dial cannot read ${Number((below / 100).toPrecision(5))} mbar below air of ${Number((air / 100).toPrecision(5))} mbar: less than nothing would be left.`,
    help:
      below < 0
        ? `Write ${Number((-below / 100).toPrecision(5))} mbar.`
        : "Check the dial, its unit and the air's pressure.",
  });
}
