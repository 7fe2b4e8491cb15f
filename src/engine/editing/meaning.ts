import { unitExists } from "../../quantity";
import { vocabulary } from "../../vocabulary";
import { workingsOf } from "../book";
import type { Book, Shown } from "../report";
import type { Field } from "./field";
import type { Found, Meant } from "./found";
import { namingPlaceAt } from "./naming-place";
import { pathFound, startOfPath } from "./path";
import { namesAt } from "./place";
import { shownOf } from "./shown";
import { sortInWords } from "./sort";
import { type Source, sourceAt } from "./source";
import { type Spot, spotAt } from "./spot";
import type { Token } from "./tokens";

/** What the word under a caret means. */
export interface Meaning {
  /** The stretch of the name, with the path in front of it, in the field's text. */
  readonly from: number;
  readonly to: number;
  readonly means:
    | Meant
    /** `own`: a `define` of this book. */
    | { readonly type: "function"; readonly name: string; readonly own: boolean }
    | { readonly type: "label"; readonly function: string; readonly parameter: string }
    | { readonly type: "unit"; readonly unit: string };
  /** Full path as it would be written outside every table; "" for what has none. */
  readonly path: string;
  /** In words: "a volume", "a list, each a price per volume". */
  readonly is: string;
  readonly shown?: Shown;
}

/** A word in a source, with what was found out about it. */
export interface Pointed {
  readonly source: Source;
  readonly spot: Spot;
  /** The word itself; offsets in the source. */
  readonly word: Token;
  /** Where the path begins that ends with the word. */
  readonly from: number;
  readonly found?: Found;
  readonly means: Meaning["means"] | undefined;
}

/**
 * What the name, function, label or unit at a caret means; undefined where there is none or it means nothing. In the
 * text of the book a name means what it names also where it is defined, and a typed cell itself.
 */
export function meaning(book: Book, field: Field, caret: number): Meaning | undefined {
  const here = meantAt(book, field, caret);
  if (here === undefined) return undefined;
  const { found, means, from, to } = here;
  const shown = found && shownOf(found, book);
  return {
    from,
    to,
    means,
    path: found?.path ?? "",
    is: found ? sortInWords(found.sort) : "",
    ...(shown && { shown }),
  };
}

/** A stretch of a field that means something. */
export interface MeantHere {
  readonly from: number;
  readonly to: number;
  readonly found?: Found;
  readonly means: Meaning["means"];
  /** Missing where something is named or typed, not used. */
  readonly pointed?: Pointed;
}

export function meantAt(book: Book, field: Field, caret: number): MeantHere | undefined {
  const pointed = pointedAt(book, field, caret);
  if (pointed?.means === undefined) return namingPlaceAt(book, field, caret);
  const { source, word, from, means, found } = pointed;
  const span = { from: from - source.shift, to: word.to - source.shift };
  return { ...span, means, ...(found && { found }), pointed };
}

/** The word that a caret touches, and what it means there. */
function pointedAt(book: Book, field: Field, caret: number): Pointed | undefined {
  const workings = workingsOf(book);
  const source = sourceAt(workings, field, caret);
  const { text } = source;
  const at = caret + source.shift;
  for (const { end, only } of endsOfWord(text, at)) {
    const spot = spotAt(source, end - source.shift);
    const { word } = spot;
    if (word === undefined || word.from > at || word.to < at) continue;
    if (only !== undefined && spot.stands !== only) continue;
    return { source, spot, word, ...meansOf(spot, word) };
  }
  return undefined;
}

/** Where the word at `at` may end: behind its closing backtick, behind a unit of several words, behind its letters. */
function endsOfWord(text: string, at: number): readonly { readonly end: number; readonly only?: "unit" }[] {
  const behind = (pattern: RegExp): number => {
    pattern.lastIndex = at;
    pattern.test(text);
    return pattern.lastIndex;
  };
  const letters = behind(/[\p{L}\p{M}\p{Nd}_]*/uy);
  const tick = text.slice(at, behind(/[^\n]*/y)).indexOf("`");
  const unit = behind(/[^\s,()[\]"`|{}]*/uy);
  return [
    ...(tick < 0 ? [] : [{ end: at + tick + 1 }]),
    ...(unit > letters ? [{ end: unit, only: "unit" as const }] : []),
    { end: letters },
  ];
}

function meansOf(spot: Spot, word: Token): Pick<Pointed, "from" | "found" | "means"> {
  const { written, tokens, source } = spot;
  const { place } = written;
  const { text } = source;
  const name = word.name ?? word.text;
  if (spot.stands === "unit")
    return { from: word.from, means: unitExists(word.text) ? { type: "unit", unit: word.text } : undefined };
  if (spot.stands === "part") {
    const start = startOfPath(tokens);
    const found = pathFound([...tokens.slice(start), { ...word, type: "part", name }], place);
    return { from: tokens[start]!.from, ...(found && { found }), means: found?.meant };
  }
  const behind = text.slice(word.to);
  const frame = written.frames.at(-1)!;
  if (/^[ \t]*:/.test(behind) && frame.call?.name !== undefined && tokens.length === 0)
    return { from: word.from, means: labelOf(frame.call.name, name, spot) };
  if (spot.stands !== "operand" && spot.stands !== "operator") return { from: word.from, means: undefined };
  if (/^[ \t]*\(/.test(behind)) {
    const own = namesAt(place).defines.has(name);
    if (own || vocabulary.has(name)) return { from: word.from, means: { type: "function", name, own } };
  }
  if (word.type !== "name") return { from: word.from, means: undefined };
  const found = pathFound([{ ...word, name }], place);
  return { from: word.from, ...(found && { found }), means: found?.meant };
}

function labelOf(call: string, label: string, spot: Spot): Meaning["means"] | undefined {
  const own = namesAt(spot.written.place).defines.get(call);
  const parameters = own ? own.parameters : (vocabulary.get(call)?.parameters ?? []).map((p) => p.name);
  return parameters.includes(label) ? { type: "label", function: call, parameter: label } : undefined;
}
