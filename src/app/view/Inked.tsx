import { inksOf } from "../state/inks";
import type { Place } from "../state/place";
import { slotAt } from "../state/slots";
import { spotAt } from "../state/spot";
import { useStore } from "../state/store";
import { useNotebook } from "./workbench";

/** Written words in their inks; the name under the caret stands apart. */
export function Inked({ text, place, caret }: { text: string; place: Place; caret?: number | undefined }) {
  const store = useNotebook();
  const language = useStore(store, (s) => slotAt(s.book, place)?.language ?? "words");
  const spot = caret === undefined ? undefined : spotAt(text, caret, language);
  const named = spot !== undefined && !spot.expects.includes("unit") && spot.pathFrom < spot.to;
  return (
    <>
      {inksOf(text, language).map((ink) => {
        const here = named && ink.from >= spot.pathFrom && ink.to <= spot.to;
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
