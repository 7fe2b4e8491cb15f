import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";
import { DENSITY_SLACK } from "./spirit";

/**
 * Sucrose in water: density, refractive index, water activity, and the corrections that bring a refractometer
 * reading to 20 °C. `solids` is always the mass fraction of sucrose (0.18 for 18 °Bx) and temperatures are kelvin.
 * For any other juice or syrup °Bx only means "like the sucrose solution of the same density or the same index".
 */

const ICE_POINT_KELVIN = 273.15;
const ROOM_KELVIN = 293.15;

/**
 * Bubník, Kadlec, Urban & Bruhns, Sugar Technologists Manual (1995), p. 164: density of sucrose solutions above
 * that of water, kg/m³; rows are powers of (t − 20 °C)/100, columns powers 1, 2 … of the mass fraction.
 * Seen in two public copies, which differ in one digit (−3.9643 or −3.9646); the effect is below 0.001 kg/m³.
 */
const DENSITY_TERMS: readonly (readonly number[])[] = [
  [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.289],
  [-46.272, -7.172, 1.1597, 5.1126, 17.5254],
  [59.7712, 7.2491, 12.363, -35.4791],
  [-47.2207, -21.6977, 27.6301],
  [18.3184, 12.3081],
];

/** Highest mass fraction for which the density, index and activity relations are vouched for. */
export const MOST_SOLIDS = 0.85;

/** Refractive index at 589 nm, 20 °C, over powers of the mass fraction; fitted to the ICUMSA 1974 scale, 0–85 °Bx, within 0.5e−5. */
const INDEX_TERMS: readonly number[] = [1.3329871, 0.1427352, 0.054905, 0.0115138, 0.0140131, -0.009887];

/** The constants of both fits, for whoever writes them out elsewhere (a coefficient sheet of an export). */
export const SYRUP_CONSTANTS = { density: DENSITY_TERMS, index: INDEX_TERMS } as const;

/** Index of pure water on that scale. */
export const WATER_INDEX = INDEX_TERMS[0]!;

/** Horner's scheme, lowest power first. */
const polynomial = (terms: readonly number[], x: number): number => {
  let sum = 0;
  for (let i = terms.length - 1; i >= 0; i--) sum = sum * x + terms[i]!;
  return sum;
};

const celsius = (kelvin: number): number => kelvin - ICE_POINT_KELVIN;
const inCelsius = (kelvin: number): string => `${Number(celsius(kelvin).toFixed(2))} °C`;
const inBrix = (solids: number): string => `${Number((100 * solids).toFixed(3))} °Bx`;

function needSolids(solids: number, what: string, most = MOST_SOLIDS): void {
  if (solids >= 0 && solids <= most) return;
  throw new Trouble({
    code: "out-of-range",
    says: `${what} is known for 0 to ${inBrix(most)}, and this is ${inBrix(solids)}.`,
    help: "Thin a stronger syrup by weight, and reckon back.",
  });
}

function needTemperature(kelvin: number, low: number, high: number, what: string): void {
  if (kelvin >= low + ICE_POINT_KELVIN && kelvin <= high + ICE_POINT_KELVIN) return;
  throw new Trouble({
    code: "out-of-range",
    says: `${what} is known from ${low} to ${high} °C, and this is ${inCelsius(kelvin)}.`,
    help: "Bring the sample into that range, best to 20 °C.",
  });
}

/** Density of water, kg/m³, at `t` °C: Kell's form as used with the sucrose polynomial, 0–100 °C. */
const waterPart = (t: number): number =>
  polynomial([999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12], t) /
  (1 + 16.887236e-3 * t);

const density = (solids: number, kelvin: number): number => {
  const t = celsius(kelvin);
  const inner = DENSITY_TERMS.map((row) => solids * polynomial(row, solids));
  return waterPart(t) + polynomial(inner, (t - 20) / 100);
};

