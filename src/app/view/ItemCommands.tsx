import type { Book, Item } from "../../engine";
import { addItem, moveItem, removeItem } from "../state/item-edits";
import { itemAt } from "../state/items";
import { pathOfPlace } from "../state/paths";
import { type Field, itemPlace, type Place } from "../state/place";
import { sorts } from "./Adds";
import { apply } from "./commands";
import { Drawer } from "./Drawer";
import { useNarrow } from "./useNarrow";
import { openPlace } from "./WritingPlace";
import { useNotebook } from "./workbench";

const extras: Readonly<Partial<Record<Item["type"], readonly (readonly [Field, string])[]>>> = {
  value: [
    ["name", "Rename"],
    ["remark", "Remark"],
    ["range", "Range to try"],
  ],
  define: [["statement", "As written"]],
  table: [["name", "Rename"]],
  check: [["text", "Sentence"]],
  chart: [["formula", "What it shows"]],
  step: [["clauses", "Wait and readings"]],
};

/** The word behind which an item's commands stand: what they are for. */
const sortWords: Readonly<Record<Item["type"], string>> = {
  book: "Title",
  about: "Words",
  part: "Part",
  value: "Value",
  define: "Function",
  table: "Table",
  check: "Check",
  chart: "Chart",
  step: "Step",
  unread: "Line",
};

/** What can be done with the chosen item, in words at the right of the formula line. */
export function ItemCommands({ book, here }: { book: Book; here: Place | undefined }) {
  const store = useNotebook();
  const narrow = useNarrow();
  const placed = here === undefined ? undefined : itemAt(book, here.key);
  if (here === undefined || placed === undefined) return null;
  const path = pathOfPlace(book, here);
  const open = (field: Field) => {
    store.send({ type: "go", place: itemPlace(here.key, field) });
    // A range has no place on the page while there is none: it is written in the line.
    if (field === "range") store.send({ type: "write", via: "line", all: true });
    else openPlace(store);
  };
  const more =
    here.in === "cell"
      ? null
      : (extras[placed.item.type] ?? [])
          .filter(([field]) => here.field !== field)
          .map(([field, word]) => (
            <button type="button" className="act" key={field} onClick={() => open(field)}>
              {word}
            </button>
          ));
  return (
    <>
      {path === undefined ? null : (
        <button type="button" className="act" onClick={() => store.send({ type: "ask", path })}>
          Why
        </button>
      )}
      {narrow ? null : more}
      <Drawer word={sortWords[placed.item.type]} up>
        {narrow ? more : null}
        <button
          type="button"
          className="act"
          onClick={() => apply(store, moveItem(store.get().book, here.key, "up"))}
        >
          Move up <small className="by-key">Alt ↑</small>
        </button>
        <button
          type="button"
          className="act"
          onClick={() => apply(store, moveItem(store.get().book, here.key, "down"))}
        >
          Move down <small className="by-key">Alt ↓</small>
        </button>
        {here.in === "cell" ? (
          <button type="button" className="act" onClick={() => open("name")}>
            Rename the table
          </button>
        ) : (
          <button type="button" className="act" onClick={() => open("statement")}>
            Show as written
          </button>
        )}
        <button
          type="button"
          className="act"
          onClick={() => apply(store, removeItem(store.get().book, here.key))}
        >
          {here.in === "cell" ? "Remove the table" : "Remove"}
        </button>
        <hr />
        {sorts.map(([sort, word]) => (
          <button
            type="button"
            className="act"
            key={sort}
            onClick={() => apply(store, addItem(store.get().book, sort, here.key))}
          >
            Add {word === "words" ? "words" : `a ${word}`} below
          </button>
        ))}
      </Drawer>
    </>
  );
}
