import {
  type Composition,
  compose,
  type Mix,
  type Rounding,
  type Target,
  type Task,
} from "../matter/composition";
import { massFraction, massFractionFromProof, volumeFraction } from "../matter/spirit";
import { ethanolAtMost, ethanolInSweet, strengthOfSweet, sweetDensity } from "../matter/sweet";
import {
  currencyOf,
  dimensionTimes,
  format,
  fromSI,
  type Kind,
  kinds,
  multiply,
  type Note,
  parseUnit,
  type Quantity,
  siUnit,
  sumQuantities,
  Trouble,
  toSI,
  type Unit,
} from "../quantity";
import type { Parameter, ValueCall, ValueDeclaration } from "./declaration";
import { entriesOf, gatherNotes, quantityOf, withNotes } from "./entries";
import { amount, isMass, listed, optional, share, solids, strength } from "./parameters";
import { type Gap, gap, type ListOrigin, type ListValue, list, record, text, type Value } from "./value";

/**
 * Several stocks to several targets. Works on values itself, since prices may be in any currency and the answer is a
 * list that keeps the names of the rows.
 */

type Args = Readonly<Record<string, Value>>;

/** The columns of the stocks: the label in the language, and what a missing entry lacks. */
const COLUMNS = ["have", "strength", "solids", "price", "content", "wish"] as const;
type Column = (typeof COLUMNS)[number];

/** One stock whose row is filled in. */
interface Row {
  /** Place among the entries of `have`. */
  readonly at: number;
  readonly name: string;
  readonly cells: Readonly<Partial<Record<Column, Quantity>>>;
}

const originOf = (args: Args): ListOrigin | undefined => {
  for (const column of COLUMNS) {
    const value = args[column];
    if (value?.type === "list" && value.origin !== undefined) return value.origin;
  }
  return undefined;
};

/** Rows that are filled in; a row blank in all columns is skipped, one filled in part is the gap that names it. */
function rowsOf(args: Args): readonly Row[] | Value {
  const given = COLUMNS.filter((column) => args[column] !== undefined);
  const count = entriesOf(args.have!).length;
  const origin = originOf(args);
  for (const column of given) needSameRows(args, column, count);
  const rows: Row[] = [];
  for (let at = 0; at < count; at++) {
    const name = origin?.names[at] || `stock ${at + 1}`;
    const entries = given.map((column) => [column, entriesOf(args[column]!)[at]!] as const);
    const fault = entries.find(([, e]) => e.type === "fault");
    if (fault !== undefined) return fault[1];
    const blanks = entries.filter(([, e]) => e.type === "gap");
    if (blanks.length === entries.length) continue;
    if (blanks.length > 0) return lacking(name, blanks[0]!);
    rows.push({
      at,
      name,
      cells: Object.fromEntries(entries.map(([column, e]) => [column, quantityOf(column, e)])),
    });
  }
  return rows;
}

function lacking(name: string, [column, blank]: readonly [Column, Value]): Gap {
  const what = column === "have" ? "amount" : column === "wish" ? "share wished for" : column;
  return gap(`${name} has no ${what} yet`, blank.type === "gap" ? blank.place : undefined);
}

function needSameRows(args: Args, column: Column, count: number): void {
  const value = args[column]!;
  const found = entriesOf(value).length;
  const [have, other] = [args.have!, value].map((v) => (v.type === "list" ? v.origin : undefined));
  const sameRows =
    have === undefined || other === undefined || have === other
      ? true
      : have.table === other.table && have.rows.join() === other.rows.join();
  if (found === count && sameRows) return;
  throw new Trouble({
    code: "lists-differ",
    says:
      found === count
        ? `\`have\` and \`${column}\` come from different rows, so their entries do not belong together.`
        : `\`have\` has ${count} entries and \`${column}\` has ${found}; there must be one for each stock.`,
    help: "Take the columns from one table, with the same `where`.",
  });
}

