import { kinds } from "../../quantity";
import { vocabulary } from "../../vocabulary";
import type { Declaration, Parameter } from "../../vocabulary/declaration";
import { labelOnly } from "../../vocabulary/glossary";
import { type Behind, type Frame, lastStretch, NOTHING_BEHIND } from "./frames";
import { asStep, sortOfText } from "./inference";
import { namesAt, type Place } from "./place";
import { type Expected, type Sort, unknown, wantedBy, wantedKinds, wantedLike } from "./sort";
import { endsOperand, type Token } from "./tokens";

/** A formula that is being written, as far as the caret. */
export interface Written {
  /** Text in which the tokens count. */
  readonly text: string;
  readonly frames: readonly Frame[];
  /** What the innermost call is given behind the caret. */
  readonly behind: Behind;
  readonly place: Place;
  /** What the whole formula should come to, by the clause of the statement in which it stands. */
  outer(clause: string): Expected | undefined;
  /** Whether the whole formula may come to a list. */
  readonly lists: boolean;
}

/** How tightly the words and operators bind; what is looser bounds an operand. `±` and `^` bound none. */
const TIGHTNESS: ReadonlyMap<string, number> = new Map([
  ["where", 0],
  ...["if", "then", "else", "find", "from", "so", "that"].map((w) => [w, 1] as const),
  ["to", 2],
  ["step", 2],
  ["or", 3],
  ["and", 4],
  ["not", 5],
  ...["<", "<=", ">", ">=", "≤", "≥", "≠", "is", "within"].map((w) => [w, 6] as const),
  ["in", 7],
  ["+", 8],
  ["-", 8],
  ["*", 9],
  ["/", 9],
]);

/** The operands of `in` and of `and`. */
export const TIGHT = { sum: 7, condition: 5 } as const;

/** The `to` of a `within` binds like it, that of a range more loosely. */
function tightness(tokens: readonly Token[], i: number): number | undefined {
  const { type, text } = tokens[i]!;
  if (type !== "word" && type !== "operator") return undefined;
  return TIGHTNESS.get(text === "to" && withinOf(tokens, i) >= 0 ? "within" : text);
}

/** Whether a `+` or `-` stands between two operands. */
const isBinary = (tokens: readonly Token[], i: number): boolean => endsOperand(tokens[i - 1]);

/** Where the operand begins that ends before `end`, bounded by what binds looser than `level`. */
export function startOfOperand(tokens: readonly Token[], end: number, level: number): number {
  for (let i = end - 1; i >= 0; i--) {
    const tight = tightness(tokens, i);
    if (tight === undefined || tight >= level) continue;
    if (tight === 8 && !isBinary(tokens, i)) continue;
    return i + 1;
  }
  return 0;
}

/** The last place before `end` where one of some words stands, or -1. */
function lastOf(
  tokens: readonly Token[],
  end: number,
  words: readonly string[],
  stop: readonly string[] = [],
): number {
  for (let i = end - 1; i >= 0; i--) {
    const { type, text } = tokens[i]!;
    if (type !== "word") continue;
    if (words.includes(text)) return i;
    if (stop.includes(text)) return -1;
  }
  return -1;
}

/** The `within` whose second end follows at `end`, or -1. */
export const withinOf = (tokens: readonly Token[], end: number): number =>
  lastOf(tokens, end, ["within"], ["to", "then", "else", "where", "and", "or", "from"]);

/** The `if` that a `then` or `else` before `end` belongs to. */
function matchingIf(tokens: readonly Token[], end: number): number {
  let closed = 0;
  for (let i = end - 1; i >= 0; i--) {
    const { type, text } = tokens[i]!;
    if (type !== "word") continue;
    if (text === "else") closed++;
    else if (text === "if") {
      if (closed === 0) return i;
      closed--;
    }
  }
  return -1;
}

/** What is wanted where the caret stands. Undefined: anything may stand there, or nothing can be told. */
export function expectedAtCaret(written: Written): Expected | undefined {
  const { frames } = written;
  return expectedBehind(written, frames.length - 1, lastStretch(frames[frames.length - 1]!).tokens);
}

/**
 * Whether a list may stand at the caret: where the formula may come to one, or inside a call that makes one value of
 * it. The condition of an `if` or a `where` is asked of one value at a time.
 */
