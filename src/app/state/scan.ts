/**
 * A quick reading of formulas for the eye: what each stretch is, and what stands at the caret. It never fails and
 * judges nothing; the grammar does that.
 */

export type TokenType =
  | "blank"
  | "number"
  | "date"
  | "unit"
  | "name"
  | "call"
  | "part"
  | "word"
  | "text"
  | "comment"
  | "operator"
  | "other";

export interface Token {
  readonly type: TokenType;
  readonly from: number;
  readonly to: number;
}

const WORDS = new Set(
  "and or not is in within to step if then else where find from so that true false blank".split(" "),
);
const CLAUSES = new Set("try ask wait expect by for mark".split(" "));

const patterns: readonly (readonly [TokenType, RegExp])[] = [
  ["blank", /[ \t\u00a0\u2007\u2009\u202f\r\n]+/uy],
  ["comment", /#[^\n]*/uy],
  ["date", /\d{4}-\d{2}-\d{2}(?!\d)/uy],
  ["number", /\d+(?:\.\d+)?(?:[eE][-+]?\d+)?/uy],
  ["name", /`[^`\n]*`?|[\p{L}_][\p{L}\p{M}\p{N}_]*/uy],
  ["operator", /<=|>=|[-+*/^±<>=(),.:[\]−×·÷≤≥≠@]/uy],
];

const UNIT =
  /(?:%(?: ?(?:vol|mas)\b)?|‰|[°º˚]\p{L}+|\p{L}[\p{L}\p{N}_]*(?:[⁰¹²³⁴-⁹]+|\^-?\d+)?)(?:[/*·](?:%|‰|[°º˚]?\p{L}[\p{L}\p{N}_]*)(?:[⁰¹²³⁴-⁹]+|\^-?\d+)?)*/uy;

/** The tokens of a formula, one after the other, without holes. */
export function scan(text: string, from = 0, to = text.length): Token[] {
  const tokens: Token[] = [];
  let at = from;
  const last = (skip = 0): Token | undefined => {
    let left = skip;
    for (let i = tokens.length - 1; i >= 0; i--)
      if (tokens[i]!.type !== "blank" && left-- === 0) return tokens[i];
    return undefined;
  };
  const image = (t: Token | undefined): string => (t === undefined ? "" : text.slice(t.from, t.to));
  while (at < to) {
    const before = last();
    if (text[at] === '"') {
      const end = Math.min(to, endOfQuoted(text, at, to));
      tokens.push({ type: "text", from: at, to: end });
      at = end;
      continue;
    }
    const adjacent = tokens.at(-1) === before;
    if (before?.type === "number" || (before?.type === "word" && image(before) === "in" && !adjacent)) {
      UNIT.lastIndex = at;
      const match = UNIT.exec(text);
      if (match && match.index === at && !(before.type === "number" && isWord(match[0]))) {
        tokens.push({ type: "unit", from: at, to: Math.min(to, at + match[0].length) });
        at += match[0].length;
        continue;
      }
    }
    const found = patterns.find(([, pattern]) => {
      pattern.lastIndex = at;
      return pattern.test(text);
    });
    if (found === undefined) {
      tokens.push({ type: "other", from: at, to: at + 1 });
      at += 1;
      continue;
    }
    const end = Math.min(to, found[1].lastIndex);
    let type = found[0];
    const word = text.slice(at, end);
    if (type === "number" && image(before) === "." && adjacent) type = "part";
    if (type === "name") {
      if (image(before) === "." && adjacent) type = "part";
      else if (isWord(word)) type = "word";
      else if (/^\s*\(/.test(text.slice(end, to))) type = "call";
      else if (
        CLAUSES.has(word) &&
        before !== undefined &&
        before.type !== "operator" &&
        before.type !== "word"
      )
        type = "word";
    }
    tokens.push({ type, from: at, to: end });
    at = end;
  }
  return tokens;
}

const isWord = (word: string): boolean => WORDS.has(word);

/** Behind the closing quote, or the end; formulas in braces are part of the text. */
function endOfQuoted(text: string, at: number, to: number): number {
  let i = at + 1;
  let braces = 0;
  while (i < to) {
    const c = text[i]!;
    if (c === "\\") i++;
    else if (c === "{") braces++;
    else if (c === "}") braces = Math.max(0, braces - 1);
    else if (c === '"' && braces === 0) return i + 1;
    else if (c === '"') i = endOfQuoted(text, i, to) - 1;
    else if (c === "\n") return i;
    i++;
  }
  return to;
}

/** What stands at the caret of a formula. */
export interface Spot {
  /** The word that is being written; `from` to `to` is what a choice would replace. */
  readonly from: number;
  readonly to: number;
  readonly word: string;
  /** Words of the path before it: `a.b.` gives a and b. Empty for a bare name. */
  readonly path: readonly string[];
  /** Where the path begins. */
  readonly pathFrom: number;
  /** A unit is wanted here. */
  readonly unit: boolean;
  /** The innermost call that is open: its name, the place of the argument, its label. */
  readonly call?: {
    readonly name: string;
    readonly argument: number;
    readonly label?: string;
    readonly labels: readonly string[];
  };
  /** The operator in front, "" at the start. */
  readonly before: string;
  /** A name may stand here. */
  readonly wants: boolean;
}

/** Reads what stands at a caret. Inside text that is not a formula in braces nothing is wanted. */
export function spotAt(text: string, caret: number): Spot {
  const tokens = scan(text).filter((t) => t.type !== "blank");
  const inside = tokens.find((t) => t.type === "text" && caret > t.from && caret < t.to);
  if (inside) {
    const brace = braceAround(text, inside, caret);
    if (brace === undefined) return nothing(caret);
    const spot = spotAt(text.slice(brace.from, brace.to), caret - brace.from);
    return {
      ...spot,
      from: spot.from + brace.from,
      to: spot.to + brace.from,
      pathFrom: spot.pathFrom + brace.from,
    };
  }
  if (tokens.some((t) => t.type === "comment" && caret > t.from)) return nothing(caret);
  let index = tokens.findIndex((t) => isWordToken(t) && caret > t.from && caret <= t.to);
  const here = index === -1 ? undefined : tokens[index]!;
  if (index === -1) index = tokens.filter((t) => t.to <= caret).length;
  const path: string[] = [];
  let pathFrom = here?.from ?? caret;
  let i = index - 1;
  while (i >= 0 && text.slice(tokens[i]!.from, tokens[i]!.to) === ".") {
    const owner = tokens[i - 1];
    if (owner === undefined || !isWordToken(owner)) break;
    path.unshift(plain(text.slice(owner.from, owner.to)));
    pathFrom = owner.from;
    i -= 2;
  }
  const before = tokens[i];
  const beforeText = before === undefined ? "" : text.slice(before.from, before.to);
  const unit =
    here?.type === "unit" || (here === undefined && before?.type === "number" && path.length === 0);
  const call = callAround(text, tokens, i);
  const wants =
    path.length > 0 ||
    before === undefined ||
    (before.type === "operator" && beforeText !== ")" && beforeText !== "]") ||
    before.type === "word" ||
    here !== undefined;
  return {
    from: here?.from ?? caret,
    to: here?.to ?? caret,
    word: here === undefined ? "" : plain(text.slice(here.from, caret)),
    path,
    pathFrom,
    unit,
    ...(call === undefined ? {} : { call }),
    before: beforeText,
    wants: wants && here?.type !== "number",
  };
}

const isWordToken = (t: Token): boolean =>
  t.type === "name" ||
  t.type === "call" ||
  t.type === "part" ||
  t.type === "unit" ||
  t.type === "word" ||
  t.type === "number";

/** A name without its backticks. */
const plain = (word: string): string => word.replace(/^`|`$/g, "");

const nothing = (caret: number): Spot => ({
  from: caret,
  to: caret,
  word: "",
  path: [],
  pathFrom: caret,
  unit: false,
  before: "",
  wants: false,
});

/** The formula in braces around the caret, inside a text. */
function braceAround(text: string, inside: Token, caret: number): { from: number; to: number } | undefined {
  let from = -1;
  let depth = 0;
  for (let i = inside.from; i < inside.to; i++) {
    const c = text[i];
    if (c === "\\") i++;
    else if (c === "{" && depth++ === 0) from = i + 1;
    else if (c === "}" && --depth === 0) {
      if (from !== -1 && caret >= from && caret <= i) return { from, to: i };
      from = -1;
    }
  }
  return from !== -1 && caret >= from ? { from, to: inside.to } : undefined;
}

/** The innermost call whose bracket is open before a token. */
function callAround(text: string, tokens: readonly Token[], until: number): Spot["call"] {
  let depth = 0;
  let argument = 0;
  let label: string | undefined;
  const labels: string[] = [];
  for (let i = until; i >= 0; i--) {
    const t = text.slice(tokens[i]!.from, tokens[i]!.to);
    if (t === ")" || t === "]") depth++;
    else if (t === "[") {
      if (depth === 0) continue;
      depth--;
    } else if (t === "(") {
      if (depth > 0) {
        depth--;
        continue;
      }
      const owner = tokens[i - 1];
      if (owner?.type !== "call") return undefined;
      return {
        name: plain(text.slice(owner.from, owner.to)),
        argument,
        ...(label === undefined ? {} : { label }),
        labels,
      };
    } else if (depth === 0 && t === ",") argument++;
    else if (depth === 0 && t === ":" && tokens[i - 1] !== undefined) {
      const word = plain(text.slice(tokens[i - 1]!.from, tokens[i - 1]!.to));
      labels.push(word);
      if (argument === 0) label = word;
    }
  }
  return undefined;
}
