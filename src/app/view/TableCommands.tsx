import type { TableItem } from "../../engine";
import { addColumn, addRow } from "../state/item-edits";
import { useStore } from "../state/store";
import { apply } from "./commands";
import { Fetched } from "./Fetched";
import { parcel, useDelivery } from "./parcel";
import { useNotebook } from "./workbench";

/** What a cell that is chosen adds to the commands of its table, and what one adds whose rows are runs. */
export const chosenCommands = parcel("What is done with rows and columns", () => import("./ChosenCommands"));

/** What can be done with a table, in words below it: adding always, the rest for what is chosen. */
export function TableCommands({ id, item }: { id: string; item: TableItem }) {
  const store = useNotebook();
  const more = useDelivery(chosenCommands);
  const here = useStore(store, (s) => (s.here?.in === "cell" && s.here.key === id ? s.here : undefined));
  const typed = item.columns.filter((c) => c.typed).length;
  const onRow = here !== undefined && here.row >= 0 && here.row < item.rowCount;
  return (
    <div className="below">
      <div>
        <button
          type="button"
          className="act"
          onClick={() => apply(store, addRow(store.get().book, id, onRow ? here.row : item.rowCount - 1))}
        >
          Add a row
          <small className={here === undefined ? "key away" : "key"} aria-hidden="true">
            Ctrl Enter
          </small>
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
        {more.is === "here" ? <more.held.CompareCommand id={id} item={item} /> : null}
      </div>
      {/* Its line is there before anything is chosen, so that the page stands still. */}
      <div className="for-chosen">
        {here === undefined ? null : (
          <Fetched of={chosenCommands}>
            {({ ChosenCommands }) => <ChosenCommands id={id} item={item} here={here} />}
          </Fetched>
        )}
      </div>
    </div>
  );
}
