import type { Shown } from "../../engine";
import { sigma } from "../../quantity";
import { call, cell, type Expression, number, operation, type Place, plus, times } from "../expression";
import type { Live } from "../live";
import { EMPTY, type SheetCell } from "../sheet";
import type { Layout } from "../translation/layout";
import { NotLive } from "../translation/term";
import { checkSize } from "../translation/working";

/**
 * The uncertainties beside the values. A computed one is worked out from the typed ones by linear propagation (JCGM
 * 100:2008, 5.1): the root of the sum of the squares of what each ± contributes. How strongly each counts depends on
 * the values themselves and is a fixed factor here, as it was when the book went out; the note says so.
 */
export class Spreads {
  /** Where the ± of each measured value stands, by its path, and what it was. */
  private readonly typed = new Map<string, { at: Place; sigma: number }>();

  constructor(
    layout: Layout,
    private readonly live: Live,
  ) {
    const take = (shown: Shown, at: Place): void => {
      const known = spreadOf(shown);
      if (shown.origin === "typed" && known > 0) this.typed.set(shown.path, { at: beside(at), sigma: known });
    };
    for (const set of layout.sets.values()) for (const { shown, at } of set.cells) take(shown, at);
    for (const { item, sheet, firstRow, columns } of layout.tables.values())
      for (const { index, column } of columns.values())
        for (let row = 0; row < item.rowCount; row++)
          take(item.cell(row, index), { sheet, row: firstRow + row, column });
  }

  /** The cell beside the cell of a value; empty when the value has no uncertainty. */
  cell(shown: Shown, value: SheetCell): SheetCell {
    const known = spreadOf(shown);
    if (!(known > 0) || shown.value.type !== "quantity") return EMPTY;
    if (shown.origin === "typed") return { value: Number(known.toPrecision(12)), role: "typed" };
    const made = this.live.attempt(() => this.propagated(shown.value as Measured, value));
    if (made instanceof NotLive)
      return {
        value: Number(known.toPrecision(3)),
        role: "kept",
        note: `Standard uncertainty when the book went out. It does not recalculate here: ${made.reason}.`,
      };
    return {
      value: known,
      role: "computed",
      decimals: Math.min(12, Math.max(0, 2 - Math.floor(Math.log10(known)))),
      formula: made,
      note: FOLLOWS,
    };
  }

  private propagated({ spread }: Measured, value: SheetCell): Expression {
    if (value.formula === undefined) throw new NotLive("neither does its value");
    const parts: Expression[] = [];
    let fixed = 0;
    for (const [input, amount] of spread!) {
      const from = this.typed.get(input);
      if (from === undefined) fixed += amount ** 2;
      else if (amount !== 0)
        parts.push(times(number(Number(Math.abs(amount / from.sigma).toPrecision(9))), cell(from.at)));
    }
    const [first, ...more] = parts;
    if (first === undefined)
      throw new NotLive("it comes from equations and formulas, from no cell beside a value");
    if (more.length === 0 && fixed === 0) return first;
    const square = (e: Expression): Expression => operation("^", e, number(2));
    let sum = square(first);
    for (const part of more) sum = plus(sum, square(part));
    if (fixed > 0) sum = plus(sum, square(number(Number(Math.sqrt(fixed).toPrecision(9)))));
    const root = call("SQRT", sum);
    checkSize(root);
    return root;
  }
}

type Measured = Shown["value"] & { readonly type: "quantity" };

export const FOLLOWS =
  "Standard uncertainty. It follows each ± that goes into it; how strongly each counts is as it was when the book went out.";

/** The column of uncertainties is the one behind that of the values, on every sheet. */
const beside = (at: Place): Place => ({ ...at, column: at.column + 1 });

const spreadOf = (shown: Shown): number => (shown.value.type === "quantity" ? sigma(shown.value.spread) : 0);
