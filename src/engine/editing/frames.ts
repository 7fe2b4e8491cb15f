import { tokensOf } from "../../../grammar";
import type { Token } from "./tokens";

/**
 * The brackets that are open before a caret, outermost first. What was closed again is one `bracket` token, so
 * that each stretch of tokens can be looked at without counting brackets.
 */
export interface Frame {
  readonly type: "whole" | "call" | "group" | "list";
  /** Name of the function that is called. */
  readonly call?: Token;
  /** The bracket that opens it. */
  readonly open?: Token;
  /** What its commas divide; the caret stands in the last. */
  readonly stretches: readonly Stretch[];
}

export interface Stretch {
  /** `strength:` in front of an argument. */
  readonly label?: Token;
  /** The clause word, chart style or colon that it follows in a statement; "" for what comes first. */
  readonly clause: string;
  readonly tokens: readonly Token[];
}

interface OpenFrame {
  readonly type: Frame["type"];
  readonly call?: Token;
  readonly open?: Token;
  readonly stretches: { label?: Token; clause: string; tokens: Token[] }[];
}

export function framesOf(tokens: readonly Token[]): readonly Frame[] {
  const frames: OpenFrame[] = [{ type: "whole", stretches: [{ clause: "", tokens: [] }] }];
  for (const token of tokens) {
    const frame = frames[frames.length - 1]!;
    const stretch = frame.stretches[frame.stretches.length - 1]!;
    if (token.type === "label") {
      stretch.label = token;
    } else if (token.type === "operator" && (token.text === "(" || token.text === "[")) {
      const before = stretch.tokens[stretch.tokens.length - 1];
      const call = token.text === "(" && before?.type === "name" ? before : undefined;
      const type = token.text === "[" ? "list" : call ? "call" : "group";
      frames.push({ type, ...(call && { call }), open: token, stretches: [{ clause: "", tokens: [] }] });
    } else if (token.type === "operator" && (token.text === ")" || token.text === "]")) {
      if (frames.length === 1) stretch.tokens.push(token);
      else close(frames, token);
    } else if (token.type === "operator" && token.text === ",") {
      frame.stretches.push({ clause: stretch.clause, tokens: [] });
    } else if (token.type === "operator" && token.text === ":" && frame.type === "call") {
      // The colon behind a label.
    } else if (frames.length === 1 && startsClause(token)) {
      frame.stretches.push({ clause: token.text, tokens: [] });
    } else stretch.tokens.push(token);
  }
  return frames;
}

const startsClause = ({ type, text }: Token): boolean =>
  type === "clause" || type === "style" || (type === "operator" && text === ":");

function close(frames: OpenFrame[], by: Token): void {
  const { open } = frames.pop()!;
  const outer = frames[frames.length - 1]!;
  outer.stretches[outer.stretches.length - 1]!.tokens.push({
    type: "bracket",
    from: open!.from,
    to: by.to,
    text: "",
  });
}

export const lastStretch = (frame: Frame): Stretch => frame.stretches[frame.stretches.length - 1]!;

/** What the innermost call is given behind the argument at the caret. */
export interface Behind {
  /** Arguments without a label, up to the first that has one. */
  readonly places: number;
  readonly labels: ReadonlySet<string>;
}

export const NOTHING_BEHIND: Behind = { places: 0, labels: new Set() };

/** Reads on from a caret to the bracket that closes the call around it. */
export function argumentsBehind(text: string, caret: number): Behind {
  const labels = new Set<string>();
  let places = 0;
  let depth = 0;
  let fresh = false;
  for (const token of tokensOf(text, caret, text.length, "inner")) {
    const sign = token.type === "operator" ? token.text : "";
    if (fresh) {
      if (token.type === "label") labels.add(token.name!);
      else if (labels.size === 0 && sign !== ")" && sign !== ",") places++;
      fresh = false;
    }
    if (sign === "(" || sign === "[") depth++;
    else if (sign === ")" || sign === "]") {
      if (depth-- === 0) break;
    } else if (sign === "," && depth === 0) fresh = true;
  }
  return { places, labels };
}
