import {
  type Comparison,
  compareMeans,
  doubtOfDeviation,
  halfInterval,
  quantileOfT,
  type Sample,
  sampleOf,
} from "../matter/statistics";
import {
  combine,
  convert,
  divide,
  format,
  kinds,
  type Note,
  parseUnit,
  type Quantity,
  type Spread,
  Trouble,
  type Unit,
} from "../quantity";
import type { Declaration, ResultPart, ValueCall, ValueDeclaration } from "./declaration";
import { driftOf } from "./drift";
import {
  approximately,
  entriesOf,
  gatherNotes,
  isFault,
  isList,
  isTemperature,
  nothingFor,
  quantitiesIn,
  quantityOf,
  type Readings,
  readingsOf,
  sift,
  weigh,
  withNotes,
  wrongSort,
} from "./entries";
import { type Fault, type Gap, gap, record, type Value } from "./value";

/** What repeated runs say, and how little a few of them say. */

const GROUP = "trials";
/** Below this count a standard deviation is itself known to no better than a third. */
const FEW = 6;

const values = (says: string) => ({ name: "values", says, takes: "any", list: true }) as const;
const kelvin = (): Unit => parseUnit("K");
const percent = (): Unit => parseUnit("%");

/** Runs of one kind, ready to be compared, or the reason why not. */
interface Runs {
  readonly quantities: readonly Quantity[];
  readonly readings: Readings;
  readonly sample: Sample;
  readonly notes: readonly Note[] | undefined;
}

/** The filled entries; a gap when there are fewer than two, since one run says nothing about scatter. */
function runsIn(name: string, list: Value, call: ValueCall): Runs | Gap | Fault {
  const sifted = sift(list, call.note);
  if (isFault(sifted)) return sifted;
  const { kept } = sifted;
  if (kept.length === 0) return nothingFor(name, sifted);
  const quantities = quantitiesIn(name, kept);
  if (kept.length === 1)
    return gap(`\`${name}\` needs two entries at least and has one`, sifted.firstGap?.place);
  const readings = readingsOf(quantities, kelvin());
  const notes = gatherNotes(sifted.notes, ...quantities.map((q) => q.notes));
  return { quantities, readings, sample: sampleOf(readings.xs), notes };
}

const stopped = (runs: Runs | Gap | Fault): runs is Gap | Fault => "type" in runs;

function fewNote(call: ValueCall, n: number): readonly Note[] {
  if (n >= FEW) return [];
  const doubt = Math.round(100 * doubtOfDeviation(n));
  return [call.note(`from ${n} entries only: so few fix a standard deviation to about ${doubt} % of itself`)];
}

/** d s / d x_i of a sample standard deviation; zero where all entries are equal. */
const slopeOfDeviation = ({ readings, sample }: Runs) => {
  const { count, mean, deviation } = sample;
  return (i: number) => (deviation === 0 ? 0 : (readings.xs[i]! - mean) / ((count - 1) * deviation));
};

function standardDeviationOf(list: Value, call: ValueCall): Value {
  const runs = runsIn("standard_deviation", list, call);
  if (stopped(runs)) return runs;
  const spread = weigh(runs.readings.spreads, slopeOfDeviation(runs));
  const notes = gatherNotes(runs.notes, fewNote(call, runs.sample.count));
  return approximately(runs.sample.deviation, runs.readings.unit, spread, notes);
}

function relativeDeviationOf(list: Value, call: ValueCall): Value {
  const runs = runsIn("relative_deviation", list, call);
  if (stopped(runs)) return runs;
  if (runs.readings.temperatures) {
    throw new Trouble({
      code: "temperature-ratio",
      says: "A temperature has no relative deviation: its zero depends on the scale.",
      help: "`standard_deviation` of temperatures is a difference in K.",
    });
  }
  const { mean, deviation } = runs.sample;
  if (!(mean > 0)) {
    throw new Trouble({
      code: "mean-not-positive",
      says: `\`relative_deviation\` divides by the mean, which must be above zero; here it is ${format(approximately(mean, runs.readings.unit))}.`,
      help: "Use `standard_deviation`, which does not divide.",
    });
  }
  const n = runs.sample.count;
  const slope = slopeOfDeviation(runs);
  const share = deviation / mean;
  const spread = weigh(runs.readings.spreads, (i) => (100 * (slope(i) - share / n)) / mean);
  return approximately(100 * share, percent(), spread, gatherNotes(runs.notes, fewNote(call, n)));
}

