import { parseFormula } from "../../../grammar";
import { endOfUnit } from "../../../grammar/scanning";
import { kinds } from "../../quantity";
import { cellsKey, footKey, setKey } from "../names";
import { originTable } from "../syntax";
import type { Written } from "./expectation";
import { argumentsBehind, type Frame, framesOf, lastStretch, NOTHING_BEHIND } from "./frames";
import { sortOfNature, sortOfText } from "./inference";
import { namesAt, outside, type Place, withLocals } from "./place";
import { regionAt } from "./region";
import { type Sort, sortOfValue, unknown, wantedKinds, wantedLike } from "./sort";
import { placeIn, type Source } from "./source";
import { endsOperand, isWordLike, type Token, tokensOf } from "./tokens";

/** Where a caret stands: what comes before it, what is being typed, and what may come. Offsets count in `source.text`. */
export interface Spot {
  readonly source: Source;
  readonly caret: number;
  /**
   * `start`: the first word of a statement. `header`: a name that the statement defines. `operand`: a value begins
   * here. `operator`: a value has ended. `part`: behind a dot. `unit`: behind a number or `in`. `number`: in a
   * number. `words`: in a text. `heading`, `cell`: in a table's row. `nothing`: in a comment, a title.
   */
  readonly stands:
    | "start"
    | "header"
    | "operand"
    | "operator"
    | "part"
    | "unit"
    | "number"
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

/** How a statement begins, up to where its formula starts. */
interface Head {
  readonly keyword: string;
  /** Tokens behind the first word that still belong to the head; the formula begins behind them. */
  readonly count: number;
  readonly whole: boolean;
  readonly locals: ReadonlyMap<string, Sort>;
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
  return spot.stands === "unit" || spot.stands === "number" ? spot : bare("nothing");
}

function formulaSpot(source: Source, caret: number, bare: Bare): Spot {
  const { text } = source;
  const isStatement = source.reads === "statement";
  const region = regionAt(text, 0, caret, {
    comments: isStatement,
    inText: source.reads === "sentence",
  });
  if (region.in === "comment") return bare("nothing");
  const whole = isStatement && region.depth === 0;
  // A sentence has no tokens of its own around its words.
  if (region.in === "text" && source.reads === "sentence" && region.depth === 0) return bare("nothing");
  const end = region.in === "text" ? region.quote : region.in === "name" ? region.tick : caret;
  const all = whole ? statementTokens(text, end) : tokensOf(text, region.from, end, "inner");
  if (all === undefined) return bare("nothing");
  const typing = region.in === "formula" ? typingOf(text, caret, all) : undefined;
  const before = typing ? all.slice(0, -typing.tokens) : all;
  const head = whole ? headOf(text, before) : undefined;
  if (head && !head.whole) {
    if (region.in === "text") return bare("nothing");
    const at = typing?.from ?? (region.in === "name" ? region.tick : caret);
    return { ...bare("header", at, endOfWord(text, caret)), keyword: head.keyword, tokens: before.slice(1) };
  }
  const frames = framesOf(head ? before.slice(head.count) : before);
  const base = head ? definedPlace(source, head, before) : source.place;
  const place = placeBehind(frames, text, withLocals(base, head?.locals ?? new Map()));
  const keyword = head?.keyword ?? "";
  const written: Written = {
    text,
    frames,
    behind: frames.some((f) => f.type === "call") ? argumentsBehind(text, caret) : NOTHING_BEHIND,
    place,
    outer: outerOf(source, keyword, frames, place, region.depth),
    lists: region.depth > 0 || !takesOneValue(source, keyword, place),
  };
  const { tokens } = lastStretch(frames[frames.length - 1]!);
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
  if (typing?.unit || last?.type === "number" || (last?.type === "word" && last.text === "in"))
    return { ...core, stands: "unit", typed, from, to: Math.max(caret, endOfUnit(text, from)) };
  if (typing?.number)
    return {
      ...core,
      stands: "number",
      typed: "",
      from: caret,
      to: caret,
      tokens: [...tokens, typing.number],
    };
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
  readonly unit?: boolean;
  readonly number?: Token;
  readonly word?: Token;
}

/** What the caret is still writing, if it touches the end of a word, a unit or a number. */
function typingOf(text: string, caret: number, tokens: readonly Token[]): Typing | undefined {
  const last = tokens.at(-1);
  if (last === undefined || last.to !== caret) return undefined;
  const before = tokens.at(-2);
  if (last.type === "unit") return { from: last.from, tokens: 1, unit: true, word: last };
  // `GBP/` is a unit that goes on; `°` begins one.
  if (
    last.type === "operator" &&
    (last.text === "/" || last.text === "*") &&
    before?.type === "unit" &&
    before.to === last.from
  )
    return { from: before.from, tokens: 2, unit: true };
  if (
    last.type === "odd" &&
    /^[°º˚]$/.test(text.slice(last.from, caret)) &&
    (before?.type === "number" || before?.text === "in")
  )
    return { from: last.from, tokens: 1, unit: true };
  if (last.type === "number") return { from: last.from, tokens: 1, number: last };
  return isWordLike(last) && last.type !== "label" ? { from: last.from, tokens: 1, word: last } : undefined;
}

const HEADS =
  /^(?:language|book|about|part|set|define|table|column|foot|check|chart|step|seen)(?![\p{L}\p{M}\p{Nd}_])/u;

/** Tokens of a statement up to `end`, or undefined when it begins with no word that begins one. */
function statementTokens(text: string, end: number): readonly Token[] | undefined {
  return HEADS.test(text) && end > 0 ? tokensOf(text, 0, end, "statement") : undefined;
}

/** What stands before the formula in each statement. */
function headOf(text: string, tokens: readonly Token[]): Head {
  const keyword = tokens[0]?.text ?? "";
  const none = new Map<string, Sort>();
  const equals = tokens.findIndex((t) => t.type === "operator" && t.text === "=");
  switch (keyword) {
    case "set":
    case "column":
    case "foot":
      return { keyword, count: equals + 1, whole: equals > 0, locals: none };
    case "define": {
      const names = tokens.slice(2, Math.max(2, equals)).flatMap((t) => (t.type === "name" ? [t.name!] : []));
      return {
        keyword,
        count: equals + 1,
        whole: equals > 0,
        locals: new Map(names.map((n) => [n, unknown] as const)),
      };
    }
    case "check":
    case "seen":
      return { keyword, count: 1, whole: tokens.length > 0, locals: none };
    case "step":
      return { keyword, count: 2, whole: tokens.length > 1, locals: none };
    case "chart":
      return { keyword, count: 2, whole: tokens.length > 2, locals: curveVariable(text) };
    default:
      return { keyword, count: tokens.length, whole: false, locals: none };
  }
}

/** A statement in the text stands in its table and defines its name, as the field of its formula would. */
function definedPlace({ place, table, trial }: Source, { keyword }: Head, tokens: readonly Token[]): Place {
  const name = tokens[1]?.name;
  if (name === undefined || trial !== undefined) return place;
  switch (keyword) {
    case "set":
      return { ...place, self: setKey(name) };
    case "column":
      return table ? { ...placeIn(table, "row", place), self: cellsKey(table.name, name) } : place;
    case "foot":
      return table ? { ...placeIn(table, "foot", place), self: footKey(table.name, name) } : place;
    default:
      return place;
  }
}

/** The variable of a curve stands behind the formula that uses it. */
function curveVariable(text: string): ReadonlyMap<string, Sort> {
  const tokens = tokensOf(text, 0, text.length, "statement");
  const at = tokens.findIndex((t) => t.type === "clause" && t.text === "for");
  const name =
    at < 0 || !tokens.some((t) => t.type === "style" && t.text === "curve")
      ? undefined
      : tokens[at + 1]?.name;
  return name === undefined ? new Map() : new Map([[name, unknown] as const]);
}

/** `where` opens the columns of its list's table, and `find` a variable, for what comes behind. */
function placeBehind(frames: readonly Frame[], text: string, place: Place): Place {
  let here = place;
  for (const frame of frames) {
    const { tokens } = lastStretch(frame);
    tokens.forEach((token, i) => {
      if (token.type !== "word") return;
      if (token.text === "where" && i > 0) {
        const { formula } = parseFormula(text.slice(tokens[0]!.from, tokens[i - 1]!.to));
        const table = originTable(formula, here.scope);
        if (table) here = { ...here, scope: { ...here.scope, table, place: "row" }, row: -1 };
      }
      if (token.text !== "that") return;
      const find = tokens.findLastIndex((t, k) => k < i && t.type === "word" && t.text === "find");
      const name = find < 0 ? undefined : tokens[find + 1]?.name;
      if (name === undefined || namesAt(here).sets.has(name)) return;
      const [from, to] = ["from", "to"].map((w) => tokens.findIndex((t, k) => k > find && t.text === w));
      const range =
        from! > 0 && to! > from! + 1 ? text.slice(tokens[from! + 1]!.from, tokens[to! - 1]!.to) : "";
      here = withLocals(here, new Map([[name, sortOfText(range, here)]]));
    });
  }
  return here;
}

/** A cell and a check hold one value; so does each row for which a condition is asked. */
function takesOneValue(source: Source, keyword: string, place: Place): boolean {
  if (source.column !== undefined || keyword === "check" || source.asks === true) return true;
  return place.scope.table !== undefined && place.scope.place === "row";
}

/** What the whole formula should come to, by where it stands. */
function outerOf(
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
        const value = source.trial === undefined ? undefined : place.calculation.value(setKey(source.trial));
        return wantedLike(value ? sortOfValue(value) : sortOfText(clauseText(""), place));
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
