import { addItem } from "../state/structure";
import { apply } from "./commands";
import { sorts } from "./ItemCommands";
import { useNotebook } from "./workbench";

/** Adds at the end of the book: what adds stands where the thing would be added. */
export function Adds() {
  const store = useNotebook();
  return (
    <div className="adds" role="group" aria-label="Add below">
      Add
      {sorts.map(([sort, word]) => (
        <button
          type="button"
          className="act framed"
          key={sort}
          onClick={() => apply(store, addItem(store.get().book, sort))}
        >
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
    </div>
  );
}
