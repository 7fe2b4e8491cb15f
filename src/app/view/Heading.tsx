import { writeName, writePart } from "../../../grammar";
import type { TableItem } from "../../engine";
import type { Lit } from "../state/lit";
import { cellPlace, type Extent, FORMULAS_ROW, holds, NAMES_ROW } from "../state/place";
import { Mark } from "./Mark";
import { Seen } from "./Seen";
import { WritingPlace } from "./WritingPlace";

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
  const cellClass = (row: number, c: number): string =>
    [
      standing !== undefined && active === row && column === c ? "active" : "",
      extent !== undefined && holds(extent, row, c) ? "chosen" : "",
      lit?.table === id && lit.column === c && lit.row === undefined ? "lit" : "",
      item.columns[c]!.holds === "text" && c > 0 ? "as-text" : "",
    ]
      .filter((x) => x !== "")
      .join(" ");
  return (
    <thead>
      <tr aria-rowindex={1}>
        {item.columns.map((about, c) => {
          const isActive = active === NAMES_ROW && column === c;
          const unit = bare[c] ? about.unit : "";
          const content = (
            <>
              <span className="label">{about.name || "no name"}</span>
              {unit === "" ? null : <span className="u"> {unit}</span>}
            </>
          );
          return (
            <th
              key={c}
              scope="col"
              className={cellClass(NAMES_ROW, c)}
              aria-colindex={c + 1}
              aria-selected={isActive}
              data-cell={`${NAMES_ROW},${c}`}
              title={about.statement?.comment}
            >
              {isActive ? (
                <WritingPlace
                  place={cellPlace(id, NAMES_ROW, c)}
                  label={`heading ${about.name}${unit === "" ? "" : `, in ${unit}`}`}
                  fromRight={c > 0}
                >
                  {content}
                </WritingPlace>
              ) : (
                content
              )}
            </th>
          );
        })}
      </tr>
      <tr aria-rowindex={2}>
        {item.columns.map((about, c) => {
          const isActive = active === FORMULAS_ROW && column === c;
          const content = about.typed ? (
            c === 0 ? null : (
              <span className="by-hand">
                <Mark name="typed" /> typed
              </span>
            )
          ) : (
            <>
              <code className={(about.formula ?? "").length > 20 ? "how long" : "how"}>
                <Mark name="computed" />
                {breakable(about.formula ?? "")}
              </code>
              <Seen path={`${writeName(item.name)}.${writePart(about.name)}`} />
            </>
          );
          const label = about.typed
            ? `${about.name}: typed`
            : `${about.name}, formula: ${about.formula ?? ""}`;
          return (
            <td
              key={c}
              className={cellClass(FORMULAS_ROW, c)}
              aria-colindex={c + 1}
              aria-selected={isActive}
              aria-readonly={about.typed || undefined}
              data-cell={`${FORMULAS_ROW},${c}`}
            >
              {isActive ? (
                <WritingPlace
                  place={cellPlace(id, FORMULAS_ROW, c)}
                  label={label}
                  readOnly={about.typed}
                  fromRight={c > 0}
                >
                  {content ?? <span className="unseen">{label}</span>}
                </WritingPlace>
              ) : (
                content
              )}
            </td>
          );
        })}
      </tr>
    </thead>
  );
}

/** A formula that may break behind an opening bracket and a comma, where a reader would break it. */
export function breakable(formula: string) {
  return formula.split(/(?<=[(,])/).map((piece, i) => (
    <span key={i}>
      {piece}
      <wbr />
    </span>
  ));
}
