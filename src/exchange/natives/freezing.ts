import { call, type Expression, joined, minus, number, operation, over, plus, times } from "../expression";
import type { Native, NativeCall } from "./native";
import { between, both } from "./ranges";
import { sucroseActivity, sucroseMoles } from "./sugar";

/** Water activity and the freezing of mixes, as in src/matter/activity.ts and freezing.ts. */
const NORRISH = new Map([
  ["glucose", [180.16, 2.25]],
  ["fructose", [180.16, 2.25]],
  ["maltose", [342.3, 4.54]],
  ["lactose", [342.3, 10.2]],
  ["glycerol", [92.09, 1.16]],
  ["sorbitol", [182.17, 1.65]],
  ["xylitol", [152.15, 1.66]],
  ["erythritol", [122.12, 1.34]],
  ["mannitol", [182.17, 0.906]],
]);
const WATER_MOLAR = 18.015268;
const ROOM = 298.15;

const ln = (e: Expression): Expression => call("LN", e);

/** Mole fraction of a solute of which there are `ratio` kilograms for a kilogram of water. */
const molesOf = (ratio: Expression, molar: number, water: number): Expression =>
  over(over(ratio, number(molar)), plus(over(ratio, number(molar)), number(1 / water)));

/** ln of the water activity that a solute gives by Norrish's equation at a temperature. */
function lnNorrish(c: NativeCall, name: string, ratio: Expression, kelvin: Expression): Expression {
  const [molar, k] = NORRISH.get(name)!;
  const x = c.step(`${name}, mole fraction`, molesOf(ratio, molar!, WATER_MOLAR));
  return minus(ln(minus(number(1), x)), times(over(number(k! * ROOM), kelvin), operation("^", x, number(2))));
}

/** Polynomials over grams of solute for a gram of water, fitted to the CRC table; and how far they go by mass. */
const DEPRESSION = new Map<string, { terms: number[]; most: number }>([
  ["maltose", { terms: [5.2796, 1.9816], most: 0.44 }],
  ["glycerol", { terms: [20.088, 8.4007, -5.5119], most: 0.4 }],
  ["ethanol", { terms: [40.387, -21.151, 208.1, -276.43], most: 0.3 }],
  ["salt", { terms: [57.306, 3.2758, 122.91], most: 0.23 }],
]);
const depression = (name: string, z: Expression): Expression =>
  DEPRESSION.get(name)!.terms.reduceRight<Expression>((sum, t) => times(plus(sum, number(t)), z), number(0));
/** -ln of the activity of ice, d kelvin below 0 °C. */
const iceLine = (d: Expression): Expression => times(d, plus(number(9.6836e-3), times(number(4.118e-6), d)));

const SOLUTES = [
  "sucrose",
  "glucose",
  "fructose",
  "maltose",
  "lactose",
  "glycerol",
  "sorbitol",
  "salt",
  "milk_solids",
  "ethanol",
];

/**
 * -ln of the activity of the water that holds the mix, at a temperature. While a search is on its way it may pass
 * through places outside the ranges; `settled` says that this is no such place.
 */
function lowering(c: NativeCall, water: Expression, kelvin: Expression, settled = true): Expression {
  const inRange = (z: Expression, most: number): Expression =>
    settled ? c.within(z, operation("<=", z, number(limit(most)))) : z;
  const terms: Expression[] = [];
  const sugars: Expression[] = [];
  for (const name of SOLUTES) {
    const mass = c.optional(name);
    if (mass === undefined || (mass.type === "number" && mass.value === 0)) continue;
    if (name === "sucrose" || name === "lactose") sugars.push(mass);
    else if (name === "milk_solids") {
      sugars.push(times(number(0.545), mass));
      terms.push(iceLine(c.step("salts of the milk (K)", over(times(number(2.37), mass), water))));
    } else if (DEPRESSION.has(name)) {
      const z = c.step(`${name} for a part of water`, over(mass, water));
      const inside = inRange(z, DEPRESSION.get(name)!.most);
      terms.push(
        iceLine(c.step(`${name} alone (K)`, depression(name, c.step(`${name}, in its range`, inside)))),
      );
    } else {
      const z = c.step(`${name} for a part of water`, over(mass, water));
      const inside = c.step(`${name}, in its range`, inRange(z, 0.75));
      terms.push(
        c.step(`${name} alone (-ln activity)`, minus(number(0), lnNorrish(c, name, inside, kelvin))),
      );
    }
  }
  if (sugars.length > 0) {
    const z = c.step("sugar for a part of water", over(joined(sugars, plus, number(0)), water));
    const inside = c.step("sugar, in its range", inRange(z, 0.85));
    const x = c.step("sugar, mole fraction", molesOf(inside, 342.296, 18.01528));
    terms.push(c.step("sugar alone (-ln activity)", minus(number(0), ln(sucroseActivity(x, kelvin)))));
  }
  return joined(terms, plus, number(0));
}
/** Grams for a gram of water at a mass fraction. */
const limit = (fraction: number): number => (fraction / (1 - fraction)) * (1 + 1e-9);

