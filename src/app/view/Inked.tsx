import { inksOf } from "../state/inks";
import type { Place } from "../state/place";
import { slotAt } from "../state/slots";
import { useStore } from "../state/store";
import { useHelp } from "./useHelp";
import { useNotebook } from "./workbench";

/** Written words in their inks; the name under the caret stands apart. */
export function Inked({ text, place, caret }: { text: string; place: Place; caret?: number | undefined }) {
  const store = useNotebook();
  const book = useStore(store, (s) => s.book);
  const language = slotAt(book, place)?.language ?? "words";
  const help = useHelp();
  const named = caret === undefined ? undefined : help?.meaningAt(book, { place, text, caret, via: "place" });
  return (
    <>
      {inksOf(text, language).map((ink) => {
        const here = named !== undefined && ink.from >= named.from && ink.to <= named.to;
        return (
          <span key={ink.from} className={here ? `${ink.ink} ink-here` : ink.ink}>
            {text.slice(ink.from, ink.to)}
          </span>
        );
      })}
      {/* keeps the height of an empty field */}
      {"\u200b"}
    </>
  );
}
