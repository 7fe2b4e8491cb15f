import "../../engine/questions-here";
import { type ReactNode, useState } from "react";
import type { Book, Explanation, Shown } from "../../engine";
import "../../vocabulary/prose-here";
import { goTo, pathsIn, placeOfPath } from "../state/path-places";
import { useStore } from "../state/store";
import { Amount } from "./Amount";
import { wordOf } from "./Mark";
import { Prose, sentence } from "./Prose";
import { SideSheet } from "./SideSheet";
import { Trials } from "./Trials";
import { useNotebook } from "./workbench";
import "./why.css";

/** How a value came about, set like a worked example in a textbook. */
export function Why({ book }: { book: Book }) {
  const store = useNotebook();
  const asked = useStore(store, (s) => s.asked);
  const explanation = asked === undefined ? undefined : book.why(asked);
  const close = () => store.send({ type: "side", side: "none" });
  if (asked === undefined || explanation === undefined) {
    return (
      <SideSheet label="Why" onClose={close} title={<span className="ask">Why?</span>}>
        <p className="source">
          {asked === undefined
            ? "Touch a computed number, or press Alt and Enter on a cell, to see how it came about."
            : `${asked} is no longer in the book.`}
        </p>
      </SideSheet>
    );
  }
  return <Explained explanation={explanation} book={book} close={close} />;
}

function Explained({
  explanation,
  book,
  close,
}: {
  explanation: Explanation;
  book: Book;
  close: () => void;
}) {
  const { shown } = explanation;
  const title = (
    <>
      <span className="ask">Why</span> {explanation.path} <span className="ask">is</span>{" "}
      <Amount shown={shown} />
    </>
  );
  // A working of one line says the filled formula itself.
  const repeated = explanation.working[0]?.text === explanation.filled;
  const noteTexts = [...new Set(explanation.notes.map((n) => n.text))];
  return (
    <SideSheet label={`Why ${explanation.path}`} onClose={close} title={title}>
      <div className="columns">
        {shown.message === undefined ? null : (
          <section>
            <h3>{shown.state === "gap" ? "Not yet known" : "What is wrong"}</h3>
            <p>
              <Prose text={shown.message} /> <Prose text={shown.help} />
            </p>
            {shown.cause === undefined || shown.cause === shown.path ? null : (
              <div className="links">
                <PathLink path={shown.cause} book={book}>
                  <span>{shown.cause}</span>
                  <span>where it begins</span>
                </PathLink>
              </div>
            )}
          </section>
        )}
        <section>
          <h3>{shown.origin === "typed" ? "As typed" : "Formula"}</h3>
          <p>
            <code>
              <FormulaWithLinks formula={explanation.formula} uses={explanation.uses} book={book} />
            </code>
          </p>
          {explanation.filled === "" || explanation.filled === explanation.formula || repeated ? null : (
            <p className="source ask">{explanation.filled}</p>
          )}
        </section>
        {explanation.working.length === 0 ? null : (
          <section>
            <h3>Worked</h3>
            <dl className="work">
              {explanation.working.map((line, i) => (
                <WorkLine
                  key={i}
                  text={line.text}
                  result={line.result}
                  last={i === explanation.working.length - 1}
                />
              ))}
            </dl>
          </section>
        )}
        {explanation.functions.length === 0 ? null : (
          <section>
            <h3>Source</h3>
            {explanation.functions.map((f) => (
              <div key={f.name}>
                <p className="source">
                  <code>{f.name}</code> <Prose text={f.says} />
                </p>
                <p className="source equation">{f.equation}</p>
                <p className="source ask">
                  <Prose text={sentence(f.source)} />
                </p>
                <p className="source">
                  Holds for <Prose text={f.range} />.
                </p>
                {f.trust === undefined ? null : (
                  <p className="source">
                    <Prose text={sentence(f.trust)} />
                  </p>
                )}
              </div>
            ))}
          </section>
        )}
        <Contributions explanation={explanation} book={book} />
        <Trials text={book.text} explanation={explanation} />
        {noteTexts.length === 0 ? null : (
          <section>
            <h3>Mind</h3>
            {noteTexts.map((text) => (
              <p className="source" key={text}>
                <Prose text={text} />
              </p>
            ))}
          </section>
        )}
        {explanation.uses.length === 0 ? null : (
          <section>
            <h3>Uses</h3>
            <div className="links">
              {explanation.uses.map((use) => (
                <PathLink key={use.path} path={use.path} book={book}>
                  <span>{use.path}</span>
                  <span>
                    <Amount shown={use} /> <span className="unseen">{wordOf(use)}</span>
                  </span>
                </PathLink>
              ))}
            </div>
          </section>
        )}
        {explanation.usedBy.length === 0 ? null : (
          <section>
            <h3>Used by</h3>
            <div className="links">
              {explanation.usedBy.map((path) => (
                <PathLink key={path} path={path} book={book}>
                  <span>{path}</span>
                </PathLink>
              ))}
            </div>
          </section>
        )}
        <section>
          <CopyWorking explanation={explanation} />
        </section>
      </div>
    </SideSheet>
  );
}

