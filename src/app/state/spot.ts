import { type CallContext, type CaretContext, contextAt, type Expected } from "../../../grammar";
import type { Language } from "./slot";

/** What stands at the caret of a draft: the grammar's context, and the path that the word belongs to. */
export interface Spot {
  /** The stretch that a choice replaces. */
  readonly from: number;
  readonly to: number;
  /** What of the word stands before the caret. */
  readonly prefix: string;
  /** The whole word under the caret, without backticks. */
  readonly word: string;
  /** Names before it: `a.b.` gives a and b. */
  readonly path: readonly string[];
  /** Where the path begins. */
  readonly pathFrom: number;
  readonly expects: readonly Expected[];
  readonly call?: CallContext;
  /** The character in front of the path, blanks passed; "" at the start. */
  readonly before: string;
}

const PATH = /(?:(?:`[^`]*`|[\p{L}_][\p{L}\p{M}\p{Nd}_]*|\d[\p{L}\p{M}\p{Nd}_]*)\.)+$/u;

/** Reads what stands at a caret, in a slot of a language. Nothing is wanted in names and in plain words. */
export function spotAt(text: string, caret: number, language: Language): Spot | undefined {
  if (language === "name") return undefined;
  if (language === "words") {
    // The sentence of a step: only its formulas in braces are read.
    if (!text.includes("{")) return undefined;
    const spot = spotOf(`"${text}"`, contextAt(`"${text}"`, caret + 1, "formula"));
    return spot && { ...spot, from: spot.from - 1, to: spot.to - 1, pathFrom: spot.pathFrom - 1 };
  }
  const writing = language === "cell" ? "cell" : language === "statement" ? "statement" : "formula";
  return spotOf(text, contextAt(text, caret, writing));
}

function spotOf(text: string, context: CaretContext): Spot | undefined {
  if (context.expects.length === 0 || context.expects.includes("text") || context.expects.includes("comment"))
    return undefined;
  const { from, to } = context.word;
  const lead = context.path.length === 0 ? "" : (PATH.exec(text.slice(0, from))?.[0] ?? "");
  const pathFrom = from - lead.length;
  return {
    from,
    to,
    prefix: context.prefix,
    word: text.slice(from, to).replace(/^`|`$/g, ""),
    path: context.path,
    pathFrom,
    expects: context.expects,
    ...(context.call === undefined ? {} : { call: context.call }),
    before: text.slice(0, pathFrom).trimEnd().at(-1) ?? "",
  };
}
