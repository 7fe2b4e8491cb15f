import { approximate, exactInteger, format, quantity } from "../../quantity";
import { call, type Expression, number, operation, text, truth } from "../expression";
import { FailedCell } from "../recalculation";
import { NotLive, type Term } from "./term";
import type { Working } from "./working";

/**
 * A value inside a sentence: a number with as many decimals as it has now, and its unit. `decimals` overrides
 * what the number would need.
 */
export function shownText(
  term: Term,
  working: Working,
  decimals?: number,
): { readonly expression: Expression; readonly missing: readonly Expression[] } {
  switch (term.type) {
    case "text":
      return term;
    case "quantity": {
      const places = decimals ?? decimalsNow(term, working);
      const shown = call("FIXED", term.expression, number(places), truth(true));
      const unit = term.unit.text;
      return {
        expression: unit === "" ? shown : operation("&", shown, text(` ${unit}`)),
        missing: term.missing,
      };
    }
    case "truth":
      return { expression: call("IF", term.expression, text("true"), text("false")), missing: term.missing };
    default:
      throw new NotLive("a sentence holds something else than a number or a text");
  }
}

function decimalsNow(term: Term & { type: "quantity" }, working: Working): number {
  const value = working.evaluate(term.expression);
  if (value instanceof FailedCell || typeof value !== "number") return 2;
  const whole = Number.isSafeInteger(value);
  const shown = format(quantity(whole ? exactInteger(value) : approximate(value), term.unit));
  const digits = /^-?\d+(?:\.(\d+))?/.exec(shown);
  return digits?.[1]?.length ?? 0;
}
