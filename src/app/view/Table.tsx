import { type CSSProperties, type MouseEvent, type PointerEvent, useMemo, useRef } from "react";
import type { TableColumn, TableItem } from "../../engine";
import { cellId, elementId } from "../state/items";
import type { Lit } from "../state/lit";
import { chosenExtent, type Notebook } from "../state/notebook";
import { cellPlace, type Extent, FORMULAS_ROW, NAMES_ROW } from "../state/place";
import { useStore } from "../state/store";
import { copied, pasted } from "./clipping";
import { HeadingRows } from "./Heading";
import { FieldText, Headline } from "./Headline";
import { TableCommands } from "./TableCommands";
import { FootRow } from "./TableFoot";
import { Row } from "./TableRow";
import { useWindow } from "./useWindow";
import { lengths, openPlace, WritingPlace } from "./WritingPlace";
import { useNotebook } from "./workbench";

/** Rows above which only those near the view are drawn. */
const LONG = 300;

interface TableState {
  readonly row: number | undefined;
  readonly column: number;
  readonly extent: Extent | undefined;
}

const standing =
  (key: string) =>
  (s: Notebook): TableState =>
    s.here?.in === "cell" && s.here.key === key
      ? {
          row: s.here.row,
          column: s.here.column,
          extent: s.anchor === undefined ? undefined : chosenExtent(s),
        }
      : { row: undefined, column: 0, extent: undefined };

const sameState = (a: TableState, b: TableState): boolean =>
  a.row === b.row &&
  a.column === b.column &&
  (a.extent === b.extent ||
    (a.extent !== undefined &&
      b.extent !== undefined &&
      a.extent.top === b.extent.top &&
      a.extent.bottom === b.extent.bottom &&
      a.extent.left === b.extent.left &&
      a.extent.right === b.extent.right));

/** A table of the book: typed cells, computed columns with their formula under the heading, the foot. */
export function Table({ id, item, lit }: { id: string; item: TableItem; lit: Lit | undefined }) {
  const store = useNotebook();
  const here = useStore(
    store,
    useMemo(() => standing(id), [id]),
    sameState,
  );
  const hold = useRef<HTMLDivElement>(null);
  const long = item.rowCount > LONG;
  const active = here.row ?? (item.rowCount > 0 ? 0 : NAMES_ROW);
  const shown = useWindow(
    hold,
    item.rowCount,
    long,
    active >= 0 && active < item.rowCount ? active : undefined,
  );
  const bare = useMemo(() => item.columns.map((column, c) => headsUnit(item, column, c)), [item]);
  const widths = useMemo(() => item.columns.map((_, c) => widthsOf(item, c)), [item]);
  const headId = `${elementId(id)}-head`;
  const lastRow = item.rowCount + (item.feet.size > 0 ? 1 : 0);

  const onPointerDown = (event: PointerEvent) => {
    const at = cellOf(event.target);
    if (at === undefined) return;
    wasHere.current = isHere(store.get(), id, at);
    if (wasHere.current && (event.button === 2 || event.pointerType !== "mouse"))
      lendField(hold.current, event.pointerType);
    if (event.button !== 0) return;
    if (event.pointerType !== "mouse" || wasHere.current) return;
    event.preventDefault();
    dragging.current = !event.shiftKey;
    store.send({ type: "go", place: cellPlace(id, at.row, at.column), extend: event.shiftKey });
  };
  const wasHere = useRef(false);
  const dragging = useRef(false);
  const onPointerOver = (event: PointerEvent) => {
    if (!dragging.current) return;
    if ((event.buttons & 1) === 0) {
      dragging.current = false;
      return;
    }
    const at = cellOf(event.target);
    if (at !== undefined) store.send({ type: "go", place: cellPlace(id, at.row, at.column), extend: true });
  };
  const onClick = (event: MouseEvent) => {
    const at = cellOf(event.target);
    dragging.current = false;
    if (at === undefined || store.get().draft !== undefined) return;
    if (wasHere.current) {
      // A press beside the words of the cell has taken the keyboard from its field; it comes back to it.
      store.send({ type: "go", place: cellPlace(id, at.row, at.column) });
      openPlace(store);
    } else if (!isHere(store.get(), id, at))
      store.send({ type: "go", place: cellPlace(id, at.row, at.column) });
  };

  return (
    <section className="part line" id={elementId(id)} aria-labelledby={headId}>
      <span className="in-margin" />
      <div>
        <Headline
          id={headId}
          place={{ in: "item", key: id, field: "title" }}
          label={`title of ${item.name}`}
          title={item.title || item.name}
        >
          <FieldText
            place={{ in: "item", key: id, field: "name" }}
            label={`name of the table, ${item.name}`}
            className="name-of"
          >
            <code>{item.name}</code>
          </FieldText>
        </Headline>
        {/* it scrolls, and some browsers make that a stop of Tab; the cells in it are the stop */}
        <div className={long ? "hold long" : "hold"} ref={hold} data-grid={id} tabIndex={-1}>
          <table
            className={item.columns.length > 6 ? "grid many" : "grid"}
            role="grid"
            style={lengths({ "--columns": String(item.columns.length) })}
            aria-labelledby={headId}
            aria-rowcount={item.rowCount + 2 + (item.feet.size > 0 ? 1 : 0)}
            aria-colcount={item.columns.length}
            aria-multiselectable="true"
            onPointerDown={onPointerDown}
            onPointerOver={onPointerOver}
            onClick={onClick}
          >
            <HeadingRows
              id={id}
              item={item}
              bare={bare}
              row={here.row}
              column={here.column}
              extent={here.extent}
              active={active}
              lit={lit}
            />
            <tbody>
              {shown.map((piece) =>
                piece.type === "space" ? (
                  <tr key={piece.key} className="spacer" aria-hidden="true">
                    <td colSpan={item.columns.length} style={{ height: piece.height }} />
                  </tr>
                ) : (
                  <Row
                    key={piece.row}
                    id={id}
                    item={item}
                    row={piece.row}
                    bare={bare}
                    active={active === piece.row ? here.column : -1}
                    current={here.row !== undefined}
                    widths={widths}
                    extent={
                      here.extent !== undefined &&
                      piece.row >= here.extent.top &&
                      piece.row <= here.extent.bottom
                        ? here.extent
                        : undefined
                    }
                    lit={lit?.table === id ? lit : undefined}
                  />
                ),
              )}
            </tbody>
            {item.feet.size === 0 ? null : (
              <FootRow
                id={id}
                item={item}
                row={lastRow - 1}
                bare={bare}
                widths={widths}
                current={here.row !== undefined}
                active={active >= item.rowCount ? here.column : -1}
              />
            )}
          </table>
          <WritingPlace
            place={cellPlace(id, active, here.column)}
            cell={cellId(id, active, here.column)}
            readOnly={isClosed(item, active, here.column)}
            fromRight={here.column > 0}
            className="over"
            {...(active >= 0 &&
              active < item.rowCount && {
                onCopy: (event) => copied(event, store, item),
                onPaste: (event) => pasted(event, store, cellPlace(id, active, here.column)),
              })}
          />
        </div>
        <TableCommands id={id} item={item} />
      </div>
    </section>
  );
}

