import type { Formula } from "../../grammar";
import type { Shown } from "../engine";
import { kinds } from "../quantity";
import type { Value } from "../vocabulary";
import { call, type Expression, text } from "./expression";
import { type Content, FailedCell, type ReadCell, workOut } from "./recalculation";
import type { CellRole, SheetCell } from "./sheet";
import { contentOf } from "./translation/layout";
import { inUnit } from "./translation/quantities";
import { NotLive, type Term, unlessMissing } from "./translation/term";
import type { Scope, Translator } from "./translation/translator";
import { checkSize } from "./translation/working";

/** What became of a computed value on its way out. */
export interface Fate {
  readonly path: string;
  readonly formula: string;
  readonly live: boolean;
  /** Why it went out as a value; undefined when it is live. */
  readonly reason?: string;
  /** Largest relative difference that the live form may have from the book, anywhere in its range. */
  readonly error: number;
}

/** Numbers may differ by rounding: this much of themselves, or this much of their unit near zero. */
const RELATIVE = 1e-7;
const ABSOLUTE = 1e-9;

/**
 * Makes computed values live. Each formula is translated and worked out on what stands in the cells; only when
 * it comes to the book's own value does it go out, else the value goes out alone and the reason is kept.
 */
export class Live {
  readonly fates: Fate[] = [];
  private readonly finishedCells: { fate: number; formula: Expression; value: number; size: number }[] = [];
  /** Reads the cells as they are worked out anew from the typed ones; see `settle`. */
  private anew: ReadCell | undefined;
  constructor(readonly translator: Translator) {}

  /** Translates a formula; the reason when that cannot be done. Helper cells of a failed attempt are taken back. */
  attempt<T>(make: () => T): T | NotLive {
    const mark = this.translator.working.mark;
    try {
      return make();
    } catch (error) {
      if (!(error instanceof NotLive)) throw error;
      this.translator.working.takeBack(mark);
      return error;
    }
  }

  translate(formula: Formula, scope: Scope, path: string): Term | NotLive {
    return this.attempt(() => this.translator.translate(formula, scope, path));
  }

  /** The cell of a computed value, live if `term` comes to it. `role` is its look when all is well. */
  cell(
    shown: Shown,
    term: Term | NotLive,
    formula: string,
    role: CellRole,
    decimals: number | undefined,
  ): SheetCell {
    const { content, isDate } = contentOf(shown);
    const base = {
      value: content,
      ...(isDate ? { isDate } : {}),
      ...(decimals === undefined ? {} : { decimals }),
    };
    if (shown.value.type === "fault") {
      this.fates.push({
        path: shown.path,
        formula,
        live: false,
        reason: "it is a fault in the book",
        error: 0,
      });
      return { value: content, role: "fault", ...(shown.help === undefined ? {} : { note: shown.help }) };
    }
    // What is blank by its very formula (the row before the first) is nothing that a spreadsheet could compute.
    if (shown.value.type === "gap" && !(term instanceof NotLive) && term.type === "blank") {
      return { value: null, role: "gap", ...(shown.message === undefined ? {} : { note: shown.message }) };
    }
    const made = term instanceof NotLive ? term : this.attempt(() => this.finished(term, shown.value));
    const gap = shown.value.type === "gap";
    if (made instanceof NotLive) {
      this.fates.push({ path: shown.path, formula, live: false, reason: made.reason, error: 0 });
      const note = `${shown.path} = ${formula}\nThis value does not recalculate here: ${made.reason}.`;
      return {
        ...base,
        role: gap ? "gap" : role === "foot" ? "foot" : "kept",
        note: gap ? `${shown.message ?? ""}\n${note}`.trim() : note,
      };
    }
    const error = (term as Term).type === "quantity" ? (term as Term & { type: "quantity" }).error : 0;
    this.fates.push({ path: shown.path, formula, live: true, error });
    if (shown.value.type === "quantity") {
      const size = sizeOf(shown.value);
      this.finishedCells.push({ fate: this.fates.length - 1, formula: made, value: shown.value.n.v, size });
    }
    return {
      ...base,
      value: gap ? "" : content,
      formula: made,
      role: gap ? "gap" : role,
      ...(gap && shown.message !== undefined ? { note: shown.message } : {}),
    };
  }

