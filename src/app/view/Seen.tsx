import { useStore } from "../state/store";
import { tickAt } from "../state/ticks";
import { Mark } from "./Mark";
import { useNotebook } from "./workbench";

/** The review tick on a formula: that it was read and still is what was read, or has changed since. */
export function Seen({ path }: { path: string }) {
  const tick = useStore(useNotebook(), (s) => tickAt(s.book, path));
  if (tick === undefined) return null;
  const holds = tick.state === "holds";
  const says = holds ? "checked" : "was checked, has changed since";
  const note = tick.text === undefined || tick.text === "" ? says : `${says}: ${tick.text}`;
  return (
    <span className="seen" title={note}>
      <Mark name={holds ? "seen" : "stale"} says={note} />
      {holds ? null : <span aria-hidden="true">changed since</span>}
    </span>
  );
}
