import { useState } from "react";
import type { TableItem } from "../../engine";
import { useStore } from "../state/store";
import { Fetched } from "../view/Fetched";
import { parcel } from "../view/parcel";
import { useNotebook } from "../view/workbench";
import { gathersRuns, judgedColumns } from "./gathering";

const trialsPanel = parcel("The comparison of runs", () => import("./TrialsPanel"));

/** The word under a table of runs that opens their comparison. */
export function CompareCommand({ id, item }: { id: string; item: TableItem }) {
  const book = useStore(useNotebook(), (s) => s.book);
  const [open, setOpen] = useState(false);
  if (item.rowCount < 2 || !gathersRuns(book, item) || judgedColumns(item).length === 0) return null;
  return (
    <>
      <button type="button" className="act" onClick={() => setOpen(true)}>
        Compare runs
      </button>
      {open ? (
        <Fetched of={trialsPanel}>
          {({ default: TrialsPanel }) => <TrialsPanel id={id} onClose={() => setOpen(false)} />}
        </Fetched>
      ) : null}
    </>
  );
}
