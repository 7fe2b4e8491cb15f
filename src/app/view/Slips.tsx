import { applyPatches, type Fix } from "../../../grammar";
import type { Message } from "../../engine";
import { Mark } from "./Mark";
import { Prose } from "./Prose";
import { useNotebook } from "./workbench";

interface Remark {
  readonly text: string;
  readonly caution?: boolean;
}

/** The cautions and remarks that travel with a value. */
export function Slips({ notes, className = "" }: { notes: readonly Remark[]; className?: string }) {
  if (notes.length === 0) return null;
  return (
    <div className={className}>
      {notes.map((note) => (
        <div className={note.caution ? "slip gap" : "slip"} role="note" key={note.text}>
          <Mark name={note.caution ? "care" : "unknown"} />
          <p>
            <Prose text={note.text} />
          </p>
        </div>
      ))}
    </div>
  );
}

/** A message with its place: names the place first, says what was met, and offers each fix as a button. */
export function MessageSlip({ message, where }: { message: Message; where?: string | undefined }) {
  return (
    <div className={message.severity === "fault" ? "slip fault" : "slip"} role="note">
      <Mark name={message.severity === "fault" ? "fault" : "unknown"} />
      <p>
        {where === undefined ? null : <strong>{where}: </strong>}
        <Prose text={message.says} /> <Prose text={message.help} />
      </p>
      {message.fixes === undefined || message.fixes.length === 0 ? null : (
        <span className="fixes">
          {message.fixes.map((fix, i) => (
            <FixButton key={fix.says} fix={fix} first={i === 0} />
          ))}
        </span>
      )}
    </div>
  );
}

/** A fix says on its button what it will write, and keeps those words in the undo stack. */
function FixButton({ fix, first }: { fix: Fix; first: boolean }) {
  const store = useNotebook();
  return (
    <button
      type="button"
      className={first ? "act framed" : "act"}
      onClick={() =>
        store.send({
          type: "edit",
          edit: {
            says: fix.says,
            text: applyPatches(
              store.get().book.text,
              fix.edits.map((e) => ({ from: e.span.from, to: e.span.to, insert: e.text })),
            ),
          },
        })
      }
    >
      {fix.says}
    </button>
  );
}
