import { kinds } from "../../quantity";
import {
  call,
  type Expression,
  joined,
  minus,
  number,
  operation,
  over,
  plus,
  text,
  times,
} from "../expression";
import type { Native, NativeCall } from "./native";
import { between, both, share } from "./ranges";
import {
  density,
  type LiquidExpression,
  liquid,
  massFraction,
  massFractionFromDensity,
  proofFraction,
  pureDensity,
  volumeFraction,
  waterDensity,
} from "./spirit-maths";

const isMass = (c: NativeCall, name: string): boolean => c.kindOf(name) === kinds.mass;
const above = (a: Expression, b: Expression): Expression => operation(">", a, b);
const atLeast = (a: Expression, b: Expression): Expression => operation(">=", a, b);
const atMost = (a: Expression, b: Expression): Expression => operation("<=", a, b);
const warmth = (t: Expression): Expression => between(t, 253.15, 313.15);

/** Warmth in range, asked only where the temperature is no constant that is in range anyway. */
function inWarmth(c: NativeCall, name: string, e: Expression): Expression {
  const t = c.optional(name);
  return t === undefined || t.type === "number" ? e : c.within(e, warmth(t));
}

/** Relative difference from the book's own search, at most. */
const SOLVED = 1e-9;

function finished(c: NativeCall, whole: { mass: Expression; ethanol: Expression }, what: string) {
  const p = c.step(`${what}: alcohol by mass`, over(whole.ethanol, whole.mass));
  const volume = c.step(`${what}: volume (m3)`, over(whole.mass, density(c, p)));
  return { p, volume };
}

/** An amount that must be more than nothing. */
const something = (c: NativeCall, name: string): Expression => {
  const amount = c.number(name);
  return amount.type === "number"
    ? amount
    : c.step(`${name}, in SI units`, c.within(amount, above(amount, number(0))));
};

