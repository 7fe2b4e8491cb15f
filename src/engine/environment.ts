import type { Value } from "../vocabulary/value";
import type { ColumnList } from "./blocks";
import type { SearchesMet } from "./search";

/**
 * What a compiled formula sees while it is worked out: the values of the book, the row it stands in, and
 * the arguments of the writer's own function around it.
 */
export interface Environment {
  readonly values: Values;
  /** Whose formula is being worked out: gives faults and measured inputs their names. */
  readonly owner: Owner;
  /** 0-based row, or -1 outside a table's rows. */
  readonly row: number;
  readonly locals: Locals | undefined;
  /** Calls of `define` on the way here, so that each call has its own measured inputs. */
  readonly route: string;
}

/** Stands in a route before the name of each function that is called, and before the place of its call; in no name. */
export const CALLED = "\u001f";

export interface Owner {
  /** Dotted path of the value, as it would be written in a formula. */
  pathOf(row: number): string;
  /** Whether it is a check, a chart or a step, which is no value that could be filled in. */
  readonly isSink?: true;
}

export interface Locals {
  readonly values: readonly Value[];
  readonly outer: Locals | undefined;
}

/** Access to worked-out values. A value that is not ready makes `Waiting` be thrown. */
export interface Values {
  /** A `set` or a foot. */
  value(key: string): Value;
  cell(key: string, row: number): Value;
  column(key: string): ColumnList;
  rows(table: string): Rows;
  /** Counts a function call against the limit of a calculation; throws `Trouble` beyond it. */
  count(): void;
  /** Counts work (about a twentieth of a microsecond each) against the limit of a calculation; throws `Trouble` beyond it. */
  spend(work: number): void;
  /** Where searches are made, when not all at once. */
  readonly searches?: SearchesMet | undefined;
  /** Where a formula may be left in the middle: makes the entries of the list at a place (see long-lists.ts). */
  entries?(place: string): ((make: () => Value) => Value) | undefined;
  /** In a Monte Carlo trial: how many standard uncertainties an input is off, by its name. */
  readonly draw?: Draw;
  /** The same book with one `set` given another value, as far as `wanted` depends on it. */
  trial(set: string, value: Value, wanted: ReadonlySet<string>): Values;
}

/** The rows of a table: how many, and what they are called. */
export interface Rows {
  readonly table: string;
  readonly count: number;
  readonly names: readonly string[];
  readonly numbers: readonly number[];
  /** Row of a name: its number, -1 when there is none, or the numbers when there are several. */
  find(name: string): number | readonly number[];
}

export type Draw = (input: string) => number;

export type Code = (environment: Environment) => Value;

/** Thrown when a value that is needed first has not been worked out; the scheduler turns to it and comes back. */
export class Waiting {
  readonly key: string;
  readonly row: number;
  constructor(key: string, row: number) {
    this.key = key;
    this.row = row;
  }
}
