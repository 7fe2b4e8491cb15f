import { type BookTree, formulaMark, parseBook, parseFormula, writeName } from "../../grammar";
import { jointKind, type Note } from "../quantity";
import { vocabulary } from "../vocabulary";
import type { Value } from "../vocabulary/value";
import { BookItems } from "./book-items";
import { Calculation } from "./calculation";
import { spaced } from "./charts";
import { compile } from "./compile";
import { faultFrom } from "./fault";
import { type Sources, sourceOf } from "./items";
import { locate } from "./located";
import { fixesOf, gatherMessages } from "./messages";
import { setKey } from "./names";
import { whole } from "./pieces";
import { makePlan, type Plan } from "./plan";
import { explain, monteCarlo, sweepOf } from "./questions";
import type { Answer, Asked, Book, Explanation, Item, Message, Shown, Sweep, Tick } from "./report";
import { type Searches, SearchesMet, type Waits } from "./search";
import { answer, flatten, show } from "./show";
import { type Stage, Underway } from "./underway";

/**
 * Opens a book from its text: reads it, works every value out, and never throws, whatever the text is.
 * What cannot be read or worked out is a fault in its place.
 */
export function openBook(text: string): Book {
  return opened(parseBook(text), undefined, undefined);
}

/**
 * The same, with searches that may be put off (see search.ts) and work that need not be waited for (`underwayOf`), in
 * this book and in what it is edited into. Its items are made with its values.
 */
export function openBookWith(searches: Searches, text: string): Book {
  return opened(parseBook(text), searches, undefined);
}

/** What is left of working a book out, when it was not waited for. */
export const underwayOf = (book: Book): Underway | undefined =>
  book instanceof OpenBook ? book.underway : undefined;

/** How many searches of a book were put off; more may wait behind them. */
export const searchesPutOff = (book: Book): number => (book instanceof OpenBook ? book.putOff : 0);

/** The book once more, when it is known what searches come to that were put off: the rest of it is taken over. */
export function takenUpAgain(book: Book): Book {
  return book instanceof OpenBook ? book.takenUpAgain() : book;
}

/** What an edited book may take over from the book before. */
interface Before {
  readonly plan: Plan;
  readonly calculation: Calculation;
  readonly items: BookItems;
}

function opened(tree: BookTree, searches: Searches | undefined, before: Before | undefined): Book {
  const waits = searches?.begin(tree.text);
  const work = inPieces(tree, searches, waits, before);
  if (!waits) return whole(work);
  const underway = new Underway(work);
  return underway.goOn(() => waits.goesOn()) ?? underway.soFar();
}

function* inPieces(
  tree: BookTree,
  searches: Searches | undefined,
  waits: Waits | undefined,
  before: Before | undefined,
): Generator<Stage, OpenBook, void> {
  const plan = makePlan(tree, before?.plan);
  let previous = before?.calculation;
  for (;;) {
    const calculation = Calculation.for(plan, waits?.piece);
    const stage: Stage = {
      get left() {
        return calculation.left;
      },
      book: (says, underway) =>
        new OpenBook(tree, calculation.soFar(says, previous), before?.items, searches, underway),
    };
    calculation.searches = waits && new SearchesMet(waits, calculation.allowance);
    const values = calculation.inPieces(previous);
    let step = values.next();
    for (; !step.done; step = values.next()) yield stage;
    const { putOff } = calculation;
    calculation.searches = undefined;
    previous = step.value ? previous : undefined;
    if (!step.value) continue;
    const book = new OpenBook(tree, calculation, before?.items, searches);
    // Whoever makes the searches elsewhere has to know of all of them.
    if (waits) for (const _ of book.made.inPieces(waits)) yield stage;
    book.putOff = putOff + book.made.putOff;
    return book;
  }
}

/** What stands behind a book: its names, the order of its values, and the values themselves. */
export interface Workings {
  readonly plan: Plan;
  readonly calculation: Calculation;
}

