import {
  compareMeans,
  doubtOfDeviation,
  fitLine,
  mean,
  quantileOfT,
  sampleOf,
  standardDeviation,
} from "../../src/matter/statistics";
import type { Comparison, Mark } from "./comparison";
import points from "./points/statistics.json";

/** Judgements over trials beside certified and printed values. Sources and marks stand beside the numbers in points/statistics.json. */

type Part = keyof typeof points;

const of = (
  part: Part,
  entry: number,
  name: string,
  what: string,
  published: number,
  computed: number,
  tolerance: number,
  unit = "",
): Comparison => {
  const { source, honesty } = points[part];
  return {
    of: name,
    what,
    label: `${what}, ${source}`,
    unit,
    published,
    computed,
    tolerance,
    worth: "independent",
    mark: markOfWords(honesty),
    source,
    point: `statistics.json ${part} ${entry}`,
  };
};

/** The words there say more than the four marks; what is partly from memory counts as that. */
const markOfWords = (words: string): Mark => (/^from memory/u.test(words) ? "from memory" : "seen");

/** Half a unit of the last of `digits` significant digits, and the rounding of that bound itself. */
const half = (value: number, digits: number): number =>
  0.5001 * 10 ** (Math.floor(Math.log10(Math.abs(value))) + 1 - digits);

const tables = (["t_table", "t_table_fine"] as const).flatMap((part) =>
  points[part].points.map((p, i) =>
    of(part, i, "mean_interval", "Student's t", p.t, quantileOfT(p.outside, p.freedom), p.tolerance),
  ),
);

function welch(): Comparison[] {
  const { sleep, mileage } = points;
  const [a, b] = [sampleOf(sleep.first.map(Number)), sampleOf(sleep.second.map(Number))];
  const s = compareMeans(a, b);
  const m = compareMeans(mileage.first, mileage.second);
  const two = (what: string, published: number, computed: number, tolerance: number) =>
    of("sleep", 0, "compare_means", `two drugs: ${what}`, published, computed, tolerance);
  const fleets = (what: string, published: number, computed: number, tolerance: number) =>
    of("mileage", 0, "compare_means", `two fleets: ${what}`, published, computed, tolerance);
  return [
    two("t", sleep.t, s.t, half(sleep.t, 5)),
    two("degrees of freedom", sleep.freedom, s.freedom, half(sleep.freedom, 5)),
    two("chance alone", sleep.chance, s.chance, half(sleep.chance, 4)),
    two("low end", sleep.low, s.low, half(sleep.low, 8)),
    two("high end", sleep.high, s.high, half(sleep.high, 7)),
    fleets("t", mileage.t, m.t, half(mileage.t, 7)),
    fleets("degrees of freedom", mileage.freedom, m.freedom, 1e-3),
    // Printed to four digits, from means and deviations of seven.
    fleets("chance alone", mileage.chance, m.chance, 1e-3 * mileage.chance),
  ];
}

function certified(): Comparison[] {
  const { speed_of_light: light, cancellation, calibration } = points;
  const xs = light.values.map(Number);
  const line = fitLine(calibration.x, calibration.y);
  const hard = cancellation.points.flatMap((p, i) => {
    const list = [Number(p.start)];
    for (let k = 0; k < p.repeats; k++) list.push(...p.pattern.map(Number));
    // The decimals of two of the sets do not fit a double: what is left is what any method could keep.
    const found = standardDeviation(list);
    return [
      of("cancellation", i, "mean", `certified: ${p.name}`, p.mean, mean(list), 1e-14 * p.mean),
      of(
        "cancellation",
        i,
        "standard_deviation",
        `certified: ${p.name}`,
        p.deviation,
        found,
        10 ** -p.digits * p.deviation,
      ),
    ];
  });
  return [
    of("speed_of_light", 0, "mean", "certified: 100 values", light.mean, mean(xs), 1e-14 * light.mean),
    of(
      "speed_of_light",
      0,
      "standard_deviation",
      "certified: 100 values",
      light.deviation,
      standardDeviation(xs),
      10 ** -12.5 * light.deviation,
    ),
    ...hard,
    of("calibration", 0, "drift", "certified: slope", calibration.slope, line.slope, 1e-12),
    of(
      "calibration",
      0,
      "drift",
      "certified: error of the slope",
      calibration.slope_error,
      line.slopeError!,
      1e-11 * calibration.slope_error,
    ),
    ...points.doubt_of_deviation.points.map((p, i) =>
      of(
        "doubt_of_deviation",
        i,
        "standard_deviation",
        "how well it is known",
        p.percent,
        100 * doubtOfDeviation(p.n),
        0.5,
        "%",
      ),
    ),
  ];
}

export const statisticsComparisons: readonly Comparison[] = [...tables, ...welch(), ...certified()];

/** Entries of the file: its parts, and where a part is a table, its rows. */
export const statisticsEntries: readonly string[] = Object.entries(points).flatMap(([part, content]) => {
  const rows = "points" in content ? (content.points as readonly unknown[]).length : 1;
  return Array.from({ length: rows }, (_, i) => `statistics.json ${part} ${i}`);
});
