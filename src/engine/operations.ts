import {
  add,
  approximate,
  compare,
  convert,
  divide,
  multiply,
  type Note,
  negate,
  power,
  type Quantity,
  quantity,
  spreadBy,
  subtract,
  Trouble,
  type Unit,
} from "../quantity";
import { type ListValue, list, truth, type Value } from "../vocabulary/value";
import { dateArithmetic } from "./dates";
import type { Draw } from "./environment";
import { describe, faultFrom, recordTrouble, stopper, withNotes } from "./fault";

/** Most entries that a list may have. */
export const LIST_LIMIT = 100_000;

/** Arithmetic on two values; entry by entry when one is a list. Throws `Trouble`. */
export function arithmetic(
  operator: "+" | "-" | "*" | "/" | "^",
  left: Value,
  right: Value,
  byPowerOfTen: boolean,
): Value {
  if (left.type === "quantity" && right.type === "quantity") {
    switch (operator) {
      case "+":
        return add(left, right);
      case "-":
        return subtract(left, right);
      case "*":
        return multiply(left, right);
      case "/":
        return divide(left, right, byPowerOfTen);
      case "^":
        return power(left, right);
    }
  }
  if (left.type === "list" || right.type === "list") {
    return mapEntries([left, right], ([a, b]) => arithmetic(operator, a!, b!, byPowerOfTen));
  }
  const stop = stopper([left, right]);
  if (stop) return stop;
  if (left.type === "record") throw recordTrouble(left);
  if (right.type === "record") throw recordTrouble(right);
  if (left.type === "date" || right.type === "date") return dateArithmetic(operator, left, right);
  throw new Trouble({
    code: "not-a-number",
    says: `\`${operator}\` works on numbers; here it meets ${describe(left.type === "quantity" ? right : left)}.`,
  });
}

export function negated(value: Value): Value {
  if (value.type === "quantity") return negate(value);
  if (value.type === "list") return mapEntries([value], ([a]) => negated(a!));
  if (value.type === "gap" || value.type === "fault") return value;
  if (value.type === "record") throw recordTrouble(value);
  throw new Trouble({
    code: "not-a-number",
    says: `A minus works on numbers; here it meets ${describe(value)}.`,
  });
}

export function shownIn(value: Value, unit: Unit): Value {
  if (value.type === "quantity") return convert(value, unit);
  if (value.type === "list") return mapEntries([value], ([a]) => shownIn(a!, unit));
  if (value.type === "gap" || value.type === "fault") return value;
  if (value.type === "record") throw recordTrouble(value);
  throw new Trouble({
    code: "not-a-number",
    says: `\`in ${unit.text}\` works on a number with a unit; here it meets ${describe(value)}.`,
  });
}

export function spreadOut(of: Value, by: Value, identity: string, draw?: Draw): Value {
  if (of.type === "list" || by.type === "list") {
    let entry = 0;
    return mapEntries([of, by], ([a, b]) => spreadOut(a!, b!, `${identity}.${++entry}`, draw));
  }
  const stop = stopper([of, by]);
  if (stop) return stop;
  if (of.type === "record") throw recordTrouble(of);
  if (of.type !== "quantity" || by.type !== "quantity") {
    throw new Trouble({
      code: "not-a-number",
      says: `± stands between two numbers; here it meets ${describe(of.type === "quantity" ? by : of)}.`,
    });
  }
  const spread = spreadBy(of, by, identity);
  return draw ? drawn(spread, draw) : spread;
}

/** A quantity moved by what a Monte Carlo trial drew for each of its inputs, and without uncertainty of its own. */
export function drawn(q: Quantity, draw: Draw): Quantity {
  if (!q.spread) return q;
  let moved = q.n.v;
  for (const [input, amount] of q.spread) moved += amount * draw(input);
  return quantity(approximate(moved), q.unit, undefined, q.notes);
}

export type Comparison = "<" | "<=" | ">" | ">=" | "is" | "is not";