/** Least and most of a target: one value, or a list of two. */
function rangeOf(name: string, value: Value): readonly [Quantity, Quantity] {
  const entries = entriesOf(value);
  const found = entries.map((e) => quantityOf(name, e));
  if (found.length === 1) return [found[0]!, found[0]!];
  if (found.length === 2 && toSI(found[0]!) <= toSI(found[1]!)) return [found[0]!, found[1]!];
  throw new Trouble({
    code: "target-range",
    says: `\`${name}\` wants one value, or a list of two, the least and the most.`,
    help: "For example `to_strength: 42 %vol` or `to_strength: [40 %vol, 43 %vol]`.",
  });
}

/** A target without its column, or the other way round. */
function needColumn(args: Args, target: string, column: Column): void {
  if (args[target] === undefined || args[column] !== undefined) return;
  throw new Trouble({
    code: "missing-argument",
    says: `\`${target}\` is a target, but what the stocks have of it is not given.`,
    help: `Give the list: \`${column}: stocks.${column}\`.`,
  });
}

const isVolumeStrength = (kind: Kind): boolean => kind.id === kinds.strengthVolume.id;
const isProof = (kind: Kind): boolean => kind.id === kinds.proof.id;

/** Strength by volume of a strength told by volume or in proof; undefined when it is told by mass. */
function byVolumeOf(q: Quantity): number | undefined {
  if (isVolumeStrength(q.unit.kind)) return toSI(q);
  if (isProof(q.unit.kind)) return volumeFraction(massFractionFromProof(toSI(q)));
  return undefined;
}

/** Mass fraction of ethanol in a liquid of this strength and these solids. */
function ethanolOf(q: Quantity, sugar: number): number {
  const v = byVolumeOf(q);
  if (v === undefined) return toSI(q);
  return sugar === 0 ? massFraction(v) : ethanolInSweet(v, sugar);
}

/** The same for a target, in a mix whose solids are still being tried: what it has no room for is all it has room for. */
function ethanolWanted(q: Quantity, sugar: number): number {
  const v = byVolumeOf(q);
  return v === undefined ? toSI(q) : ethanolAtMost(v, sugar);
}

/** Everything that the arguments come to, in SI numbers. */
interface Plan {
  readonly rows: readonly Row[];
  readonly volumes: boolean;
  readonly known: boolean;
  readonly ethanol: readonly number[];
  readonly sugar: readonly number[];
  readonly density: Task["density"];
}

function planOf(args: Args, rows: readonly Row[]): Plan {
  const total = quantityOf("total", args.total!);
  const sugar = rows.map((r) => (r.cells.solids === undefined ? 0 : toSI(r.cells.solids)));
  const ethanol = rows.map((r, i) =>
    r.cells.strength === undefined ? 0 : ethanolOf(r.cells.strength, sugar[i]!),
  );
  const known = args.strength !== undefined || args.solids !== undefined;
  return {
    rows,
    volumes: !isMass(total.unit.kind),
    known,
    ethanol,
    sugar,
    density: known ? sweetDensity : () => 1,
  };
}

/** Kilograms (or, without a known density, cubic metres) of what there is of a stock. */
function mostOf(row: Row, plan: Plan, i: number): number {
  const have = row.cells.have!;
  const si = toSI(have);
  if (isMass(have.unit.kind)) return si;
  return si * plan.density(plan.ethanol[i]!, plan.sugar[i]!);
}

/** Kilograms for a unit of the kind that `unit` has: 1 for masses, the density for volumes. */
const massPer = (unit: Unit, plan: Plan, i: number): number =>
  isMass(unit.kind) ? 1 : plan.density(plan.ethanol[i]!, plan.sugar[i]!);

function needOneBasis(args: Args, plan: Plan): void {
  if (plan.known) return;
  const total = quantityOf("total", args.total!);
  const other = plan.rows.find((r) => isMass(r.cells.have!.unit.kind) !== isMass(total.unit.kind));
  if (other === undefined) return;
  throw new Trouble({
    code: "kinds-differ",
    says: `The total is ${total.unit.kind.name} and ${other.name} is given as ${other.cells.have!.unit.kind.name}; without strength or solids their density is not known.`,
    help: "Give all of them by mass, or all by volume.",
  });
}

/** Price of a kilogram, and the basis that prices are told on. */
interface Pricing {
  readonly per: readonly number[];
  /** Unit of the amount that a price is for: mass or volume. */
  readonly basis: Unit;
}

