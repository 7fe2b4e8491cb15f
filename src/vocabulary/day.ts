import {
  add,
  approximate,
  convert,
  divide,
  exactInteger,
  format,
  kinds,
  type Note,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  sigma,
  subtract,
  Trouble,
  toSI,
  type Unit,
  wholeNum,
} from "../quantity";
import type { Declaration, Parameter, ResultPart, ValueCall } from "./declaration";
import { entriesOf, gatherNotes, isList, quantityOf, textOf, withNotes, wrongSort } from "./entries";
import {
  type Gap,
  gap,
  type ListOrigin,
  type ListValue,
  type Missing,
  record,
  text,
  type Value,
} from "./value";

/** Planning a day at one still, rinsing between botanicals, and the book of alcohol. */

const GROUP = "the day and the books";
const minutes = (): Unit => parseUnit("min");
const hours = (): Unit => parseUnit("h");
const DAY = 1440;

const noneYet = (): Quantity => quantity(exactInteger(0), minutes());

/** A time of day as minutes since midnight: `8.5 h`, or the text `08:30`. */
function timeOfDay(parameter: string, value: Value): Quantity {
  if (value.type === "text") {
    const clock = /^\s*(\d{1,2}):(\d{2})\s*$/u.exec(value.text);
    const [hour, minute] = [Number(clock?.[1]), Number(clock?.[2])];
    if (clock === null || minute > 59 || hour > 24 || (hour === 24 && minute > 0)) {
      throw new Trouble({
        code: "no-time-of-day",
        says: `“${value.text}” is no time of day for \`${parameter}\` of \`day_plan\`.`,
        help: 'Write it as a text such as `"08:30"`, or as hours since midnight, `8.5 h`.',
      });
    }
    return withNotes(quantity(exactInteger(60 * hour + minute), minutes()), value.notes);
  }
  const time = timeOf(parameter, value);
  if (time.n.v < 0) {
    throw new Trouble({
      code: "no-time-of-day",
      says: `A time of day is counted from midnight and is not negative; \`${parameter}\` is ${format(time)}.`,
      help: 'Write half past eight as `8.5 h` or `"08:30"`.',
    });
  }
  return time;
}

/** A length of time in minutes. */
function timeOf(parameter: string, value: Value): Quantity {
  const q = quantityOf("day_plan", value);
  if (q.unit.kind.id !== kinds.time.id) throw wrongSort("day_plan", `a time for \`${parameter}\``, q);
  return withNotes(convert(q, minutes()), q.notes);
}

function lengthOf(parameter: string, value: Value): Quantity {
  const time = timeOf(parameter, value);
  if (time.n.v >= 0) return time;
  throw new Trouble({
    code: "negative-time",
    says: `A run or a cleaning cannot take a negative time; one of \`${parameter}\` is ${format(time)}.`,
    help: "Check the sign.",
  });
}

/** `08:30`; past midnight `00:30 next day`. To the nearest minute. */
function clockText(time: Quantity): string {
  const all = Math.round(time.n.v);
  const day = Math.floor(all / DAY);
  const inDay = all - day * DAY;
  const two = (n: number) => String(n).padStart(2, "0");
  const clock = `${two(Math.floor(inDay / 60))}:${two(inDay % 60)}`;
  return day === 0 ? clock : day === 1 ? `${clock} next day` : `${clock} ${day} days on`;
}

interface PlannedRun {
  readonly name: string;
  readonly run: Quantity;
  readonly clean: Quantity;
  /** Place in the lists that were given. */
  readonly at: number;
}