function WorkLine({ text, result, last }: { text: string; result: string; last: boolean }) {
  return (
    <>
      <dt>{text}</dt>
      <dd>
        <span className="equals" aria-hidden="true">
          =
        </span>
        <span className={last ? "answer" : undefined}>{result}</span>
      </dd>
    </>
  );
}

/** Where the uncertainty comes from, as bars with per cent. */
function Contributions({ explanation, book }: { explanation: Explanation; book: Book }) {
  const { contributions, shown } = explanation;
  if (contributions.length === 0) return null;
  return (
    <section>
      <h3>
        Where the ± {shown.spread ?? ""} {shown.unit} comes from
      </h3>
      <div className="share-of">
        {contributions.map((c) => {
          const percent = c.share * 100;
          const says = percent > 0 && percent < 1 ? "under 1 %" : `${Math.round(percent)} %`;
          return (
            <div key={c.input} style={{ display: "contents" }}>
              {c.path === undefined ? (
                <span>{c.input}</span>
              ) : (
                <PathLink path={c.path} book={book} inline>
                  {c.input}
                </PathLink>
              )}
              <span className="q" title={c.amount}>
                {says}
              </span>
              <span className="bar">
                <i style={{ width: `${Math.max(0.6, percent)}%` }} />
              </span>
            </div>
          );
        })}
      </div>
    </section>
  );
}

/** A path as a link to its place on the page. What it leads to is asked about as well. */
export function PathLink({
  path,
  book,
  inline = false,
  children,
}: {
  path: string;
  book: Book;
  inline?: boolean;
  children: ReactNode;
}) {
  const store = useNotebook();
  const place = placeOfPath(book, path);
  if (place === undefined) return <span>{children}</span>;
  return (
    <a
      href={`#${place.id}`}
      className={inline ? "inline" : undefined}
      onClick={(event) => {
        event.preventDefault();
        goTo(store, place, path);
      }}
    >
      {children}
    </a>
  );
}

/** The formula with each name it uses as a link. */
function FormulaWithLinks({ formula, uses, book }: { formula: string; uses: readonly Shown[]; book: Book }) {
  return pathsIn(
    formula,
    uses.map((u) => u.path),
  ).map((piece, i) => (
    <span key={i}>
      {piece.path === undefined ? (
        piece.text
      ) : (
        <PathLink path={piece.path} book={book} inline>
          {piece.text}
        </PathLink>
      )}
    </span>
  ));
}

function CopyWorking({ explanation }: { explanation: Explanation }) {
  const store = useNotebook();
  const [done, setDone] = useState(false);
  const words = [
    `${explanation.path} = ${explanation.formula}`,
    ...(explanation.filled === "" ? [] : [`  ${explanation.filled}`]),
    ...explanation.working.map((w) => `  ${w.text} = ${w.result}`),
    `  = ${explanation.shown.text}`,
    ...explanation.functions.map((f) => `${f.name}: ${f.equation}. ${f.source}. ${f.range}`),
  ].join("\n");
  return (
    <button
      type="button"
      className="act framed"
      onClick={() => {
        navigator.clipboard.writeText(words).then(
          () => {
            setDone(true);
            store.send({ type: "say", text: "Copied the working." });
          },
          () => store.send({ type: "say", text: "This browser does not let the page copy." }),
        );
      }}
    >
      {done ? "Copied" : "Copy the working"}
    </button>
  );
}