function pricingOf(plan: Plan): Pricing | undefined {
  const first = plan.rows[0]?.cells.price;
  if (first === undefined) return undefined;
  const basis = [kinds.mass, kinds.volume].find(
    (k) => currencyOf(dimensionTimes(first.unit.kind.dimension, k.dimension)) !== undefined,
  );
  if (basis === undefined) {
    throw new Trouble({
      code: "not-a-price",
      says: `A price is money for a mass or a volume, and ${format(first)} is ${first.unit.kind.name}.`,
      help: "Write it like `11.20 GBP/L` or `3.40 GBP/kg`.",
    });
  }
  const other = plan.rows.find((r) => r.cells.price!.unit.kind !== first.unit.kind);
  if (other !== undefined) {
    throw new Trouble({
      code: "kinds-differ",
      says: `${format(first)} is ${first.unit.kind.name} and ${format(other.cells.price!)} is ${other.cells.price!.unit.kind.name}; one list of prices has one kind.`,
      help: "Give all prices in one currency, for a mass or for a volume.",
    });
  }
  const unit = siUnit(basis);
  return { basis: unit, per: plan.rows.map((r, i) => toSI(r.cells.price!) / massPer(unit, plan, i)) };
}

const DIGITS = 5;
const trimmed = (x: number): number => Number(x.toPrecision(DIGITS));

/** Five digits, the last one rounded to the side that is asked for. */
function rounded(x: number, way: Rounding): number {
  if (way === "near" || x === 0) return trimmed(x);
  const step = 10 ** (Math.floor(Math.log10(Math.abs(x))) + 1 - DIGITS);
  const steps = x / step;
  const whole = Math.round(steps);
  // What is whole to the solver's rounding is whole.
  const chosen =
    Math.abs(steps - whole) < 1e-5 ? whole : way === "down" ? Math.floor(steps) : Math.ceil(steps);
  return trimmed(chosen * step);
}

/** A value in SI told in a unit of the book. */
const told = (si: number, unit: Unit, way: Rounding): string =>
  `${rounded(fromSI(si, unit).n.v, way)} ${unit.text}`.trimEnd();

function targetsOf(args: Args, plan: Plan, pricing: Pricing | undefined): readonly Target[] {
  const targets: Target[] = [];
  if (args.to_strength !== undefined) {
    needColumn(args, "to_strength", "strength");
    const range = rangeOf("to_strength", args.to_strength);
    const byVolume = byVolumeOf(range[0]) !== undefined;
    targets.push({
      name: "to_strength",
      of: plan.ethanol,
      bounds: (mix) => [ethanolWanted(range[0], mix.solids), ethanolWanted(range[1], mix.solids)],
      show: (e, mix, way) =>
        byVolume
          ? `${rounded(100 * strengthOfSweet(e, mix.solids), way)} %vol`
          : `${rounded(100 * e, way)} %mas`,
    });
  }
  if (args.to_solids !== undefined) {
    needColumn(args, "to_solids", "solids");
    const [low, high] = rangeOf("to_solids", args.to_solids).map(toSI) as [number, number];
    targets.push({
      name: "to_solids",
      of: plan.sugar,
      bounds: () => [low, high],
      show: (w, _mix, way) => `${rounded(100 * w, way)} °Bx`,
    });
  }
  if (args.to_content !== undefined) {
    needColumn(args, "to_content", "content");
    const range = rangeOf("to_content", args.to_content);
    const [low, high] = range.map(toSI) as [number, number];
    targets.push({
      name: "to_content",
      of: plan.rows.map((r) => toSI(r.cells.content!)),
      bounds: () => [low, high],
      show: (x, _mix, way) => told(x, range[0].unit, way),
    });
  }
  if (args.to_price !== undefined) {
    needColumn(args, "to_price", "price");
    targets.push(priceTarget(rangeOf("to_price", args.to_price), plan, pricing!));
  }
  return targets;
}

