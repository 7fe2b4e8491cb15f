import type { Unit } from "../../quantity";
import { call, type Expression, number, operation, text, truth } from "../expression";

/**
 * What a formula of a book comes to on the way into a spreadsheet: an expression with the unit of its number.
 * `missing` are conditions, each true when something that the value needs is not filled in yet; a cell with
 * any of them true stays empty, as a gap does in the book.
 */
export type Term =
  | QuantityTerm
  | TextTerm
  | TruthTerm
  | DateTerm
  | ListTerm
  | RecordTerm
  | TableTerm
  | BlankTerm;

interface TermCore {
  readonly missing: readonly Expression[];
}
export interface QuantityTerm extends TermCore {
  readonly type: "quantity";
  readonly expression: Expression;
  readonly unit: Unit;
  /** How far the expression may be from the book's own equation, relative; 0 for plain arithmetic. */
  readonly error: number;
}
export interface TextTerm extends TermCore {
  readonly type: "text";
  readonly expression: Expression;
}
export interface TruthTerm extends TermCore {
  readonly type: "truth";
  readonly expression: Expression;
}
/** Days from 1899-12-30, as spreadsheets count them. */
export interface DateTerm extends TermCore {
  readonly type: "date";
  readonly expression: Expression;
}
export interface ListTerm {
  readonly type: "list";
  readonly length: number;
  /** Made when asked: a column may have thousands of rows. */
  readonly entry: (index: number) => Term;
  /** Rows of a table that the entries stand for. */
  readonly origin?: {
    readonly table: string;
    readonly rows: readonly number[];
    readonly names: readonly string[];
  };
  /** The cells themselves, when the entries are cells below each other. */
  readonly block?: Expression & { readonly type: "range" };
  /** For `list where condition`: which entries are chosen. Entries that are not must be passed over. */
  readonly chosen?: (index: number) => TruthTerm;
  /** Whether any entry may be empty. */
  readonly gaps: boolean;
}
export interface RecordTerm {
  readonly type: "record";
  readonly parts: ReadonlyMap<string, Term>;
}
export interface TableTerm {
  readonly type: "table";
  readonly name: string;
}
/** `blank`, and what can only be blank. */
export interface BlankTerm {
  readonly type: "blank";
}

/** Why a formula goes out as a value. Thrown inside a translation, caught where the cell is made; never leaves it. */
export class NotLive extends Error {
  constructor(readonly reason: string) {
    super(reason);
    this.name = "NotLive";
  }
}

export const quantityTerm = (
  expression: Expression,
  unit: Unit,
  missing: readonly Expression[] = [],
  error = 0,
): QuantityTerm => ({ type: "quantity", expression, unit, missing, error });
export const truthTerm = (expression: Expression, missing: readonly Expression[] = []): TruthTerm => ({
  type: "truth",
  expression,
  missing,
});
export const textTerm = (expression: Expression, missing: readonly Expression[] = []): TextTerm => ({
  type: "text",
  expression,
  missing,
});

/** Two expressions are the same when they are written the same. */
export const keyOf = (e: Expression): string => JSON.stringify(e);

/** Conditions joined, each once; one that can never be true is dropped. */
export function union(...lists: readonly (readonly Expression[])[]): readonly Expression[] {
  const seen = new Map<string, Expression>();
  for (const list of lists) {
    for (const e of list) if (!(e.type === "truth" && !e.value)) seen.set(keyOf(e), e);
  }
  return [...seen.values()];
}

/** True when any of the conditions is. */
export const anyOf = (conditions: readonly Expression[]): Expression =>
  conditions.length === 0
    ? truth(false)
    : conditions.length === 1
      ? conditions[0]!
      : call("OR", ...conditions);

/** The expression, or an empty text while something is missing. */
export const unlessMissing = (missing: readonly Expression[], e: Expression): Expression =>
  missing.length === 0 ? e : call("IF", anyOf(missing), text(""), e);

/** Whether a cell is empty, or holds the empty text of a gap. */
export const isEmpty = (cell: Expression): Expression => operation("=", cell, text(""));

/** `IF(condition; a; b)` for a condition of missing things, dropped where it is settled already. */
export function missingIf(
  condition: Expression,
  then: readonly Expression[],
  otherwise: readonly Expression[],
): readonly Expression[] {
  const key = keyOf(condition);
  const notKey = keyOf(call("NOT", condition));
  // What is missing in a branch that is only taken when that very thing is there is never missing.
  const inElse = otherwise.filter((e) => keyOf(e) !== key);
  const inThen = then.filter((e) => keyOf(call("NOT", e)) !== key && keyOf(e) !== notKey);
  if (inThen.length === 0 && inElse.length === 0) return [];
  return [call("IF", condition, anyOf(inThen), anyOf(inElse))];
}

export const ZERO = number(0);
export const ONE = number(1);
