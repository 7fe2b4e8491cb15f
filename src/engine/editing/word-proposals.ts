import { sortBetween, startOfOperand, TIGHT, withinOf } from "./expectation";
import { type Candidate, matchOf } from "./proposal";
import type { Spot } from "./spot";
import type { Token } from "./tokens";

/** The words of the language that can stand at a caret, and what each does. */

interface Word {
  readonly word: string;
  /** What is written, with `¦` where the caret goes. */
  readonly template?: string;
  readonly says: string;
}

const IN: Word = { word: "in", template: "in ¦", says: "shows it in another unit" };
const COMPARING: readonly Word[] = [
  { word: "is", template: "is ¦", says: "asks whether two are equal" },
  { word: "is not", template: "is not ¦", says: "asks whether two differ" },
  { word: "within", template: "within ¦ to ", says: "asks whether it lies between two, both included" },
];
const JOINING: readonly Word[] = [
  { word: "and", template: "and ¦", says: "true when both are" },
  { word: "or", template: "or ¦", says: "true when one is" },
];
const WHERE: Word = {
  word: "where",
  template: "where ¦",
  says: "keeps the entries of a list for which something is true",
};
const TO: Word = { word: "to", template: "to ¦", says: "counts up to here, both ends included" };
const STEP: Word = { word: "step", template: "step ¦", says: "how far apart the entries are" };

/** Words that can follow a whole operand. */
export function wordsBehind(spot: Spot): readonly Candidate[] {
  const { tokens, written } = spot;
  const words: Word[] = [];
  const count = (word: string): number => tokens.filter((t) => t.type === "word" && t.text === word).length;
  const finding = openFind(tokens);
  if (finding === "name")
    return candidates([{ word: "from", template: "from ¦", says: "where the search begins" }], spot.typed);
  if (finding === "from") words.push({ word: "to", template: "to ¦", says: "where the search ends" });
  if (finding === "to")
    words.push({ word: "so that", template: "so that ¦", says: "what must hold where it is found" });
  if (count("if") > count("then"))
    words.push({ word: "then", template: "then ¦", says: "the outcome when it is true" });
  if (count("then") > count("else"))
    words.push({ word: "else", template: "else ¦", says: "the outcome when it is not" });
  const outermost = written.frames.length === 1;
  const clause = outermost ? written.frames[0]!.stretches.at(-1)!.clause : "";
  if (outermost) words.push(...clausesOf(spot, clause));
  if (clause === "for") {
    if (tokens.length === 1) words.push({ word: "from", template: "from ¦", says: "where the curve begins" });
    else if (count("to") === 0) words.push({ word: "to", template: "to ¦", says: "where the curve ends" });
  } else if (clause === "try") {
    if (count("to") === 0) words.push({ ...TO, says: "the other end of the slider" });
  } else if (!outermost || spot.keyword !== "step") {
    if (finding === undefined) words.push(...operations(spot));
    if (finding === "that") words.push(IN, ...(count("is") === 0 ? [COMPARING[0]!] : []));
  }
  if (
    count("to") > 0 &&
    count("step") === 0 &&
    count("within") === 0 &&
    finding === undefined &&
    clause !== "for"
  )
    words.push(STEP);
  if (clause === "ask" && count("in") === 0)
    words.push({ word: "in", template: "in ¦", says: "the unit that is asked for" });
  return candidates(words, spot.typed);
}

/** What can be done with what stands before the caret: what it is decides which words make sense. */
function operations({ written, tokens }: Spot): readonly Word[] {
  const end = tokens.length;
  const start = startOfOperand(tokens, end, TIGHT.sum);
  const sum = sortBetween(written, tokens, start, end);
  const asked = startOfOperand(tokens, end, TIGHT.condition);
  const condition = sortBetween(written, tokens, asked, end);
  const whole = sortBetween(written, tokens, 0, end);
  const single = sum.is === "list" ? sum.of : sum;
  const ranged = ["to", "step"].includes(tokens[start - 1]?.text ?? "");
  const compared = ranged || start > asked;
  const words: Word[] = [];
  if (single.is === "quantity" || single.is === "unknown") words.push(IN);
  if (withinOf(tokens, end) >= 0) return [...words, { ...TO, says: "the other end, included too" }];
  if (single.is !== "truth" && single.is !== "record" && !compared)
    words.push(...COMPARING.filter((w) => w.word !== "within" || single.is !== "text"));
  if (condition.is === "truth" || condition.is === "unknown") words.push(...JOINING);
  const has = (word: string): boolean => tokens.some((t) => t.type === "word" && t.text === word);
  // A list is sifted once in each bracket.
  if (!has("where") && (whole.is === "list" || (whole.is === "unknown" && !has("if")))) words.push(WHERE);
  const joined = ["and", "or"].includes(tokens[asked - 1]?.text ?? "");
  const counted = single.is === "quantity" && sum.is !== "list" && !compared && !joined;
  if (counted && !has("to")) words.push(TO);
  return words;
}