  /** The expression of a term in the unit of the value, proved on the cells as they stand. */
  finished(term: Term, value: Value): Expression {
    if (value.type === "gap") {
      if (!("missing" in term)) throw new NotLive("it is no single value");
      const e = unlessMissing(term.missing, term.expression);
      this.prove(e, value);
      return e;
    }
    let core: Expression;
    if (term.type === "quantity" && value.type === "quantity") core = inUnit(term, value.unit).expression;
    else if (term.type === value.type && "expression" in term) core = term.expression;
    else throw new NotLive("it comes to something else in a spreadsheet");
    const e = unlessMissing((term as { missing: readonly Expression[] }).missing, core);
    this.prove(e, value, term.type === "quantity" ? term.error : 0);
    return e;
  }

  /**
   * Takes note of how far each value is from the book's when everything is worked out anew, so that what is made
   * from an inexact cell says so too.
   */
  settle(read: ReadCell): void {
    this.anew = read;
    for (const { fate, formula, value, size } of this.finishedCells) {
      const got = workOut(formula, read);
      const apart = typeof got === "number" ? Math.abs(got - value) / Math.max(size, 1e-9) : 0;
      const known = this.fates[fate]!;
      if (apart > Math.max(RELATIVE, known.error))
        this.fates[fate] = { ...known, error: Number((2 * apart).toPrecision(1)) };
    }
  }

  /** What an expression comes to now, and how far that may stray when everything is worked out anew. */
  standing(e: Expression): { now: Content | FailedCell; stray: number } {
    const now = this.translator.working.evaluate(e);
    if (this.anew === undefined || typeof now !== "number") return { now, stray: 0 };
    const then = workOut(e, this.anew);
    return { now, stray: typeof then === "number" ? Math.abs(then - now) : 0 };
  }

  private prove(e: Expression, value: Value, error = 0): void {
    checkSize(e);
    const got = this.translator.working.evaluate(e);
    if (got instanceof FailedCell) throw new NotLive(`it fails in a spreadsheet (${got.says})`);
    const differs = (): never => {
      throw new NotLive(`a spreadsheet would make ${shortly(got)} of it`);
    };
    switch (value.type) {
      case "gap":
        if (got !== "") differs();
        break;
      case "quantity": {
        if (typeof got !== "number") throw new NotLive("it is no number in a spreadsheet");
        if (Math.abs(got - value.n.v) > Math.max(RELATIVE, error) * sizeOf(value) + ABSOLUTE) differs();
        break;
      }
      case "text":
        if (got !== value.text) differs();
        break;
      case "truth":
        if (Boolean(got) !== value.value) differs();
        break;
      case "date":
        if (got !== value.day + 25_569) differs();
        break;
      default:
        differs();
    }
  }
}

/** What a difference is relative to: of temperatures, the kelvin above absolute zero. */
const sizeOf = (value: Value & { type: "quantity" }): number =>
  Math.abs(value.n.v) + (value.unit.kind === kinds.temperature ? 273.15 : 0);

const shortly = (v: number | string | boolean | null): string =>
  typeof v === "string" ? `"${v.slice(0, 40)}"` : String(v);

/** A word for true, a word for false, a word while it is not known. */
export const inWords = (
  condition: Expression,
  missing: readonly Expression[],
  yes: string,
  no: string,
  unknown: string,
): Expression => {
  const known = call("IF", condition, text(yes), text(no));
  return missing.length === 0
    ? known
    : call("IF", missing.length === 1 ? missing[0]! : call("OR", ...missing), text(unknown), known);
};