/** A point of the quantities' own scale from a number in the unit of their differences: kelvin back to °C. */
function backTo(runs: Runs, v: number, spread: Spread | undefined): Quantity {
  const { unit } = runs.quantities[0]!;
  if (!runs.readings.temperatures) return approximately(v, unit, spread);
  const scale = Number(unit.scale.num) / Number(unit.scale.den);
  const offset = unit.offset === undefined ? 0 : Number(unit.offset.num) / Number(unit.offset.den);
  return approximately(
    (v - offset) / scale,
    unit,
    spread === undefined ? undefined : combine([{ by: 1 / scale, spread }]),
  );
}

function meanInterval(list: Value, call: ValueCall): Value {
  const runs = runsIn("mean_interval", list, call);
  if (stopped(runs)) return runs;
  const { sample, readings } = runs;
  const half = halfInterval(sample);
  const slope = slopeOfDeviation(runs);
  const factor = quantileOfT(0.05, sample.count - 1) / Math.sqrt(sample.count);
  const end = (side: -1 | 1): Quantity =>
    backTo(
      runs,
      sample.mean + side * half,
      weigh(readings.spreads, (i) => 1 / sample.count + side * factor * slope(i)),
    );
  const notes = gatherNotes(runs.notes, fewNote(call, sample.count));
  return withNotes(
    record([
      ["low", withNotes(end(-1), notes)],
      ["high", withNotes(end(1), notes)],
    ]),
    notes,
  );
}

function recoveredOf(got: Quantity, charge: Quantity, call: ValueCall): Value {
  if (isTemperature(got.unit) || isTemperature(charge.unit)) {
    throw wrongSort("recovered", "amounts", isTemperature(got.unit) ? got : charge);
  }
  if (got.unit.kind.id !== charge.unit.kind.id) {
    throw new Trouble({
      code: "kinds-differ",
      says: `\`recovered\` compares like with like, and was given ${got.unit.kind.name}, ${format(got)}, and ${charge.unit.kind.name}, ${format(charge)}.`,
      help: "Weigh both, or use `pure_volume` of both.",
    });
  }
  const ratio = divide(got, charge);
  const share = ratio.unit.kind.id === kinds.plain.id ? convert(ratio, percent()) : ratio;
  if (share.n.v <= 100) return share;
  return withNotes(share, [
    call.note("more came back than went in: look at the weighings and the strengths"),
  ]);
}

function compared(a: Value, b: Value, call: ValueCall): Value {
  const first = runsIn("compare_means", a, call);
  if (stopped(first)) return first;
  // Both groups in the unit of the first.
  const inFirst = inUnitOf(first.quantities[0]!, b);
  const second = runsIn("compare_means", inFirst, call);
  if (stopped(second)) return second;
  const found = compareMeans(first.sample, second.sample);
  const { unit } = first.readings;
  const bounds = boundSlopes(first, second, found);
  const part = (v: number, ofHalf: number): Quantity =>
    approximately(v, unit, spreadOf(first, second, ofHalf, bounds));
  const n = Math.min(first.sample.count, second.sample.count);
  const notes = gatherNotes(first.notes, second.notes, [
    call.note(
      "`chance_alone` is how often two groups like these would differ at least this much by chance alone; it is not the chance that nothing has changed",
    ),
    ...(n < FEW
      ? [
          call.note(
            `the smaller group has ${n} entries only: so few can neither show a small change nor rule it out`,
          ),
        ]
      : []),
  ]);
  const chance = approximately(100 * found.chance, percent());
  const parts: readonly (readonly [string, Quantity])[] = [
    ["difference", part(found.difference, 0)],
    ["low", part(found.low, -1)],
    ["high", part(found.high, 1)],
    ["chance_alone", chance],
  ];
  return withNotes(record(parts.map(([name, q]) => [name, withNotes(q, notes)])), notes);
}