export const spirit: Readonly<Record<string, Native>> = {
  by_mass: { error: SOLVED, write: (c) => c.number("strength") },
  by_volume: { error: SOLVED, write: (c) => c.number("strength") },
  by_proof: { error: SOLVED, write: (c) => proofFraction(c, c.number("strength")) },
  spirit_density: {
    error: SOLVED,
    write: (c) => inWarmth(c, "temperature", density(c, c.number("strength"), c.optional("temperature"))),
  },
  strength_from_density: {
    error: SOLVED,
    write(c) {
      const rho = c.number("density");
      const kelvin = c.optional("temperature");
      const p = massFractionFromDensity(c, rho, kelvin);
      return inWarmth(
        c,
        "temperature",
        c.within(
          volumeFraction(c, p),
          both(operation(">", p, number(-1e-9)), operation("<", p, number(1 + 1e-9))),
        ),
      );
    },
  },
  strength_at_20: {
    error: 1e-8,
    write(c) {
      const p = massFraction(c, c.number("reading"), "reading");
      const t = c.number("temperature");
      const glass = plus(number(1), times(number(25e-6), minus(t, number(293.15))));
      const rho = c.step("density that the glass stands in (kg/m3)", over(density(c, p), glass));
      return c.within(volumeFraction(c, massFractionFromDensity(c, rho, t)), warmth(t));
    },
  },
  volume_at_20: {
    error: SOLVED,
    write(c) {
      const p = c.number("strength");
      const t = c.number("temperature");
      return c.within(over(times(c.number("volume"), density(c, p, t)), density(c, p)), warmth(t));
    },
  },
  mass_of: {
    error: SOLVED,
    write: (c) =>
      inWarmth(
        c,
        "temperature",
        times(c.number("volume"), density(c, c.number("strength"), c.optional("temperature"))),
      ),
  },
  volume_of: {
    error: SOLVED,
    write: (c) =>
      inWarmth(
        c,
        "temperature",
        over(c.number("mass"), density(c, c.number("strength"), c.optional("temperature"))),
      ),
  },
  pure_volume: {
    error: SOLVED,
    write(c) {
      const q = c.number("strength");
      const amount = c.number("volume");
      if (!isMass(c, "volume")) return times(amount, q);
      return over(times(amount, massFraction(c, q)), pureDensity(c));
    },
  },
  pure_mass: {
    error: SOLVED,
    write(c) {
      const q = c.number("strength");
      const amount = c.number("volume");
      return isMass(c, "volume")
        ? times(amount, massFraction(c, q))
        : times(times(amount, q), pureDensity(c));
    },
  },
  marry: {
    error: SOLVED,
    write(c) {
      const parts = marriedParts(c);
      const whole = wholeOf(c, parts, "blend");
      const { volume } = finished(c, whole, "blend");
      const pure = over(whole.ethanol, pureDensity(c));
      return {
        parts: {
          volume,
          strength: over(pure, volume),
          mass: whole.mass,
          pure_volume: pure,
          contraction: minus(whole.apart, volume),
        },
      };
    },
  },
  let_down: {
    error: SOLVED,
    write(c) {
      const from = liquid(c, something(c, "volume"), isMass(c, "volume"), c.number("strength"), "spirit");
      const to = c.number("to");
      const water = c.step(
        "water to add (kg)",
        c.within(minus(over(from.ethanol, to), from.mass), both(above(to, number(0)), atMost(to, from.p))),
      );
      const total = c.step("volume afterwards (m3)", over(plus(from.mass, water), density(c, to)));
      const add = over(water, waterDensity(c));
      return {
        parts: { add, add_mass: water, total, contraction: minus(plus(from.volume, add), total) },
      };
    },
  },
  fortify: {
    error: SOLVED,
    write(c) {
      const weak = liquid(c, something(c, "volume"), isMass(c, "volume"), c.number("strength"), "weak");
      const by = c.number("with");
      const to = c.number("to");
      const mass = c.step(
        "stronger spirit to add (kg)",
        c.within(
          over(times(minus(to, weak.p), weak.mass), minus(by, to)),
          both(atLeast(to, weak.p), operation("<", to, by)),
        ),
      );
      const add = c.step("the same (m3)", over(mass, density(c, by)));
      const whole = { mass: plus(weak.mass, mass), ethanol: plus(weak.ethanol, times(mass, by)) };
      const { volume } = finished(c, whole, "afterwards");
      return {
        parts: { add, add_mass: mass, total: volume, contraction: minus(plus(weak.volume, add), volume) },
      };
    },
  },
  make_up: {
    error: SOLVED,
    write(c) {
      const parts = marriedParts(c, "volumes", "strengths");
      const dosed = wholeOf(c, parts, "dosed parts");
      const by = c.number("with");
      const target = liquid(c, something(c, "total"), isMass(c, "total"), c.number("to"), "total");
      const spirit = c.step(
        "neutral spirit (kg)",
        over(minus(target.ethanol, dosed.ethanol), c.within(by, above(by, number(0)))),
      );
      const water = c.step("water (kg)", minus(minus(target.mass, dosed.mass), spirit));
      // A slip of rounding below nothing is nothing; more than that cannot be made up.
      const slack = times(number(-1e-12), target.mass);
      const possible = (e: Expression): Expression =>
        c.within(call("MAX", number(0), e), both(atLeast(spirit, slack), atLeast(water, slack)));
      const spiritVolume = c.step("the same (m3)", over(spirit, density(c, by)));
      const waterVolume = over(water, waterDensity(c));
      return {
        parts: {
          spirit: possible(spiritVolume),
          spirit_mass: possible(spirit),
          water: possible(waterVolume),
          water_mass: possible(water),
          contraction: minus(plus(dosed.apart, plus(spiritVolume, waterVolume)), target.volume),
          short: call(
            "IF",
            atLeast(spirit, slack),
            call("IF", atLeast(water, slack), text("nothing"), text("too much water")),
            text("too much alcohol"),
          ),
        },
      };
    },
  },
  soak: {
    error: SOLVED,
    write(c) {
      const from = liquid(c, something(c, "volume"), isMass(c, "volume"), c.number("strength"), "spirit");
      const plant = c.number("botanical");
      const moisture = c.number("moisture");
      const inside = both(atLeast(plant, number(0)), share(moisture));
      const mass = c.step("all the liquid (kg)", c.within(plus(from.mass, times(moisture, plant)), inside));
      const { p, volume } = finished(c, { mass, ethanol: from.ethanol }, "after soaking");
      const q = c.step("strength by volume after soaking", volumeFraction(c, p));
      const before = c.step("strength by volume before", volumeFraction(c, c.number("strength")));
      const parts: Record<string, Expression> = { strength: q, strength_lost: minus(before, q) };
      const wet = c.optional("wet_marc");
      if (wet !== undefined) {
        const held = minus(wet, times(minus(number(1), moisture), plant));
        const kept = c.step(
          "liquid in the marc (kg)",
          c.within(held, both(atLeast(held, number(0)), atMost(held, mass))),
        );
        const share_ = over(kept, mass);
        parts.drains = times(volume, minus(number(1), share_));
        parts.spirit_held = times(volume, share_);
        parts.share_held = share_;
      }
      return { parts };
    },
  },
  sweeten: {
    error: SOLVED,
    write(c) {
      const from = liquid(c, something(c, "volume"), isMass(c, "volume"), c.number("strength"), "spirit");
      const sugar = c.number("sugar");
      const pure = c.step("pure alcohol (m3)", over(from.ethanol, pureDensity(c)));
      const before = c.step("volume of the spirit (m3)", from.volume);
      const volume = c.step(
        "volume afterwards (m3)",
        c.within(
          plus(before, times(number(0.62e-3), sugar)),
          both(
            atMost(pure, times(number(0.6 * (1 + 1e-9)), before)),
            atLeast(sugar, number(0)),
            atMost(sugar, times(number(500 * (1 + 1e-9)), before)),
          ),
        ),
      );
      return { parts: { volume, strength: over(pure, volume), sugar_per_litre: over(sugar, volume) } };
    },
  },
};

/** The parts of a blend; a row that is blank in both lists counts as nothing. */
function marriedParts(c: NativeCall, ...names: string[]): readonly LiquidExpression[] {
  const byMass = isMass(c, names[0] ?? "volumes");
  return c.together(...(names.length > 0 ? names : ["volumes", "strengths"])).map((entry) => {
    const [amount, p] = entry.values as [Expression, Expression];
    const part = liquid(entry.call, amount, byMass, p, entry.name);
    if (entry.absent === undefined) return part;
    const absent = entry.absent;
    const there = (e: Expression): Expression =>
      c.step(`${entry.name}: if it is there`, call("IF", absent, number(0), e));
    return { p: part.p, mass: there(part.mass), ethanol: there(part.ethanol), volume: there(part.volume) };
  });
}

const sum = (terms: readonly Expression[]): Expression => joined(terms, plus, number(0));

function wholeOf(c: NativeCall, parts: readonly LiquidExpression[], what: string) {
  return {
    mass: c.step(`${what}: mass (kg)`, sum(parts.map((p) => p.mass))),
    ethanol: c.step(`${what}: alcohol (kg)`, sum(parts.map((p) => p.ethanol))),
    apart: c.step(`${what}: volume of the parts apart (m3)`, sum(parts.map((p) => p.volume))),
  };
}
