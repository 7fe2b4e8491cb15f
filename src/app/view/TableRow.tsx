import { type CSSProperties, memo } from "react";
import type { TableItem } from "../../engine";
import { wordsOf } from "../state/cell-slots";
import type { Lit } from "../state/lit";
import { type Extent, holds } from "../state/place";
import { Amount, AsTyped, spoken } from "./Amount";
import { GridCell } from "./GridCell";
import { wordOf } from "./Mark";
import { Seen } from "./Seen";

export interface RowProps {
  readonly id: string;
  readonly item: TableItem;
  readonly row: number;
  readonly bare: readonly boolean[];
  /** Column of the one cell that the keyboard reaches, or -1. */
  readonly active: number;
  /** The writer stands in this table. */
  readonly current: boolean;
  readonly widths: readonly (CSSProperties | undefined)[];
  readonly extent?: Extent | undefined;
  readonly lit?: Lit | undefined;
}

/** A row of a table. It is drawn again only when something in it has changed. */
export const Row = memo(function Row({
  id,
  item,
  row,
  bare,
  active,
  current,
  widths,
  extent,
  lit,
}: RowProps) {
  return (
    <tr aria-rowindex={row + 3}>
      {item.columns.map((_, c) => (
        <Cell
          key={c}
          id={id}
          item={item}
          row={row}
          column={c}
          bare={bare[c]!}
          active={active === c}
          current={current}
          width={widths[c]}
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
  if (lit.column !== undefined && lit.row !== undefined)
    return inColumn && inRow ? " lit lit-exact" : inRow && column === 0 ? " lit" : "";
  return (lit.column !== undefined && inColumn) || (lit.row !== undefined && inRow) ? " lit" : "";
}

/** Litres are the same with a small l. */
const inCapital = (unit: string): string => unit.replace(/l$/, "L");

interface CellProps {
  readonly id: string;
  readonly item: TableItem;
  readonly row: number;
  readonly column: number;
  readonly bare: boolean;
  readonly active: boolean;
  readonly current: boolean;
  readonly width: CSSProperties | undefined;
  readonly chosen: boolean;
  readonly lit: string;
}

function Cell({ id, item, row, column, bare, active, current, width, chosen, lit }: CellProps) {
  const about = item.columns[column]!;
  const shown = item.cell(row, column);
  const rowName = item.rowName(row) || `row ${row + 1}`;
  const ownFault = shown.state === "fault" && about.typed;
  const nameless = column === 0 && shown.state !== "fault" && shown.text === "";
  const blankText = nameless || (about.holds === "text" && about.typed && shown.state === "gap");
  const classes = [
    about.typed ? "typed" : "",
    shown.state === "ok" || blankText || ownFault ? "" : `is-${shown.state}`,
    ownFault ? "suspect" : "",
    about.holds === "text" && column > 0 ? "as-text" : "",
  ]
    .filter((c) => c !== "")
    .join(" ");
  const label =
    column === 0
      ? `${about.name}, ${item.rowName(row) || "no name"}`
      : [
          rowName,
          about.name,
          spoken(shown),
          ...(shown.state === "fault" ? [] : [about.typed && shown.state === "ok" ? "typed" : wordOf(shown)]),
        ].join(", ");
  const content = blankText ? (
    // A remark that was not written is no gap to be filled.
    <span className="u">{column === 0 ? "no name" : ""}</span>
  ) : ownFault ? (
    <AsTyped raw={wordsOf(item, row, column).raw} />
  ) : (
    <>
      {about.typed && shown.origin !== "typed" ? <Seen path={shown.path} /> : null}
      <Amount
        shown={shown}
        bare={bare && inCapital(shown.unit) === inCapital(about.unit)}
        spreadPlace={width !== undefined}
        lively
      />
    </>
  );
  return (
    <GridCell
      id={id}
      row={row}
      column={column}
      {...(column === 0 && { heads: "row" })}
      label={label}
      active={active}
      current={current}
      chosen={chosen}
      readOnly={!about.typed}
      invalid={ownFault}
      className={classes + lit}
      width={width}
    >
      {content}
    </GridCell>
  );
}
