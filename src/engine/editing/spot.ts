import { endOfUnit, tokensOf } from "../../../grammar";
import { outerOf, takesOneValue } from "./clause";
import type { Written } from "./expectation";
import { argumentsBehind, framesOf, lastStretch, NOTHING_BEHIND } from "./frames";
import type { Place } from "./place";
import { regionAt } from "./region";
import { placeBehind, withHeadNames } from "./sight";
import type { Source } from "./source";
import { definedPlace, type Head, headOf, statementTokens } from "./statement-head";
import { endsOperand, isWordLike, type Token } from "./tokens";

/** Where a caret stands: what comes before it, what is being typed, and what may come. Offsets count in `source.text`. */
export interface Spot {
  readonly source: Source;
  readonly caret: number;
  /**
   * `start`: the first word of a statement. `header`: a name that the statement defines. `operand`: a value begins
   * here. `operator`: a value has ended. `part`: behind a dot. `unit`: behind a number or `in`. `words`: in a text. `heading`, `cell`: in a table's row. `nothing`: in a comment, a title.
   */
  readonly stands:
    | "start"
    | "header"
    | "operand"
    | "operator"
    | "part"
    | "unit"
    | "words"
    | "heading"
    | "cell"
    | "nothing";
  /** What is being typed, and the stretch that a proposal would replace. */
  readonly typed: string;
  readonly from: number;
  readonly to: number;
  /** The first word of the statement, "" elsewhere. */
  readonly keyword: string;
  readonly written: Written;
  /** Tokens of the innermost stretch, without what is being typed. */
  readonly tokens: readonly Token[];
  /** The word that ends at the caret. */
  readonly word?: Token;
}

export function spotAt(source: Source, caretInField: number): Spot {
  const { text } = source;
  const caret = Math.max(0, Math.min(text.length, caretInField + source.shift));
  const bare = (stands: Spot["stands"], from = caret, to = caret): Spot => ({
    source,
    caret,
    stands,
    typed: text.slice(from, caret),
    from,
    to,
    keyword: "",
    tokens: [],
    written: {
      text,
      frames: framesOf([]),
      behind: NOTHING_BEHIND,
      place: source.place,
      outer: () => undefined,
      lists: true,
    },
  });
  switch (source.reads) {
    case "nothing":
      return bare("nothing");
    case "start":
      return bare("start", 0, endOfWord(text, caret));
    case "heading":
      return headingSpot(bare, text, caret);
    case "cell":
      return cellSpot(bare, source, caret);
    default:
      return formulaSpot(source, caret, bare);
  }
}

type Bare = (stands: Spot["stands"], from?: number, to?: number) => Spot;

/** Only the bracket of a heading holds something to propose: a unit, or what the column holds. */
function headingSpot(bare: Bare, text: string, caret: number): Spot {
  const open = text.lastIndexOf("(", caret - 1);
  if (open < 0 || text.slice(open, caret).includes(")")) return bare("nothing");
  const from = open + 1 + /^\s*/.exec(text.slice(open + 1, caret))![0].length;
  return bare("heading", from, Math.max(caret, endOfUnit(text, from)));
}

/** A typed cell: behind its number a unit, else one of the texts of its column. */
function cellSpot(bare: Bare, source: Source, caret: number): Spot {
  const { text } = source;
  const first = /^\s*/.exec(text)![0].length;
  if (caret < first) return bare("cell", caret, caret);
  if (!/^[-+−]?\d/.test(text.slice(first)))
    return bare("cell", first, Math.max(caret, text.trimEnd().length));
  const spot = formulaSpot({ ...source, reads: "formula" }, caret, bare);
  return spot.stands === "unit" ? { ...spot, source } : bare("nothing");
}

