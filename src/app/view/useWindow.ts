import { type RefObject, useEffect, useLayoutEffect, useMemo, useState } from "react";

export type Piece =
  | { readonly type: "row"; readonly row: number }
  | { readonly type: "space"; readonly key: string; readonly height: number };

/** Rows drawn above and below the view, so that a quick scroll shows no blank. */
const SPARE = 24;

/** The first and last row to draw when rows of one height scroll by. */
export function rowsInView(
  top: number,
  height: number,
  rowHeight: number,
  rows: number,
): { first: number; last: number } {
  const first = Math.max(0, Math.floor(top / rowHeight) - SPARE);
  const last = Math.min(rows - 1, Math.ceil((top + height) / rowHeight) + SPARE);
  return { first: Math.min(first, Math.max(0, rows - 1)), last };
}

/** Rows and the spaces between them, `kept` always among the rows. */
export function pieces(
  first: number,
  last: number,
  rows: number,
  rowHeight: number,
  kept: number | undefined,
): Piece[] {
  const list: Piece[] = [];
  let at = 0;
  const space = (to: number) => {
    if (to > at) list.push({ type: "space", key: `space-${at}`, height: (to - at) * rowHeight });
    at = to;
  };
  const row = (r: number) => {
    space(r);
    list.push({ type: "row", row: r });
    at = r + 1;
  };
  if (kept !== undefined && kept < first) row(kept);
  for (let r = first; r <= last; r++) row(r);
  if (kept !== undefined && kept > last && kept < rows) row(kept);
  space(rows);
  return list;
}

/**
 * The rows of a long table that are near the view. The row that holds the keyboard's focus is always drawn, so
 * that scrolling away never loses it. A short table is drawn whole.
 */
export function useWindow(
  hold: RefObject<HTMLElement | null>,
  rows: number,
  long: boolean,
  kept: number | undefined,
): readonly Piece[] {
  const [view, setView] = useState({ first: 0, last: Math.min(rows - 1, 60) });
  const [height, setHeight] = useState(38);
  useLayoutEffect(() => {
    if (!long) return;
    const row = hold.current?.querySelector<HTMLElement>("tbody tr:not(.spacer)");
    if (row) setHeight(row.getBoundingClientRect().height || 38);
  }, [hold, long]);
  useEffect(() => {
    const box = hold.current;
    if (!long || box === null) return;
    let asked = 0;
    const look = () => {
      asked = 0;
      const next = rowsInView(box.scrollTop, box.clientHeight, height, rows);
      setView((now) => (now.first === next.first && now.last === next.last ? now : next));
    };
    const ask = () => {
      if (asked === 0) asked = requestAnimationFrame(look);
    };
    look();
    box.addEventListener("scroll", ask, { passive: true });
    addEventListener("resize", ask);
    return () => {
      cancelAnimationFrame(asked);
      box.removeEventListener("scroll", ask);
      removeEventListener("resize", ask);
    };
  }, [hold, long, height, rows]);
  return useMemo(
    () =>
      long
        ? pieces(
            Math.min(view.first, Math.max(0, rows - 1)),
            Math.min(view.last, rows - 1),
            rows,
            height,
            kept,
          )
        : pieces(0, rows - 1, rows, height, undefined),
    [long, view, rows, height, kept],
  );
}
