import { Fragment, useId, useMemo } from "react";
import type { Book } from "../../engine";
import { useStore } from "../state/store";
import { Amount } from "../view/Amount";
import { Mark } from "../view/Mark";
import { Prose } from "../view/Prose";
import { useNotebook } from "../view/workbench";
import { wantingSteps } from "./doubts";
import type { Run } from "./run";
import { useRunSession, useSession } from "./session";
import { benchSteps } from "./steps";
import { effectsOf, landingOf, type RowWrite, titleOf, type Writes, writesOf } from "./writes";

/** The end of a run: what was read, what will be written, what follows from it; then it is written, in one change. */
export function FinishView({ book, run }: { book: Book; run: Run }) {
  const session = useRunSession();
  const steps = benchSteps(book);
  const writes = useMemo(() => writesOf(book, run), [book, run]);
  const wanting = useMemo(() => wantingSteps(book, run, steps), [book, run, steps]);
  const nothing = writes.rows.length + writes.values.length === 0;
  const open = steps.filter((s) => !run.steps.some((r) => r.key === s.key && r.doneAt !== undefined));
  return (
    <section className="finish" aria-labelledby="step">
      <h1 className="verb" id="step" tabIndex={-1} data-step={steps.length + 1}>
        {nothing ? "The end of the run" : "Write the run into the book"}
      </h1>
      {open.length === 0 ? null : (
        <p className="says gap-ink">
          <Mark name="unknown" />
          <span>
            {open.length === 1 ? "Step" : "Steps"} {open.map((s) => s.number).join(", ")}{" "}
            {open.length === 1 ? "is" : "are"} not marked as done.
          </span>
        </p>
      )}
      {writes.missing.length === 0 ? null : (
        <p className="says gap-ink">
          <Mark name="gap" />
          <span>
            Not read: {writes.missing.join(", ")}. {nothing ? "" : "What was not read stays blank."}
          </span>
        </p>
      )}
      {wanting.length === 0 ? null : (
        <div className="buttons">
          {wanting.map(({ step, labels }) => (
            <button
              type="button"
              className="act framed"
              key={step.key}
              onClick={() => {
                session.act({ type: "go", to: step.number });
                session.say(`Step ${step.number} of ${steps.length}.`);
              }}
            >
              Go to step {step.number} for {labels.join(", ")}
            </button>
          ))}
        </div>
      )}
      {nothing && writes.troubles.length === 0 ? (
        <p>
          {writes.missing.length === 0
            ? "This book's steps ask for no readings, so the book stays as it is."
            : "Nothing was read, so the book stays as it is."}
        </p>
      ) : null}
      {writes.rows.map((row) => (
        <Row key={row.table.name} run={run} write={row} />
      ))}
      {writes.values.length === 0 ? null : (
        <ul className="replaced">
          {writes.values.map(({ item, before, after }) => (
            <li key={item.name}>
              <span>{item.name}</span>
              <code>{before}</code>
              <span>becomes</span>
              <code className="typed-ink">{after}</code>
            </li>
          ))}
        </ul>
      )}
      {writes.troubles.map((trouble) => (
        <p className="says fault-ink" key={trouble}>
          <Mark name="fault" />
          <span>
            <Prose text={trouble} />
          </span>
        </p>
      ))}
      <Follows book={book} writes={writes} />
    </section>
  );
}

/** Back to the steps, or the end: what is shown above is written, in one change that one undo takes back. */
export function FinishGo({ book, run }: { book: Book; run: Run }) {
  const session = useRunSession();
  const store = useNotebook();
  const theirs = useSession((s) => s.theirs);
  const draft = useStore(store, (s) => s.draft);
  const steps = benchSteps(book);
  const writes = useMemo(() => writesOf(book, run), [book, run]);
  const nothing = writes.rows.length + writes.values.length === 0;
  const end = () => {
    const at = Date.now();
    if (draft !== undefined) store.send({ type: "keep", next: "stay" });
    // The text may have moved on with the draft: what is written is worked out from the book as it is now.
    const { book: now } = store.get();
    const last = writesOf(now, run);
    const { lands, says } = landingOf(now, last);
    if (last.edit !== undefined)
      store.send({ type: "edit", edit: { ...last.edit, ...(lands === undefined ? {} : { lands }) } });
    session.act({ type: "finish", at });
    session.show(false);
    if (last.edit === undefined) return;
    // The book is on the page by then: what was written is in sight, and what is said there is heard.
    requestAnimationFrame(() => {
      const { activeElement: there, body } = document;
      if (there !== body) there?.scrollIntoView({ block: "center" });
      store.send({ type: "say", text: says });
    });
  };
  return (
    <div className="go">
      <button
        type="button"
        className="act framed"
        onClick={() => session.act({ type: "go", to: steps.length })}
      >
        Back
      </button>
      <button
        type="button"
        className="act main"
        disabled={
          theirs !== undefined ||
          (!nothing && writes.edit === undefined) ||
          (nothing && writes.troubles.length > 0)
        }
        onClick={end}
      >
        {nothing ? "End the run" : "Write it into the book"}
      </button>
    </div>
  );
}

