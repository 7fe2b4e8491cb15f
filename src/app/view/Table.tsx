import { memo, type MouseEvent, type PointerEvent, useMemo, useRef } from "react";
import type { TableColumn, TableItem } from "../../engine";
import { elementId } from "../state/items";
import type { Lit } from "../state/lit";
import { chosenExtent, type Notebook } from "../state/notebook";
import { cellPlace, type Extent, FORMULAS_ROW, holds, NAMES_ROW } from "../state/place";
import { useStore } from "../state/store";
import { Amount, spoken } from "./Amount";
import { copied, pasted } from "./clipboard";
import { HeadingRows } from "./Heading";
import { Mark, wordOf } from "./Mark";
import { FieldText, Headline } from "./Headline";
import { TableCommands } from "./TableCommands";
import { useWindow } from "./useWindow";
import { openPlace, WritingPlace } from "./WritingPlace";
import { useNotebook } from "./workbench";

/** Rows above which only those near the view are drawn. */
const LONG = 300;

interface TableState {
  readonly row: number | undefined;
  readonly column: number;
  readonly extent: Extent | undefined;
}

const standing = (key: string) => (s: Notebook): TableState =>
  s.here?.in === "cell" && s.here.key === key
    ? { row: s.here.row, column: s.here.column, extent: s.anchor === undefined ? undefined : chosenExtent(s) }
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
  const here = useStore(store, useMemo(() => standing(id), [id]), sameState);
  const hold = useRef<HTMLDivElement>(null);
  const long = item.rowCount > LONG;
  const active = here.row ?? (item.rowCount > 0 ? 0 : NAMES_ROW);
  const shown = useWindow(hold, item.rowCount, long, active >= 0 && active < item.rowCount ? active : undefined);
  const bare = useMemo(() => item.columns.map((column, c) => headsUnit(item, column, c)), [item]);
  const headId = `${elementId(id)}-head`;
  const lastRow = item.rowCount + (item.feet.size > 0 ? 1 : 0);

  const onPointerDown = (event: PointerEvent) => {
    const at = cellOf(event.target);
    if (at === undefined || event.button !== 0) return;
    const state = store.get();
    wasHere.current =
      state.here?.in === "cell" && state.here.key === id && state.here.row === at.row && state.here.column === at.column;
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
    if (wasHere.current) openPlace(store);
    else if (store.get().here === undefined || !isHere(store.get(), id, at))
      store.send({ type: "go", place: cellPlace(id, at.row, at.column) });
  };

  return (
    <section className="part line" id={elementId(id)} aria-labelledby={headId}>
      <span className="in-margin" />
      <div>
        <Headline id={headId} place={{ in: "item", key: id, field: "title" }} label={`title of ${item.name}`} title={item.title || item.name}>
          <FieldText place={{ in: "item", key: id, field: "name" }} label={`name of the table, ${item.name}`} className="name-of">
            <code>{item.name}</code>
          </FieldText>
        </Headline>
        <div className={long ? "hold long" : "hold"} ref={hold} data-grid={id}>
          <table
            className="grid"
            role="grid"
            aria-labelledby={headId}
            aria-rowcount={item.rowCount + 2 + (item.feet.size > 0 ? 1 : 0)}
            aria-colcount={item.columns.length}
            aria-multiselectable="true"
            onPointerDown={onPointerDown}
            onPointerOver={onPointerOver}
            onClick={onClick}
          >
            <HeadingRows id={id} item={item} bare={bare} row={here.row} column={here.column} extent={here.extent} active={active} lit={lit} />
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
                    extent={
                      here.extent !== undefined && piece.row >= here.extent.top && piece.row <= here.extent.bottom
                        ? here.extent
                        : undefined
                    }
                    lit={lit?.table === id ? lit : undefined}
                  />
                ),
              )}
            </tbody>
            {item.feet.size === 0 ? null : (
              <FootRow id={id} item={item} row={lastRow - 1} bare={bare} active={active >= item.rowCount ? here.column : -1} />
            )}
          </table>
        </div>
        <TableMessages item={item} />
        <TableCommands id={id} item={item} />
      </div>
    </section>
  );
}

const isHere = (state: Notebook, key: string, at: { row: number; column: number }): boolean =>
  state.here?.in === "cell" && state.here.key === key && state.here.row === at.row && state.here.column === at.column;

/** The cell an event happened in. */
function cellOf(target: EventTarget): { row: number; column: number } | undefined {
  const cell = target instanceof Element ? target.closest<HTMLElement>("[data-cell]") : null;
  const [row, column] = (cell?.dataset.cell ?? "").split(",").map(Number);
  return row === undefined || column === undefined || Number.isNaN(column) ? undefined : { row, column };
}

/** Whether the heading already says the unit, so that the cells need not. */
function headsUnit(item: TableItem, column: TableColumn, index: number): boolean {
  if (!column.typed) return column.unit !== "";
  return item.tree.heading?.node.columns[index]?.unit !== undefined;
}

interface RowProps {
  readonly id: string;
  readonly item: TableItem;
  readonly row: number;
  readonly bare: readonly boolean[];
  /** Column of the one cell that the keyboard reaches, or -1. */
  readonly active: number;
  readonly extent?: Extent | undefined;
  readonly lit?: Lit | undefined;
}