/** The workings of a book that `openBook` or `edit` has made, for the editor services beside this file. */
export function workingsOf(book: Book): Workings {
  if (!(book instanceof OpenBook)) throw new TypeError("only a book that was opened here has workings");
  return book.workings;
}

/** Most Monte Carlo trials of one question. */
const MOST_TRIALS = 1_000_000;

/** Most answers that are listed; a table that would pass it is one fault. */
const MOST_ANSWERS = 2_000_000;
const TOO_MANY = {
  code: "answers-limit",
  says: "This table has too many cells to list one by one: 2,000,000 values are the most.",
};

class OpenBook implements Book {
  readonly tree: BookTree;
  readonly underway: Underway | undefined;
  readonly made: BookItems;
  putOff = 0;
  private readonly calculation: Calculation;
  private madeMessages: readonly Message[] | undefined;
  private madeTally: Book["tally"] | undefined;
  private madeCautions: readonly string[] | undefined;
  private readonly searches: Searches | undefined;

  constructor(
    tree: BookTree,
    calculation: Calculation,
    itemsBefore: BookItems | undefined,
    searches: Searches | undefined,
    underway?: Underway,
  ) {
    this.tree = tree;
    this.calculation = calculation;
    this.made = new BookItems(tree, calculation, itemsBefore);
    this.searches = searches;
    this.underway = underway;
  }

  get text(): string {
    return this.tree.text;
  }

  private get plan(): Plan {
    return this.calculation.plan;
  }

  get workings(): Workings {
    return { plan: this.plan, calculation: this.calculation };
  }

  get title(): string {
    for (const { node } of this.tree.statements) if (node.type === "book") return node.text;
    return "";
  }

  get items(): readonly Item[] {
    return this.made.all;
  }

  get messages(): readonly Message[] {
    this.madeMessages ??= gatherMessages(this.tree, this.calculation, this.made.sinks);
    return this.madeMessages;
  }

  get tally(): Book["tally"] {
    this.madeTally ??= this.count();
    return this.madeTally;
  }

  private count(): Book["tally"] {
    let gaps = 0;
    let unmet = 0;
    let unknown = 0;
    for (const item of this.items) {
      if (item.type === "value" && isOpenGap(item.shown)) gaps++;
      if (item.type === "check" && item.state === "unmet") unmet++;
      if (item.type === "check" && item.state === "unknown") unknown++;
      if (item.type === "table") {
        for (const row of item.tree.rows) {
          row.node.cells.forEach((cell, i) => {
            // A remark may well stay empty; what is to be measured or counted may not.
            if (cell.content.type === "blank" && i > 0 && item.columns[i]?.holds !== "text") gaps++;
          });
        }
      }
    }
    return { faults: this.messages.filter((m) => m.severity === "fault").length, gaps, unmet, unknown };
  }

  get cautions(): readonly string[] {
    this.madeCautions ??= this.gatherCautions();
    return this.madeCautions;
  }

  private gatherCautions(): readonly string[] {
    const found = new Set<string>();
    const functions = new Set<string>();
    for (const node of this.plan.nodes.values()) {
      if (node.type === "formula" || node.type === "computed")
        for (const f of node.compiled?.functions ?? []) functions.add(f);
      if (node.type === "typed")
        for (const compiled of node.formulas.values()) for (const f of compiled.functions) functions.add(f);
    }
    for (const sink of this.made.sinks) for (const f of sink.compiled.functions) functions.add(f);
    for (const name of functions)
      for (const caution of vocabulary.get(name)?.cautions ?? []) found.add(caution);
    const carried = (notes: readonly Note[] | undefined): void => {
      for (const note of notes ?? []) if (note.caution) found.add(note.text);
    };
    for (const item of this.items) {
      if (item.type === "value") {
        carried(item.shown.notes);
        for (const part of item.parts) carried(part.notes);
      } else if (item.type === "check") carried(item.notes);
      else if (item.type === "table") {
        for (const foot of item.feet.values()) carried(foot.shown.notes);
        for (let column = 0; column < item.columns.length; column++) {
          if (item.columns[column]!.typed) continue;
          for (let row = 0; row < Math.min(item.rowCount, 200); row++) carried(item.cell(row, column).notes);
        }
      }
    }
    return [...found];
  }

