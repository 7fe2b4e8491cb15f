import {
  type BookTree,
  formulaMark,
  parseBook,
  parseFormula,
  type Statement,
  writeName,
} from "../../grammar";
import { jointKind, type Note } from "../quantity";
import { vocabulary } from "../vocabulary";
import type { Value } from "../vocabulary/value";
import { Calculation } from "./calculation";
import { spaced } from "./charts";
import { compile } from "./compile";
import { faultFrom } from "./fault";
import { tableItem } from "./grid";
import { makeItem, type Sink, type Sources, sinkOf, sourceOf, valueItem } from "./items";
import { locate } from "./located";
import { gatherMessages } from "./messages";
import { setKey } from "./names";
import { makePlan, type Plan } from "./plan";
import { explain, monteCarlo, sweepOf } from "./questions";
import type { Answer, Asked, Book, Explanation, Item, Message, Shown, Sweep, Tick } from "./report";
import { type Searches, SearchesMet } from "./search";
import { answer, flatten, show } from "./show";

/**
 * Opens a book from its text: reads it, works every value out, and never throws, whatever the text is.
 * What cannot be read or worked out is a fault in its place.
 */
export function openBook(text: string): Book {
  return new OpenBook(parseBook(text));
}

/** The same, with searches that may be put off (see search.ts), in this book and in what it is edited into. */
export function openBookWith(searches: Searches, text: string): Book {
  return new OpenBook(parseBook(text), undefined, searches);
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
  private readonly plan: Plan;
  private readonly calculation: Calculation;
  private readonly sinks: readonly Sink[];
  private madeItems: readonly Item[] | undefined;
  private madeMessages: readonly Message[] | undefined;
  private previous: OpenBook | undefined;
  /** What each check, chart and step took to make, to be counted again where it is taken over. */
  private readonly itemCosts = new Map<Statement, Calculation["counted"]>();
  /** Whether making the items ran into a limit. */
  private itemsLimited = false;

  private readonly searches: Searches | undefined;

  constructor(tree: BookTree, previous?: OpenBook, searches = previous?.searches) {
    this.searches = searches;
    this.tree = tree;
    this.plan = makePlan(tree, previous?.plan);
    this.calculation = Calculation.of(this.plan, previous?.calculation, searches);
    this.sinks = this.gatherSinks();
    this.previous = previous;
    // Whoever makes the searches elsewhere has to know of all of them.
    if (searches) void this.items;
  }

  get text(): string {
    return this.tree.text;
  }

  get workings(): Workings {
    return { plan: this.plan, calculation: this.calculation };
  }

  get title(): string {
    for (const { node } of this.tree.statements) if (node.type === "book") return node.text;
    return "";
  }

  get items(): readonly Item[] {
    if (!this.madeItems) {
      const before = this.previous?.itemsLimited ? undefined : this.previous;
      this.calculation.recount();
      const kept = { calls: 0, work: 0 };
      this.madeItems = this.makeItems(before, kept);
      if (before && this.calculation.isStopped(kept)) {
        this.calculation.recount();
        this.madeItems = this.makeItems(undefined, kept);
      }
      this.itemsLimited = this.calculation.isStopped();
      // The book before was kept only for what could be taken over from it.
      this.previous = undefined;
    }
    return this.madeItems;
  }

  get messages(): readonly Message[] {
    this.madeMessages ??= gatherMessages(this.tree, this.calculation, this.sinks);
    return this.madeMessages;
  }

  get tally(): Book["tally"] {
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
    const found = new Set<string>();
    const functions = new Set<string>();
    for (const node of this.plan.nodes.values()) {
      if (node.type === "formula" || node.type === "computed")
        for (const f of node.compiled?.functions ?? []) functions.add(f);
      if (node.type === "typed")
        for (const compiled of node.formulas.values()) for (const f of compiled.functions) functions.add(f);
    }
    for (const sink of this.sinks) for (const f of sink.compiled.functions) functions.add(f);
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
    this.calculation.recount();
    const value = this.calculation.evaluate(compiled.code, { pathOf: () => "" });
    const cautions = [...new Set([...compiled.functions].flatMap((f) => vocabulary.get(f)?.cautions ?? []))];
    return asked(formula, value, cautions);
  }

  why(path: string, options: { readonly trials?: number } = {}): Explanation | undefined {
    this.calculation.recount();
    const located = locate(path, this.calculation);
    if (!located) return undefined;
    const explanation = explain(located, this.sources, this.sinks);
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
    this.calculation.recount();
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
    this.calculation.recount();
    return sweepOf(this.calculation, varies, shows);
  }

  edit(text: string): Book {
    if (text === this.text) return this;
    return new OpenBook(parseBook(text, this.tree), this);
  }

  private get sources(): Sources {
    return { text: this.text, calculation: this.calculation };
  }

  private gatherSinks(): Sink[] {
    const count = new Map<string, number>();
    const sinks: Sink[] = [];
    for (const statement of this.tree.statements) {
      const { type } = statement.node;
      if (type !== "check" && type !== "step" && type !== "chart") continue;
      const n = (count.get(type) ?? 0) + 1;
      count.set(type, n);
      const sink = sinkOf(statement, `${type} ${n}`, this.calculation);
      if (sink) sinks.push(sink);
    }
    return sinks;
  }

  /** Adds to `kept` what the items took in the book before that are taken over from it. */
  private makeItems(before: OpenBook | undefined, kept: { calls: number; work: number }): Item[] {
    const { names } = this.plan;
    this.calculation.searches = this.searches && new SearchesMet(this.searches);
    const sinkFor = new Map<Statement, Sink>(this.sinks.map((s) => [s.statement, s]));
    const tables = new Map<Statement, Item>();
    for (const table of names.tables.values())
      tables.set(table.tree.statement, tableItem(this.sources, table));
    const items: Item[] = [];
    let step = 0;
    for (const statement of this.tree.statements) {
      const { node } = statement;
      const remark = statement.comment ? { remark: statement.comment } : {};
      switch (node.type) {
        case "book":
        case "about":
        case "part":
          items.push({ type: node.type, statement, ...remark, text: node.text });
          break;
        case "set": {
          const set = names.sets.get(node.name);
          if (set?.statement === statement)
            items.push(valueItem(this.sources, statement, node.name, node.formula));
          else items.push(this.unread(statement, `\`${node.name}\` is defined twice.`));
          break;
        }
        case "define":
          items.push({
            type: "define",
            statement,
            ...remark,
            name: node.name,
            parameters: node.parameters.map((p) => p.name),
            formula: sourceOf(this.text, statement, node.formula.span),
            formulaSpan: {
              from: statement.at + node.formula.span.from,
              to: statement.at + node.formula.span.to,
            },
          });
          break;
        case "table": {
          const table = tables.get(statement);
          items.push(table ?? this.unread(statement, `\`${node.name}\` is defined twice.`));
          break;
        }
        case "check":
        case "chart":
        case "step":
          if (node.type === "step") step++;
          items.push(this.sinkItem(sinkFor.get(statement)!, step, before, kept));
          break;
        case "unread": {
          if (
            node.defines === "set" &&
            node.name !== undefined &&
            names.sets.get(node.name)?.statement === statement
          ) {
            items.push(valueItem(this.sources, statement, node.name, undefined));
          } else items.push(this.unread(statement, ""));
          break;
        }
        case "row":
        case "column":
        case "foot":
        case "heading":
        case "ruler":
          if (!this.tree.tableOf.has(statement)) items.push(this.unread(statement, ""));
          break;
        default:
          break;
      }
    }
    this.calculation.searches = undefined;
    return items;
  }

  /** An item that looks at nothing new is taken over from the book before. */
  private sinkItem(
    sink: Sink,
    step: number,
    before: OpenBook | undefined,
    kept: { calls: number; work: number },
  ): Item {
    const then =
      before?.madeItems &&
      before.sinks.find((s) => s.compiled === sink.compiled && s.statement.node === sink.statement.node);
    if (then && this.calculation.unchanged(sink.compiled.references.keys())) {
      const old = before!.madeItems!.find((i) => i.statement === then.statement);
      if (
        old &&
        (old.type === "check" || old.type === "chart" || (old.type === "step" && old.number === step))
      ) {
        const cost = before!.itemCosts.get(then.statement)!;
        kept.calls += cost.calls;
        kept.work += cost.work;
        this.itemCosts.set(sink.statement, cost);
        return {
          ...old,
          statement: sink.statement,
          ...(sink.statement.comment && { remark: sink.statement.comment }),
        };
      }
    }
    const { calls, work } = this.calculation.counted;
    const item = makeItem(this.sources, sink, step);
    const { counted } = this.calculation;
    this.itemCosts.set(sink.statement, { calls: counted.calls - calls, work: counted.work - work });
    return item;
  }

  private unread(statement: Statement, otherwise: string): Item {
    const message = statement.messages.find((m) => m.severity === "fault")?.says ?? otherwise;
    return {
      type: "unread",
      statement,
      text: this.text.slice(statement.at, statement.at + statement.length),
      message: message || "This line cannot be read.",
    };
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
    ...(value.type === "fault" && value.help !== undefined && { help: value.help }),
    ...(value.type === "fault" && value.place && { span: { from: value.place.from, to: value.place.to } }),
    ...(value.type === "fault" &&
      value.rewrite !== undefined &&
      value.place && {
        fixes: [
          {
            says: `Write ${value.rewrite}`,
            certain: true,
            edits: [{ span: { from: value.place.from, to: value.place.to }, text: value.rewrite }],
          },
        ],
      }),
    ...(cautions.length > 0 && { cautions }),
    raw: value,
  };
}