/** Entries of another list in the unit of a quantity; blanks and faults as they are. */
function inUnitOf(q: Quantity, list: Value): Value {
  const entries = entriesOf(list).map((entry) => {
    if (entry.type === "gap" || entry.type === "fault") return entry;
    const other = quantityOf("compare_means", entry);
    if (other.unit === q.unit) return other;
    if (other.unit.kind.id !== q.unit.kind.id) {
      throw new Trouble({
        code: "kinds-differ",
        says: `\`compare_means\` was given ${q.unit.kind.name}, ${format(q)}, and ${other.unit.kind.name}, ${format(other)}.`,
        help: "Compare two groups of one kind.",
      });
    }
    return withNotes(convert(other, q.unit), other.notes);
  });
  return isList(list) ? { ...list, entries } : { type: "list", entries };
}

/** How the half width of the interval moves with each group's deviation: by a small change to both sides. */
function boundSlopes(first: Runs, second: Runs, found: Comparison): readonly [number, number] {
  if (first.readings.spreads.concat(second.readings.spreads).every((s) => s === undefined)) return [0, 0];
  const half = (a: Sample, b: Sample) => {
    const c = compareMeans(a, b);
    return (c.high - c.low) / 2;
  };
  const scale = (found.high - found.low) * 1e-4;
  const by = (sample: Sample, step: number): Sample => ({
    ...sample,
    deviation: Math.max(0, sample.deviation + step),
  });
  const a = first.sample;
  const b = second.sample;
  return [
    (half(by(a, scale), b) - half(by(a, -scale), b)) / (2 * scale),
    (half(a, by(b, scale)) - half(a, by(b, -scale))) / (2 * scale),
  ];
}

function spreadOf(
  first: Runs,
  second: Runs,
  side: number,
  bounds: readonly [number, number],
): Spread | undefined {
  const ofFirst = slopeOfDeviation(first);
  const ofSecond = slopeOfDeviation(second);
  const parts = [
    weigh(first.readings.spreads, (i) => 1 / first.sample.count + side * bounds[0] * ofFirst(i)),
    weigh(second.readings.spreads, (i) => -1 / second.sample.count + side * bounds[1] * ofSecond(i)),
  ].filter((s) => s !== undefined);
  return parts.length === 0 ? undefined : combine(parts.map((spread) => ({ by: 1, spread })));
}

const any = (name: string, says: string): ResultPart => ({ name, says, holds: "any" });
const T_SOURCE = "Student's t, Biometrika 6 (1908) 1; textbook statistics";
const NORMAL = "two entries or more of one kind; supposes that runs scatter independently and about normally";

