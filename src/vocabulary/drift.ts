import { fitLine, mean as meanOf, quantileOfT } from "../matter/statistics";
import {
  combine,
  format,
  kinds,
  type Note,
  parseUnit,
  plainUnit,
  quotientUnit,
  type Spread,
  Trouble,
  type Unit,
} from "../quantity";
import type { ValueCall } from "./declaration";
import {
  approximately,
  blanksLeftOut,
  entriesOf,
  gatherNotes,
  isDate,
  isList,
  quantitiesIn,
  readingsOf,
  weigh,
  wrongSort,
} from "./entries";
import { type Gap, gap, type Value } from "./value";

/** How results move from run to run: a straight line by least squares, with its uncertainty. */

/** Name of an entry in a message: its row's, else its number. */
function entryName(list: Value, i: number): string {
  const name = isList(list) ? list.origin?.names[i] : undefined;
  return name === undefined || name === "" ? `entry ${i + 1}` : name;
}

/** Two columns must stand for the same rows. */
function meet(values: Value, by: Value): void {
  const a = entriesOf(values).length;
  const b = entriesOf(by).length;
  if (a !== b) {
    throw new Trouble({
      code: "lengths-differ",
      says: `\`drift\` was given ${a} ${a === 1 ? "entry" : "entries"} and ${b} in \`by\`.`,
      help: "Both must have an entry for each run.",
    });
  }
  const there = isList(values) ? values.origin : undefined;
  const here = isList(by) ? by.origin : undefined;
  if (there === undefined || here === undefined) return;
  if (there.table === here.table && there.rows.every((row, i) => row === here.rows[i])) return;
  if (there.names.every((name, i) => name === here.names[i])) return;
  throw new Trouble({
    code: "rows-differ",
    says: `\`drift\` was given rows of ${there.table} and of ${here.table} that do not belong together.`,
    help: "Take both columns from one table; `pick` joins tables by name.",
  });
}

/** Slope of the values a step, or along `by`; a gap when a row is filled only in part. */
export function driftOf(list: Value, by: Value | undefined, call: ValueCall): Value {
  if (by !== undefined) meet(list, by);
  const ys: Value[] = [];
  const along: Value[] = [];
  const places: number[] = [];
  const all = entriesOf(list);
  const allBy = by === undefined ? undefined : entriesOf(by);
  let firstGap: Gap | undefined;
  for (let i = 0; i < all.length; i++) {
    const y = all[i]!;
    const x = allBy?.[i];
    if (y.type === "fault") return y;
    if (x?.type === "fault") return x;
    if (y.type === "gap") {
      // Blank in both: the run is still to come. Filled only in part: never left out.
      if (x !== undefined && x.type !== "gap")
        return gap(`${entryName(list, i)} has an entry to go by but no value yet`, y.place);
      firstGap ??= y;
      continue;
    }
    if (x?.type === "gap") return gap(`${entryName(list, i)} has a value but nothing to go by yet`, x.place);
    ys.push(y);
    if (x !== undefined) along.push(x);
    places.push(i + 1);
  }
  const notes: Note[] = [];
  if (isList(list) && list.notes !== undefined) notes.push(...list.notes);
  const blanks = all.length - ys.length;
  if (ys.length === 0) return firstGap ?? gap("nothing is selected for `drift`");
  if (ys.length === 1) return gap("`drift` needs two entries at least and has one", firstGap?.place);
  if (blanks > 0) notes.push(call.note(blanksLeftOut(blanks, all.length)));

  const quantities = quantitiesIn("drift", ys);
  const of = readingsOf(quantities, parseUnit("K"));
  const steps = stepsOf(along, places);
  const line = fitLine(steps.xs, of.xs);
  const middleX = meanOf(steps.xs);
  const middleY = meanOf(of.xs);
  const squares = steps.xs.reduce((sum, x) => sum + (x - middleX) ** 2, 0);
  const each = steps.unit !== undefined && hasNoRate(of.unit, steps.unit) ? steps.unit : undefined;
  const { unit, factor } =
    steps.unit === undefined || each !== undefined
      ? { unit: of.unit, factor: 1 }
      : perUnit(of.unit, steps.unit);
  if (each !== undefined) notes.push(call.note(`for each ${each.text} of \`by\``));

  const fromValues = weigh(of.spreads, (i) => (factor * (steps.xs[i]! - middleX)) / squares);
  const fromSteps = weigh(
    steps.spreads,
    (i) => (factor * (of.xs[i]! - middleY - 2 * line.slope * (steps.xs[i]! - middleX))) / squares,
  );
  const parts = [fromValues, fromSteps].filter((s) => s !== undefined);
  const spread = parts.length === 0 ? undefined : combine(parts.map((s) => ({ by: 1, spread: s })));
  if (line.slopeError === undefined) {
    notes.push(call.note("two entries always lie on a line: they cannot show whether the drift is real"));
  } else if (line.slopeError > 0) {
    const half = quantileOfT(0.05, ys.length - 2) * line.slopeError;
    if (Math.abs(line.slope) <= half) {
      const end = (v: number) => format(approximately(factor * v, unit), { digits: 3 });
      notes.push(
        call.note(
          `scatter alone could make this drift: its 95 % interval, ${end(line.slope - half)} to ${end(line.slope + half)}, holds zero`,
        ),
      );
    }
  }
  return approximately(
    factor * line.slope,
    unit,
    spread,
    gatherNotes(notes, ...quantities.map((q) => q.notes)),
  );
}

interface Steps {
  readonly xs: readonly number[];
  readonly spreads: readonly (Spread | undefined)[];
  /** None for a count of entries. */
  readonly unit?: Unit;
}

function stepsOf(along: readonly Value[], places: readonly number[]): Steps {
  const first = along[0];
  if (first === undefined) return { xs: places, spreads: [] };
  if (isDate(first)) {
    const xs = along.map((x) => {
      if (isDate(x)) return x.day;
      throw wrongSort("drift", "dates in `by`, like its first entry", x);
    });
    return { xs, spreads: [], unit: parseUnit("d") };
  }
  const readings = readingsOf(quantitiesIn("drift", along), parseUnit("K"));
  return readings.unit === plainUnit ? { xs: readings.xs, spreads: readings.spreads } : readings;
}

/** Strengths, °Bx and their like have no unit for a rate: their slope is told in their own, for one unit of what they are laid out along. */
const hasNoRate = (of: Unit, by: Unit): boolean =>
  of.kind !== kinds.plain &&
  of.kind.dimension === kinds.plain.dimension &&
  by.kind.dimension !== kinds.plain.dimension;

function perUnit(of: Unit, by: Unit): { unit: Unit; factor: number } {
  const { unit, factor } = quotientUnit(of, by);
  return { unit, factor: Number(factor.num) / Number(factor.den) };
}
