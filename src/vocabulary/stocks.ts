import type { Task } from "../matter/composition";
import { massFraction, massFractionFromProof, volumeFraction } from "../matter/spirit";
import { ethanolAtMost, ethanolInSweet, sweetDensity } from "../matter/sweet";
import {
  currencyOf,
  dimensionTimes,
  format,
  type Kind,
  kinds,
  type Quantity,
  siUnit,
  Trouble,
  toSI,
  type Unit,
} from "../quantity";
import { entriesOf, quantityOf } from "./entries";
import { isMass } from "./parameters";
import { type Gap, gap, type ListOrigin, type Value } from "./value";

/** The columns of the stocks that `compose` blends, read into numbers. */

export type Args = Readonly<Record<string, Value>>;

/** The columns of the stocks: the label in the language, and what a missing entry lacks. */
const COLUMNS = ["have", "strength", "solids", "price", "content", "wish"] as const;
export type Column = (typeof COLUMNS)[number];

/** One stock whose row is filled in. */
export interface Row {
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
export function rowsOf(args: Args): readonly Row[] | Value {
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

const isVolumeStrength = (kind: Kind): boolean => kind.id === kinds.strengthVolume.id;
const isProof = (kind: Kind): boolean => kind.id === kinds.proof.id;

/** Strength by volume of a strength told by volume or in proof; undefined when it is told by mass. */
export function byVolumeOf(q: Quantity): number | undefined {
  if (isVolumeStrength(q.unit.kind)) return toSI(q);
  if (isProof(q.unit.kind)) return volumeFraction(massFractionFromProof(toSI(q)));
  return undefined;
}

/** Mass fraction of ethanol in a liquid of this strength and these solids. */
export function ethanolOf(q: Quantity, sugar: number): number {
  const v = byVolumeOf(q);
  if (v === undefined) return toSI(q);
  return sugar === 0 ? massFraction(v) : ethanolInSweet(v, sugar);
}

/** The same for a target, in a mix whose solids are still being tried: what it has no room for is all it has room for. */
export function ethanolWanted(q: Quantity, sugar: number): number {
  const v = byVolumeOf(q);
  return v === undefined ? toSI(q) : ethanolAtMost(v, sugar);
}

/** Everything that the arguments come to, in SI numbers. */
export interface Plan {
  readonly rows: readonly Row[];
  readonly volumes: boolean;
  readonly known: boolean;
  readonly ethanol: readonly number[];
  readonly sugar: readonly number[];
  readonly density: Task["density"];
}

export function planOf(args: Args, rows: readonly Row[]): Plan {
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
export function mostOf(row: Row, plan: Plan, i: number): number {
  const have = row.cells.have!;
  const si = toSI(have);
  if (isMass(have.unit.kind)) return si;
  return si * plan.density(plan.ethanol[i]!, plan.sugar[i]!);
}

/** Kilograms for a unit of the kind that `unit` has: 1 for masses, the density for volumes. */
export const massPer = (unit: Unit, plan: Plan, i: number): number =>
  isMass(unit.kind) ? 1 : plan.density(plan.ethanol[i]!, plan.sugar[i]!);

export function needOneBasis(args: Args, plan: Plan): void {
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
export interface Pricing {
  readonly per: readonly number[];
  /** Unit of the amount that a price is for: mass or volume. */
  readonly basis: Unit;
}

export function pricingOf(plan: Plan): Pricing | undefined {
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