/** A single price is the most that the mix may cost; a list of two, the least and the most. */
function priceTarget(range: readonly [Quantity, Quantity], plan: Plan, pricing: Pricing): Target {
  const first = plan.rows[0]!.cells.price!;
  if (range[0].unit.kind !== first.unit.kind) {
    throw new Trouble({
      code: "kinds-differ",
      says: `\`to_price\` is ${range[0].unit.kind.name} and the prices are ${first.unit.kind.name}.`,
      help: "Give both in one currency, for a mass or for a volume.",
    });
  }
  const perKilogram = (mix: Mix): number => (isMass(pricing.basis.kind) ? 1 : 1 / mix.density);
  const low = range[0] === range[1] ? Number.NEGATIVE_INFINITY : toSI(range[0]);
  return {
    name: "to_price",
    of: pricing.per,
    bounds: (mix) => [low * perKilogram(mix), toSI(range[1]) * perKilogram(mix)],
    show: (x, mix, way) => told(x / perKilogram(mix), range[0].unit, way),
  };
}

/** Shares wished for, brought to one whole. */
function wishOf(plan: Plan, call: ValueCall, notes: Note[]): readonly number[] | undefined {
  if (plan.rows[0]!.cells.wish === undefined) return undefined;
  const shares = plan.rows.map((r) => toSI(r.cells.wish!));
  const sum = shares.reduce((a, b) => a + b, 0);
  if (!(sum > 0) || shares.some((s) => s < 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: "The shares wished for must be positive and not all nothing.",
      help: "Give them in percent, one for each stock.",
    });
  }
  if (Math.abs(sum - 1) > 1e-9) {
    notes.push(call.note(`The shares wished for add to ${trimmed(100 * sum)} %, and were scaled to 100 %.`));
  }
  return shares.map((s) => s / sum);
}

function objectiveOf(
  plan: Plan,
  pricing: Pricing | undefined,
  call: ValueCall,
  notes: Note[],
): Task["objective"] {
  const wish = wishOf(plan, call, notes);
  if (wish !== undefined) return { type: "wish", shares: wish };
  if (pricing !== undefined) return { type: "cost", per: pricing.per };
  const have = plan.rows.map((r, i) => mostOf(r, plan, i));
  const sum = have.reduce((a, b) => a + b, 0);
  notes.push(
    call.note("Without a price or a wish the blend keeps near to the proportions of what there is."),
  );
  return { type: "wish", shares: have.map((h) => (sum > 0 ? h / sum : 1 / have.length)) };
}

function evaluate(args: Args, call: ValueCall): Value {
  const rows = rowsOf(args);
  if (!Array.isArray(rows)) return rows as Value;
  if (rows.length === 0) return gap("no stock is filled in yet");
  const plan = planOf(args, rows as readonly Row[]);
  needOneBasis(args, plan);
  const total = quantityOf("total", args.total!);
  const pricing = pricingOf(plan);
  const notes: Note[] = [];
  if (!plan.known && plan.volumes)
    notes.push(call.note("Volumes are taken to add: without strength or solids no density is known."));
  if (plan.sugar.some((s) => s > 0) && plan.ethanol.some((e) => e > 0)) {
    notes.push(
      call.note(
        "The volume of sugar in spirit is an estimate (0.62 mL/g); a label's strength must be measured.",
      ),
    );
  }
  if (rows.some((r: Row) => Object.values(r.cells).some((q) => q?.spread !== undefined))) {
    notes.push(call.note("The uncertainty of the stocks is not carried through the choice of a blend."));
  }
  const result = compose({
    stocks: plan.rows.map((r, i) => ({
      name: r.name,
      most: mostOf(r, plan, i),
      ethanol: plan.ethanol[i]!,
      solids: plan.sugar[i]!,
    })),
    targets: targetsOf(args, plan, pricing),
    total: plan.volumes ? { volume: toSI(total) } : { mass: toSI(total) },
    density: plan.density,
    objective: objectiveOf(plan, pricing, call, notes),
    showTotal: (kg, mix) => format(fromSI(plan.volumes ? kg / mix.density : kg, total.unit)),
    showStock: (i) => format(plan.rows[i]!.cells.have!),
  });
  return withNotes(answer(args, plan, pricing, result), notes, gatherNotes(total.notes));
}

