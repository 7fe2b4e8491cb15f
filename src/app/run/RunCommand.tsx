import { useStore } from "../state/store";
import { useNotebook } from "../view/workbench";
import { useRunSession, useSession } from "./session";

/** The word that begins a run of the book's steps, or goes back to the one that is going on. */
export function RunCommand() {
  const session = useRunSession();
  const steps = useStore(useNotebook(), (s) => s.book.items.filter((item) => item.type === "step").length);
  const ready = useSession((s) => s.ready);
  const at = useSession((s) =>
    s.run !== undefined && s.run.finishedAt === undefined ? s.run.at : undefined,
  );
  if (steps === 0) return null;
  if (at === undefined)
    return (
      <button type="button" className="act" disabled={!ready} onClick={() => session.begin()}>
        Run
      </button>
    );
  return (
    <button type="button" className="act" onClick={() => session.show(true)}>
      Run, <span>{at > steps ? "the end" : `step ${at}`}</span>
    </button>
  );
}
