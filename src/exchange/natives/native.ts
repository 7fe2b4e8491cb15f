import type { Kind } from "../../quantity";
import type { Expression } from "../expression";
import type { CoefficientSet } from "../translation/coefficients";

/**
 * A function of the vocabulary written out in spreadsheet arithmetic: the same equation as in src/matter, on SI
 * numbers, with fixed steps in helper cells where src/matter searches. Only functions that come to the same
 * number (within `error`, relative, over their whole range; tests try it) are here.
 */
export interface Native {
  /** Largest relative difference from the book's own result that the written form may have, anywhere in range. */
  readonly error: number;
  readonly write: (call: NativeCall) => NativeResult;
}

/** A number or text for a single result, or parts by name as in the declaration. */
export type NativeResult = Expression | Parts | Rows;
export interface Parts {
  readonly parts: Readonly<Record<string, Expression | undefined>>;
}

/** A result with parts for each entry of a list. */
export interface Rows {
  readonly rows: readonly Readonly<Record<string, Expression | undefined>>[];
}

export interface NativeCall {
  /** An argument in SI units (strengths as the declaration wants them). Throws when it was left out. */
  number(name: string): Expression;
  /** The same, or undefined when it was left out and has no default. */
  optional(name: string): Expression | undefined;
  /** The number itself, when the argument is a constant of the formula rather than a cell. */
  constant(name: string): number | undefined;
  /** Kind in which the argument was given. */
  kindOf(name: string): Kind | undefined;
  /** A text argument; only fixed texts are written out. */
  text(name: string): string | undefined;
  /** Lists that belong together: an entry for each thing, `absent` when it may be blank in all of them. */
  together(...names: string[]): readonly ListEntry[];
  /** Puts a step into a helper cell and gives the reference. */
  step(what: string, e: Expression): Expression;
  /** References to constants on the coefficient sheet. */
  constants(set: CoefficientSet): readonly Expression[];
  /** Gives up: this call goes out as a value, for a reason that ends the sentence "not written out …". */
  refuse(reason: string): never;
  /** The expression, or "not available" outside a range. */
  within(e: Expression, condition: Expression): Expression;
}

export interface ListEntry {
  readonly name: string;
  readonly values: readonly Expression[];
  /** True while the entry is blank: it counts as nothing then. */
  readonly absent?: Expression;
  /** The same desk, whose helper cells stay empty while the entry is blank. */
  readonly call: NativeCall;
}
