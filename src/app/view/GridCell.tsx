import type { ClipboardEvent, CSSProperties, ReactNode } from "react";
import { cellPlace } from "../state/place";
import { WritingPlace } from "./WritingPlace";

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
  readonly onCopy?: (event: ClipboardEvent<HTMLTextAreaElement>) => void;
  readonly onPaste?: (event: ClipboardEvent<HTMLTextAreaElement>) => void;
  readonly children: ReactNode;
}

/** One cell of a table, whatever it holds: where it stands for those who hear it, and the field in the one that is active. */
export function GridCell(props: GridCellProps) {
  const { id, row, column, heads, label, active, current, chosen = false, className = "" } = props;
  const { readOnly = false, invalid = false, onCopy, onPaste, children } = props;
  const matter = active ? (
    <WritingPlace
      place={cellPlace(id, row, column)}
      label={label}
      readOnly={readOnly}
      fromRight={column > 0}
      {...(onCopy && { onCopy })}
      {...(onPaste && { onPaste })}
    >
      {children}
    </WritingPlace>
  ) : (
    children
  );
  const common = {
    className:
      `${className}${active && current ? " active" : ""}${chosen ? " chosen" : ""}`.trim() || undefined,
    style: props.width,
    title: props.title,
    "aria-colindex": column + 1,
    "aria-selected": (active && current) || chosen,
    "aria-readonly": readOnly || undefined,
    "aria-invalid": invalid || undefined,
    "data-cell": `${row},${column}`,
  };
  if (heads === undefined) return <td {...common}>{matter}</td>;
  return (
    <th scope={heads} role={heads === "row" ? "rowheader" : undefined} {...common}>
      {matter}
    </th>
  );
}
