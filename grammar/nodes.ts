import type { IToken } from "chevrotain";
import { endOf } from "./lexer";
import { plainDigits } from "./odd-numbers";
import * as t from "./tokens";
import type { ArithmeticNode, Formula, NumberNode, Span, TextNode, UnitNode } from "./tree";
import { normal } from "./words";

/** Tokens to nodes of the tree: what the parser's rules build with. */

/** The pieces of a text token, once the formulas in its braces are read. */
export interface ReadText {
  readonly pieces: TextNode["pieces"];
  /** Offsets of each `{` that opens a formula and of the `}` that closes it. */
  readonly braces: readonly Span[];
}

export function spanAt(token: IToken): Span {
  return { from: token.startOffset, to: token.startOffset + token.image.length };
}

export function unitNode(token: IToken): UnitNode {
  return { text: normal(token.image), span: spanAt(token) };
}

export function numberNode(number: IToken, unit: IToken | undefined): NumberNode {
  const digits = plainDigits(number.image);
  const from = number.startOffset;
  if (unit === undefined) return { type: "number", digits, span: { from, to: endOf(number) } };
  return { type: "number", digits, unit: unitNode(unit), span: { from, to: endOf(unit) } };
}

export function dateNode(token: IToken): Formula {
  return { type: "date", iso: token.image, span: spanAt(token) };
}

/** The token's payload is there only once the text is read; the grammar is learnt without any. */
export function textNode(token: IToken): TextNode {
  return { type: "text", pieces: (token.payload as ReadText | undefined)?.pieces ?? [], span: spanAt(token) };
}

export function arithmetic(
  operator: ArithmeticNode["operator"],
  left: Formula,
  token: IToken,
  right: Formula,
): Formula {
  const span = { from: left.span.from, to: right.span.to };
  return { type: "arithmetic", operator, left, right, operatorSpan: spanAt(token), span };
}

export function logic(operator: "and" | "or", left: Formula, token: IToken, right: Formula): Formula {
  const span = { from: left.span.from, to: right.span.to };
  return { type: "logic", operator, left, right, operatorSpan: spanAt(token), span };
}

export type Comparing = "<" | "<=" | ">" | ">=" | "is" | "is not";

export function orderOf(token: IToken): Comparing {
  return token.image === "≤" ? "<=" : token.image === "≥" ? ">=" : (token.image as Comparing);
}

export function compare(operator: Comparing, left: Formula, operatorSpan: Span, right: Formula): Formula {
  const span = { from: left.span.from, to: right.span.to };
  return { type: "compare", operator, left, right, operatorSpan, span };
}

export function signed(number: NumberNode, at: number, minus: boolean): NumberNode {
  const span = { from: at, to: number.span.to };
  return { ...number, digits: minus ? turned(number.digits) : number.digits, span };
}

export function turned(digits: string): string {
  return digits.startsWith("-") ? digits.slice(1) : `-${digits}`;
}

/**
 * Signs before a lone reading (`-10 °C`, `-10 ± 2 °C`) belong to its number; before anything else each minus is a
 * step of its own, and a plus is dropped. `lone` says that a number stood directly behind the signs.
 */
export function withSigns(signs: readonly IToken[], node: Formula, lone: boolean): Formula {
  const from = signs[0]!.startOffset;
  const minus = signs.filter((sign) => sign.tokenType === t.Minus).length % 2 === 1;
  if (lone && node.type === "number") return signed(node, from, minus);
  if (lone && node.type === "spread" && node.of.type === "number")
    return { ...node, of: signed(node.of, from, minus), span: { from, to: node.span.to } };
  let result = node;
  for (const sign of [...signs].reverse())
    if (sign.tokenType === t.Minus)
      result = { type: "negate", of: result, span: { from: sign.startOffset, to: result.span.to } };
  return result;
}

export interface Raised {
  readonly operator: IToken;
  readonly sign: IToken | undefined;
  readonly lone: boolean;
  readonly to: Formula;
}

/** `2^3^2` is `2^(3^2)`; a minus reaches over all that is raised behind it. */
export function powers(first: Formula, raised: readonly Raised[]): Formula {
  let above: Formula | undefined;
  for (let i = raised.length - 1; i >= 0; i--) {
    const { sign, lone, to } = raised[i]!;
    const tower = above === undefined ? to : arithmetic("^", to, raised[i + 1]!.operator, above);
    above = sign === undefined ? tower : withSigns([sign], tower, lone);
  }
  return above === undefined ? first : arithmetic("^", first, raised[0]!.operator, above);
}