/** The order of two values: by language section 7, with a remark when they are closer than their uncertainty. */
function orderOf(left: Value, right: Value, verb: string): { order: number; note?: Note } {
  if (left.type === "quantity" && right.type === "quantity") return compare(left, right);
  if (left.type === "date" && right.type === "date") return { order: Math.sign(left.day - right.day) };
  if (left.type === "text" && right.type === "text") {
    if (verb === "is" || verb === "is not") return { order: sameText(left.text, right.text) ? 0 : 1 };
    throw new Trouble({ code: "text-order", says: "Text has no order; only `is` and `is not` work on it." });
  }
  if (left.type === "truth" && right.type === "truth" && (verb === "is" || verb === "is not")) {
    return { order: left.value === right.value ? 0 : 1 };
  }
  if (left.type === "record") throw recordTrouble(left);
  if (right.type === "record") throw recordTrouble(right);
  throw new Trouble({
    code: "kinds-differ",
    says: `${capital(describe(left))} and ${describe(right)} cannot be compared.`,
  });
}

export function compared(operator: Comparison, left: Value, right: Value): Value {
  if (left.type === "list" || right.type === "list") {
    return mapEntries([left, right], ([a, b]) => compared(operator, a!, b!));
  }
  const stop = stopper([left, right]);
  if (stop) return stop;
  const { order, note } = orderOf(left, right, operator);
  const holds =
    operator === "is"
      ? order === 0
      : operator === "is not"
        ? order !== 0
        : operator === "<"
          ? order < 0
          : operator === "<="
            ? order <= 0
            : operator === ">"
              ? order > 0
              : order >= 0;
  const carried = [...(left.notes ?? []), ...(right.notes ?? []), ...(note ? [note] : [])];
  return withNotes(truth(holds), carried);
}

export function isWithin(of: Value, low: Value, high: Value): Value {
  const above = compared(">=", of, low);
  const below = compared("<=", of, high);
  return logic("and", above, () => below);
}

export function isBlank(value: Value, wanted: boolean): Value {
  if (value.type === "list") return mapEntries([value], ([a]) => isBlank(a!, wanted), true);
  if (value.type === "fault") return value;
  return truth((value.type === "gap") === wanted);
}

/** `and`, `or` with the right side worked out only when the left does not decide. */
export function logic(operator: "and" | "or", left: Value, right: () => Value): Value {
  const decisive = operator === "or";
  if (left.type === "list") {
    const other = right();
    return mapEntries([left, other], ([a, b]) => logic(operator, a!, () => b!), true);
  }
  if (left.type === "truth" && left.value === decisive) return left;
  if (left.type === "fault") return left;
  if (left.type !== "truth" && left.type !== "gap") throw truthTrouble(operator, left);
  const other = right();
  if (other.type === "list")
    return mapEntries([left, other], ([a, b]) => logic(operator, a!, () => b!), true);
  if (other.type === "truth") {
    if (other.value === decisive) return other;
    return left.type === "gap" ? left : withNotes(other, left.notes);
  }
  if (other.type === "gap" || other.type === "fault")
    return other.type === "fault" ? other : left.type === "gap" ? left : other;
  throw truthTrouble(operator, other);
}

export function inverted(value: Value): Value {
  if (value.type === "truth") return { ...value, value: !value.value };
  if (value.type === "list") return mapEntries([value], ([a]) => inverted(a!));
  if (value.type === "gap" || value.type === "fault") return value;
  throw truthTrouble("not", value);
}

export function truthTrouble(word: string, met: Value): Trouble {
  return new Trouble({
    code: "truth-wanted",
    says: `\`${word}\` wants true or false and meets ${describe(met)}.`,
    help: "Write a comparison, such as `x > 2 L` or `x is 3`.",
  });
}

/** Texts that count as the same: NFC, capitals and spare blanks ignored. */
export function sameText(a: string, b: string): boolean {
  return a === b || textKey(a) === textKey(b);
}

export function textKey(t: string): string {
  return t.normalize("NFC").toLowerCase().replace(/\s+/gu, " ").trim();
}

const capital = (s: string): string => s.charAt(0).toUpperCase() + s.slice(1);

/** Two lists that are as long, of rows that are not the same. */
function otherRows(one: string, other: string): Trouble {
  return one === other
    ? new Trouble({
        code: "list-rows",
        says: `These lists belong to different rows of table ${one}, even though they are as long.`,
        help: "Rows that are chosen by the same condition go together.",
      })
    : new Trouble({
        code: "list-rows",
        says: `These columns belong to different rows (${one} and ${other}), even though they are as long.`,
        help: "`pick(column, name)` takes the entry of the row with that name.",
      });
}

/**
 * Works entry by entry through the lists among the arguments; a single value repeats. Lists must have one
 * length and, where they carry rows, the same rows. An entry that is a gap or a fault stays one
 * (unless `all`), and trouble in some entries becomes a fault in those alone.
 */
