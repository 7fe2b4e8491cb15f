import { type ClipboardEvent, useEffect, useId, useMemo, useRef, useState } from "react";
import { type Book, openBook, type TableItem } from "../../engine";
import { type Doubt, type FoundTable, proposeTable, type TableProposal } from "../../exchange/tables-in";
import { Trouble } from "../../quantity";
import type { Job } from "../reckoning/jobs";
import { useReckoned } from "../reckoning/useReckoned";
import { Working } from "../reckoning/Working";
import type { Incoming } from "../state/incoming";
import { bringIn, takenNames } from "../state/tables-in";
import { Amount } from "../view/Amount";
import { apply } from "../view/commands";
import { Prose } from "../view/Prose";
import { wordsOf } from "../view/words";
import { useNotebook } from "../view/workbench";
import "./tables.css";

/** Rows of a table that its preview shows. */
const SHOWN = 5;

/** Brings tables in: shows what each would become, asks what only a person can know, and writes it when it is right. */
export default function TablesIn({ incoming, book }: { incoming: Incoming; book: Book }) {
  const store = useNotebook();
  const dialog = useRef<HTMLDialogElement>(null);
  const [brought, setBrought] = useState(incoming);
  const close = () => store.send({ type: "bring", what: undefined });
  useEffect(() => {
    const before = document.activeElement;
    const box = dialog.current;
    box?.showModal();
    return () => {
      box?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  useEffect(() => setBrought(incoming), [incoming]);
  // What is brought may be large: it is read beside the page, and can be given up.
  const key = useMemo(() => `${brought.is} ${++count}`, [brought]);
  const reading = useReckoned(jobOf(brought), key);
  const found = reading.is?.state === "done" ? reading.is.result : undefined;
  return (
    <dialog ref={dialog} className="preview bring own-undo" aria-labelledby="h-bring" onClose={close}>
      <h2 id="h-bring">Bring a table in</h2>
      {brought.is === "asked" || (found && "trouble" in found) ? (
        <>
          {found && "trouble" in found ? (
            <p className="slip fault" role="alert">
              <Prose text={found.trouble} />
            </p>
          ) : null}
          <Ask onBring={setBrought} onClose={close} />
        </>
      ) : found ? (
        <Proposals key={key} tables={found.tables} book={book} onClose={close} />
      ) : (
        <>
          <Working
            is={reading.is ?? { state: "working" }}
            says={`Reading ${brought.is === "file" ? brought.name : "the cells"}`}
            onStop={reading.stop}
            onAgain={reading.again}
          />
          <p className="fixes">
            <button type="button" className="act" onClick={close}>
              Leave it
            </button>
          </p>
        </>
      )}
    </dialog>
  );
}

/** Tells one coming of tables from the next. */
let count = 0;

function jobOf(brought: Incoming): (Job & { readonly do: "tables" | "pasted" }) | undefined {
  if (brought.is === "asked") return undefined;
  if (brought.is === "file") return { do: "tables", name: brought.name, bytes: brought.bytes };
  return { do: "pasted", text: brought.text, html: brought.html };
}

/** A file, or cells that are pasted. */
function Ask({ onBring, onClose }: { onBring: (incoming: Incoming) => void; onClose: () => void }) {
  const picker = useRef<HTMLInputElement>(null);
  const id = useId();
  const paste = (event: ClipboardEvent) => {
    event.preventDefault();
    const text = event.clipboardData.getData("text/plain");
    const html = event.clipboardData.getData("text/html");
    if (text !== "" || html !== "") onBring({ is: "pasted", text, html });
  };
  return (
    <>
      <p>
        A spreadsheet, a CSV file, or cells from another program. What comes in is data: nothing in it is
        carried out, and you see it first.
      </p>
      <p className="fixes">
        <button type="button" className="act main" onClick={() => picker.current?.click()}>
          Choose a file
        </button>
        <input
          ref={picker}
          type="file"
          data-for="tables"
          accept=".xlsx,.ods,.csv,.tsv,.html,text/csv"
          hidden
          onChange={async (event) => {
            const file = event.currentTarget.files?.[0];
            event.currentTarget.value = "";
            if (file)
              onBring({ is: "file", name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) });
          }}
        />
      </p>
      <label htmlFor={id}>Or paste cells here</label>
      <textarea
        id={id}
        className="paste-here"
        rows={3}
        value=""
        readOnly={false}
        onChange={() => undefined}
        onPaste={paste}
      />
      <p className="fixes">
        <button type="button" className="act" onClick={onClose}>
          Leave it
        </button>
      </p>
    </>
  );
}

interface ProposalsProps {
  readonly tables: readonly FoundTable[];
  readonly book: Book;
  readonly onClose: () => void;
}

function Proposals({ tables, book, onClose }: ProposalsProps) {
  const store = useNotebook();
  const [answers, setAnswers] = useState<readonly ReadonlyMap<string, string>[]>(() =>
    tables.map(() => new Map()),
  );
  const [left, setLeft] = useState<ReadonlySet<number>>(new Set());
  const { proposals, trouble } = useMemo(() => proposalsFor(tables, answers, book), [tables, answers, book]);
  const chosen = proposals.filter((_, i) => !left.has(i));
  const put = () => {
    onClose();
    apply(store, bringIn(store.get().book, chosen));
  };
  return (
    <>
      {trouble === "" ? null : (
        <p className="slip fault" role="alert">
          <Prose text={trouble} />
        </p>
      )}
      {proposals.map((proposal, i) => (
        <section key={`${proposal.source} ${i}`} aria-label={`table ${proposal.name}`}>
          {proposals.length === 1 ? null : (
            <label>
              <input
                type="checkbox"
                checked={!left.has(i)}
                onChange={(event) => {
                  const next = new Set(left);
                  if (event.currentTarget.checked) next.delete(i);
                  else next.add(i);
                  setLeft(next);
                }}
              />{" "}
              Bring in {proposal.title || proposal.source}
            </label>
          )}
          {left.has(i) ? null : (
            <Proposal
              is={proposal}
              onAnswer={(id, value) =>
                setAnswers(answers.map((a, j) => (j === i ? new Map(a).set(id, value) : a)))
              }
            />
          )}
        </section>
      ))}
      <p className="fixes">
        <button type="button" className="act main" disabled={chosen.length === 0} onClick={put}>
          {chosen.length > 1 ? `Put ${chosen.length} tables in the book` : "Put it in the book"}
        </button>
        <button type="button" className="act" onClick={onClose}>
          Leave it
        </button>
      </p>
    </>
  );
}

function proposalsFor(
  tables: readonly FoundTable[],
  answers: readonly ReadonlyMap<string, string>[],
  book: Book,
): { readonly proposals: readonly TableProposal[]; readonly trouble: string } {
  const taken = new Set(takenNames(book));
  const proposals: TableProposal[] = [];
  let trouble = "";
  for (const [i, table] of tables.entries()) {
    try {
      const proposal = proposeTable(table, { answers: answers[i]!, taken });
      taken.add(proposal.name);
      proposals.push(proposal);
    } catch (error) {
      if (!(error instanceof Trouble)) throw error;
      trouble = `${table.source}: ${wordsOf(error)} ${error.help ?? ""}`.trim();
    }
  }
  return { proposals, trouble };
}

/** What a table would become: its name and columns, its first rows, and what is to be answered. */
function Proposal({ is, onAnswer }: { is: TableProposal; onAnswer: (id: string, value: string) => void }) {
  const table = useMemo(() => sample(is), [is]);
  return (
    <>
      <p>
        {is.title === "" ? "A table" : `“${is.title}”`} becomes <code>{is.name}</code>, {is.rowCount}{" "}
        {is.rowCount === 1 ? "row" : "rows"}.
      </p>
      {is.doubts.map((doubt) => (
        <Question key={doubt.id} is={doubt} onAnswer={(value) => onAnswer(doubt.id, value)} />
      ))}
      <div className="hold" tabIndex={0} role="region" aria-label={`the first rows of ${is.name}`}>
        <table className="grid">
          <thead>
            <tr>
              {is.columns.map((column) => (
                <th scope="col" key={column.name}>
                  <span className="label">{column.name}</span>
                  {column.unit === "" ? null : <span className="u"> {column.unit}</span>}
                  <br />
                  <span className="u">
                    {column.holds === "names" ? "names the rows" : column.holds}
                    {column.heading.toLowerCase() === column.name ? "" : `, was “${column.heading}”`}
                  </span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table === undefined
              ? null
              : Array.from({ length: table.rowCount }, (_, r) => (
                  <tr key={r}>
                    {table.columns.map((_column, c) => (
                      <td key={c}>
                        <Amount
                          shown={table.cell(r, c)}
                          bare={table.cell(r, c).unit === table.columns[c]!.unit}
                        />
                      </td>
                    ))}
                  </tr>
                ))}
          </tbody>
        </table>
      </div>
      {is.rowCount > SHOWN ? <p className="u">and {is.rowCount - SHOWN} more</p> : null}
      {is.notes.map((note) => (
        <p className="slip gap" key={note}>
          <Prose text={note} />
        </p>
      ))}
    </>
  );
}

function Question({ is, onAnswer }: { is: Doubt; onAnswer: (value: string) => void }) {
  const name = useId();
  return (
    <fieldset>
      <legend>
        <Prose text={is.says} />
      </legend>
      {is.choices.map((choice) => (
        <label key={choice.value}>
          <input
            type="radio"
            name={name}
            checked={is.chosen === choice.value}
            onChange={() => onAnswer(choice.value)}
          />{" "}
          {choice.says}
        </label>
      ))}
    </fieldset>
  );
}

/** The first rows as the book would read them. */
function sample(proposal: TableProposal): TableItem | undefined {
  const lines = proposal.statement.split("\n").slice(0, 2 + SHOWN);
  const item = openBook(`${lines.join("\n")}\n`).items[0];
  return item?.type === "table" ? item : undefined;
}
