import { useState } from "react";
import type { Book } from "../../engine";
import type { Comparison, Difference, WordsDifference } from "../../exchange/comparison";
import { placeOfPath } from "../state/path-places";
import { useNotebook } from "../view/workbench";

/** Entries of a list that are shown before more are asked for. */
const MOST = 60;

const changeWords = {
  added: "only there",
  removed: "only here",
  typed: "typed",
  formula: "formula",
  upstream: "follows",
} as const;
const wordsWords = {
  title: "the title",
  about: "words",
  part: "title of a part",
  step: "a step",
  chart: "a chart",
  define: "a function",
} as const;

/** What differs between the open book ("here") and the other ("there"): first by hand, then what follows from it. */
export function Differences({ of, book }: { of: Comparison; book: Book }) {
  const byHand = of.differences.filter((d) => d.change !== "upstream");
  const follows = of.differences.filter((d) => d.change === "upstream");
  return (
    <>
      <p role="status" className="u">
        {counted(byHand.length + of.words.length, "difference", "differences")} by hand,{" "}
        {counted(follows.length, "value follows", "values follow")} from{" "}
        {byHand.length + of.words.length === 1 ? "it" : "them"}.
      </p>
      <List head="Changed by hand" all={byHand} book={book} />
      {of.words.length === 0 ? null : (
        <section>
          <h3>Words</h3>
          <ul className="differences">
            {of.words.map((d, i) => (
              <WordsEntry key={i} is={d} />
            ))}
          </ul>
        </section>
      )}
      <List head="Follows from that" all={follows} book={book} />
    </>
  );
}

const counted = (n: number, one: string, many: string): string => (n === 1 ? `1 ${one}` : `${n} ${many}`);

function List({ head, all, book }: { head: string; all: readonly Difference[]; book: Book }) {
  const [most, setMost] = useState(MOST);
  if (all.length === 0) return null;
  return (
    <section>
      <h3>{head}</h3>
      <ul className="differences">
        {all.slice(0, most).map((d) => (
          <Entry key={d.name} is={d} book={book} />
        ))}
      </ul>
      {all.length <= most ? null : (
        <button type="button" className="act framed" onClick={() => setMost(most + MOST)}>
          Show {Math.min(MOST, all.length - most)} more of {all.length - most}
        </button>
      )}
    </section>
  );
}

function Entry({ is, book }: { is: Difference; book: Book }) {
  const formula = (of: string | null) =>
    is.change === "formula" || (is.change !== "upstream" && !isTyped(of)) ? of : null;
  return (
    <li>
      <p className="difference-name">
        <NameLink path={is.name} book={book} />
        <span className="u">{changeWords[is.change]}</span>
      </p>
      <dl>
        <Side word="here" text={is.before} formula={formula(is.formulaBefore)} />
        <Side word="there" text={is.after} formula={formula(is.formulaAfter)} />
      </dl>
      {is.because.length === 0 ? null : (
        <p className="u">
          from {is.because.slice(0, 4).join(", ")}
          {is.because.length > 4 ? ` and ${is.because.length - 4} more` : ""}
        </p>
      )}
    </li>
  );
}

/** What was typed is shown as the value that it is. */
const isTyped = (written: string | null): boolean =>
  written !== null && /^\s*(?:[-+−]?\s*\d|$)/u.test(written);

function Side({ word, text, formula }: { word: string; text: string | null; formula: string | null }) {
  return (
    <>
      <dt>{word}</dt>
      <dd>
        {text === null ? (
          <span className="u">not in it</span>
        ) : text === "" ? (
          <span className="u">empty</span>
        ) : (
          text
        )}
        {formula === null || formula === text ? null : (
          <>
            {" "}
            <code>{formula}</code>
          </>
        )}
      </dd>
    </>
  );
}

function WordsEntry({ is }: { is: WordsDifference }) {
  return (
    <li>
      <p className="difference-name">
        <b>{wordsWords[is.what]}</b>
        <span className="u">
          {is.change === "changed" ? "changed" : is.change === "added" ? "only there" : "only here"}
        </span>
      </p>
      <dl>
        <Side word="here" text={is.before} formula={null} />
        <Side word="there" text={is.after} formula={null} />
      </dl>
    </li>
  );
}

/** A name as a link to its place, where this book has it. */
function NameLink({ path, book }: { path: string; book: Book }) {
  const store = useNotebook();
  const place = placeOfPath(book, path);
  if (place === undefined) return <b>{path}</b>;
  return (
    <a
      href={`#${place.id}`}
      onClick={(event) => {
        event.preventDefault();
        store.send({ type: "go", place: place.place });
        document.getElementById(place.id)?.scrollIntoView({ block: "nearest" });
      }}
    >
      {path}
    </a>
  );
}