const judgements: readonly ValueDeclaration[] = [
  {
    name: "standard_deviation",
    group: GROUP,
    says: "How much runs scatter about their mean (sample standard deviation).",
    parameters: [values("Results of repeated runs, of one kind. Blanks are skipped.")],
    result: [any("", "In the unit of the values; of temperatures a difference in K.")],
    equation: "sqrt(sum((x - mean)^2) / (n - 1))",
    source: "textbook statistics; JCGM 100:2008, 4.2",
    range: "two entries or more of one kind",
    trust:
      "from n normal runs known to 76 % of itself for n = 2, 52 % for 3, 36 % for 5, 24 % for 10 (JCGM 100, table E.1)",
    examples: [{ formula: "standard_deviation([61 g, 63 g, 65 g, 63 g, 61 g, 65 g])", gives: "1.7889 g" }],
    takesGaps: true,
    evaluate: (args, call) => standardDeviationOf(args.values!, call),
  },
  {
    name: "relative_deviation",
    group: GROUP,
    says: "How much runs scatter, as a share of their mean.",
    parameters: [
      values("Results of repeated runs, of one kind, with a mean above zero. Blanks are skipped."),
    ],
    result: [{ name: "", says: "Share of the mean.", holds: { kind: kinds.plain, unit: "%" } }],
    equation: "standard_deviation / mean",
    source: "textbook statistics",
    range: "two entries or more of one kind, no temperatures, mean above zero",
    trust: "as standard_deviation",
    examples: [{ formula: "relative_deviation([61 g, 63 g, 65 g, 63 g, 61 g, 65 g])", gives: "2.8395 %" }],
    takesGaps: true,
    evaluate: (args, call) => relativeDeviationOf(args.values!, call),
  },
  {
    name: "mean_interval",
    group: GROUP,
    says: "Between which ends the long-run mean probably lies (95 % interval).",
    parameters: [values("Results of repeated runs, of one kind. Blanks are skipped.")],
    result: [any("low", "Lower end."), any("high", "Upper end.")],
    equation: "mean ± t s / sqrt(n), t of n - 1 degrees of freedom with 2.5 % outside on each side",
    source: T_SOURCE,
    range: NORMAL,
    trust:
      "holds the long-run mean in 95 of 100 such series when the runs are as supposed; a fault common to all runs is not in it",
    examples: [{ formula: "mean_interval([61 g, 63 g, 65 g, 63 g, 61 g, 65 g]).low", gives: "61.123 g" }],
    takesGaps: true,
    evaluate: (args, call) => meanInterval(args.values!, call),
  },
  {
    name: "drift",
    group: GROUP,
    says: "By how much results move from one to the next, or along another column (dates: a day).",
    parameters: [
      values("Results in their order, of one kind."),
      {
        name: "by",
        says: "What they are laid out along: dates, times, temperatures, amounts. Left out: 1, 2, 3 …",
        takes: "any",
        list: true,
        optional: true,
      },
    ],
    labelsOnly: ["by"],
    result: [
      any(
        "",
        "Slope: the unit of the values, divided by that of `by`; for strengths and °Bx their own unit, for one unit of `by`.",
      ),
    ],
    equation: "sum((x - mean x)(y - mean y)) / sum((x - mean x)^2), least squares",
    source: "textbook statistics",
    range:
      "two entries or more; a row blank in both is skipped, one filled only in part makes the result a gap",
    trust: "a note says when scatter alone could make it",
    examples: [
      { formula: "drift([400 mL, 390 mL, 380 mL])", gives: "-10 mL" },
      { formula: "drift([400 mL, 390 mL], by: [2026-02-03, 2026-02-08])", gives: "-2 mL/d" },
    ],
    takesGaps: true,
    evaluate: (args, call) => driftOf(args.values!, args.by, call),
  },
  {
    name: "recovered",
    group: GROUP,
    says: "What share of the charge came back.",
    parameters: [
      { name: "got", says: "What was collected: mass, volume, or pure alcohol.", takes: "any" },
      { name: "charge", says: "What went in, of the same kind.", takes: "any" },
    ],
    result: [{ name: "", says: "Share of the charge.", holds: { kind: kinds.plain, unit: "%" } }],
    equation: "got / charge",
    source: "mass balance",
    range:
      "two amounts of one kind, charge not zero; volumes of unlike strength do not balance, masses and pure alcohol do",
    examples: [{ formula: "recovered(380 g, 400 g)", gives: "95 %" }],
    maps: true,
    evaluate: (args, call) =>
      recoveredOf(quantityOf("recovered", args.got!), quantityOf("recovered", args.charge!), call),
  },
  {
    name: "compare_means",
    group: GROUP,
    says: "Whether two groups of runs differ, and by how much (Welch's comparison); it gives no verdict.",
    parameters: [
      { name: "a", says: "Results of the one way of working.", takes: "any", list: true },
      { name: "b", says: "Results of the other, of the same kind.", takes: "any", list: true },
    ],
    result: [
      any("difference", "Mean of a minus mean of b; of temperatures in K."),
      any("low", "Lower end of the 95 % interval of the difference."),
      any("high", "Upper end."),
      {
        name: "chance_alone",
        says: "How often two such groups would differ at least this much if only chance were at work.",
        holds: { kind: kinds.plain, unit: "%" },
      },
    ],
    equation:
      "t = (mean a - mean b) / sqrt(s_a^2/n_a + s_b^2/n_b), degrees of freedom after Welch and Satterthwaite",
    source: "Welch, Biometrika 34 (1947) 28",
    range: `in each group ${NORMAL}; at least one group scatters`,
    trust:
      "as good as its suppositions; when several things were changed at once it cannot say which one mattered",
    examples: [
      { formula: "compare_means([61 g, 63 g, 65 g], [57 g, 58 g, 60 g]).difference", gives: "4.6667 g" },
      { formula: "compare_means([61 g, 63 g, 65 g], [57 g, 58 g, 60 g]).chance_alone", gives: "3.5787 %" },
    ],
    takesGaps: true,
    evaluate: (args, call) => compared(args.a!, args.b!, call),
  },
];

/** Judgements over repeated runs. */
export const declarations: readonly Declaration[] = judgements;
