import type { Book, ChartItem } from "../../engine";
import { placedItems } from "../state/items";
import { itemPlace } from "../state/place";
import { slotAt } from "../state/slots";
import { detent, literalWith } from "../state/trial";
import type { useNotebook } from "./workbench";

/**
 * Moving the operating point of a curve moves the value that it marks, when that value is a plain quantity with
 * a range to try in the unit of the axis. Otherwise the picture only shows.
 */
export function draggedMark(
  store: ReturnType<typeof useNotebook>,
  book: Book,
  item: ChartItem,
): ((x: number) => void) | undefined {
  const { node } = item.statement;
  if (node.type !== "chart" || node.style !== "curve" || node.mark?.type !== "name") return undefined;
  const { name } = node.mark;
  const found = placedItems(book).find((p) => p.item.type === "value" && p.item.name === name);
  if (found?.item.type !== "value" || found.item.trial?.type !== "range" || found.item.trial.idle)
    return undefined;
  const { trial, formula } = found.item;
  if (trial.unit !== item.xUnit) return undefined;
  const step = detent(trial);
  const low = Math.min(trial.from, trial.to);
  const high = Math.max(trial.from, trial.to);
  return (x) => {
    const value = Math.min(high, Math.max(low, low + Math.round((x - low) / step) * step));
    const state = store.get();
    const text = literalWith(formula, value, step);
    const edit = slotAt(state.book, itemPlace(found.key, "formula"))?.write(text);
    if (edit !== undefined && !("refused" in edit))
      store.send({
        type: "edit",
        edit: { ...edit, says: `${name}, tried ${text}` },
        thread: `try ${found.key}`,
      });
  };
}
