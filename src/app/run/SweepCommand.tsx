import { useState } from "react";
import type { ValueItem } from "../../engine";
import { Fetched } from "../view/Fetched";
import { parcel } from "../view/parcel";

const sweepPanel = parcel("The sweep", () => import("./SweepPanel"));

/** The word beside a range to try that draws a result over the whole of it. */
export function SweepCommand({ id, item }: { id: string; item: ValueItem }) {
  const [open, setOpen] = useState(false);
  if (item.trial === undefined) return null;
  return (
    <div className="whole sweep-command">
      <button
        type="button"
        className="act"
        title="Draws a result over the whole range"
        onClick={() => setOpen(true)}
      >
        Sweep<span className="unseen"> {item.name}</span>
      </button>
      {open ? (
        <Fetched of={sweepPanel}>
          {({ default: SweepPanel }) => <SweepPanel id={id} onClose={() => setOpen(false)} />}
        </Fetched>
      ) : null}
    </div>
  );
}
