import type { Note, Quantity, Unit } from "../quantity";

/**
 * What a formula can come to. Values are immutable. A quantity with a unit is `Quantity` (src/quantity);
 * the rest is here. Gaps and faults are values: they flow to whatever depends on them.
 */
export type Value = Quantity | TextValue | TruthValue | DateValue | ListValue | RecordValue | Gap | Fault;

export interface TextValue {
  readonly type: "text";
  readonly text: string;
  readonly notes?: readonly Note[];
}
export interface TruthValue {
  readonly type: "truth";
  readonly value: boolean;
  readonly notes?: readonly Note[];
}
/** A day, as ISO text and as a count of days since 1970-01-01. */
export interface DateValue {
  readonly type: "date";
  readonly iso: string;
  readonly day: number;
  readonly notes?: readonly Note[];
}
/** A flat list of one kind. A column knows its table and the names of its rows; entries may be gaps or faults. */
export interface ListValue {
  readonly type: "list";
  readonly entries: readonly Value[];
  /** Identity of the rows that the entries stand for: two lists may meet only when their origins agree. */
  readonly origin?: ListOrigin;
  /** Unit that the entries have or would have; lets the total of an empty list be 0 in it. */
  readonly unit?: Unit;
  readonly notes?: readonly Note[];
}
export interface ListOrigin {
  readonly table: string;
  /** Row numbers (0-based) in that table, after `where` has chosen. */
  readonly rows: readonly number[];
  /** Names of those rows, as written; "" for a nameless one. */
  readonly names: readonly string[];
}
/** A result with parts, a table's row. Keys keep their order; dotted parts are nested records (`taken.volume` is `taken` -> `volume`). */
export interface RecordValue {
  readonly type: "record";
  readonly parts: ReadonlyMap<string, Value>;
  /** Parts that the result could have and has not this time, each with the reason: what a reader is told who asks for one. */
  readonly without?: ReadonlyMap<string, Missing>;
  readonly notes?: readonly Note[];
}
/** Why a part is not there, and what to do about it. */
export interface Missing {
  readonly says: string;
  readonly help?: string;
}
/** Not filled in yet. `says` names the blank cell, once known: "bay leaf has a volume but no strength yet". */
export interface Gap {
  readonly type: "gap";
  readonly says: string;
  /** Dotted path of the blank cell or value that is the first cause. */
  readonly place?: string;
  /** Nobody has to fill anything in: it is there once it has been worked out. */
  readonly waits?: true;
  /** What stood here before the change that is being worked out. */
  readonly was?: Value;
  readonly notes?: readonly Note[];
}
export interface Fault {
  readonly type: "fault";
  readonly code: string;
  readonly says: string;
  readonly help?: string;
  /** Replaces the text under `span` (see FaultPlace) when that is certain. */
  readonly rewrite?: string;
  /** Where the first cause stands. */
  readonly place?: FaultPlace;
  readonly notes?: readonly Note[];
}
export interface FaultPlace {
  /** Dotted path of the value that failed first: `distillates.juniper.cost`; empty in `ask`. */
  readonly path: string;
  /** Counted from the statement that holds the formula (in `ask`: from the formula); `Book.messages` has offsets in the book. */
  readonly from: number;
  readonly to: number;
  /** Name of the `define` in which it happened, when the place is its call. */
  readonly inside?: string;
}

/** Shorthands. */
export const text = (t: string): TextValue => ({ type: "text", text: t });
const TRUE: TruthValue = { type: "truth", value: true };
const FALSE: TruthValue = { type: "truth", value: false };
export const truth = (value: boolean): TruthValue => (value ? TRUE : FALSE);
export const gap = (says: string, place?: string): Gap =>
  place === undefined ? { type: "gap", says } : { type: "gap", says, place };
export const waiting = (says: string, place?: string): Gap => ({ ...gap(says, place), waits: true });
export const list = (entries: readonly Value[], origin?: ListOrigin): ListValue =>
  origin === undefined ? { type: "list", entries } : { type: "list", entries, origin };
export const record = (
  parts: Iterable<readonly [string, Value]>,
  without?: ReadonlyMap<string, Missing>,
): RecordValue => ({
  type: "record",
  parts: new Map(parts),
  ...(without !== undefined && without.size > 0 && { without }),
});
