import { useEffect, useId, useMemo, useState } from "react";
import type { Book } from "../../engine";
import { type Choice, type MergeConflict, settleConflicts } from "../../exchange/merge";
import { type Base, basesOf, noteBase } from "../state/bases";
import { useStore } from "../state/store";
import { Mark } from "../view/Mark";
import { Prose, sentence } from "../view/Prose";
import { wordsOf } from "../view/words";
import { useNotebook } from "../view/workbench";
import { likelyBase, mergeFrom } from "./beginnings";
import type { Other } from "./ChooseOther";

const how = { opened: "opened", sent: "sent", merged: "brought together" } as const;
const timeOf = (at: number): string =>
  new Date(at).toLocaleString("en-GB", { dateStyle: "medium", timeStyle: "short" });

interface MergeProps {
  readonly book: Book;
  readonly other: Other;
  readonly onDone: () => void;
}

/** Brings the two together: what only one changed is taken, and what both changed is chosen here, one by one. */
export function Merge({ book, other, onDone }: MergeProps) {
  const store = useNotebook();
  const id = useStore(store, (s) => s.id);
  const [bases, setBases] = useState<readonly Base[]>();
  const [picked, setPicked] = useState<string>();
  const [trouble, setTrouble] = useState("");
  useEffect(() => {
    basesOf(indexedDB, id).then(setBases, (error: unknown) => {
      setBases([]);
      setTrouble(`The earlier texts of this book cannot be read: ${wordsOf(error)}`);
    });
  }, [id]);
  const likely = useMemo(() => likelyBase(bases ?? [], other.text), [bases, other.text]);
  const chosen = picked ?? (likely === undefined ? "none" : String(likely.at));
  const base = bases?.find((b) => String(b.at) === chosen);
  const merged = useMemo(
    () => (bases === undefined ? undefined : mergeFrom(base?.text, book.text, other.text)),
    [bases, base, book.text, other.text],
  );
  const [choices, setChoices] = useState<ReadonlyMap<number, Choice>>(new Map());
  // Another text, another question: what was chosen for the old one does not answer it.
  // biome-ignore lint/correctness/useExhaustiveDependencies: begins anew with each merge
  useEffect(() => setChoices(new Map()), [merged]);
  const baseId = useId();
  if (bases === undefined || merged === undefined) return null;
  const { conflicts } = merged;
  const open = conflicts.length - choices.size;
  const put = () => {
    const text = settleConflicts(
      merged,
      conflicts.map((_, i) => choices.get(i) ?? "both"),
    );
    store.send({ type: "edit", edit: { says: `bringing in ${other.name}`, text } });
    // A later version of theirs goes back to this one.
    noteBase({ id, book: { text: other.text } }, "merged");
    onDone();
  };
  return (
    <section className="merge" aria-label="Bring the two together">
      <h3>Bring the two together</h3>
      {trouble === "" ? null : <p className="slip fault">{trouble}</p>}
      <p>
        <label htmlFor={baseId}>Both began as </label>
        <select id={baseId} value={chosen} onChange={(event) => setPicked(event.currentTarget.value)}>
          {[...bases].reverse().map((b) => (
            <option key={b.at} value={String(b.at)}>
              this book as it was {how[b.how]}, {timeOf(b.at)}
            </option>
          ))}
          <option value="none">no text that is known here</option>
        </select>
      </p>
      <p className="source">
        {base === undefined
          ? "What only one of the two has is taken. Nothing is taken out, and what both write differently is asked."
          : "What only one of the two changed is taken, and what both changed differently is asked."}
      </p>
      {conflicts.length === 0 ? (
        <p role="status">
          {base === undefined
            ? "Nothing is written differently."
            : "Nothing was changed differently in both."}
        </p>
      ) : (
        <>
          <p role="status">
            {conflicts.length === 1
              ? base === undefined
                ? "One thing differs."
                : "One thing was changed in both."
              : base === undefined
                ? `${conflicts.length} things differ.`
                : `${conflicts.length} things were changed in both.`}{" "}
            {open === 0
              ? "All are chosen."
              : open === 1
                ? "One is to be chosen."
                : `${open} are to be chosen.`}
          </p>
          <ol className="conflicts">
            {conflicts.map((conflict, i) => (
              <li key={`${conflict.name} ${conflict.line}`}>
                <Conflict
                  is={conflict}
                  around={aroundOf(merged.text, conflict)}
                  choice={choices.get(i)}
                  onChoose={(choice) => setChoices(new Map(choices).set(i, choice))}
                />
              </li>
            ))}
          </ol>
        </>
      )}
      <p className="fixes">
        <button type="button" className="act main" disabled={open > 0} onClick={put}>
          Put it into this book
        </button>
        {conflicts.length < 2 ? null : (
          <>
            <button
              type="button"
              className="act"
              onClick={() => setChoices(new Map(conflicts.map((_, i) => [i, "mine"])))}
            >
              All as here
            </button>
            <button
              type="button"
              className="act"
              onClick={() => setChoices(new Map(conflicts.map((_, i) => [i, "theirs"])))}
            >
              All as there
            </button>
          </>
        )}
      </p>
    </section>
  );
}

/** Lines of the book above and below a conflict. */
interface Around {
  readonly above: string;
  readonly below: string;
}

function aroundOf(text: string, { line, mine, theirs }: MergeConflict): Around {
  const lines = text.split(/\r\n|\r|\n/);
  const tall = [mine, theirs].reduce(
    (sum, body) => sum + (body === undefined ? 0 : body.split(/\r\n|\r|\n/).length),
    0,
  );
  return { above: lines[line - 2] ?? "", below: lines[line + tall] ?? "" };
}

interface ConflictProps {
  readonly is: MergeConflict;
  readonly around: Around;
  readonly choice: Choice | undefined;
  readonly onChoose: (choice: Choice) => void;
}

/** Both versions of one thing, where they would stand. */
function Conflict({ is, around, choice, onChoose }: ConflictProps) {
  const group = useId();
  const version = (which: "mine" | "theirs", word: string, body: string | undefined) => (
    <label className={choice === which ? "version taken" : "version"}>
      <span>
        <input type="radio" name={group} checked={choice === which} onChange={() => onChoose(which)} /> {word}
        {choice === which ? (
          <span className="u">
            {" "}
            <Mark name="met" /> taken
          </span>
        ) : null}
      </span>
      {body === undefined ? <span className="u">taken out</span> : <code>{body.trim()}</code>}
    </label>
  );
  return (
    <fieldset>
      <legend>
        <Prose text={sentence(`${is.name} ${is.base === undefined ? "differs" : "was changed in both"}`)} />
      </legend>
      {around.above.trim() === "" ? null : <code className="around">{around.above.trim()}</code>}
      {version("mine", "here", is.mine)}
      {version("theirs", "there", is.theirs)}
      {around.below.trim() === "" ? null : <code className="around">{around.below.trim()}</code>}
      {is.base === undefined ? null : (
        <p className="u">
          It was <code>{is.base.trim()}</code>.
        </p>
      )}
    </fieldset>
  );
}