/** The runs that are filled in; a run filled only in part makes the whole plan a gap, for it cannot be left out. */
function runsOf(names: Value, runTimes: Value, cleanTimes: Value): readonly PlannedRun[] | Value {
  const named = entriesOf(names);
  const runs = entriesOf(runTimes);
  const given = entriesOf(cleanTimes);
  // One cleaning time serves all runs.
  const cleans = given.length === 1 ? named.map(() => given[0]!) : given;
  if (runs.length !== named.length || cleans.length !== named.length) {
    throw new Trouble({
      code: "lengths-differ",
      says: `\`day_plan\` was given ${named.length} names, ${runs.length} run times and ${given.length} cleaning times.`,
      help: "Give one of each for every run; a single cleaning time serves all.",
    });
  }
  const found: PlannedRun[] = [];
  for (let i = 0; i < named.length; i++) {
    const row = [named[i]!, runs[i]!, ...(given.length === 1 ? [] : [cleans[i]!])];
    const fault = row.find((v) => v.type === "fault");
    if (fault !== undefined) return fault;
    const blank = row.filter((v): v is Gap => v.type === "gap");
    if (blank.length === row.length) continue;
    const name = named[i]!.type === "text" ? (named[i] as { text: string }).text : `run ${i + 1}`;
    if (blank.length > 0) {
      const lacks =
        named[i]!.type === "gap" ? "name" : runs[i]!.type === "gap" ? "run time" : "cleaning time";
      return gap(`${name} has no ${lacks} yet`, blank[0]!.place);
    }
    const clean = cleans[i]!;
    if (clean.type === "gap" || clean.type === "fault") return clean;
    textOf("day_plan", named[i]!);
    found.push({ name, run: lengthOf("run_times", runs[i]!), clean: lengthOf("clean_times", clean), at: i });
  }
  return found;
}

function planned(args: Readonly<Record<string, Value>>): Value {
  const starts = timeOfDay("starts", args.starts!);
  const ends = args.ends === undefined ? undefined : timeOfDay("ends", args.ends);
  if (ends !== undefined && ends.n.v <= starts.n.v) {
    throw new Trouble({
      code: "day-ends-early",
      says: `The day ends at ${clockText(ends)}, which is not after its start at ${clockText(starts)}.`,
      help: "For a shift past midnight count on: half past one at night is `25.5 h`.",
    });
  }
  const runs = runsOf(args.names!, args.run_times!, args.clean_times!);
  if (!Array.isArray(runs)) return runs as Value;
  if (runs.length === 0) return gap("no run is filled in for `day_plan`");
  let free = add(starts, lengthOf("chill_down", args.chill_down!));
  const rows = (runs as readonly PlannedRun[]).map(({ name, run, clean }) => {
    const start = free;
    const end = add(start, run);
    free = add(end, clean);
    const parts: [string, Value][] = [
      ["start", convert(start, hours())],
      ["end", convert(end, hours())],
      ["free", convert(free, hours())],
      ["starts_at", text(clockText(start))],
      ["ends_at", text(clockText(end))],
    ];
    let notes: readonly Note[] | undefined;
    const without = ends === undefined ? new Map([["over", NO_END]]) : undefined;
    if (ends !== undefined) {
      const late = subtract(free, ends);
      parts.push(["over", late.n.v > 0 ? late : noneYet()]);
      if (late.n.v > 0) {
        // On this row alone: a remark by `call.note` would stand beside every run.
        notes = [
          {
            text: `${name} does not fit: the still is clean at ${clockText(free)}, after ${clockText(ends)}`,
          },
        ];
      }
    }
    return withNotes(record(parts, without), notes);
  });
  return {
    type: "list",
    entries: rows,
    ...originOf(args.names!, runs as readonly PlannedRun[]),
  } satisfies ListValue;
}

function originOf(names: Value, runs: readonly PlannedRun[]): { readonly origin?: ListOrigin } {
  if (!isList(names) || names.origin === undefined) return {};
  const { table, rows, names: written } = names.origin;
  return {
    origin: { table, rows: runs.map((r) => rows[r.at]!), names: runs.map((r) => written[r.at]!) },
  };
}

/** Rinses until no more than the share `to` of what clings is left. */
function rinseCount(clings: number, rinse: number, to: number): number {
  const left = clings / (clings + rinse);
  return wholeNum(approximate(Math.log(to) / Math.log(left)), "up").v;
}

