import type { Reckoned } from "./useReckoned";

interface WorkingProps {
  readonly is: Reckoned<unknown> | undefined;
  /** What is being done: "Comparing the two books". */
  readonly says: string;
  /** What is told, and what can be done, when it was stopped. */
  readonly stopped?: string;
  readonly again?: string;
  readonly onStop: () => void;
  readonly onAgain: () => void;
}

/** How far long work has come, with a way to stop it; what became of it when it was stopped or could not be done. */
export function Working({ is, says, stopped = "Stopped.", again = "Again", onStop, onAgain }: WorkingProps) {
  if (is === undefined || is.state === "done") return null;
  if (is.state === "working") {
    const part = is.progress === undefined ? undefined : is.progress.done / is.progress.of;
    return (
      <div className="working">
        <p role="status">{says}</p>
        <progress className="gauge" aria-label={says} value={part} max={1} />
        <button type="button" className="act framed" onClick={onStop}>
          Stop
        </button>
      </div>
    );
  }
  return (
    <div className="working">
      <p role="status">{is.state === "stopped" ? stopped : is.says}</p>
      <button type="button" className="act framed" onClick={onAgain}>
        {again}
      </button>
    </div>
  );
}
