import { DENSITY_CONSTANTS, ETHANOL_DENSITY, STATED_KELVIN } from "../../matter/spirit";
import { type Expression, minus, number, over, plus, polynomial, times } from "../expression";
import type { NativeCall } from "./native";

/**
 * Density and strength of clean spirit in spreadsheet arithmetic: the polynomials of src/matter/spirit.ts by
 * Horner's scheme, their inverses by a start from a fitted polynomial and fixed steps of Newton's method. What is
 * reached is as good as the book's own search: the rest after the last step is below 1e-11.
 */
const SOURCE = "OIML R 22 (1973/75), formula for the density of ethanol and water";
const DENSITY_20 = {
  name: "density at 20 °C (kg/m3), powers of p",
  source: SOURCE,
  values: [...DENSITY_CONSTANTS.a],
};
/** Derivative of p times density. */
const SLOPE_20 = {
  name: "slope of p times density at 20 °C",
  source: "derivative of the column before",
  values: DENSITY_CONSTANTS.a.map((a, k) => (k + 1) * a),
};
const BEND_20 = {
  name: "slope of the density at 20 °C, powers of p",
  source: "derivative of the first column",
  values: DENSITY_CONSTANTS.a.slice(1).map((a, k) => (k + 1) * a),
};
const WARMTH = { name: "powers of (t - 20), pure water", source: SOURCE, values: [...DENSITY_CONSTANTS.b] };
const MIXED = DENSITY_CONSTANTS.c.map((row, i) => ({
  name: `(t - 20)^${i + 1}, powers 1, 2 … of p`,
  source: SOURCE,
  values: [...row],
}));
const PURE = { name: "density of ethanol at 20 °C (kg/m3)", source: SOURCE, values: [ETHANOL_DENSITY] };
/** Our own fits, only to start the search: within 0.0005 and 0.0021 of the mass fraction. */
const START_BY_VOLUME = {
  name: "first guess of p from strength by volume",
  source: "fit to OIML R 22, within 0.0005",
  values: [0.000172379, 0.77486, 0.357921, -1.46793, 3.5163, -3.52896, 1.34715],
};
const START_BY_DENSITY = {
  name: "first guess of p from density",
  source: "fit to OIML R 22, within 0.0021 at 20 °C",
  values: [0.00123243, 0.849375, 8.50884, -45.692, 109.163, -136.076, 86.2108, -21.9663],
};

export const pureDensity = (c: NativeCall): Expression => c.constants(PURE)[0]!;
export const waterDensity = (c: NativeCall): Expression => c.constants(DENSITY_20)[0]!;

const isStated = (kelvin: Expression | undefined): boolean =>
  kelvin === undefined || (kelvin.type === "number" && Math.abs(kelvin.value - STATED_KELVIN) < 1e-9);

/** Constants over powers of p at a temperature: those of 20 °C, or a block of helper cells. */
function densityTerms(c: NativeCall, kelvin: Expression | undefined): readonly Expression[] {
  const stated = c.constants(DENSITY_20);
  if (kelvin === undefined || isStated(kelvin)) return stated;
  const d = c.step("degrees above 20 °C", minus(kelvin, number(STATED_KELVIN)));
  const warmth = c.constants(WARMTH);
  const mixed = MIXED.map((set) => c.constants(set));
  return stated.map((a, k) => {
    const terms = k === 0 ? warmth : mixed.flatMap((row) => (row[k - 1] === undefined ? [] : [row[k - 1]!]));
    if (terms.length === 0) return a;
    return c.step(`density at that temperature, power ${k} of p`, plus(a, times(d, polynomial(terms, d))));
  });
}

/** Density of a spirit of mass fraction p, kg/m3. */
export function density(c: NativeCall, p: Expression, kelvin?: Expression): Expression {
  if (p.type === "number" && p.value === 0) return densityTerms(c, kelvin)[0]!;
  return polynomial(densityTerms(c, kelvin), p);
}

/** How the density at 20 °C changes with the mass fraction. */
export const densitySlope = (c: NativeCall, p: Expression): Expression => polynomial(c.constants(BEND_20), p);

/** Strength by volume of a mass fraction. */
export const volumeFraction = (c: NativeCall, p: Expression): Expression =>
  over(times(p, density(c, p)), pureDensity(c));

/** Mass fraction of a strength by volume: two steps of Newton from the fitted guess. */
export function massFraction(c: NativeCall, q: Expression, of = ""): Expression {
  const about = of === "" ? "" : `${of}: `;
  const strength = c.step(`${about}strength by volume, a fraction`, q);
  let p = c.step(`${about}alcohol by mass, first guess`, polynomial(c.constants(START_BY_VOLUME), strength));
  const slope = c.constants(SLOPE_20);
  for (const name of ["better", "settled"]) {
    const miss = minus(times(p, density(c, p)), times(strength, pureDensity(c)));
    p = c.step(`${about}alcohol by mass, ${name}`, minus(p, over(miss, polynomial(slope, p))));
  }
  return p;
}

