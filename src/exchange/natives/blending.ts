import { kinds } from "../../quantity";
import { call, type Expression, minus, number, operation, over, plus, times } from "../expression";
import type { Native, NativeCall } from "./native";
import { both } from "./ranges";
import { density } from "./spirit-maths";
import { syrupDensity } from "./sugar";

/** Two stocks and a target: the Pearson square by mass, told in volumes through the densities. */
const SOLVED = 1e-9;
const isMass = (c: NativeCall, name: string): boolean => c.kindOf(name) === kinds.mass;

/** Density of a stock, for volumes; 1 where nothing is known of it, so that volumes add. */
function densityOf(c: NativeCall, name: string): Expression {
  const kind = c.kindOf(name);
  const x = c.number(name);
  if (kind === kinds.solids) return syrupDensity(c, x);
  if (kind === kinds.strengthVolume || kind === kinds.strengthMass || kind === kinds.proof)
    return density(c, x);
  return number(1);
}

function square(c: NativeCall) {
  const rich = c.number("rich");
  const lean = c.number("lean");
  const to = c.number("to");
  const span = minus(rich, lean);
  const inside = both(
    operation("<>", rich, lean),
    operation(">=", to, call("MIN", rich, lean)),
    operation("<=", to, call("MAX", rich, lean)),
  );
  return {
    rich: c.within(over(minus(to, lean), span), inside),
    lean: c.within(over(minus(rich, to), span), inside),
  };
}

export const blending: Readonly<Record<string, Native>> = {
  cross_parts: { error: SOLVED, write: (c) => ({ parts: square(c) }) },
  cross_fill: {
    error: SOLVED,
    write(c) {
      const parts = square(c);
      const total = c.number("total");
      if (isMass(c, "total")) {
        return { parts: { rich: times(parts.rich, total), lean: times(parts.lean, total) } };
      }
      const mass = c.step("mass of the mix (kg)", times(total, densityOf(c, "to")));
      return {
        parts: {
          rich: over(times(parts.rich, mass), densityOf(c, "rich")),
          lean: over(times(parts.lean, mass), densityOf(c, "lean")),
        },
      };
    },
  },
  cross_add: {
    error: SOLVED,
    write(c) {
      const have = c.number("have");
      const at = c.number("at");
      const other = c.number("with");
      const to = c.number("to");
      const ratio = c.step(
        "stock to add, for a part of what is there",
        call(
          "IF",
          operation("=", to, at),
          number(0),
          c.within(
            over(minus(to, at), minus(other, to)),
            operation(">", times(minus(to, at), minus(other, to)), number(0)),
          ),
        ),
      );
      if (isMass(c, "have")) {
        return { parts: { add: times(have, ratio), total: times(have, plus(number(1), ratio)) } };
      }
      const mass = c.step("mass of what is there (kg)", times(have, densityOf(c, "at")));
      return {
        parts: {
          add: over(times(mass, ratio), densityOf(c, "with")),
          total: over(times(mass, plus(number(1), ratio)), densityOf(c, "to")),
        },
      };
    },
  },
};