export function mapEntries(
  args: readonly Value[],
  work: (entries: readonly Value[]) => Value,
  all = false,
): ListValue {
  const lists = args.filter((a): a is ListValue => a.type === "list");
  const first = lists[0]!;
  const length = first.entries.length;
  let origin = first.origin;
  for (const other of lists.slice(1)) {
    if (other.entries.length !== length) {
      throw new Trouble({
        code: "list-lengths",
        says: `These lists do not match: ${length} ${length === 1 ? "entry" : "entries"} and ${other.entries.length}.`,
      });
    }
    if (other.origin) {
      if (!origin) origin = other.origin;
      else if (!sameRows(origin, other.origin)) {
        throw otherRows(origin.table, other.origin.table);
      }
    }
  }
  const entries = new Array<Value>(length);
  let trouble: Trouble | undefined;
  let worked = false;
  for (let i = 0; i < length; i++) {
    const at = args.map((a) => (a.type === "list" ? a.entries[i]! : a));
    const stop = all ? undefined : stopper(at);
    if (stop) {
      entries[i] = stop;
      continue;
    }
    try {
      entries[i] = work(at);
      worked = true;
    } catch (error) {
      // A list has one kind, so that what is wrong with it is wrong with all; where the work is at its end there is no
      // next entry.
      if (!(error instanceof Trouble) || error.code === "kinds-differ" || error.code === "work-limit")
        throw error;
      trouble ??= error;
      entries[i] = faultFrom(error, undefined);
    }
  }
  // What goes wrong in every entry is the fault of the whole. A part that one result lacks is not.
  if (trouble && !worked && trouble.code !== "part-missing") throw trouble;
  const notes = args.flatMap((a) => a.notes ?? []);
  return withNotes(list(entries, origin), notes);
}

function sameRows(a: NonNullable<ListValue["origin"]>, b: NonNullable<ListValue["origin"]>): boolean {
  if (a === b) return true;
  if (a.names.length !== b.names.length) return false;
  if (a.table === b.table && a.rows === b.rows) return true;
  for (let i = 0; i < a.names.length; i++) {
    if (a.names[i] !== b.names[i]) return false;
    if (a.table === b.table && a.rows[i] !== b.rows[i]) return false;
  }
  return true;
}

/** `from to to step step` as a list. Throws `Trouble`. */
export function range(from: Value, to: Value, step: Value | undefined): Value {
  const stop = stopper(step ? [from, to, step] : [from, to]);
  if (stop) return stop;
  if (from.type !== "quantity" || to.type !== "quantity" || (step && step.type !== "quantity")) {
    throw new Trouble({ code: "range-numbers", says: "`to` counts between two numbers." });
  }
  if (
    !step &&
    (from.unit.text !== "" || to.unit.text !== "" || !Number.isInteger(from.n.v) || !Number.isInteger(to.n.v))
  ) {
    throw new Trouble({
      code: "range-step",
      says: "A range without a step counts whole plain numbers only.",
      help: "Say the step: `10 mbar to 40 mbar step 10 mbar`.",
    });
  }
  const by = (step as Quantity | undefined) ?? wholeStep(from, to);
  const towards = compare(to, from).order;
  const zero = subtract(by, by);
  const direction = compare(by, zero).order;
  if (direction === 0)
    throw new Trouble({ code: "range-step", says: "The step of a range is 0; it would never arrive." });
  if (towards !== 0 && direction !== towards) {
    throw new Trouble({
      code: "range-step",
      says: `The step points away from the end of the range.`,
      help: "Give the step the other sign.",
    });
  }
  const entries: Value[] = [];
  let at: Quantity = from;
  while (compare(at, to).order !== towards || towards === 0) {
    if (entries.length >= 10_000) {
      throw new Trouble({
        code: "range-limit",
        says: "A range may have at most 10,000 entries; this one has more.",
        help: "Take a larger step.",
      });
    }
    entries.push(at);
    if (towards === 0) break;
    at = add(at, by);
  }
  return list(entries);
}

function wholeStep(from: Quantity, to: Quantity): Quantity {
  const one: Quantity = {
    type: "quantity",
    n: { v: compare(to, from).order < 0 ? -1 : 1, dp: 0 },
    unit: from.unit,
  };
  return one;
}