const given = (c: NativeCall): string[] =>
  SOLUTES.filter((name) => {
    const mass = c.optional(name);
    return mass !== undefined && !(mass.type === "number" && mass.value === 0);
  });

/** A salty liquor thickened to a mass or to a share of salt. */
const reduceSalty: Native = {
  error: 1e-9,
  write(c) {
    const mass = c.number("mass");
    const salt = c.step("salt (kg)", times(mass, c.number("salt")));
    const solids = c.step("other solids (kg)", times(mass, c.number("solids")));
    const toMass = c.optional("to_mass");
    const toSalt = c.optional("to_salt");
    if (c.optional("to_activity") !== undefined) c.refuse("to a water activity: its salt is searched for");
    const dry = plus(salt, solids);
    const goal = toMass === undefined ? over(salt, toSalt ?? c.refuse("without a goal")) : toMass;
    const water = c.step("water that stays (kg)", minus(goal, dry));
    const before = minus(mass, dry);
    const inside = both(
      operation(">", water, times(number(1e-12), mass)),
      operation("<=", water, times(number(1 + 1e-12), before)),
    );
    const stays = c.step("water that stays, if that can be (kg)", c.within(water, inside));
    const left = c.step("what stays (kg)", plus(dry, stays));
    const dissolved = c.step(
      "salt that stays dissolved (kg)",
      call("MIN", salt, times(number(6.15 * 0.058443), stays)),
    );
    const activity = c.step("water activity by the salt", saltActivity(c, over(dissolved, stays)));
    const sweet = c.step("other solids in them and water", over(solids, plus(solids, stays)));
    const part = over(sweet, number(180.16));
    const x = c.step(
      "glucose, mole fraction",
      over(part, plus(part, over(minus(number(1), sweet), number(WATER_MOLAR)))),
    );
    const glucose = times(
      minus(number(1), x),
      call("EXP", times(number(-2.25), operation("^", x, number(2)))),
    );
    return {
      parts: {
        "left.mass": left,
        "taken.mass": minus(mass, left),
        salt: over(salt, left),
        salt_in_water: over(dissolved, plus(dissolved, stays)),
        activity,
        activity_low: c.within(times(activity, glucose), operation("<=", sweet, number(0.8))),
        crystals: minus(salt, dissolved),
      },
    };
  },
};

