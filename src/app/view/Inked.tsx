import { inksOf } from "../state/inks";
import type { Place } from "../state/place";
import { spotAt } from "../state/scan";
import { slotAt } from "../state/slots";
import { useStore } from "../state/store";
import { useNotebook } from "./workbench";

/** Written words in their inks; the name under the caret stands apart. */
export function Inked({ text, place, caret }: { text: string; place: Place; caret?: number | undefined }) {
  const store = useNotebook();
  const language = useStore(store, (s) => slotAt(s.book, place)?.language ?? "words");
  const inks = inksOf(text, language);
  const spot =
    caret === undefined ||
    language === "words" ||
    language === "name" ||
    (language === "cell" && !/^\s*=/.test(text))
      ? undefined
      : spotAt(text, caret);
  const here = spot !== undefined && !spot.unit && spot.pathFrom < spot.to ? spot : undefined;
  return (
    <>
      {inks.map((ink) => {
        const lit = here !== undefined && ink.from >= here.pathFrom && ink.to <= here.to;
        return (
          <span key={ink.from} className={lit ? `${ink.ink} ink-here` : ink.ink}>
            {text.slice(ink.from, ink.to)}
          </span>
        );
      })}
      {"\u200b"}
    </>
  );
}