function formulaSpot(source: Source, caret: number, bare: Bare): Spot {
  const { text } = source;
  const isStatement = source.reads === "statement";
  const comments = source.column === undefined;
  const region = regionAt(text, 0, caret, { comments, inText: source.reads === "sentence" });
  if (region.in === "comment") return bare("nothing");
  const whole = isStatement && region.depth === 0;
  // A sentence has no tokens of its own around its words.
  if (region.in === "text" && source.reads === "sentence" && region.depth === 0) return bare("nothing");
  const end = region.in === "text" ? region.quote : region.in === "name" ? region.tick : caret;
  const all = whole
    ? statementTokens(text, end)
    : tokensOf(text, region.from, end, comments && region.depth === 0 ? "formula" : "inner");
  if (all === undefined) return bare("nothing");
  const typing = region.in === "formula" ? typingOf(caret, all) : undefined;
  const before = typing ? all.slice(0, -typing.tokens) : all;
  const head = whole ? headOf(text, before) : undefined;
  if (head && !head.whole) {
    if (region.in === "text") return bare("nothing");
    const at = typing?.from ?? (region.in === "name" ? region.tick : caret);
    return { ...bare("header", at, endOfWord(text, caret)), keyword: head.keyword, tokens: before.slice(1) };
  }
  const frames = framesOf(head ? before.slice(head.count) : before);
  const base = head ? headPlace(source, head, before, lastStretch(frames[0]!).clause) : source.place;
  const place = placeBehind(frames, text, base);
  const keyword = head?.keyword ?? "";
  const written: Written = {
    text,
    frames,
    behind: argumentsBehind(text, caret),
    place,
    outer: outerOf(source, keyword, frames, place, region.depth),
    lists: region.depth > 0 || !takesOneValue(source, keyword, place),
  };
  const { tokens, clause } = lastStretch(frames[frames.length - 1]!);
  // Behind the colon of a check stands what it is about, in plain words.
  if (keyword === "check" && clause === ":") return { ...bare("nothing"), keyword };
  const core = { source, caret, keyword, written, tokens, ...(typing?.word && { word: typing.word }) };
  if (region.in === "text") {
    const close = /^[^"\n]*"/.exec(text.slice(caret));
    const to = close && !/[,)=|{}]/.test(close[0]) ? caret + close[0].length : caret;
    return {
      ...core,
      stands: endsOperand(tokens.at(-1)) ? "nothing" : "words",
      typed: text.slice(region.quote + 1, caret),
      from: region.quote,
      to,
    };
  }
  if (region.in === "name") {
    const close = /^[^`\n()[\],"*/+=<>|{}]*`/.exec(text.slice(caret));
    const to = close ? caret + close[0].length : caret;
    const stands = isDot(before.at(-1)) ? "part" : "operand";
    return { ...core, stands, typed: text.slice(region.tick + 1, caret), from: region.tick, to };
  }
  const from = typing?.from ?? caret;
  const typed = text.slice(from, caret);
  const last = tokens.at(-1);
  if (isDot(last)) return { ...core, stands: "part", typed, from, to: endOfWord(text, caret) };
  if (last?.type === "number" || (last?.type === "word" && last.text === "in"))
    return { ...core, stands: "unit", typed, from, to: Math.max(caret, endOfUnit(text, from)) };
  // Behind the sentence of a step only its clauses can follow.
  const clauses = keyword === "step" && frames.length === 1 && lastStretch(frames[0]!).clause === "";
  return {
    ...core,
    stands: endsOperand(last) || clauses ? "operator" : "operand",
    typed,
    from,
    to: endOfWord(text, caret),
  };
}

/** Where the formula of a statement stands, and what its head lets it see: only a curve sees its variable. */
function headPlace(source: Source, head: Head, tokens: readonly Token[], clause: string): Place {
  const place = definedPlace(source, head, tokens);
  const isChart = head.keyword === "chart";
  if (isChart && clause !== "curve") return place;
  const all = isChart ? statementTokens(source.text, source.text.length) : undefined;
  return withHeadNames(head.locals, all ?? [], source.text, place);
}

const isDot = (token: Token | undefined): boolean => token?.type === "operator" && token.text === ".";

/** Offset behind the letters and digits at `at`. */
function endOfWord(text: string, at: number): number {
  const rest = /[\p{L}\p{M}\p{Nd}_]*/uy;
  rest.lastIndex = at;
  rest.test(text);
  // Within a character of two units a search begins before it.
  return Math.max(at, rest.lastIndex);
}

interface Typing {
  readonly from: number;
  /** Tokens that are still being written. */
  readonly tokens: number;
  readonly word?: Token;
}

/** What the caret is still writing, if it touches the end of a word, a unit or a number. */
function typingOf(caret: number, tokens: readonly Token[]): Typing | undefined {
  const last = tokens.at(-1);
  if (last === undefined || last.to !== caret) return undefined;
  const before = tokens.at(-2);
  // `GBP/` is a unit that goes on.
  if (
    last.type === "operator" &&
    (last.text === "/" || last.text === "*") &&
    before?.type === "unit" &&
    before.to === last.from
  )
    return { from: before.from, tokens: 2 };
  return isWordLike(last) && last.type !== "label" ? { from: last.from, tokens: 1, word: last } : undefined;
}
