import type { Expression, Place } from "./expression";
import { type Content, FailedCell, type ReadCell, workOut } from "./recalculation";
import type { SheetCell } from "./sheet";

/**
 * What the cells come to when everything is worked out anew from the typed cells, as an office suite does. It
 * differs from the book's values where a function is written out in fixed steps.
 */
export function settled(cellAt: (at: Place) => SheetCell | undefined): ReadCell {
  const done = new Map<string, Content>();
  const key = (at: Place): string => `${at.sheet}!${at.row}!${at.column}`;
  const get: ReadCell = (at) => {
    const k = key(at);
    const known = done.get(k);
    if (known !== undefined || done.has(k)) return known ?? null;
    return cellAt(at)?.value ?? null;
  };
  // What a cell reads is worked out before it, on a list of our own: chains may be longer than the call stack.
  const work = (at: Place): void => {
    const pending: { at: Place; formula: Expression; opened: boolean }[] = [];
    const push = (place: Place): void => {
      if (done.has(key(place))) return;
      const cell = cellAt(place);
      if (cell?.formula === undefined) done.set(key(place), cell?.value ?? null);
      else pending.push({ at: place, formula: cell.formula, opened: false });
    };
    push(at);
    while (pending.length > 0) {
      const top = pending[pending.length - 1]!;
      const k = key(top.at);
      if (done.has(k)) pending.pop();
      else if (top.opened) {
        pending.pop();
        const value = workOut(top.formula, get);
        done.set(k, value instanceof FailedCell ? null : value);
      } else {
        top.opened = true;
        eachPlace(top.formula, push);
      }
    }
  };
  return (at) => {
    work(at);
    return get(at);
  };
}

/** Every cell that an expression reads. */
function eachPlace(e: Expression, visit: (at: Place) => void): void {
  switch (e.type) {
    case "cell":
      visit(e.at);
      break;
    case "range":
      for (let row = e.from.row; row <= e.to.row; row++)
        for (let column = e.from.column; column <= e.to.column; column++)
          visit({ sheet: e.from.sheet, row, column });
      break;
    case "negate":
      eachPlace(e.of, visit);
      break;
    case "operation":
      eachPlace(e.left, visit);
      eachPlace(e.right, visit);
      break;
    case "call":
      for (const a of e.arguments) eachPlace(a, visit);
  }
}
