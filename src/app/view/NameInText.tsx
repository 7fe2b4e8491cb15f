import { type FormEvent, useState } from "react";
import type { Book } from "../../engine";
import type { NameHere } from "../../engine/editing";
import { made } from "../state/slot";
import { useHelp } from "./useHelp";
import { useNotebook } from "./workbench";

interface NameInTextProps {
  readonly book: Book;
  /** Where the caret stands in the text of the book; undefined while the text is ahead of the book. */
  readonly caret: number | undefined;
  /** Whether the field for another name is open. */
  readonly renaming: boolean;
  readonly onRenaming: (open: boolean, from?: number) => void;
  /** Takes the caret to a stretch of the text. */
  readonly onGo: (from: number, to: number) => void;
}

/** The name at the caret: where it is written, where it is used, and another name for it, in all places at once. */
export function NameInText({ book, caret, renaming, onRenaming, onGo }: NameInTextProps) {
  const help = useHelp();
  const here = caret === undefined ? undefined : help?.nameAt(book, caret);
  if (help === undefined || here === undefined || caret === undefined)
    return (
      <p className="text-name">Put the caret on a name to go where it is written or used, or to rename it.</p>
    );
  const written = help.definitionAt(book, caret);
  const uses = here.path === undefined ? undefined : help.referencesTo(book, here.path);
  const next = uses?.find((use) => use.from > here.from) ?? uses?.[0];
  return (
    <section className="text-name" aria-label="The name at the caret">
      <p>
        <code>{here.name}</code>, a {here.what}
        {uses === undefined ? "" : `, ${times(uses.length)}`}
      </p>
      {renaming ? (
        <NewName
          key={here.name}
          book={book}
          caret={caret}
          here={here}
          onDone={(from) => onRenaming(false, from)}
        />
      ) : (
        <p>
          {written === undefined || written.from === here.from ? null : (
            <button type="button" className="act" onClick={() => onGo(written.from, written.to)}>
              Where it is written
            </button>
          )}{" "}
          {next === undefined || next.from === here.from ? null : (
            <button type="button" className="act" onClick={() => onGo(next.from, next.to)}>
              Next use
            </button>
          )}{" "}
          <button type="button" className="act" onClick={() => onRenaming(true)}>
            Rename
          </button>
        </p>
      )}
    </section>
  );
}

interface NewNameProps {
  readonly book: Book;
  readonly caret: number;
  readonly here: NameHere;
  /** Done: where the name stands now. */
  readonly onDone: (from: number) => void;
}

function NewName({ book, caret, here, onDone }: NewNameProps) {
  const store = useNotebook();
  const help = useHelp();
  const [name, setName] = useState(here.name);
  const [refused, setRefused] = useState("");
  const rename = (event: FormEvent) => {
    event.preventDefault();
    if (help === undefined) return;
    const wanted = name.trim();
    const edited = help.renameAt(book, caret, wanted);
    const edit = made(book, `renaming ${here.name} to ${wanted}`, edited);
    if ("refused" in edit) {
      setRefused(edit.refused);
      return;
    }
    if (edit.text !== book.text) store.send({ type: "edit", edit });
    const before = (edited.patches ?? []).filter((patch) => patch.to <= here.from);
    onDone(before.reduce((at, patch) => at + patch.insert.length - (patch.to - patch.from), here.from));
  };
  return (
    <form onSubmit={rename}>
      <label>
        New name{" "}
        <input
          // biome-ignore lint/a11y/noAutofocus: the field was asked for by a key or a command.
          autoFocus
          value={name}
          autoCapitalize="off"
          autoComplete="off"
          spellCheck={false}
          aria-invalid={refused !== ""}
          aria-describedby={refused === "" ? undefined : "text-name-refused"}
          onFocus={(event) => event.currentTarget.select()}
          onChange={(event) => {
            setName(event.currentTarget.value);
            setRefused("");
          }}
          onKeyDown={(event) => {
            if (event.key !== "Escape") return;
            event.preventDefault();
            event.stopPropagation();
            onDone(here.from);
          }}
        />
      </label>{" "}
      <button type="submit" className="act main">
        Rename everywhere
      </button>{" "}
      <button type="button" className="act" onClick={() => onDone(here.from)}>
        Leave it
      </button>
      {refused === "" ? null : (
        <p id="text-name-refused" role="alert">
          {refused}
        </p>
      )}
    </form>
  );
}

const times = (uses: number): string =>
  uses === 0 ? "not used yet" : uses === 1 ? "used once" : `used ${uses} times`;