/** The result as values: a row that was skipped stays blank in the lists. */
function answer(args: Args, plan: Plan, pricing: Pricing | undefined, found: Composition): Value {
  const count = entriesOf(args.have!).length;
  const origin = args.have!.type === "list" ? (args.have as ListValue).origin : undefined;
  const unit = plan.rows[0]!.cells.have!.unit;
  const sizes = plan.rows.map((r, i) => found.masses[i]! / massPer(r.cells.have!.unit, plan, i));
  const sum = sizes.reduce((a, b) => a + b, 0);
  const percent = parseUnit("%");
  const amounts: Value[] = new Array(count).fill(gap("this stock is not filled in"));
  const shares: Value[] = amounts.slice();
  plan.rows.forEach((row, i) => {
    amounts[row.at] = fromSI(sizes[i]!, unit);
    shares[row.at] = fromSI(sizes[i]! / sum, percent);
  });
  const parts: [string, Value][] = [
    ["amounts", list(amounts, origin)],
    ["shares", list(shares, origin)],
  ];
  if (pricing !== undefined) {
    const costs = plan.rows.map((row, i) =>
      multiply(row.cells.price!, fromSI(found.masses[i]! / massPer(pricing.basis, plan, i), pricing.basis)),
    );
    parts.push(["cost", sumQuantities(costs)]);
  }
  parts.push([
    "limited_by",
    text(found.limitedBy.length === 0 ? "the targets alone" : found.limitedBy.join("; ")),
  ]);
  return record(parts);
}

const wanted = (parameter: Parameter): Parameter => optional(listed(parameter));

export const declarations: readonly ValueDeclaration[] = [
  {
    name: "compose",
    group: "blending",
    says: "How much of each of several stocks makes a total that meets the targets, at least cost or nearest to a wish.",
    parameters: [
      amount("total", "Amount wanted: a mass, or a volume at 20 °C."),
      listed(amount("have", "The most that may be used of each stock; for water, more than enough.")),
      wanted(strength("strength", "Strength of each stock; 0 %vol for water.")),
      wanted(solids("solids", "Dissolved solids of each stock.")),
      {
        ...wanted(
          share(
            "price",
            "Price of each stock, for a mass or a volume (`11.20 GBP/L`). Makes the cost least.",
          ),
        ),
        takes: "any",
      },
      wanted(share("content", "Anything else that adds by mass, as a share of each stock: acid, fat, salt.")),
      wanted(strength("to_strength", "Strength wanted; a list of two is the least and the most.")),
      wanted(solids("to_solids", "Solids wanted; a list of two is the least and the most.")),
      wanted(share("to_content", "Content wanted; a list of two is the least and the most.")),
      {
        ...wanted(share("to_price", "The most that the blend may cost for a mass or a volume.")),
        takes: "any",
      },
      wanted(
        share("wish", "Share of each stock that you would like best. The blend keeps as near as it can."),
      ),
    ],
    labelsOnly: [
      "strength",
      "solids",
      "price",
      "content",
      "to_strength",
      "to_solids",
      "to_content",
      "to_price",
      "wish",
    ],
    result: [
      { name: "amounts", says: "Amount of each stock, in the unit of `have`.", holds: "any" },
      { name: "shares", says: "Share of each in the sum of the amounts.", holds: "any" },
      { name: "cost", says: "Cost of the whole, when prices are given.", holds: "any" },
      { name: "limited_by", says: "What keeps it from being cheaper or nearer to the wish.", holds: "text" },
    ],
    equation:
      "shares x_i by mass: sum x_i = 1, x_i <= have_i / total, sum x_i * property_i = target; least sum of cost, or least sum of |share - wish|",
    source:
      "linear program (simplex, the yalps library); densities by OIML R 22 and Bubník and Kadlec (1995)",
    range:
      "stocks up to a few dozen; strengths 0 to 100 %, solids to 85 °Bx; volumes of spirit are solved by mass, with contraction",
    trust: "balances close to one part in a billion; sugar with alcohol rests on an estimated volume (0.5 %)",
    cautions: ["The strength on a label must be measured, not calculated."],
    examples: [
      {
        formula:
          "compose(1 L, [600 mL, 800 mL, 2 L], strength: [96 %vol, 40 %vol, 0 %vol], price: [18 GBP/L, 9 GBP/L, 0 GBP/L], to_strength: 42 %vol).limited_by",
        gives: "to_strength 42 %vol",
      },
    ],
    takesGaps: true,
    evaluate,
  },
];
