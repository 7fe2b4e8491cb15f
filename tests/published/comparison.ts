/** A published number beside what this project answers: one shape for the tests and for docs/accuracy.md. */

/**
 * What agreement is worth. `independent`: the number was not used to make the equation. `fitted`: it was, so it shows
 * the fit. `code`: it was worked out outside this project with the same equations, so it tests the code, not nature.
 * `practice`: a fact of the trade that an answer should not contradict.
 */
export type Worth = "independent" | "fitted" | "code" | "practice";

/** Whether anybody read the number at its source. */
export type Mark = "seen" | "from memory" | "computed here" | "common practice, no source";

export interface Comparison {
  /** Function of the language that rests on this number. */
  readonly of: string;
  /** What is compared, in words. */
  readonly what: string;
  readonly label: string;
  readonly unit: string;
  /** A value, or a range that an answer should lie in. */
  readonly published: number | readonly [low: number, high: number];
  readonly computed: number;
  /** Most by which they may differ; a factor above 1 when they are compared `by` factor. */
  readonly tolerance: number;
  readonly by?: "factor";
  readonly worth: Worth;
  readonly mark: Mark;
  readonly source: string;
  /** File and entry in points/, such as `boiling.json 12`. */
  readonly point: string;
  /** Why it lies outside the stated tolerance, and how far outside it may lie. */
  readonly disagreement?: { readonly within: number; readonly because: string };
}

/** Computed minus published, or the logarithm of computed over published; of a range 0 inside and the way to its end outside. */
export function deviation({ published, computed, by }: Comparison): number {
  const scale = by === "factor" ? Math.log : (x: number) => x;
  const [low, high] = typeof published === "number" ? [published, published] : published;
  if (computed >= low && computed <= high) return 0;
  return scale(computed) - scale(computed < low ? low : high);
}

/** The tolerance on the scale of {@link deviation}. */
export const allowed = ({ tolerance, by }: Comparison): number =>
  by === "factor" ? Math.log(tolerance) : tolerance;

/** An entry of the files in points/ that are plain lists. */
export interface Point {
  readonly id?: string;
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly value: number;
  readonly unit: string;
  readonly tolerance: number;
  readonly source: string;
  readonly seen: boolean | string;
}

/** The mark of an entry: what `seen` says, and for what was not seen what its source says. */
export function markOf({ seen, source }: Pick<Point, "seen" | "source">): Mark {
  const words = typeof seen === "string" ? seen : seen ? "seen" : source;
  if (/^seen/iu.test(words)) return "seen";
  if (/common practice/iu.test(words)) return "common practice, no source";
  return /from memory/iu.test(words) ? "from memory" : "computed here";
}

/** How a point says what it is worth: its source tells when the model was fitted to it or it comes from the same equations. */
export function worthOf(point: Pick<Point, "seen" | "source">): Worth {
  if (/relation to our model: (?:y )?fitted|target of our regression/iu.test(point.source)) return "fitted";
  const mark = markOf(point);
  if (mark === "common practice, no source") return "practice";
  return mark === "computed here" && !/library iapws/iu.test(point.source) ? "code" : "independent";
}

/** The source without what is told apart: how it was used, and that every tolerance was set with the residuals in view. */
export const sourceOf = ({ source, seen }: Pick<Point, "seen" | "source">): string =>
  [
    source.replace(/[.;,]? *(?:Relation to our model:.*|Tolerance set after seeing our residuals\.?)$/iu, ""),
    ...(typeof seen === "string" && /https?:|\.[a-z]{2,4}[/ ]/iu.test(seen)
      ? [seen.replace(/^seen:? */iu, "")]
      : []),
  ].join("; ");

/** Units as the files write them, and as the language does. */
const inOurs: ReadonlyMap<string, string> = new Map([
  ["degC", "°C"],
  ["% vol", "%vol"],
  ["% mass", "%mas"],
  ["mass %", "%mas"],
  ["1", ""],
]);

const inWords = (inputs: Point["inputs"]): string =>
  Object.entries(inputs)
    .map(([name, value]) => `${name} ${value}`)
    .join(", ");

/** A comparison from an entry of a list, with everything that the entry itself says. */
export const compared = (
  file: string,
  entry: number,
  point: Point,
  answer: { readonly of: string; readonly what?: string; readonly computed: number } & Partial<Comparison>,
): Comparison => ({
  what: point.quantity.replace(/_/gu, " "),
  label: `${point.quantity.replace(/_/gu, " ")}, ${inWords(point.inputs)}`,
  unit: inOurs.get(point.unit) ?? point.unit,
  published: point.value,
  tolerance: point.tolerance,
  worth: worthOf(point),
  mark: markOf(point),
  source: sourceOf(point),
  point: `${file} ${entry}`,
  ...answer,
});
