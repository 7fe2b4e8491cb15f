import { kinds } from "../../quantity";
import { setKey } from "../names";
import type { Written } from "./expectation";
import type { Frame } from "./frames";
import { sortOfNature, sortOfText } from "./inference";
import { namesAt, outside, type Place } from "./place";
import { type Sort, sortOfValue, unknown, wantedKinds, wantedLike } from "./sort";
import type { Source } from "./source";

/** A cell and a check hold one value; so does each row for which a condition is asked. */
export function takesOneValue(source: Source, keyword: string, place: Place): boolean {
  if (source.column !== undefined || keyword === "check" || source.asks === true) return true;
  return place.scope.table !== undefined && place.scope.place === "row";
}

/** What the whole formula should come to, by where it stands. */
export function outerOf(
  source: Source,
  keyword: string,
  frames: readonly Frame[],
  place: Place,
  depth: number,
): Written["outer"] {
  return (clause) => {
    if (depth > 0) return undefined;
    const { text, column } = source;
    const stretches = frames[0]!.stretches;
    const clauseText = (word: string): string => {
      const found = stretches.filter((s) => s.clause === word).at(-1)?.tokens;
      return found?.length ? text.slice(found[0]!.from, found.at(-1)!.to) : "";
    };
    switch (clause) {
      case "": {
        if (column === undefined) return undefined;
        const nature = place.calculation.nature(source.place.self!);
        const heading = nature && nature.type !== "open" ? sortOfNature(nature) : unknown;
        return wantedLike(heading);
      }
      case "try": {
        const { trial } = source;
        if (trial === undefined) return wantedLike(sortOfText(clauseText(""), place));
        // The value that is tried may have been taken out meanwhile.
        return namesAt(place).sets.has(trial)
          ? wantedLike(sortOfValue(place.calculation.value(setKey(trial))))
          : undefined;
      }
      case "wait":
        return wantedKinds([kinds.time]);
      case "expect":
        return wantedLike(sortOfAsked(clauseText("ask"), place));
      case "mark": {
        const from = stretches.filter((s) => s.clause === "for").at(-1)?.tokens ?? [];
        const range = from.slice(
          2,
          from.findIndex((t) => t.text === "to"),
        );
        return range.length > 0
          ? wantedLike(sortOfText(text.slice(range[0]!.from, range.at(-1)!.to), place))
          : undefined;
      }
      case "bars":
      case "line":
      case "dots":
        return { wants: { is: "anything" }, list: "wanted", says: "a list" };
      case "by":
        return keyword === "chart"
          ? { wants: { is: "anything" }, list: "wanted", says: "a list" }
          : undefined;
      default:
        return undefined;
    }
  };
}

/** What `ask path in UNIT` asks for. */
function sortOfAsked(asked: string, place: Place): Sort {
  const sort = sortOfText(asked, outside(place));
  return sort.is === "list" ? sort.of : sort;
}