/** One new row, or the waiting row that is filled: every typed cell, with where it comes from. */
function Row({ run, write }: { run: Run; write: RowWrite }) {
  const session = useRunSession();
  const id = useId();
  const { table } = write;
  const extras = write.cells.filter((c) => c.from === "extra");
  const takable = extras.filter((c) => c.like !== undefined && c.typed === "");
  return (
    <section className="row-write" aria-labelledby={`${id}-h`}>
      <h2 id={`${id}-h`}>{titleOf(table).replace(/^“|”$/g, "")}</h2>
      {write.waiting.length === 0 ? null : (
        <fieldset className="into">
          <legend>The readings become</legend>
          <label>
            <input
              type="radio"
              name={`${id}-into`}
              checked={write.into === undefined}
              onChange={() => session.act({ type: "into", table: table.name, row: undefined })}
            />
            a new row
          </label>
          {write.waiting.map((row) => (
            <label key={row}>
              <input
                type="radio"
                name={`${id}-into`}
                checked={write.into === row}
                onChange={() => session.act({ type: "into", table: table.name, row })}
              />
              row {row}, which waits for them
            </label>
          ))}
        </fieldset>
      )}
      <div className="cells">
        {write.cells.map((cell) => {
          const field = `${id}-${cell.column}`;
          switch (cell.from) {
            case "name":
              return (
                <div key={cell.column}>
                  <label htmlFor={field}>{cell.label}: name of this run</label>
                  <div className="entry">
                    <input
                      id={field}
                      value={run.name}
                      autoComplete="off"
                      placeholder={write.like === undefined ? "" : `the last is ${write.like}`}
                      onChange={(e) => session.act({ type: "name", name: e.currentTarget.value })}
                    />
                  </div>
                </div>
              );
            case "day":
              return (
                <div key={cell.column}>
                  <label htmlFor={field}>{cell.label}: day of the run</label>
                  <div className="entry">
                    <input
                      id={field}
                      type="date"
                      value={run.day}
                      onChange={(e) => session.act({ type: "day", day: e.currentTarget.value })}
                    />
                  </div>
                </div>
              );
            case "extra":
              return (
                <div key={cell.column}>
                  <label htmlFor={field}>{cell.label}</label>
                  <div className="entry">
                    <input
                      id={field}
                      value={cell.typed}
                      autoComplete="off"
                      placeholder="left blank"
                      aria-invalid={cell.trouble !== undefined || undefined}
                      onChange={(e) =>
                        session.act({
                          type: "extra",
                          table: table.name,
                          column: cell.label,
                          typed: e.currentTarget.value,
                        })
                      }
                    />
                    <Unit text={cell.unit} />
                  </div>
                </div>
              );
            default:
              return (
                <div key={cell.column}>
                  <span className="cap">{cell.from === "reading" ? `${cell.label}, read` : cell.label}</span>
                  <div className={`held${cell.from === "reading" ? " typed-ink" : ""}`}>
                    {cell.text} <Unit text={cell.unit} />
                  </div>
                </div>
              );
          }
        })}
      </div>
      {takable.length === 0 || write.like === undefined ? null : (
        <button
          type="button"
          className="act framed"
          onClick={() => {
            for (const cell of takable)
              session.act({ type: "extra", table: table.name, column: cell.label, typed: cell.like! });
            session.say(`Taken over from ${write.like}: ${takable.map((c) => c.label).join(", ")}.`);
          }}
        >
          Take over from {write.like}: {takable.map((c) => `${c.label} ${c.like}`).join(", ")}
        </button>
      )}
    </section>
  );
}

/** What the book makes of it: the computed cells of the row, the values and checks that move. */
function Follows({ book, writes }: { book: Book; writes: Writes }) {
  const effects = useMemo(() => effectsOf(book, writes), [book, writes]);
  const cells = effects.rows.flatMap((r) => r.cells);
  if (cells.length + effects.values.length + effects.checks.length === 0) return null;
  return (
    <section className="follows" aria-labelledby="h-follows">
      <h2 id="h-follows">What follows from it</h2>
      <dl className="facts">
        {cells.map((cell) => (
          <div key={cell.path}>
            <dt>{cell.label}</dt>
            <dd>
              <Amount shown={cell} />
            </dd>
          </div>
        ))}
      </dl>
      {effects.values.length === 0 ? null : (
        <table>
          <thead>
            <tr>
              <th scope="col">value</th>
              <th scope="col">now</th>
              <th scope="col">then</th>
            </tr>
          </thead>
          <tbody>
            {effects.values.map(({ label, before, after }) => (
              <tr key={label}>
                <th scope="row">
                  <Breakable text={label} />
                </th>
                <td>
                  <Amount shown={before} />
                </td>
                <td>
                  <Amount shown={after} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {effects.checks.map(({ after }) => (
        <p
          className={`says ${after.state === "met" ? "met-ink" : after.state === "unmet" ? "fault-ink" : "gap-ink"}`}
          key={after.formula}
        >
          <Mark name={after.state} />
          <span>
            {after.text === "" ? after.formula : after.text}:{" "}
            {after.state === "met" ? "met" : after.state === "unmet" ? "not met" : "not yet known"}
            {after.says === undefined ? "" : `, ${after.says}`}
          </span>
        </p>
      ))}
    </section>
  );
}

const Unit = ({ text }: { text: string }) => (text === "" ? null : <span className="u">{text}</span>);

/** A dotted name that may be broken behind its dots and underscores. */
const Breakable = ({ text }: { text: string }) =>
  text.split(/(?<=[._])/).map((part, i) => (
    <Fragment key={i}>
      {part}
      <wbr />
    </Fragment>
  ));