/** How far a `find` has come. */
function openFind(tokens: readonly Token[]): "name" | "from" | "to" | "that" | undefined {
  const at = tokens.findLastIndex((t) => t.type === "word" && t.text === "find");
  if (at < 0) return undefined;
  const behind = tokens.slice(at + 1).filter((t) => t.type === "word");
  if (behind.some((t) => t.text === "that")) return "that";
  if (behind.some((t) => t.text === "to")) return "to";
  return behind.some((t) => t.text === "from") ? "from" : "name";
}

/** Clause words that a statement can still take. */
function clausesOf(spot: Spot, clause: string): readonly Word[] {
  const used = new Set(spot.written.frames[0]!.stretches.map((s) => s.clause));
  switch (spot.keyword) {
    case "set":
      return clause === ""
        ? [{ word: "try", template: "try ¦ to ", says: "offers a slider between two values" }]
        : [];
    case "step":
      return stepClauses(used, clause);
    case "chart":
      if (clause === "curve")
        return [
          { word: "for", template: "for ¦ from  to ", says: "the variable of the curve, and its ends" },
        ];
      if (clause === "for")
        return [{ word: "mark", template: "mark ¦", says: "marks the point at which the book works" }];
      return used.has("by") || used.has("curve")
        ? []
        : [{ word: "by", template: "by ¦", says: "what the picture is laid out along" }];
    default:
      return [];
  }
}

function stepClauses(used: ReadonlySet<string>, clause: string): readonly Word[] {
  const words: Word[] = [];
  if (!used.has("wait")) words.push({ word: "wait", template: "wait ¦", says: "a timer on the bench card" });
  words.push({ word: "ask", template: "ask ¦", says: "a reading to be written down" });
  if (clause === "ask")
    words.push({ word: "expect", template: "expect ¦", says: "the reading that is planned, with its ±" });
  return words;
}

const BEGINNING: readonly Word[] = [
  { word: "if", template: "if ¦ then  else ", says: "one of two outcomes" },
  { word: "find", template: "find ¦ from  to  so that ", says: "the value for which something holds" },
  { word: "not", template: "not ¦", says: "true when it is false" },
  { word: "blank", says: "a gap on purpose, to be filled in later" },
  { word: "true", says: "holds" },
  { word: "false", says: "does not hold" },
];

/** Words with which an operand can begin; only once something of them has been typed. */
export function wordsInFront(spot: Spot): readonly Candidate[] {
  if (spot.typed === "") return [];
  const { scope } = spot.written.place;
  const words = [...BEGINNING];
  if (scope.table) {
    if (scope.place === "row")
      words.push({ word: "before", template: "before.¦", says: "the row before this one" });
    if (scope.table.feet.size > 0)
      words.push({ word: "foot", template: "foot.¦", says: "a value under this table" });
    words.push({ word: "book", template: "book.¦", says: "a name of the book, past the columns" });
  }
  return candidates(words, spot.typed);
}

/** The ways of drawing a chart. */
export function chartStyles(typed: string): readonly Candidate[] {
  return candidates(
    [
      { word: "bars", template: "bars ¦ by ", says: "a bar for each row" },
      { word: "line", template: "line ¦ by ", says: "points that belong together, joined" },
      { word: "dots", template: "dots ¦ by ", says: "a dot for each row" },
      { word: "curve", template: "curve ¦ for x from  to ", says: "a formula over a range" },
    ],
    typed,
  );
}

function candidates(words: readonly Word[], typed: string): readonly Candidate[] {
  return words.flatMap(({ word, template = word, says }): readonly Candidate[] => {
    const match = matchOf(word, typed);
    if (match === undefined || match > 1) return [];
    return [
      {
        label: word,
        thing: "word",
        fit: { fits: true, rank: 0 },
        match,
        near: 8,
        make: () => ({ ...snippet(template), is: "", says }),
      },
    ];
  });
}

/** A template with its `¦` taken out, and where it stood. */
export function snippet(template: string): { readonly insert: string; readonly stops: readonly number[] } {
  const pieces = template.split("¦");
  const stops: number[] = [];
  let insert = "";
  pieces.forEach((piece, i) => {
    insert += piece;
    if (i < pieces.length - 1) stops.push(insert.length);
  });
  return { insert, stops: stops.length > 0 ? stops : [insert.length] };
}
