import { exactInteger, parseUnit, quantity, Trouble, toSI } from "../quantity";
import type { DateValue, Value } from "../vocabulary/value";

const DAY = 86_400;
const MILLISECONDS = 1000 * DAY;

/** Days since 1970-01-01 of an ISO day that exists. */
export function dayOf(iso: string): number {
  const [y, m, d] = iso.split("-").map(Number) as [number, number, number];
  // `Date.UTC` takes the years 0 to 99 for those of the twentieth century.
  return new Date(0).setUTCFullYear(y, m - 1, d) / MILLISECONDS;
}

export function dateOf(iso: string): DateValue {
  return { type: "date", iso, day: dayOf(iso) };
}

export function dateFromDay(day: number): DateValue {
  const when = new Date(day * MILLISECONDS);
  if (Number.isNaN(when.getTime()) || when.getUTCFullYear() < 1 || when.getUTCFullYear() > 9999) {
    throw new Trouble({ code: "date-range", says: "This day lies outside the years 0001 to 9999." });
  }
  return { type: "date", iso: when.toISOString().slice(0, 10), day };
}

/** `date - date`, `date + 30 d`; everything else with a date is refused. */
export function dateArithmetic(operator: string, left: Value, right: Value): Value {
  if (left.type === "date" && right.type === "date" && operator === "-") {
    return quantity(exactInteger(left.day - right.day), parseUnit("d"));
  }
  if (left.type === "date" && right.type === "quantity" && (operator === "+" || operator === "-")) {
    if (right.unit.kind.id !== "s") {
      throw new Trouble({
        code: "date-needs-days",
        says: `Only days can be added to a date, not ${right.unit.kind.name}.`,
        help: "Write for example `+ 30 d`.",
      });
    }
    const days = toSI(right) / DAY;
    const whole = Math.round(days);
    if (Math.abs(days - whole) > 1e-9 * Math.max(1, Math.abs(days))) {
      throw new Trouble({
        code: "date-whole-days",
        says: "A date moves by whole days only.",
        help: "Use `whole` or `round_to(…, 1 d)` first.",
      });
    }
    return dateFromDay(operator === "+" ? left.day + whole : left.day - whole);
  }
  if (left.type === "quantity" && right.type === "date" && operator === "+") {
    return dateArithmetic("+", right, left);
  }
  throw new Trouble({
    code: "date-arithmetic",
    says: "A date takes only `date - date`, `date + days` and `date - days`.",
  });
}
