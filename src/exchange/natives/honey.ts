import { YEAST_RISK } from "../../matter/honey";
import { syrupDensity as syrupDensityNow } from "../../matter/sugar";
import { kinds } from "../../quantity";
import { call, type Expression, minus, number, operation, over, plus, text, times } from "../expression";
import type { Native, NativeCall } from "./native";
import { between, both } from "./ranges";
import { density } from "./spirit-maths";
import { syrupDensity } from "./sugar";

/** Honey and the balance of an infusion driven off again, as in src/matter/honey.ts and infusion.ts. */
const SLACK = 0.0003;
const ARITHMETIC = 1e-10;

/** Slope of the syrup density at its end, along which a drier honey goes on. */
const END_SLOPE = (syrupDensityNow(0.85) - syrupDensityNow(0.849)) / 0.001;

function honeyDensity(c: NativeCall, moisture: Expression): Expression {
  const w = c.step("solids of the honey", minus(number(1), moisture));
  const rule = times(number(0.992), syrupDensity(c, call("MIN", number(0.85), w)));
  const drier = times(number(0.992 * END_SLOPE), call("MAX", number(0), minus(w, number(0.85))));
  return c.within(plus(rule, drier), between(moisture, 0.13, 0.25));
}

interface Mix {
  readonly honey: Expression;
  readonly moisture: Expression;
  readonly ethanol: Expression;
  readonly solids: Expression;
  readonly to: Expression;
  readonly kept: Expression;
}
function mixOf(c: NativeCall): Mix {
  const solids = c.number("solids");
  const kind = c.kindOf("strength");
  const noSugar = solids.type === "number" && solids.value === 0;
  const noAlcohol = c.constant("strength") === 0;
  if (!noSugar && !noAlcohol && kind !== kinds.strengthMass) {
    c.refuse("for an infusion with sugar whose strength is by volume: its alcohol by mass is searched for");
  }
  return {
    honey: c.number("honey"),
    moisture: c.number("moisture"),
    ethanol: c.number("strength"),
    solids,
    to: c.number("to"),
    kept: c.number("alcohol_left"),
  };
}

/** What must come off when a mass of infusion is stirred in. */
function run(c: NativeCall, mix: Mix, infusion: Expression) {
  const dry = minus(number(1), mix.moisture);
  const solids = c.step("solids (kg)", plus(times(mix.honey, dry), times(infusion, mix.solids)));
  const water = c.step(
    "water (kg)",
    plus(times(mix.honey, mix.moisture), times(infusion, minus(minus(number(1), mix.ethanol), mix.solids))),
  );
  const alcohol = times(infusion, mix.ethanol);
  const room = c.within(
    minus(minus(number(1), mix.to), mix.kept),
    operation(">", minus(minus(number(1), mix.to), mix.kept), number(0)),
  );
  const left = c.step("honey that stays (kg)", over(solids, room));
  const mass = plus(mix.honey, infusion);
  const takenWater = c.step("water to take off (kg)", minus(water, times(mix.to, left)));
  const takenAlcohol = c.step("alcohol to take off (kg)", minus(alcohol, times(mix.kept, left)));
  const grain = times(number(-1e-12), mass);
  const possible = both(operation(">=", takenWater, grain), operation(">=", takenAlcohol, grain));
  const positive = (e: Expression): Expression => c.within(call("MAX", number(0), e), possible);
  return {
    mixed: c.within(over(water, mass), possible),
    takenMass: c.within(minus(mass, left), possible),
    takenWater: positive(takenWater),
    takenAlcohol: positive(takenAlcohol),
    left: c.within(left, possible),
  };
}

/** With alcohol given the book refuses, so there is nothing to write out. */
function refuseAlcohol(c: NativeCall): void {
  if (c.kindOf("strength") !== undefined && c.constant("strength") !== 0) c.refuse("with alcohol in it");
}