export const freezing: Readonly<Record<string, Native>> = {
  ice_point: {
    error: 1e-8,
    write(c) {
      const water = c.number("water");
      const only = given(c);
      if (only.length === 1 && only[0] === "ethanol") {
        const z = c.step("alcohol for a part of water", over(c.number("ethanol"), water));
        const inside = both(operation(">=", z, number(0)), operation("<=", z, number(limit(0.3))));
        return minus(number(273.15), c.within(depression("ethanol", z), inside));
      }
      // The lowering hardly depends on temperature, so the point is found by going round a few times.
      let d: Expression = number(0);
      for (let i = 1; i <= ROUNDS; i++) {
        const l = c.step(`round ${i}: -ln activity`, lowering(c, water, minus(number(273.15), d)));
        d = c.step(`round ${i}: kelvin below 0 °C`, belowZero(l));
      }
      const coldest = only.length === 1 && only[0] === "salt" ? 21.1 : 20;
      return minus(number(273.15), c.within(d, between(d, 0, coldest + 0.01)));
    },
  },
  ice_share: {
    error: 1e-6,
    write(c) {
      const water = c.step("water (kg)", c.number("water"));
      const kelvin = c.step("temperature (K)", c.number("temperature"));
      const d = c.step("kelvin below 0 °C", minus(number(273.15), kelvin));
      const goal = c.step("-ln activity of ice then", iceLine(d));
      const whole = c.step("-ln activity of all the water", lowering(c, water, kelvin, false));
      // Thinner liquid lowers less, nearly as 1/water: the search runs on the logarithms of both.
      let at = c.step(
        "ln of the liquid water, first guess",
        plus(ln(water), ln(call("MIN", number(1), over(whole, goal)))),
      );
      let slope: Expression = number(-1.1);
      let miss: Expression | undefined;
      let before: Expression | undefined;
      for (let i = 1; i <= ICE_STEPS; i++) {
        const here = lowering(c, c.step(`step ${i}: liquid water (kg)`, call("EXP", at)), kelvin, false);
        const off = c.step(`step ${i}: too much lowered by, in ln`, minus(ln(here), ln(goal)));
        if (miss !== undefined && before !== undefined) {
          const rest = operation("<", call("ABS", minus(at, before)), number(1e-9));
          slope = c.step(
            `step ${i}: slope`,
            call("IF", rest, slope, over(minus(off, miss), minus(at, before))),
          );
        }
        before = at;
        miss = off;
        at = c.step(`step ${i}: ln of the liquid water`, minus(at, over(off, slope)));
      }
      const liquid = c.step("liquid water (kg)", call("EXP", at));
      const checked = lowering(c, liquid, kelvin);
      const share = c.within(
        minus(number(1), over(liquid, water)),
        both(operation(">", checked, number(0)), operation("<=", d, number(20 + 1e-9))),
      );
      const melted = call("OR", operation("<=", d, number(0)), operation(">=", whole, goal));
      return call("IF", melted, number(0), share);
    },
  },
  activity_from_solids: {
    error: 1e-10,
    write(c) {
      const w = c.number("solids");
      const solute = c.text("solute") ?? c.refuse("for a solute that is chosen by a formula");
      if (solute === "sucrose") {
        const x = c.step("sucrose, mole fraction", sucroseMoles(w));
        return c.within(sucroseActivity(x, number(ROOM)), between(w, 0, 0.85));
      }
      const [molar, k] = NORRISH.get(solute === "invert sugar" ? "glucose" : solute)!;
      const part = over(w, number(molar!));
      const x = c.step(
        "solute, mole fraction",
        over(part, plus(part, over(minus(number(1), w), number(WATER_MOLAR)))),
      );
      const activity = times(
        minus(number(1), x),
        call("EXP", times(number(-k!), operation("^", x, number(2)))),
      );
      return c.within(activity, between(w, 0, 0.8));
    },
  },
  reduce_salty: reduceSalty,
  salt_activity: { error: 1e-10, write: (c) => saltActivity(c, over(c.number("salt"), c.number("water"))) },
};

/** Kelvin below 0 °C at which ice has this -ln activity: the positive root of a square. */
const belowZero = (l: Expression): Expression =>
  over(
    minus(call("SQRT", plus(number(9.6836e-3 ** 2), times(number(4 * 4.118e-6), l))), number(9.6836e-3)),
    number(2 * 4.118e-6),
  );
/** The chord settles it in about six. */
const ICE_STEPS = 7;
/** Each round brings it nearer by a factor of about fifty. */
const ROUNDS = 7;

function saltActivity(c: NativeCall, ratio: Expression): Expression {
  const m = c.step("salt (mol in a kilogram of water)", over(ratio, number(0.058443)));
  const root = c.step("its root", call("SQRT", m));
  const phi = c.step(
    "osmotic coefficient",
    plus(
      minus(number(1), over(times(number(0.3915), root), plus(number(1), times(number(1.2), root)))),
      plus(
        times(m, plus(number(0.0765), times(number(0.2664), call("EXP", times(number(-2), root))))),
        times(number(0.00127), operation("^", m, number(2))),
      ),
    ),
  );
  return c.within(call("EXP", times(times(number(-2 * 0.018015), m), phi)), between(m, 0, 6.15 * (1 + 1e-9)));
}
