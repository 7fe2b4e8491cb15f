import {
  compareNum,
  divideNum,
  exactInteger,
  format,
  isExact,
  kinds,
  meanQuantities,
  plain,
  plainUnit,
  type Quantity,
  quantity,
  sumQuantities,
  Trouble,
} from "../quantity";
import type { ResultPart, ValueCall, ValueDeclaration } from "./declaration";
import {
  isDate,
  isFault,
  isList,
  isTemperature,
  nothingFor,
  quantitiesIn,
  type Sifted,
  sift,
  withNotes,
  wrongSort,
} from "./entries";
import type { Value } from "./value";

/** Totals: they skip blanks and say how many; exact entries give exact totals. */

const GROUP = "trials";
const NO_SOURCE = "arithmetic; no source needed";

const values = (says: string) => ({ name: "values", says, takes: "any", list: true }) as const;
const same = (says: string): readonly ResultPart[] => [{ name: "", says, holds: "any" }];

/** What a total does with the entries that are filled in. */
type Total = (kept: readonly Value[], call: ValueCall) => Value;

const totalOf =
  (name: string, total: Total, ofNothing?: (list: Value) => Value): ValueDeclaration["evaluate"] =>
  (args, call) => {
    const list = args.values!;
    const sifted = sift(list, call.note);
    if (isFault(sifted)) return sifted;
    if (sifted.kept.length === 0) {
      return isNothingSelected(sifted) && ofNothing !== undefined
        ? withNotes(ofNothing(list), sifted.notes)
        : nothingFor(name, sifted);
    }
    return withNotes(total(sifted.kept, call), sifted.notes);
  };

const isNothingSelected = (sifted: Sifted): boolean => sifted.blanks === 0;

function sumOf(kept: readonly Value[]): Quantity {
  const quantities = quantitiesIn("sum", kept);
  const first = quantities[0]!;
  if (isTemperature(first.unit) && quantities.length > 1) {
    throw new Trouble({
      code: "temperatures-do-not-add",
      says: `Temperatures do not add: the sum of ${format(first)} and ${format(quantities[1]!)} has no meaning.`,
      help: "`mean` gives their average; differences of temperatures do add.",
    });
  }
  return sumQuantities(quantities);
}

/** The mean; exact when the total is and the count is a power of ten, as for any division. */
function meanOf(kept: readonly Value[]): Quantity {
  const quantities = quantitiesIn("mean", kept);
  const mean = meanQuantities(quantities);
  const count = exactInteger(quantities.length);
  if (isTemperature(mean.unit) || !quantities.every((q) => isExact(q.n))) return mean;
  return { ...mean, n: divideNum(sumQuantities(quantities).n, count, true) };
}

/** Smallest (-1) or largest (1): quantities of one kind, or dates; of equals the first. */
function extreme(name: string, side: -1 | 1): Total {
  return (kept) => {
    const first = kept[0]!;
    if (isDate(first)) {
      let best = first;
      for (const entry of kept) {
        if (!isDate(entry)) throw wrongSort(name, "dates only, like its first entry", entry);
        if (Math.sign(entry.day - best.day) === side) best = entry;
      }
      return best;
    }
    const quantities = quantitiesIn(name, kept);
    let best = quantities[0]!;
    for (const q of quantities) if (compareNum(q.n, best.n) === side) best = q;
    return best;
  };
}

function medianOf(kept: readonly Value[]): Quantity {
  const sorted = [...quantitiesIn("median", kept)].sort((a, b) => compareNum(a.n, b.n));
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : meanQuantities([sorted[middle - 1]!, sorted[middle]!]);
}

export const declarations: readonly ValueDeclaration[] = [
  {
    name: "sum",
    group: GROUP,
    says: "The total.",
    parameters: [values("Quantities of one kind, no temperatures. Blanks are skipped.")],
    result: same("In the unit of the first; 0 when nothing is selected."),
    equation: "x1 + x2 + … + xn",
    source: NO_SOURCE,
    range: "quantities of one kind; exact entries give an exact total",
    examples: [
      { formula: "sum([1 L, 500 mL])", gives: "1.5 L" },
      { formula: "sum([11.20 GBP, 0.1 GBP, 0.2 GBP])", gives: "11.50 GBP" },
    ],
    takesGaps: true,
    evaluate: totalOf("sum", sumOf, (list) =>
      isList(list) && list.unit !== undefined && !isTemperature(list.unit)
        ? quantity(exactInteger(0), list.unit)
        : plain(0),
    ),
  },
  {
    name: "mean",
    group: GROUP,
    says: "The average.",
    parameters: [values("Quantities of one kind. Blanks are skipped.")],
    result: same("In the unit of the first."),
    equation: "(x1 + x2 + … + xn) / n",
    source: NO_SOURCE,
    range: "quantities of one kind; temperatures too",
    examples: [
      { formula: "mean([20 °C, 30 °C])", gives: "25 °C" },
      { formula: "mean([1 L, 500 mL])", gives: "0.75 L" },
    ],
    takesGaps: true,
    evaluate: totalOf("mean", meanOf),
  },
  {
    name: "smallest",
    group: GROUP,
    says: "The smallest entry; of dates the earliest.",
    parameters: [values("Quantities of one kind, or dates. Blanks are skipped.")],
    result: same("The entry, in the unit of the first."),
    equation: "the entry that none is below",
    source: NO_SOURCE,
    range: "quantities of one kind, or dates",
    examples: [
      { formula: "smallest([1 L, 500 mL])", gives: "0.5 L" },
      { formula: "smallest([2026-02-24, 2026-02-03])", gives: "2026-02-03" },
    ],
    takesGaps: true,
    evaluate: totalOf("smallest", extreme("smallest", -1)),
  },
  {
    name: "largest",
    group: GROUP,
    says: "The largest entry; of dates the latest.",
    parameters: [values("Quantities of one kind, or dates. Blanks are skipped.")],
    result: same("The entry, in the unit of the first."),
    equation: "the entry that none is above",
    source: NO_SOURCE,
    range: "quantities of one kind, or dates",
    examples: [{ formula: "largest([60 mbar, 45 mbar])", gives: "60 mbar" }],
    takesGaps: true,
    evaluate: totalOf("largest", extreme("largest", 1)),
  },
  {
    name: "count",
    group: GROUP,
    says: "How many entries are filled in.",
    parameters: [values("Entries of any sort. Blanks are skipped.")],
    result: [
      {
        name: "",
        says: "A whole number; 0 when nothing is selected.",
        holds: { kind: kinds.plain, unit: "" },
      },
    ],
    equation: "n",
    source: NO_SOURCE,
    range: "any list",
    examples: [{ formula: "count([60 mbar, 45 mbar, 50 mbar])", gives: "3" }],
    takesGaps: true,
    evaluate: totalOf(
      "count",
      (kept) => quantity(exactInteger(kept.length), plainUnit),
      () => plain(0),
    ),
  },
  {
    name: "median",
    group: GROUP,
    says: "The middle entry by size, which one wild run does not move.",
    parameters: [values("Quantities of one kind. Blanks are skipped.")],
    result: same("In the unit of the first; of an even count the mean of the two in the middle."),
    equation: "the middle of the sorted entries",
    source: NO_SOURCE,
    range: "quantities of one kind; temperatures too",
    examples: [{ formula: "median([61 g, 90 g, 63 g])", gives: "63 g" }],
    takesGaps: true,
    evaluate: totalOf("median", medianOf),
  },
];
