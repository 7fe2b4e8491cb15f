import type { CSSProperties, ReactNode } from "react";
import { cellId } from "../state/items";

interface GridCellProps {
  /** Key of the table. */
  readonly id: string;
  readonly row: number;
  readonly column: number;
  /** A heading of its row or column; a cell of the table otherwise. */
  readonly heads?: "row" | "col";
  /** Read aloud: what it is and what stands there. */
  readonly label: string;
  /** It is the one cell of the table that the keyboard reaches. */
  readonly active: boolean;
  /** The writer stands in this table. */
  readonly current: boolean;
  readonly chosen?: boolean;
  /** Nothing can be typed here: it is worked out, and written elsewhere. */
  readonly readOnly?: boolean;
  readonly invalid?: boolean;
  readonly className?: string;
  readonly title?: string | undefined;
  readonly width?: CSSProperties | undefined;
  readonly children: ReactNode;
}

/** One cell of a table, whatever it holds: where it stands and, in the one that is active, its name for those who hear it. */
export function GridCell(props: GridCellProps) {
  const { id, row, column, heads, label, active, current, chosen = false, className = "" } = props;
  const { readOnly = false, invalid = false, children } = props;
  const common = {
    id: cellId(id, row, column),
    className:
      `${className}${active && current ? " active" : ""}${chosen ? " chosen" : ""}`.trim() || undefined,
    style: props.width,
    title: props.title,
    "aria-selected": (active && current) || chosen,
    "aria-readonly": readOnly || undefined,
    "aria-invalid": invalid || undefined,
    "data-cell": `${row},${column}`,
  };
  // Heard as one: its name says what stands in it, and where.
  const shown = (
    <span role={active ? "img" : undefined} aria-label={active ? label : undefined}>
      {children}
    </span>
  );
  if (heads === undefined) return <td {...common}>{shown}</td>;
  return (
    <th scope={heads} role={heads === "row" ? "rowheader" : undefined} {...common}>
      {shown}
    </th>
  );
}