export function listsAtCaret({ frames, place, lists }: Written): boolean {
  for (let depth = frames.length - 1; depth >= 0; depth--) {
    const frame = frames[depth]!;
    if (inCondition(lastStretch(frame).tokens)) return false;
    if (frame.type !== "call") continue;
    const active = activeParameter(frame, place);
    // Of a function of the book nobody knows.
    if (active === undefined || active.parameter?.list === true || active.parameter?.takes === "any")
      return true;
  }
  return lists;
}

function inCondition(tokens: readonly Token[]): boolean {
  const last = tokens.findLast(
    (t) => t.type === "word" && (t.text === "if" || t.text === "then" || t.text === "where"),
  );
  return last !== undefined && last.text !== "then";
}

/** What is wanted behind some tokens of the innermost stretch of a frame. */
export function expectedBehind(
  written: Written,
  depth: number,
  tokens: readonly Token[],
): Expected | undefined {
  const end = tokens.length - 1;
  const last = tokens[end];
  if (last === undefined) return expectedFirst(written, depth);
  const sortOf = (from: number, to: number): Sort => sortBetween(written, tokens, from, to);
  const likeOperand = (level: number): Expected | undefined =>
    wantedLike(sortOf(startOfOperand(tokens, end, level), end));
  const before = (count: number): Expected | undefined =>
    expectedBehind(written, depth, tokens.slice(0, count));
  if (last.type === "operator") {
    switch (last.text) {
      case "+":
      case "-": {
        if (!isBinary(tokens, end)) return before(end);
        const sort = sortOf(startOfOperand(tokens, end, 8), end);
        return afterSign(last.text, sort);
      }
      case "±": {
        const from = startOfOperand(tokens, end, 10);
        const sort = sortOf(from, end);
        const bare = from === end - 1 && tokens[from]!.type === "number";
        return bare ? stepOf(before(from)) : wantedLike(asStep(sort));
      }
      case "<":
      case "<=":
      case ">":
      case ">=":
      case "≤":
      case "≥":
      case "≠":
        return likeOperand(6);
      case "^":
        return wantedKinds([kinds.plain]);
      default:
        return undefined;
    }
  }
  if (last.type !== "word") return undefined;
  switch (last.text) {
    case "is":
      return likeOperand(6);
    case "within":
      return likeOperand(6);
    case "not":
      return tokens[end - 1]?.text === "is"
        ? wantedLike(sortOf(startOfOperand(tokens, end - 1, 6), end - 1))
        : undefined;
    case "to": {
      const within = withinOf(tokens, end);
      if (within >= 0) return wantedLike(sortOf(startOfOperand(tokens, within, 6), within));
      return likeOperand(2);
    }
    case "step": {
      const to = lastOf(tokens, end, ["to"]);
      return to < 0 ? undefined : wantedLike(asStep(sortOf(startOfOperand(tokens, to, 2), to)));
    }
    case "from":
      return expectedFrom(written, tokens, end);
    case "then":
    case "else": {
      const then = lastOf(tokens, end, ["then"]);
      const like = then < 0 ? undefined : wantedLike(sortOf(then + 1, end));
      const at = matchingIf(tokens, end);
      return like ?? (at < 0 ? undefined : before(at));
    }
    default:
      return undefined;
  }
}

/** `find pull from …`: a set that is turned keeps its kind. */
function expectedFrom(written: Written, tokens: readonly Token[], end: number): Expected | undefined {
  const variable = tokens[end - 1];
  if (tokens[end - 2]?.text !== "find" || variable?.name === undefined) return undefined;
  return namesAt(written.place).sets.has(variable.name)
    ? wantedLike(sortBetween(written, tokens, end - 1, end))
    : undefined;
}

/** A sum holds one kind; a temperature goes with a difference. */
function afterSign(sign: "+" | "-", sort: Sort): Expected | undefined {
  const single = sort.is === "list" ? sort.of : sort;
  if (single.is === "date") {
    return sign === "-"
      ? { wants: { is: "anything" }, list: "taken", says: "a date or a count of days" }
      : wantedKinds([kinds.time]);
  }
  if (single.is !== "quantity") return undefined;
  const { kind } = single.unit;
  if (kind === kinds.temperature)
    return wantedKinds(sign === "+" ? [kinds.difference] : [kinds.difference, kinds.temperature]);
  if (kind === kinds.difference && sign === "+") return wantedKinds([kinds.difference, kinds.temperature]);
  return wantedLike(single);
}