  get ticks(): readonly Tick[] {
    const ticks: Tick[] = [];
    for (const statement of this.tree.statements) {
      const { node } = statement;
      if (node.type !== "seen") continue;
      const path = sourceOf(this.text, statement, node.path.span);
      const now = this.markOf(path);
      ticks.push({
        statement,
        path,
        mark: node.mark,
        ...(node.text !== undefined && { text: node.text }),
        state:
          now === undefined
            ? "lost"
            : now.replace("@", "") === node.mark.replace("@", "")
              ? "holds"
              : "changed",
      });
    }
    return ticks;
  }

  markOf(path: string): string | undefined {
    const define = /^[^.(]+$/u.test(path) ? this.plan.names.defines.get(path.replace(/`/gu, "")) : undefined;
    if (define?.formula && !this.plan.names.sets.has(define.name)) {
      const { node } = define.statement;
      if (node.type !== "define") return undefined;
      const from = node.parameters[0]?.span.from ?? node.formula.span.from;
      return formulaMark(sourceOf(this.text, define.statement, { from, to: node.formula.span.to }));
    }
    const located = locate(path, this.calculation);
    if (!located) return undefined;
    return formulaMark(sourceOf(this.text, located.statement, located.span));
  }

  answers(): readonly Answer[] {
    const out: Answer[] = [];
    for (const item of this.items) {
      if (item.type === "value") {
        if (item.parts.length > 0) out.push(...item.parts.map(answer));
        else if (item.shown.value.type !== "record") {
          // A list without entries, which has no line else, says so itself.
          const { value, path, label, origin, notes } = item.shown;
          out.push(answer({ ...show(value, path, label, origin), notes }));
        }
      } else if (item.type === "table") {
        if (out.length + item.rowCount * item.columns.length > MOST_ANSWERS) {
          out.push(
            answer(
              show(
                faultFrom(TOO_MANY, { path: item.name, from: 0, to: 0 }),
                writeName(item.name),
                item.name,
                "computed",
              ),
            ),
          );
          continue;
        }
        for (let row = 0; row < item.rowCount; row++) {
          for (let column = 0; column < item.columns.length; column++) {
            const shown = item.cell(row, column);
            // The first column of texts only names the row.
            if (column === 0 && shown.value.type === "text") continue;
            out.push(answer(show(shown.value, shown.path, shown.label, shown.origin)));
          }
        }
        for (const foot of item.feet.values()) {
          const { shown } = foot;
          out.push(...flatten(shown.value, shown.path, shown.label, shown.origin).map(answer));
        }
      } else if (item.type === "unread") {
        const { node } = item.statement;
        if (node.type !== "unread" || node.defines !== "table" || node.name === undefined) continue;
        if (this.plan.names.sets.get(node.name)?.statement !== item.statement) continue;
        const value = this.calculation.value(setKey(node.name));
        out.push(answer(show(value, writeName(node.name), node.name, "computed")));
      }
    }
    return out;
  }

  value(path: string): Value | undefined {
    return locate(path, this.calculation)?.value;
  }

  ask(formula: string): Asked {
    const { formula: tree, messages } = parseFormula(formula);
    const fault = messages.find((m) => m.severity === "fault");
    if (fault) {
      return {
        formula,
        value: null,
        unit: "",
        text: "",
        state: "fault",
        message: fault.says,
        uncertainty: null,
        notes: [],
        ...(fault.help !== undefined && { help: fault.help }),
        ...(fault.fixes && { fixes: fault.fixes }),
        span: fault.span,
        raw: {
          type: "fault",
          code: fault.code,
          says: fault.says,
          place: { path: "", from: fault.span.from, to: fault.span.to },
        },
      };
    }
    const compiled = compile(tree, { names: this.plan.names, place: "book", frames: [] });
    this.calculation.allowance.recount();
    const value = this.calculation.evaluate(compiled.code, { pathOf: () => "" });
    const cautions = [...new Set([...compiled.functions].flatMap((f) => vocabulary.get(f)?.cautions ?? []))];
    return asked(formula, value, cautions);
  }

  why(path: string, options: { readonly trials?: number } = {}): Explanation | undefined {
    this.calculation.allowance.recount();
    const located = locate(path, this.calculation);
    if (!located) return undefined;
    const explanation = explain(located, this.sources, this.made.sinks);
    if (!options.trials || located.value.type !== "quantity") return explanation;
    const run = monteCarlo(
      located.value,
      located.key,
      (calculation) => locate(path, calculation)?.value ?? located.value,
      this.calculation,
      Math.min(MOST_TRIALS, Math.floor(options.trials)),
    );
    return run ? { ...explanation, monteCarlo: run } : explanation;
  }

  curve(
    formula: string,
    variable: string,
    from: Value,
    to: Value,
    count: number,
  ): readonly { readonly x: Value; readonly y: Value }[] {
    if (from.type !== "quantity" || to.type !== "quantity") return [];
    if (jointKind(from.unit.kind, to.unit.kind) === undefined) return [];
    const { formula: tree, messages } = parseFormula(formula);
    if (messages.some((m) => m.severity === "fault")) return [];
    const { code } = compile(tree, { names: this.plan.names, place: "book", frames: [[variable]] });
    this.calculation.allowance.recount();
    return spaced(from, to, count).map((x) => ({
      x,
      y: code({
        values: this.calculation,
        owner: { pathOf: () => "" },
        row: -1,
        locals: { values: [x], outer: undefined },
        route: "",
      }),
    }));
  }

  sweep(varies: readonly string[], shows: readonly string[]): Sweep {
    this.calculation.allowance.recount();
    return sweepOf(this.calculation, varies, shows);
  }

  edit(text: string): Book {
    if (text === this.text) return this;
    return opened(parseBook(text, this.tree), this.searches, this.before);
  }

  takenUpAgain(): Book {
    return opened(this.tree, this.searches, this.before);
  }

  private get before(): Before {
    const { plan, calculation, made } = this;
    return { plan, calculation, items: made };
  }

  private get sources(): Sources {
    return { text: this.text, calculation: this.calculation };
  }
}

/** Something that a person has to fill in, and not only once for all that hangs on it. */
const isOpenGap = ({ value, cause }: Shown): boolean =>
  value.type === "gap" && !value.waits && cause === undefined;

function asked(formula: string, value: Value, cautions: readonly string[]): Asked {
  const shown = show(value, "", "", "computed");
  const single = answer(shown);
  const parts: readonly Shown[] =
    value.type === "record" || (value.type === "list" && value.entries.length > 0)
      ? flatten(value, "", "", "computed")
      : [];
  // What is wrong elsewhere has its place and its help there.
  const own =
    value.type === "fault" && value.place?.path === "" ? { ...value, place: value.place } : undefined;
  return {
    formula,
    value: single.value,
    unit: single.unit,
    text: single.text,
    state: single.state,
    message: single.message,
    uncertainty: single.uncertainty,
    notes: single.notes,
    ...(parts.length > 0 && { parts: parts.map(answer) }),
    ...(own !== undefined && {
      ...(own.help !== undefined && { help: own.help }),
      span: { from: own.place.from, to: own.place.to },
      ...fixesOf(own, own.place),
    }),
    ...(cautions.length > 0 && { cautions }),
    raw: value,
  };
}
