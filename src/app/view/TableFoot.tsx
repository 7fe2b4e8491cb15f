import type { CSSProperties } from "react";
import type { TableItem } from "../../engine";
import { cellPlace } from "../state/place";
import { Amount, spoken } from "./Amount";
import { Mark } from "./Mark";
import { Seen } from "./Seen";
import type { RowProps } from "./TableRow";
import { WritingPlace } from "./WritingPlace";

/** The row under a table: a value under each column that has one, its formula below it. */
export function FootRow({ id, item, row, bare, active, current, widths }: Omit<RowProps, "extent" | "lit">) {
  return (
    <tfoot>
      <tr aria-rowindex={row + 3}>
        {item.columns.map((_, c) => (
          <FootCell
            key={c}
            id={id}
            item={item}
            row={row}
            column={c}
            bare={bare[c]!}
            active={active === c}
            current={current}
            width={widths[c]}
          />
        ))}
      </tr>
    </tfoot>
  );
}

interface FootCellProps {
  readonly id: string;
  readonly item: TableItem;
  readonly row: number;
  readonly column: number;
  readonly bare: boolean;
  readonly active: boolean;
  readonly current: boolean;
  readonly width: CSSProperties | undefined;
}

function FootCell({ id, item, row, column: c, bare, active, current, width }: FootCellProps) {
  const column = item.columns[c]!;
  const foot = item.feet.get(column.name);
  const content =
    foot !== undefined ? (
      <>
        <Amount shown={foot.shown} bare={bare && foot.shown.unit === column.unit} lively />
        <code className="how">
          <Mark name="computed" />
          {foot.formula}
        </code>
        <Seen path={foot.shown.path} />
      </>
    ) : c === 0 ? (
      <span className="u">foot</span>
    ) : null;
  const label =
    foot !== undefined
      ? `foot, ${column.name}, ${spoken(foot.shown)}, ${foot.formula}`
      : c === 0
        ? "foot"
        : `foot, ${column.name}, empty`;
  const matter = active ? (
    <WritingPlace
      place={cellPlace(id, row, c)}
      label={label}
      fromRight={c > 0}
      readOnly={c === 0 && foot === undefined}
    >
      {content}
    </WritingPlace>
  ) : (
    content
  );
  const common = {
    className: active && current ? "active" : undefined,
    style: width,
    "aria-colindex": c + 1,
    "aria-selected": active && current,
    "data-cell": `${row},${c}`,
  };
  return c === 0 ? (
    <th scope="row" role="rowheader" {...common}>
      {matter}
    </th>
  ) : (
    <td {...common}>{matter}</td>
  );
}
