import { writeName, writePart } from "../../../grammar";
import type { TableItem } from "../../engine";
import type { Lit } from "../state/lit";
import { type Extent, FORMULAS_ROW, holds, NAMES_ROW } from "../state/place";
import { GridCell } from "./GridCell";
import { Mark } from "./Mark";
import { Seen } from "./Seen";

interface HeadingRowsProps {
  readonly id: string;
  readonly item: TableItem;
  readonly bare: readonly boolean[];
  readonly row: number | undefined;
  readonly column: number;
  readonly extent: Extent | undefined;
  /** Row of the one cell that the keyboard reaches. */
  readonly active: number;
  readonly lit: Lit | undefined;
}

/** Two rows of headings: the names with their units, and under each how its cells come about. */
export function HeadingRows({
  id,
  item,
  bare,
  row: standing,
  column,
  extent,
  active,
  lit,
}: HeadingRowsProps) {
  const cellClass = (c: number): string =>
    [
      lit?.table === id && lit.column === c && lit.row === undefined ? "lit" : "",
      item.columns[c]!.holds === "text" && c > 0 ? "as-text" : "",
    ]
      .filter((x) => x !== "")
      .join(" ");
  const common = (row: number, c: number) => ({
    id,
    row,
    column: c,
    active: active === row && column === c,
    current: standing !== undefined,
    chosen: extent !== undefined && holds(extent, row, c),
    className: cellClass(c),
  });
  return (
    <thead>
      <tr aria-rowindex={1}>
        {item.columns.map((about, c) => {
          const unit = bare[c] ? about.unit : "";
          const content = (
            <>
              <span className="label">{about.name || "no name"}</span>
              {unit === "" ? null : <span className="u"> {unit}</span>}
            </>
          );
          return (
            <GridCell
              key={c}
              {...common(NAMES_ROW, c)}
              heads="col"
              label={`heading ${about.name}${unit === "" ? "" : `, in ${unit}`}`}
              title={about.statement?.comment}
            >
              {content}
            </GridCell>
          );
        })}
      </tr>
      <tr aria-rowindex={2}>
        {item.columns.map((about, c) => {
          const content = about.typed ? (
            c === 0 ? null : (
              <span className="by-hand">
                <Mark name="typed" /> typed
              </span>
            )
          ) : (
            <>
              <How formula={about.formula ?? ""} />
              <Seen path={`${writeName(item.name)}.${writePart(about.name)}`} />
            </>
          );
          const label = about.typed
            ? `${about.name}: typed`
            : `${about.name}, formula: ${about.formula ?? ""}`;
          return (
            <GridCell key={c} {...common(FORMULAS_ROW, c)} label={label} readOnly={about.typed}>
              {content}
            </GridCell>
          );
        })}
      </tr>
    </thead>
  );
}

/**
 * The formula of a column or a foot. A long one has room to wrap, and may also break behind an opening bracket and a
 * comma, where a reader would break it.
 */
export const How = ({ formula }: { formula: string }) => (
  <code className={formula.length > 20 ? "how long" : "how"}>
    <Mark name="computed" />
    {formula.split(/(?<=[(,])/).map((piece, i) => (
      <span key={i}>
        {piece}
        <wbr />
      </span>
    ))}
  </code>
);
