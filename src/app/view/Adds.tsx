import { addItem } from "../state/item-edits";
import { elementId, placedItems } from "../state/items";
import { useStore } from "../state/store";
import type { Sort } from "../state/structure";
import { apply } from "./commands";
import { useNotebook } from "./workbench";

/** What can be added to a book, and what it is called. */
export const sorts: readonly (readonly [Sort, string])[] = [
  ["value", "value"],
  ["table", "table"],
  ["check", "check"],
  ["chart", "chart"],
  ["step", "step"],
  ["words", "words"],
  ["part", "part"],
  ["function", "function"],
];

/** What each of them is, for one who has an empty book before them. */
const says: readonly (readonly [what: string, is: string])[] = [
  ["value", "a name with a number and its unit, typed or worked out"],
  ["table", "what stands in rows and columns; a column may be worked out"],
  ["check", "what must hold; the book says whether it does"],
  ["chart", "a picture of a column or a formula"],
  ["step", "a line of the card for the bench, with live amounts"],
];

/** Adds at the end of the book: what adds stands where the thing would be added. */
export function Adds() {
  const store = useNotebook();
  const empty = useStore(store, (s) => placedItems(s.book).every(({ item }) => item.type === "book"));
  const add = (sort: Sort) => {
    const edit = addItem(store.get().book, sort);
    apply(store, edit);
    // A value lands beside its like, which may be far above; on a phone it is written at the foot of the page.
    if ("refused" in edit || edit.lands === undefined) return;
    const id = elementId(edit.lands.key);
    requestAnimationFrame(() => document.getElementById(id)?.scrollIntoView({ block: "nearest" }));
  };
  return (
    <div className="adds" role="group" aria-label="Add below">
      Add
      {sorts.map(([sort, word]) => (
        <button type="button" className="act framed" key={sort} onClick={() => add(sort)}>
          {word}
        </button>
      ))}
      <button
        type="button"
        className="act framed"
        onClick={() => store.send({ type: "bring", what: { is: "asked" } })}
      >
        A table from elsewhere
      </button>
      {empty ? (
        <dl className="what-is">
          {says.map(([what, is]) => (
            <div key={what}>
              <dt>{what}</dt> <dd>{is}</dd>
            </div>
          ))}
        </dl>
      ) : null}
    </div>
  );
}
