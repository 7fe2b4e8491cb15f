import type { TableItem } from "../../engine";
import { footOffer, putFoot } from "../state/feet";
import type { Command } from "../state/keys";
import { chosenExtent } from "../state/notebook";
import { type CellPlace, FORMULAS_ROW } from "../state/place";
import { useStore } from "../state/store";
import { apply, perform } from "./commands";
import { useNotebook } from "./workbench";

export { CompareCommand } from "../run/TrialsCommand";

/** What can be done with the row or the column of the cell that is chosen. */
export function ChosenCommands({ id, item, here }: { id: string; item: TableItem; here: CellPlace }) {
  const store = useNotebook();
  const anchor = useStore(store, (s) => (s.here === here ? s.anchor : undefined));
  const extent = chosenExtent({ here, anchor })!;
  const act = (command: Command) => () => perform(store, command);
  const onRow = here.row >= 0 && here.row < item.rowCount;
  const rows = Math.min(extent.bottom, item.rowCount - 1) - Math.max(0, extent.top) + 1;
  const rowName = onRow ? item.rowName(here.row) || `row ${here.row + 1}` : "";
  const about = item.columns[here.column];
  const foot = onRow && here.column > 0 ? footOffer(item, here.column) : undefined;
  return (
    <>
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
      {here.row < 0 && about !== undefined ? (
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
    </>
  );
}