/** 60 °F, at which US proof is stated. */
const PROOF_KELVIN = 273.15 + 140 / 9;
/** Density at 60 °F over powers of p, worked out from the same constants. */
const DENSITY_60F = (() => {
  const d = PROOF_KELVIN - STATED_KELVIN;
  const value = (terms: readonly number[]): number => terms.reduceRight((sum, t) => sum * d + t, 0);
  const rows: readonly (readonly number[])[] = DENSITY_CONSTANTS.c;
  return DENSITY_CONSTANTS.a.map((a, k) => {
    const terms = k === 0 ? [...DENSITY_CONSTANTS.b] : rows.map((row) => row[k - 1] ?? 0);
    return a + d * value(terms);
  });
})();
const PROOF = {
  name: "density at 60 °F (kg/m3), powers of p",
  source: `${SOURCE}, at 15.56 °C`,
  values: DENSITY_60F,
};
const PROOF_SLOPE = {
  name: "slope of p times density at 60 °F",
  source: "derivative of the column before",
  values: DENSITY_60F.map((a, k) => (k + 1) * a),
};
const PROOF_PURE = {
  name: "density of ethanol at 60 °F (kg/m3)",
  source: SOURCE,
  values: [DENSITY_60F.reduceRight((sum, a) => sum + a, 0)],
};

/** Half the US proof as a fraction, from the mass fraction. */
export const proofFraction = (c: NativeCall, p: Expression): Expression =>
  over(times(p, polynomial(c.constants(PROOF), p)), c.constants(PROOF_PURE)[0]!);

/** Mass fraction from half the US proof as a fraction. */
export function massFractionFromProof(c: NativeCall, q: Expression): Expression {
  const strength = c.step("half the proof, a fraction", q);
  let p = c.step("alcohol by mass, first guess", polynomial(c.constants(START_BY_VOLUME), strength));
  for (const name of ["better", "settled", "sure"]) {
    const miss = minus(
      times(p, polynomial(c.constants(PROOF), p)),
      times(strength, c.constants(PROOF_PURE)[0]!),
    );
    p = c.step(`alcohol by mass, ${name}`, minus(p, over(miss, polynomial(c.constants(PROOF_SLOPE), p))));
  }
  return p;
}

/** Steps that bring the guess to rest at 20 °C, and at any other temperature of the formula. */
const STEPS_STATED = 4;
const STEPS_ELSEWHERE = 7;

/** Mass fraction from a true density (kg/m3) at a temperature. */
export function massFractionFromDensity(c: NativeCall, rho: Expression, kelvin?: Expression): Expression {
  const terms = densityTerms(c, kelvin);
  const wanted = c.step("density (kg/m3)", rho);
  const water = terms[0]!;
  const ethanol = c.step(
    "density of ethanol then",
    terms.reduce((sum, t) => plus(sum, t)),
  );
  const share = c.step("place between water and ethanol", over(minus(water, wanted), minus(water, ethanol)));
  let p = c.step("alcohol by mass, first guess", polynomial(c.constants(START_BY_DENSITY), share));
  const steps = isStated(kelvin) ? STEPS_STATED : STEPS_ELSEWHERE;
  const slopeTerms = terms.slice(1).map((t, k) => times(number(k + 1), t));
  for (let i = 1; i <= steps; i++) {
    const miss = minus(polynomial(terms, p), wanted);
    p = c.step(`alcohol by mass, step ${i}`, minus(p, over(miss, polynomial(slopeTerms, p))));
  }
  return p;
}

/** A spirit by its two masses, kg. */
export interface LiquidExpression {
  readonly mass: Expression;
  readonly ethanol: Expression;
  readonly p: Expression;
  /** Volume at 20 °C, m3. */
  readonly volume: Expression;
}

/** A spirit from an amount that is a mass or a volume at 20 °C. */
export function liquid(
  c: NativeCall,
  amount: Expression,
  byMass: boolean,
  p: Expression,
  of = "",
): LiquidExpression {
  const about = of === "" ? "" : `${of}: `;
  const rho = c.step(`${about}density (kg/m3)`, density(c, p));
  const mass = byMass ? amount : c.step(`${about}mass (kg)`, times(amount, rho));
  return {
    mass,
    p,
    ethanol: c.step(`${about}alcohol (kg)`, times(mass, p)),
    volume: byMass ? over(amount, rho) : amount,
  };
}