function rinsesOf(args: Readonly<Record<string, Value>>, call: ValueCall): Value {
  const clings = quantityOf("rinses", args.clings!);
  const rinse = quantityOf("rinses", args.rinse!);
  const to = quantityOf("rinses", args.to!);
  const amounts = [kinds.volume.id, kinds.mass.id];
  for (const q of [clings, rinse])
    if (!amounts.includes(q.unit.kind.id)) throw wrongSort("rinses", "volumes or masses", q);
  if (clings.unit.kind.id !== rinse.unit.kind.id) {
    throw new Trouble({
      code: "kinds-differ",
      says: `\`rinses\` compares what clings with what rinses, and was given ${format(clings)} and ${format(rinse)}.`,
      help: "Give both as volumes or both as masses.",
    });
  }
  if (to.unit.kind.id !== kinds.plain.id) throw wrongSort("rinses", "a share such as 0.1 % for `to`", to);
  const [c, r, share] = [toSI(clings), toSI(rinse), toSI(to)];
  if (!(c > 0 && r > 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: `\`rinses\` wants amounts above zero, and was given ${format(clings)} that clings and ${format(rinse)} to rinse with.`,
      help: "Weigh the empty flask dry and drained: the difference is what clings.",
    });
  }
  if (!(share > 0 && share < 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `The share that may be left lies between 0 and 100 %, and this is ${format(to)}.`,
      help: "A thousandth is `to: 0.1 %`.",
    });
  }
  const count = rinseCount(c, r, share);
  const scale = (q: Quantity) => (sigma(q.spread) * Number(q.unit.scale.num)) / Number(q.unit.scale.den);
  const leanest = r - scale(rinse);
  const worst = leanest > 0 ? rinseCount(c + scale(clings), leanest, share) : count;
  const notes: Note[] = [{ text: RINSE_CAUTION, caution: true }];
  if (worst > count) notes.push(call.note(`with the ± given it may take ${worst}`));
  return withNotes(quantity(exactInteger(count), plainUnit), notes, clings.notes, rinse.notes, to.notes);
}

function booked(args: Readonly<Record<string, Value>>, call: ValueCall): Value {
  const at = (name: string): Quantity => {
    const q = quantityOf("spirit_book", args[name]!);
    if (q.unit.kind.id === kinds.volume.id || q.unit.kind.id === kinds.mass.id) return q;
    throw wrongSort("spirit_book", `an amount of alcohol for \`${name}\``, q);
  };
  const handled = add(add(at("opening"), at("received")), at("made"));
  const expected = subtract(handled, at("used"));
  const missing = subtract(expected, at("closing"));
  const notes: Note[] = [{ text: BOOK_CAUTION, caution: true }];
  if (expected.n.v < 0)
    notes.push(
      call.note("more is booked as used than there ever was: an entry is missing, or is there twice"),
    );
  else if (missing.n.v < 0)
    notes.push(call.note("more is there than the book expects: an entry is missing, or a strength is wrong"));
  const parts: [string, Value][] = [
    ["expected", withNotes(expected, notes)],
    ["missing", withNotes(missing, notes)],
  ];
  if (handled.n.v > 0)
    parts.push(["share", withNotes(convert(divide(missing, handled), parseUnit("%")), notes)]);
  const without = handled.n.v > 0 ? undefined : new Map([["share", NOTHING_BOOKED]]);
  return withNotes(record(parts, without), gatherNotes(notes));
}

const NO_END: Missing = {
  says: "What does not fit into the day is told only when `ends` says when the day is over.",
  help: 'Add it, for example ends: "17:00".',
};
const NOTHING_BOOKED: Missing = {
  says: "Nothing went through the book, so there is no share of it that could be missing.",
  help: "Check the opening stock and what was received and made.",
};
const RINSE_CAUTION =
  "Scent on seals and grease is no dilution: smell decides. A count of rinses does not make a vessel safe for someone with an allergy.";
const BOOK_CAUTION =
  "A book of spirits follows the licence it is kept under: the authority's own way of measuring comes first.";

const any = (name: string, says: string): Parameter => ({ name, says, takes: "any" });
const listed = (name: string, says: string, takes: Parameter["takes"]): Parameter => ({
  name,
  says,
  takes,
  list: true,
});
const TIMES = [{ kind: kinds.time }];
const time = (name: string, says: string, unit: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.time, unit },
});
const alcohol = (name: string, says: string): Parameter => ({
  name,
  says,
  takes: [{ kind: kinds.volume }, { kind: kinds.mass }],
});

