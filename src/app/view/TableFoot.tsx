import type { CSSProperties } from "react";
import { Amount, spoken } from "./Amount";
import { GridCell } from "./GridCell";
import { How } from "./Heading";
import { Seen } from "./Seen";
import type { RowProps } from "./TableRow";

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

type FootCellProps = Pick<RowProps, "id" | "item" | "row" | "current"> & {
  readonly column: number;
  readonly bare: boolean;
  readonly active: boolean;
  readonly width: CSSProperties | undefined;
};

function FootCell({ id, item, row, column: c, bare, active, current, width }: FootCellProps) {
  const column = item.columns[c]!;
  const foot = item.feet.get(column.name);
  const content =
    foot !== undefined ? (
      <>
        <Amount shown={foot.shown} bare={bare && foot.shown.unit === column.unit} lively />
        <How formula={foot.formula} />
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
  return (
    <GridCell
      id={id}
      row={row}
      column={c}
      {...(c === 0 && { heads: "row" })}
      label={label}
      active={active}
      current={current}
      readOnly={c === 0 && foot === undefined}
      width={width}
    >
      {content}
    </GridCell>
  );
}
