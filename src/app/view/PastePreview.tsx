import { useEffect, useRef } from "react";
import type { Book } from "../../engine";
import { pasteCells, pasteTrouble } from "../state/cells";
import { type CommaRule, readings, withRule } from "../state/commas";
import { tableAt } from "../state/items";
import type { PasteQuestion } from "../state/notebook";
import { apply } from "./commands";
import { useNotebook } from "./workbench";

const rules: readonly (readonly [CommaRule, string])[] = [
  ["decimal", "Commas are decimal marks"],
  ["thousands", "Commas group thousands"],
  ["as-is", "Leave them as they are"],
];

/** Rows of the preview. */
const SHOWN = 6;

/** Shows what a paste would write, and asks how its commas are meant and what to do with what has no room. */
export default function PastePreview({ question, book }: { question: PasteQuestion; book: Book }) {
  const store = useNotebook();
  const dialog = useRef<HTMLDialogElement>(null);
  const { place, rows, rule } = question;
  const close = () => store.send({ type: "paste", question: undefined });
  useEffect(() => {
    const box = dialog.current;
    box?.showModal();
    return () => box?.close();
  }, []);
  const table = place.in === "cell" ? tableAt(book, place.key) : undefined;
  if (table === undefined || place.in !== "cell") return null;
  const trouble = pasteTrouble(table, place.column, rows);
  const commas = rows.some((row) => row.some((word) => readings(word) !== undefined));
  const read = rows.map((row) => row.map((word) => withRule(word, rule)));
  const paste = () => {
    const extent = {
      top: place.row,
      bottom: place.row + rows.length - 1,
      left: place.column,
      right: place.column + Math.max(...rows.map((r) => r.length)) - 1,
    };
    close();
    apply(store, pasteCells(store.get().book, place.key, extent, read));
  };
  return (
    <dialog ref={dialog} className="preview" aria-labelledby="h-paste" onClose={close}>
      <h2 id="h-paste">Paste {rows.length === 1 ? "a row" : `${rows.length} rows`}</h2>
      {trouble.columnsOver > 0 ? (
        <p>
          {trouble.columnsOver === 1 ? "One column has" : `${trouble.columnsOver} columns have`} no place in
          this table and will be left out. Add columns first to keep them.
        </p>
      ) : null}
      {trouble.computed > 0 ? (
        <p>
          {trouble.computed === 1 ? "One column is" : `${trouble.computed} columns are`} computed and will
          stay so.
        </p>
      ) : null}
      {commas ? (
        <fieldset>
          <legend>Some numbers hold a comma. How are they meant?</legend>
          {rules.map(([value, words]) => (
            <label key={value}>
              <input
                type="radio"
                name="commas"
                checked={rule === value}
                onChange={() => store.send({ type: "paste", question: { ...question, rule: value } })}
              />{" "}
              {words}
            </label>
          ))}
        </fieldset>
      ) : null}
      <div className="hold">
        <table className="grid">
          <tbody>
            {read.slice(0, SHOWN).map((row, r) => (
              <tr key={r}>
                {row.map((word, c) => (
                  <td key={c} className={table.columns[place.column + c]?.typed ? undefined : "left-out"}>
                    {word}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {rows.length > SHOWN ? <p className="u">and {rows.length - SHOWN} more</p> : null}
      <p className="fixes">
        <button type="button" className="act main" onClick={paste}>
          Paste
        </button>
        <button type="button" className="act" onClick={close}>
          Leave it
        </button>
      </p>
    </dialog>
  );
}