const isHere = (state: Notebook, key: string, at: { row: number; column: number }): boolean =>
  state.here?.in === "cell" &&
  state.here.key === key &&
  state.here.row === at.row &&
  state.here.column === at.column;

/** Only a field has a menu that pastes: as long as the cell is pressed, its field takes the press. */
function lendField(hold: HTMLElement | null, pointer: string): void {
  const field = hold?.querySelector<HTMLElement>(".over");
  if (!field) return;
  const ends = ["pointerup", "pointercancel"];
  const back = () => {
    for (const end of ends) removeEventListener(end, back);
    const withdraw = () => field.style.removeProperty("pointer-events");
    // The menu of a mouse may open right after its press has ended; the tap of a finger then goes to the cell.
    if (pointer === "mouse") setTimeout(withdraw);
    else withdraw();
  };
  field.style.pointerEvents = "auto";
  for (const end of ends) addEventListener(end, back);
}

/** The cell an event happened in. */
function cellOf(target: EventTarget): { row: number; column: number } | undefined {
  const cell = target instanceof Element ? target.closest<HTMLElement>("[data-cell]") : null;
  const [row, column] = (cell?.dataset.cell ?? "").split(",").map(Number);
  return row === undefined || column === undefined || Number.isNaN(column) ? undefined : { row, column };
}

/** Whether nothing can be written in a cell: it is worked out, or has no formula to write. */
function isClosed(item: TableItem, row: number, column: number): boolean {
  const { typed, name } = item.columns[column]!;
  if (row === FORMULAS_ROW) return typed;
  if (row >= item.rowCount) return column === 0 && !item.feet.has(name);
  return row >= 0 && !typed;
}

/** Rows that are measured for the places of ± and unit. */
const MEASURED = 300;

/**
 * Where some cells of a column have a ± or a unit and others have none, both get a place of fixed width, so that
 * the points still stand under each other.
 */
function widthsOf(item: TableItem, column: number): CSSProperties | undefined {
  let spread = 0;
  let unit = 0;
  let uneven = false;
  let first: readonly [number, number] | undefined;
  for (let row = 0; row < Math.min(item.rowCount, MEASURED); row++) {
    const shown = item.cell(row, column);
    if (shown.state !== "ok" || shown.value.type !== "quantity") continue;
    const now = [shown.spread?.length ?? 0, shown.unit.length] as const;
    first ??= now;
    uneven ||= now[0] !== first[0] || now[1] !== first[1];
    spread = Math.max(spread, now[0]);
    unit = Math.max(unit, now[1]);
  }
  if (!uneven) return undefined;
  return lengths({
    ...(spread === 0 ? {} : { "--pw": `${(spread + 2) * 0.58}em` }),
    ...(unit === 0 ? {} : { "--uw": `${unit * 0.6}em` }),
  });
}

/** Whether the heading already says the unit, so that the cells need not. */
function headsUnit(item: TableItem, column: TableColumn, index: number): boolean {
  if (!column.typed) return column.unit !== "";
  return item.tree.heading?.node.columns[index]?.unit !== undefined;
}