export const honey: Readonly<Record<string, Native>> = {
  honey_moisture: {
    error: ARITHMETIC,
    write(c) {
      refuseAlcohol(c);
      const t = c.number("temperature");
      const at20 = plus(c.number("index"), times(number(0.00023), minus(t, number(293.15))));
      const n = c.step("index at 20 °C", at20);
      const moisture = over(minus(number(-0.2681), call("LOG10", minus(n, number(1)))), number(0.2243));
      const water = c.step("water, a fraction", moisture);
      const warm = between(t, 283.15 - 1e-9, 313.15 + 1e-9);
      const inside = between(water, 0.13 - SLACK, 0.25 + SLACK);
      return c.within(water, t.type === "number" ? inside : both(inside, warm));
    },
  },
  honey_moisture_from_solids: {
    error: ARITHMETIC,
    write(c) {
      refuseAlcohol(c);
      const moisture = minus(number(1.00638), times(number(1.02917), c.number("solids")));
      return c.within(moisture, between(moisture, 0.13 - SLACK, 0.25 + SLACK));
    },
  },
  honey_density: {
    error: ARITHMETIC,
    write(c) {
      const t = c.optional("temperature");
      if (t !== undefined && !(t.type === "number" && Math.abs(t.value - 293.15) < 1e-9)) {
        c.refuse("for a honey that is not at 20 °C");
      }
      return honeyDensity(c, c.number("moisture"));
    },
  },
  honey_activity: {
    error: ARITHMETIC,
    write(c) {
      const w = c.number("moisture");
      return c.within(plus(number(0.267), times(number(1.77), w)), between(w, 0.13, 0.21));
    },
  },
  infuse_honey: {
    error: ARITHMETIC,
    write(c) {
      const mix = mixOf(c);
      const made = run(c, mix, c.number("infusion"));
      return {
        parts: {
          mixed_moisture: made.mixed,
          "taken.mass": made.takenMass,
          "taken.water": made.takenWater,
          "taken.alcohol": made.takenAlcohol,
          "left.mass": made.left,
        },
      };
    },
  },
  infuse_honey_limit: {
    error: ARITHMETIC,
    write(c) {
      const mix = mixOf(c);
      const budget = c.optional("budget");
      const flask = c.optional("flask");
      const limits: Expression[] = [];
      let byWater: Expression | undefined;
      if (budget !== undefined) {
        const k = c.step(
          "water kept for a kilogram of solids",
          over(mix.to, minus(minus(number(1), mix.to), mix.kept)),
        );
        const alone = c.step(
          "water that the honey alone must lose (kg)",
          minus(times(mix.honey, mix.moisture), times(times(k, mix.honey), minus(number(1), mix.moisture))),
        );
        const each = c.step(
          "water that a kilogram of infusion brings (kg)",
          minus(minus(minus(number(1), mix.ethanol), mix.solids), times(k, mix.solids)),
        );
        byWater = c.step(
          "infusion by the budget (kg)",
          c.within(
            over(minus(budget, alone), each),
            both(operation(">", each, number(0)), operation(">=", budget, alone)),
          ),
        );
        limits.push(byWater);
      }
      if (flask !== undefined) {
        const room = c.step(
          "room in the flask (m3)",
          minus(times(c.number("fill"), flask), over(mix.honey, honeyDensity(c, mix.moisture))),
        );
        const rho = c.step("density of the infusion (kg/m3)", infusionDensity(c, mix));
        limits.push(
          c.step("infusion by the flask (kg)", c.within(times(rho, room), operation(">=", room, number(0)))),
        );
      }
      const infusion = c.step(
        "most infusion (kg)",
        limits.length === 1 ? limits[0]! : call("MIN", ...limits),
      );
      const made = run(c, mix, infusion);
      const word = (s: string): Expression => text(s);
      const limitedBy =
        byWater === undefined
          ? word("the flask")
          : limits.length === 1
            ? word("the budget of water")
            : call(
                "IF",
                operation("<=", byWater, limits[1]!),
                word("the budget of water"),
                word("the flask"),
              );
      return {
        parts: { infusion, limited_by: limitedBy, "taken.water": made.takenWater, "left.mass": made.left },
      };
    },
  },
  yeast_risk: {
    error: 0,
    write(c) {
      const w = c.step(
        "water, a fraction",
        c.within(c.number("moisture"), between(c.number("moisture"), 0, 1)),
      );
      const steps = YEAST_RISK.slice(0, -1);
      return steps.reduceRight<Expression>(
        (rest, step, i) =>
          call(
            "IF",
            i === 0 ? operation("<", w, number(step.to)) : operation("<=", w, number(step.to + 1e-12)),
            text(step.says),
            rest,
          ),
        text(YEAST_RISK[YEAST_RISK.length - 1]!.says),
      );
    },
  },
};

/** Spirit and syrup by their tables; both together by the volume that sugar adds to spirit. */
function infusionDensity(c: NativeCall, mix: Mix): Expression {
  if (mix.solids.type === "number" && mix.solids.value === 0) return density(c, mix.ethanol);
  const e = c.step("alcohol of the infusion, by mass", mix.ethanol);
  const s = c.step("solids of the infusion, by mass", mix.solids);
  const spirit = c.step("what is not solids, by mass", minus(number(1), s));
  const mixed = over(
    number(1),
    plus(
      over(spirit, density(c, c.step("alcohol in that", call("MIN", number(1), over(e, spirit))))),
      times(number(0.62e-3), s),
    ),
  );
  return call(
    "IF",
    operation("=", s, number(0)),
    density(c, e),
    call("IF", operation("=", e, number(0)), syrupDensity(c, s), mixed),
  );
}
