import type { TableItem } from "../../engine";
import { CompareCommand } from "../run/TrialsCommand";
import { footOffer, putFoot } from "../state/feet";
import type { Command } from "../state/keys";
import { chosenExtent } from "../state/notebook";
import { FORMULAS_ROW } from "../state/place";
import { addColumn, addRow } from "../state/rows";
import { useStore } from "../state/store";
import { apply, perform } from "./commands";
import { useNotebook } from "./workbench";

/** What can be done with a table, in words below it: adding always, the rest for what is chosen. */
export function TableCommands({ id, item }: { id: string; item: TableItem }) {
  const store = useNotebook();
  const here = useStore(store, (s) => (s.here?.in === "cell" && s.here.key === id ? s.here : undefined));
  const anchor = useStore(store, (s) => (s.here?.in === "cell" && s.here.key === id ? s.anchor : undefined));
  const extent = here === undefined ? undefined : chosenExtent({ here, anchor });
  const typed = item.columns.filter((c) => c.typed).length;
  const act = (command: Command) => () => perform(store, command);
  const onRow = here !== undefined && here.row >= 0 && here.row < item.rowCount;
  const onHeading = here !== undefined && here.row < 0;
  const rows =
    extent === undefined ? 0 : Math.min(extent.bottom, item.rowCount - 1) - Math.max(0, extent.top) + 1;
  const rowName = onRow ? item.rowName(here.row) || `row ${here.row + 1}` : "";
  const about = here === undefined ? undefined : item.columns[here.column];
  const foot = onRow && here.column > 0 ? footOffer(item, here.column) : undefined;
  return (
    <div className="below">
      <button
        type="button"
        className="act"
        onClick={() => apply(store, addRow(store.get().book, id, onRow ? here.row : item.rowCount - 1))}
      >
        Add a row
        {here === undefined ? null : (
          <small className="key" aria-hidden="true">
            Ctrl Enter
          </small>
        )}
      </button>
      <button
        type="button"
        className="act"
        onClick={() =>
          apply(
            store,
            addColumn(
              store.get().book,
              id,
              "typed",
              here === undefined ? undefined : Math.min(here.column, typed - 1),
            ),
          )
        }
      >
        Add a column
      </button>
      <button
        type="button"
        className="act"
        onClick={() => apply(store, addColumn(store.get().book, id, "computed"))}
      >
        Add a computed column
      </button>
      <CompareCommand id={id} item={item} />
      {onRow ? (
        <>
          <span className="about">{rows > 1 ? `${rows} rows` : rowName}</span>
          {rows > 1 ? null : (
            <>
              <button
                type="button"
                className="act"
                disabled={here.row === 0}
                onClick={act({ do: "shift", way: "up" })}
              >
                Move up
              </button>
              <button
                type="button"
                className="act"
                disabled={here.row === item.rowCount - 1}
                onClick={act({ do: "shift", way: "down" })}
              >
                Move down
              </button>
            </>
          )}
          {foot === undefined ? null : (
            <button
              type="button"
              className="act"
              onClick={() => apply(store, putFoot(store.get().book, id, here.column))}
            >
              Add the {foot.says}
            </button>
          )}
          {about?.typed && here.column > 0 ? (
            <button type="button" className="act" onClick={act({ do: "fill-down" })}>
              Fill down
            </button>
          ) : null}
          <button type="button" className="act" onClick={act({ do: "remove-row" })}>
            {rows > 1 ? `Remove ${rows} rows` : "Remove the row"}
          </button>
        </>
      ) : null}
      {onHeading && about !== undefined ? (
        <>
          <span className="about">
            {about.name}
            {about.statement?.comment === undefined ? null : (
              <span className="u"> {about.statement.comment}</span>
            )}
          </span>
          <button
            type="button"
            className="act"
            disabled={
              here.column === 0 ||
              item.columns[here.column - 1]?.typed !== about.typed ||
              (about.typed && here.column === 1)
            }
            onClick={act({ do: "shift", way: "left" })}
          >
            Move left
          </button>
          <button
            type="button"
            className="act"
            disabled={here.column === 0 || item.columns[here.column + 1]?.typed !== about.typed}
            onClick={act({ do: "shift", way: "right" })}
          >
            Move right
          </button>
          {here.row === FORMULAS_ROW ? null : (
            <button type="button" className="act" onClick={act({ do: "open" })}>
              Rename
            </button>
          )}
          <button
            type="button"
            className="act"
            disabled={here.column === 0}
            onClick={act({ do: "remove-row" })}
          >
            Remove the column
          </button>
        </>
      ) : null}
    </div>
  );
}