/**
 * Density of a sucrose solution, kg/m³.
 *
 * @param solids mass fraction of sucrose, 0 to 0.85
 * @param kelvin temperature, 273.15 to 373.15 K
 * @throws Trouble `out-of-range`
 * Source: Bubník & Kadlec 1995 (ICUMSA/PTB form). Error: about 0.05 kg/m³ to 37 °Bx, 0.3 at 70, 0.8 at 84 against older scales.
 */
export function syrupDensity(solids: number, kelvin: number = ROOM_KELVIN): number {
  needSolids(solids, "The density of a sugar solution");
  needTemperature(kelvin, 0, 100, "The density of a sugar solution");
  return density(solids, kelvin);
}

/**
 * Mass fraction of sucrose of a solution with this density (kg/m³): the inverse of {@link syrupDensity}.
 *
 * @throws Trouble `out-of-range` when the density is that of no sucrose solution up to 85 °Bx at this temperature
 */
export function solidsFromDensity(densityKgM3: number, kelvin: number = ROOM_KELVIN): number {
  needTemperature(kelvin, 0, 100, "The density of a sugar solution");
  const low = density(0, kelvin);
  const high = density(MOST_SOLIDS, kelvin);
  if (!(densityKgM3 >= low - DENSITY_SLACK && densityKgM3 <= high + DENSITY_SLACK)) {
    throw new Trouble({
      code: "out-of-range",
      says:
        `At ${inCelsius(kelvin)} sugar solutions lie between ${low.toFixed(2)} and ${high.toFixed(2)} kg/m3 ` +
        `(0 to 85 °Bx), and this is ${densityKgM3.toFixed(2)} kg/m3.`,
      help:
        densityKgM3 < low
          ? "Lighter than water means alcohol, gas or a hydrometer that is off: degas, check it in water, and drive alcohol off first."
          : "Thin the syrup by weight and reckon back.",
    });
  }
  if (densityKgM3 <= low) return 0;
  if (densityKgM3 >= high) return MOST_SOLIDS;
  return rootBetween((w) => density(w, kelvin) - densityKgM3, 0, MOST_SOLIDS, {
    what: "the solids of this density",
  });
}

/**
 * Refractive index (589 nm, 20 °C) of a sucrose solution, from the mass fraction 0 to 0.85.
 *
 * @throws Trouble `out-of-range`
 * Source: fit to the ICUMSA 1974 scale; within 0.5e−5 of it, which is 0.003 °Bx.
 */
export function indexFromSolids(solids: number): number {
  needSolids(solids, "The refractive index of a sugar solution");
  return polynomial(INDEX_TERMS, solids);
}

/** A reading this far below water, or above the end of the scale, is an instrument's last digit, not alcohol or a fault. */
const INDEX_SLACK = 1e-5;

/**
 * Mass fraction of sucrose from the refractive index read at 20 °C: the inverse of {@link indexFromSolids}.
 *
 * @throws Trouble `out-of-range` outside 1.33298 to the index of 85 °Bx
 */
