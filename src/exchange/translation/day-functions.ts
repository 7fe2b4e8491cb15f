import { parseUnit, plainUnit } from "../../quantity";
import {
  call,
  type Expression,
  minus,
  negated,
  number,
  operation,
  over,
  plus,
  text,
  times,
} from "../expression";
import { listOf } from "./calls";
import { add, divide, inSI, inUnit } from "./quantities";
import {
  type ListTerm,
  NotLive,
  type QuantityTerm,
  quantityTerm,
  type RecordTerm,
  type Term,
  textTerm,
  union,
} from "./term";
import type { ValueFunction } from "./value-functions";

/** The day's plan, rinsing, and the book of alcohol, as in src/vocabulary/day.ts. */
const quantityIn = (term: Term | undefined): QuantityTerm => {
  if (term?.type === "quantity") return term;
  throw new NotLive("something else than a number is calculated with");
};
const recordOf = (parts: readonly (readonly [string, Term])[]): RecordTerm => ({
  type: "record",
  parts: new Map(parts),
});
const MINUTES = parseUnit("min");
const HOURS = parseUnit("h");

/** A time of day in minutes: a time, or a fixed text such as "08:30". */
function timeOfDay(term: Term): QuantityTerm {
  if (term.type !== "text") return inUnit(quantityIn(term), MINUTES);
  const clock =
    term.expression.type === "text" ? /^\s*(\d{1,2}):(\d{2})\s*$/.exec(term.expression.text) : null;
  if (clock === null)
    throw new NotLive("a time of day that is a text of its own cannot be read by a spreadsheet");
  return quantityTerm(number(60 * Number(clock[1]) + Number(clock[2])), MINUTES);
}

/** `08:30`, `00:30 next day`, as text. */
function clockText(minutes: Expression): Expression {
  const two = (e: Expression): Expression => call("RIGHT", operation("&", text("0"), e), number(2));
  const day = call("INT", over(minutes, number(1440)));
  const inDay = minus(minutes, times(number(1440), day));
  const hour = call("INT", over(inDay, number(60)));
  const minute = minus(inDay, times(number(60), hour));
  const clock = operation("&", operation("&", two(hour), text(":")), two(minute));
  const later = operation("&", operation("&", text(" "), day), text(" days on"));
  const tail = call(
    "IF",
    operation("=", day, number(0)),
    text(""),
    call("IF", operation("=", day, number(1)), text(" next day"), later),
  );
  return operation("&", clock, tail);
}

export const dayFunctions: Readonly<Record<string, ValueFunction>> = {
  day_plan(args, desk) {
    const [names, runs, cleans] = [0, 1, 2].map((i) => listOf(args[i] as Term)) as [
      ListTerm,
      ListTerm,
      ListTerm,
    ];
    if (names.gaps || runs.gaps || cleans.gaps)
      throw new NotLive("a plan with runs that are not filled in yet");
    const ends = args[5] === undefined ? undefined : timeOfDay(args[5]);
    const step = (what: string, q: QuantityTerm): QuantityTerm => ({
      ...q,
      expression: desk.working.step(desk.path, what, q.expression, q.missing),
    });
    const start = timeOfDay(args[3] as Term);
    let free = step("first start (min)", add(start, inUnit(quantityIn(args[4]), MINUTES), "+"));
    const rows: RecordTerm[] = [];
    for (let i = 0; i < names.length; i++) {
      const about = names.origin?.names[i] || `run ${i + 1}`;
      const begins = free;
      const over_ = step(`${about}: end (min)`, add(begins, inUnit(quantityIn(runs.entry(i)), MINUTES), "+"));
      free = step(
        `${about}: clean (min)`,
        add(over_, inUnit(quantityIn(cleans.entry(cleans.length === 1 ? 0 : i)), MINUTES), "+"),
      );
      const clock = (q: QuantityTerm, what: string): Term =>
        textTerm(
          clockText(desk.working.step(desk.path, what, call("ROUND", q.expression, number(0)), q.missing)),
          q.missing,
        );
      const parts: [string, Term][] = [
        ["start", inUnit(begins, HOURS)],
        ["end", inUnit(over_, HOURS)],
        ["free", inUnit(free, HOURS)],
        ["starts_at", clock(begins, `${about}: start, whole minutes`)],
        ["ends_at", clock(over_, `${about}: end, whole minutes`)],
      ];
      if (ends !== undefined) {
        const late = add(free, ends, "-");
        parts.push(["over", { ...late, expression: call("MAX", number(0), late.expression) }]);
      }
      rows.push(recordOf(parts));
    }
    const { origin } = names;
    return {
      type: "list",
      length: rows.length,
      entry: (i) => rows[i]!,
      gaps: false,
      ...(origin === undefined ? {} : { origin }),
    };
  },
  rinses(args) {
    const [clings, rinse, to] = [quantityIn(args[0]), quantityIn(args[1]), quantityIn(args[2])];
    const left = over(inSI(clings), plus(inSI(clings), inSI(rinse)));
    const times_ = over(call("LN", inSI(to)), call("LN", left));
    // The next whole number up; what is a hair above one counts as that one.
    const count = negated(call("INT", minus(number(1e-9), times_)));
    return quantityTerm(count, plainUnit, union(clings.missing, rinse.missing, to.missing));
  },
  spirit_book(args) {
    const [opening, received, made, used, closing] = args.map(quantityIn) as [
      QuantityTerm,
      QuantityTerm,
      QuantityTerm,
      QuantityTerm,
      QuantityTerm,
    ];
    const handled = add(add(opening, received, "+"), made, "+");
    const expected = add(handled, used, "-");
    const missing = add(expected, closing, "-");
    return recordOf([
      ["expected", expected],
      ["missing", missing],
      ["share", inUnit(divide(missing, handled), parseUnit("%"))],
    ]);
  },
};
