import { addFoot, writeName } from "../../../grammar";
import type { Book, TableColumn, TableItem } from "../../engine";
import { currencyOf, dimensionTimes, type Kind, kinds, type Unit } from "../../quantity";
import { tableAt } from "./items";
import { cellPlace } from "./place";
import { type Edit, made, type Refusal } from "./slot";

/** What makes sense under a column, in words and as a formula. */
export interface FootOffer {
  readonly says: string;
  readonly formula: string;
}

/** Rows that are looked at for a quantity of a column. */
const LOOKED_AT = 100;

/** Kinds whose amounts add up to an amount of the whole. A count is a plain number. */
const adding: ReadonlySet<Kind> = new Set([
  kinds.mass,
  kinds.volume,
  kinds.time,
  kinds.energy,
  kinds.power,
  kinds.length,
  kinds.area,
  kinds.plain,
]);
const strengths: ReadonlySet<Kind> = new Set([kinds.strengthVolume, kinds.strengthMass, kinds.proof]);

const isMoney = (kind: Kind): boolean => currencyOf(kind.dimension) !== undefined;

/**
 * What can be offered under a column of quantities: the total of what adds; the strength of the blend and the price of
 * the whole where the table says how much there is of each; the mean of anything else. Nothing under a column
 * without a quantity, or with a foot.
 */
export function footOffer(table: TableItem, column: number): FootOffer | undefined {
  const about = table.columns[column];
  const unit = unitOf(table, column);
  if (about === undefined || unit === undefined || table.feet.has(about.name)) return undefined;
  const { kind } = unit;
  const name = writeName(about.name);
  // A count adds; a share in per cent is a plain number too, and does not.
  if ((adding.has(kind) && (kind !== kinds.plain || unit.text === "")) || isMoney(kind))
    return { says: `total of ${about.name}`, formula: `sum(${name})` };
  const amountOf = (is: (kind: Kind) => boolean): TableColumn | undefined =>
    table.columns.find((_, c) => {
      const other = unitOf(table, c);
      return other !== undefined && is(other.kind);
    });
  if (strengths.has(kind)) {
    const amount = amountOf((k) => k === kinds.volume) ?? amountOf((k) => k === kinds.mass);
    if (amount !== undefined)
      return {
        says: "strength of the blend",
        formula: `marry(${writeName(amount.name)}, ${name}).strength`,
      };
  }
  const priced = amountOf(
    (k) => !isMoney(k) && currencyOf(dimensionTimes(kind.dimension, k.dimension)) !== undefined,
  );
  if (priced !== undefined) {
    const of = writeName(priced.name);
    const whole = `sum(${of} * ${name}) / sum(${of})`;
    return { says: `${about.name} of the whole`, formula: `${whole} in ${unit.text}` };
  }
  return { says: `mean of ${about.name}`, formula: `mean(${name})` };
}

/** The unit of the first cell of a column that holds a quantity; all of them are of its kind. */
function unitOf(table: TableItem, column: number): Unit | undefined {
  for (let row = 0; row < Math.min(table.rowCount, LOOKED_AT); row++) {
    const { value } = table.cell(row, column);
    if (value.type === "quantity") return value.unit;
  }
  return undefined;
}

/** Writes what was offered under a column. The keyboard goes to it, so that something else can be written instead. */
export function putFoot(book: Book, key: string, column: number): Edit | Refusal {
  const table = tableAt(book, key);
  const offer = table && footOffer(table, column);
  if (table === undefined || offer === undefined) return { refused: "Nothing can be put under this column." };
  return made(
    book,
    `adding the ${offer.says}`,
    addFoot(book.tree, table.tree, table.columns[column]!.name, offer.formula),
    { lands: cellPlace(key, table.rowCount, column) },
  );
}