export function solidsFromIndex(index: number): number {
  const high = polynomial(INDEX_TERMS, MOST_SOLIDS);
  if (!(index >= WATER_INDEX - INDEX_SLACK && index <= high + INDEX_SLACK)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Sugar solutions have an index from 1.33299 (water) to ${high.toFixed(5)} (85 °Bx), and this is ${index}.`,
      help:
        index < WATER_INDEX
          ? "Set the refractometer to zero on clean water."
          : "Thin the syrup by weight and reckon back.",
    });
  }
  if (index <= WATER_INDEX) return 0;
  if (index >= high) return MOST_SOLIDS;
  return rootBetween((w) => polynomial(INDEX_TERMS, w) - index, 0, MOST_SOLIDS, {
    what: "the solids of this index",
  });
}

/** Range of temperature that the correction to 20 °C was fitted to, °C. */
const READING_LOW = 10;
const READING_HIGH = 30;
/** Range of readings that it was fitted to. */
export const READING_FITTED = [0.05, 0.75] as const;

/**
 * What to add (as a mass fraction) to a refractometer reading taken at `kelvin` on a scale set for 20 °C.
 *
 * @throws Trouble `out-of-range` outside 10 to 30 °C
 * Source: fit to OIV-MA-AS2-02, Table I (10–17 °C) and the older international table (21–30 °C); worst 0.04 °Bx.
 */
export function readingCorrection(reading: number, kelvin: number): number {
  needSolids(reading, "The correction of a reading to 20 °C");
  needTemperature(kelvin, READING_LOW, READING_HIGH, "The correction of a reading to 20 °C");
  const d = celsius(kelvin) - 20;
  const b = reading;
  const brix =
    d * (0.0572902 + 0.0644834 * b - 0.0565131 * b * b) +
    d * d * (0.000316691 - 0.00030122 * b - 0.000377747 * b * b);
  return brix / 100;
}

/** A refractometer reading (mass fraction) brought to 20 °C; see {@link readingCorrection}. */
export function solidsAt20(reading: number, kelvin: number): number {
  const corrected = reading + readingCorrection(reading, kelvin);
  if (corrected >= 0) return corrected;
  throw new Trouble({
    code: "out-of-range",
    says: `A reading of ${inBrix(reading)} at ${inCelsius(kelvin)} would be ${inBrix(corrected)} at 20 °C, less than no sugar.`,
    help: "Set the refractometer to zero on clean water at the same temperature; one that corrects for temperature by itself needs no correction.",
  });
}

/** Most citric acid that the acid correction was fitted to, as a mass fraction. */
const MOST_ACID = 0.2;

/**
 * A refractometer reading with the shortfall added that citric acid causes. Both are mass fractions.
 *
 * @throws Trouble `out-of-range` for acid outside 0 to 20 %
 * Source: fit to Kimball, Citrus Processing (1991), Appendix A; worst 0.008 °Bx.
 */
export function acidCorrected(reading: number, acid: number): number {
  needSolids(reading, "The correction for acid");
  if (!(acid >= 0 && acid <= MOST_ACID)) {
    throw new Trouble({
      code: "out-of-range",
      says: `The correction for acid is known for 0 to 20 % citric acid, and this is ${Number((100 * acid).toFixed(3))} %.`,
      help: "Give the acid as grams of citric acid in 100 g of juice.",
    });
  }
  const a = 100 * acid;
  return reading + (0.1963 * a - 0.000563 * a * a) / 100;
}

/** Gas constant, J/(mol K), and molar masses, g/mol. */
export const GAS_CONSTANT = 8.314462618;
export const WATER_MOLAR = 18.01528;
export const SUCROSE_MOLAR = 342.296;

/**
 * Water activity of a sucrose solution at a temperature (25 °C unless given), without a range check: the shared
 * core of {@link sucroseActivity} and of the ice line, which leads past 85 °Bx while it searches.
 *
 * @internal
 */
export function sucroseActivityCore(moleFraction: number, kelvin: number): number {
  const x = moleFraction;
  return (1 - x) * Math.exp((-17638 / (GAS_CONSTANT * kelvin)) * x * x * (1 - 1.0038 * x - 0.24653 * x * x));
}

/** Mole fraction of sucrose in a solution with this mass fraction. */
export const sucroseMoleFraction = (solids: number): number => {
  const sugar = solids / SUCROSE_MOLAR;
  return sugar / (sugar + (1 - solids) / WATER_MOLAR);
};

/**
 * Water activity of a sucrose solution.
 *
 * @param solids mass fraction of sucrose, 0 to 0.85
 * @param kelvin temperature, 25 °C unless given; 253.15 to 403.15 K
 * @throws Trouble `out-of-range`
 * Source: Starzak & Peacock, ln a_w = ln(1 − x) + (Q/RT) x² (1 + a x + b x²). About 0.002; at 25 °C within 0.0015 of Norrish.
 */
export function sucroseActivity(solids: number, kelvin: number = 298.15): number {
  needSolids(solids, "The water activity of a sugar solution");
  needTemperature(kelvin, -20, 130, "The water activity of a sugar solution");
  return sucroseActivityCore(sucroseMoleFraction(solids), kelvin);
}