const Row = memo(function Row({ id, item, row, bare, active, extent, lit }: RowProps) {
  return (
    <tr aria-rowindex={row + 3}>
      {item.columns.map((column, c) => (
        <Cell
          key={column.name}
          id={id}
          item={item}
          row={row}
          column={c}
          bare={bare[c]!}
          active={active === c}
          chosen={extent !== undefined && holds(extent, row, c)}
          lit={litness(lit, row, c)}
        />
      ))}
    </tr>
  );
});

/** How strongly a cell is lit: its column, its row, or the very cell that a name means. */
function litness(lit: Lit | undefined, row: number, column: number): string {
  if (lit === undefined) return "";
  const inColumn = lit.column === column;
  const inRow = lit.row === row;
  if (lit.column !== undefined && lit.row !== undefined) return inColumn && inRow ? " lit lit-exact" : inRow && column === 0 ? " lit" : "";
  return (lit.column !== undefined && inColumn) || (lit.row !== undefined && inRow) ? " lit" : "";
}

interface CellProps {
  readonly id: string;
  readonly item: TableItem;
  readonly row: number;
  readonly column: number;
  readonly bare: boolean;
  readonly active: boolean;
  readonly chosen: boolean;
  readonly lit: string;
}

function Cell({ id, item, row, column, bare, active, chosen, lit }: CellProps) {
  const store = useNotebook();
  const about = item.columns[column]!;
  const shown = item.cell(row, column);
  const rowName = item.rowName(row) || `row ${row + 1}`;
  const ownFault = shown.state === "fault" && about.typed;
  const classes = [
    about.typed ? "typed" : "",
    shown.state === "ok" ? "" : `is-${shown.state}`,
    ownFault ? "suspect" : "",
    about.holds === "text" && column > 0 ? "as-text" : "",
    active ? "active" : "",
    chosen ? "chosen" : "",
  ]
    .filter((c) => c !== "")
    .join(" ");
  const label =
    column === 0
      ? `${about.name}, ${item.rowName(row) || "no name"}`
      : `${rowName}, ${about.name}, ${spoken(shown)}, ${about.typed && shown.state === "ok" ? "typed" : wordOf(shown)}`;
  const content =
    column === 0 && shown.state === "gap" ? <span className="u">no name</span> : <Amount shown={shown} bare={bare} lively />;
  const place = cellPlace(id, row, column);
  const body = active ? (
    <WritingPlace
      place={place}
      label={label}
      readOnly={!about.typed}
      fromRight={column > 0}
      onCopy={(event) => copied(event, store, item)}
      onPaste={(event) => pasted(event, store, place)}
    >
      {content}
    </WritingPlace>
  ) : (
    content
  );
  const common = {
    className: classes + lit,
    "aria-colindex": column + 1,
    "aria-selected": active || chosen,
    "aria-readonly": about.typed ? undefined : true,
    "aria-invalid": ownFault || undefined,
    "data-cell": `${row},${column}`,
  };
  return column === 0 ? (
    <th scope="row" role="rowheader" {...common}>
      {body}
    </th>
  ) : (
    <td {...common}>{body}</td>
  );
}

function FootRow({ id, item, row, bare, active }: Omit<RowProps, "extent" | "lit">) {
  return (
    <tfoot>
      <tr aria-rowindex={row + 3}>
        {item.columns.map((column, c) => {
          const foot = item.feet.get(column.name);
          const place = cellPlace(id, row, c);
          const label = foot
            ? `foot, ${column.name}, ${spoken(foot.shown)}, ${foot.formula}`
            : c === 0
              ? "foot"
              : `foot, ${column.name}, empty`;
          const content = foot ? (
            <>
              <Amount shown={foot.shown} bare={bare[c]! && foot.shown.unit === column.unit} lively />
              <code className="how">
                <Mark name="computed" />
                {foot.formula}
              </code>
            </>
          ) : c === 0 ? (
            <span className="u">foot</span>
          ) : null;
          const common = {
            className: active === c ? "active" : undefined,
            "aria-colindex": c + 1,
            "aria-selected": active === c,
            "data-cell": `${row},${c}`,
          };
          const body =
            active === c ? (
              <WritingPlace place={place} label={label} fromRight={c > 0} readOnly={c === 0 && foot === undefined}>
                {content}
              </WritingPlace>
            ) : (
              content
            );
          return c === 0 ? (
            <th key={column.name} scope="row" role="rowheader" {...common}>
              {body}
            </th>
          ) : (
            <td key={column.name} {...common}>
              {body}
            </td>
          );
        })}
      </tr>
    </tfoot>
  );
}

/** Faults of a whole column hang below the table. */
function TableMessages({ item }: { item: TableItem }) {
  const broken = item.columns.filter((c) => c.fault !== undefined);
  if (broken.length === 0) return null;
  return (
    <>
      {broken.map((column) => (
        <div className="slip fault" role="note" key={column.name}>
          <Mark name="fault" />
          <p>
            <strong>{column.name}:</strong> {column.fault}
          </p>
        </div>
      ))}
    </>
  );
}

export { FORMULAS_ROW };