/** A ± beside a number that has its unit still to come: `20 ± 0.5 °C` wants what 20 is. */
function stepOf(expected: Expected | undefined): Expected | undefined {
  if (expected?.wants.is !== "quantity") return expected;
  const { unit } = expected.wants;
  return unit ? wantedLike(asStep({ is: "quantity", unit })) : expected;
}

/** What stands first in a stretch takes the meaning of the stretch. */
function expectedFirst(written: Written, depth: number): Expected | undefined {
  const frame = written.frames[depth]!;
  switch (frame.type) {
    case "whole":
      return written.outer(lastStretch(frame).clause);
    case "group":
      return behindFrame(written, depth - 1);
    case "list": {
      const first = frame.stretches[0]!.tokens;
      if (frame.stretches.length > 1) return wantedLike(sortBetween(written, first, 0, first.length));
      const whole = behindFrame(written, depth - 1);
      return whole && { ...whole, list: "taken", says: whole.says.replace(/^a list, each /u, "") };
    }
    case "call": {
      const active = activeParameter(frame, written.place);
      return active?.parameter && wantedOf(active.declaration, active.parameter);
    }
  }
}

/** Functions that take quantities of any kind, which their declarations cannot say. */
const OF_QUANTITIES: ReadonlySet<string> = new Set([
  "sum",
  "mean",
  "median",
  "standard_deviation",
  "relative_deviation",
  "mean_interval",
  "compare_means",
  "recovered",
  "whole",
  "whole_up",
  "round_to",
  "abs",
  "share_out",
]);

function wantedOf({ name }: Declaration, parameter: Parameter): Expected {
  const wanted = wantedBy(parameter);
  if (parameter.takes !== "any" || !OF_QUANTITIES.has(name)) return wanted;
  const says = wanted.list === "wanted" ? "a list, each a quantity" : "a quantity";
  return { ...wanted, wants: { is: "number" }, says };
}

function behindFrame(written: Written, depth: number): Expected | undefined {
  return expectedBehind(written, depth, lastStretch(written.frames[depth]!).tokens);
}

/** What a run of tokens comes to. */
export function sortBetween(
  { text, place }: Written,
  tokens: readonly Token[],
  from: number,
  to: number,
): Sort {
  if (to <= from) return unknown;
  return sortOfText(text.slice(tokens[from]!.from, tokens[to - 1]!.to), place);
}

/** The sort of the operand that `in` follows: a whole sum. */
export function sortBeforeIn(written: Written, tokens: readonly Token[], end: number): Sort {
  return sortBetween(written, tokens, startOfOperand(tokens, end, TIGHT.sum), end);
}

// ---- calls

/** The parameter of a call that is being written. */
export interface ActiveParameter {
  readonly declaration: Declaration;
  /** Missing when one argument too many is written, or a label that the function does not have. */
  readonly parameter?: Parameter;
  /** Parameters that have been given already, the active one left out. */
  readonly given: ReadonlySet<string>;
}

/** The call of a vocabulary function in which the caret stands, and the parameter that is its turn. */
export function activeParameter(
  frame: Frame,
  place: Place,
  behind: Behind = NOTHING_BEHIND,
): ActiveParameter | undefined {
  const name = frame.call?.name;
  if (name === undefined || namesAt(place).defines.has(name)) return undefined;
  const declaration = vocabulary.get(name);
  if (declaration === undefined) return undefined;
  const byPlace = declaration.parameters.filter((p) => !labelOnly(declaration, p));
  const given = new Set<string>();
  let parameter: Parameter | undefined;
  let labelled = false;
  let count = 0;
  for (const { label } of frame.stretches) {
    if (parameter) given.add(parameter.name);
    if (label) {
      labelled = true;
      parameter = declaration.parameters.find((p) => p.name === label.name);
    } else {
      // Behind a labelled argument nothing is taken by place.
      parameter = labelled ? undefined : byPlace[count++];
    }
  }
  for (const label of behind.labels) given.add(label);
  for (let i = 0; i < behind.places && !labelled; i++) {
    const next = byPlace[count++];
    if (next) given.add(next.name);
  }
  return { declaration, given, ...(parameter && { parameter }) };
}