/** The day and the books. */
export const declarations: readonly Declaration[] = [
  {
    name: "day_plan",
    group: GROUP,
    says: "When each run starts and ends when one still does them in a row, and what does not fit into the day.",
    parameters: [
      listed("names", "Name of each run, in the order in which they are done.", "text"),
      listed("run_times", "How long each takes, from run_time or from earlier runs.", TIMES),
      listed("clean_times", "How long the still is cleaned after each; a single time serves all.", TIMES),
      {
        ...any(
          "starts",
          'When someone switches the chiller on: hours since midnight, 8.5 h, or a text, "08:30".',
        ),
        optional: true,
        otherwise: "8 h",
      },
      {
        name: "chill_down",
        says: "How long the coolant needs to get cold.",
        takes: [{ kind: kinds.time }],
        optional: true,
        otherwise: "45 min",
      },
      { ...any("ends", "When the still must be clean again, written like starts."), optional: true },
    ],
    labelsOnly: ["starts", "chill_down", "ends"],
    result: [
      time("start", "Start of the run, since midnight.", "h"),
      time("end", "End of the run, since midnight.", "h"),
      time("free", "When the still is clean again, since midnight.", "h"),
      { name: "starts_at", says: "Start as a time of day, to the minute.", holds: "text" },
      { name: "ends_at", says: "End as a time of day, to the minute.", holds: "text" },
      time("over", "By how much the still is clean too late; 0 when the run fits. Only with ends.", "min"),
    ],
    rowPer: "names",
    equation: "first start = starts + chill_down; end = start + run time; next start = end + cleaning time",
    source: "arithmetic; chill-down of 45 min: common practice, no source",
    range: "times not negative; ends after starts (past midnight count on: 25.5 h)",
    trust: "as good as the run times, which grow long in the tail of a run",
    examples: [
      {
        formula: 'last(day_plan(["juniper", "lemon"], [95 min, 80 min], [30 min, 30 min]).ends_at)',
        gives: "12:10",
      },
      {
        formula: 'first(day_plan(["juniper"], [95 min], [30 min], starts: "08:30", ends: "11:00").over)',
        gives: "20 min",
      },
    ],
    takesGaps: true,
    evaluate: planned,
  },
  {
    name: "rinses",
    group: GROUP,
    says: "How many rinses thin what clings to the glass down to a share of it.",
    parameters: [
      alcohol("clings", "What stays in the drained vessel, by weight or volume."),
      alcohol("rinse", "What each rinse adds before it is drained."),
      { name: "to", says: "Share that may be left: a thousandth is 0.1 %.", takes: [{ kind: kinds.plain }] },
    ],
    labelsOnly: ["to"],
    result: [{ name: "", says: "A whole number of rinses.", holds: { kind: kinds.plain, unit: "" } }],
    equation: "smallest n with (clings / (clings + rinse))^n <= to",
    source: "dilution arithmetic: each rinse mixes fully and drains to the same rest",
    range: "amounts above zero, to between 0 and 100 %",
    cautions: [RINSE_CAUTION],
    examples: [{ formula: "rinses(15 mL, 100 mL, to: 0.1 %)", gives: "4" }],
    maps: true,
    evaluate: rinsesOf,
  },
  {
    name: "spirit_book",
    group: GROUP,
    says: "What alcohol should be there at the end of a period, and what is missing.",
    parameters: [
      alcohol("opening", "Pure alcohol in stock at the start: use pure_volume of each stock, summed."),
      alcohol("received", "Pure alcohol bought in."),
      alcohol("made", "Pure alcohol distilled from what had none in the book."),
      alcohol("used", "Pure alcohol bottled, sold, given away or destroyed with a record."),
      alcohol("closing", "Pure alcohol found in stock at the end."),
    ],
    result: [
      {
        name: "expected",
        says: "What the book says should be there.",
        holds: { kind: kinds.volume, unit: "L", kindOf: "opening" },
      },
      {
        name: "missing",
        says: "Expected less found; negative when more is there.",
        holds: { kind: kinds.volume, unit: "L", kindOf: "opening" },
      },
      {
        name: "share",
        says: "Missing, of all that went through the book (opening, received and made).",
        holds: { kind: kinds.plain, unit: "%" },
      },
    ],
    equation: "expected = opening + received + made - used; missing = expected - closing",
    source: "balance; common practice, no source",
    range: "pure alcohol throughout: volumes at 20 °C, or masses",
    cautions: [BOOK_CAUTION],
    examples: [
      { formula: "spirit_book(12.4 L, 20 L, 0 L, 18.9 L, 13.2 L).missing", gives: "0.3 L" },
      { formula: "spirit_book(12.4 L, 20 L, 0 L, 18.9 L, 13.2 L).share", gives: "0.92593 %" },
    ],
    maps: true,
    evaluate: booked,
  },
];
