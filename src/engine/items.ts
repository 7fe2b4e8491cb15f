import { type Formula, parseBook, type Statement, writeName } from "../../grammar";
import {
  asDifference,
  convert,
  format,
  kinds,
  type Quantity,
  quantity,
  subtract,
  Trouble,
} from "../quantity";
import type { ListValue, Value } from "../vocabulary/value";
import { TOO_MUCH } from "./allowance";
import type { Calculation } from "./calculation";
import { chartItem } from "./charts";
import { compile } from "./compile";
import type { Owner } from "./environment";
import { describe, faultFrom, gapWords } from "./fault";
import { inText } from "./literals";
import { cellsKey, plainQuantity, setKey } from "./names";
import type { ChartItem, CheckItem, Origin, Shown, StepItem, TrialRange, ValueItem } from "./report";
import { flatten, show } from "./show";
import { ownerOf, type Sink, type StepSink } from "./sinks";
import { plainBlank } from "./syntax";

/** What turns statements into items: the book's text and values. */
export interface Sources {
  readonly text: string;
  readonly calculation: Calculation;
}

export function sourceOf(text: string, statement: Statement, span: { from: number; to: number }): string {
  return text.slice(statement.at + span.from, statement.at + span.to);
}

export const remark = (statement: Statement): { remark: string } | undefined =>
  statement.comment === undefined || statement.comment === "" ? undefined : { remark: statement.comment };

/** How a formula's value came to be. */
export function originOf(formula: Formula | undefined): Origin {
  if (!formula) return "typed";
  if (plainQuantity(formula) || plainBlank(formula) || formula.type === "date" || formula.type === "truth")
    return "typed";
  if (formula.type === "text" && formula.pieces.every((p) => typeof p === "string")) return "typed";
  if (formula.type === "find" || (formula.type === "shown" && formula.of.type === "find")) return "found";
  return "computed";
}

/** The same value with its digits as the writer typed them: printing never rewrites what a person wrote. */
export function asTyped(shown: Shown, formula: Formula): Shown {
  if (shown.state !== "ok") return shown;
  const of = formula.type === "spread" ? formula.of : formula;
  const by = formula.type === "spread" ? formula.by : undefined;
  if (of.type !== "number" || (by && by.type !== "number")) return shown;
  const unit = of.unit ?? (by?.type === "number" ? by.unit : undefined);
  return {
    ...shown,
    number: of.digits,
    ...(by?.type === "number" && {
      spread: by.digits + (by.unit && of.unit && by.unit.text !== of.unit.text ? ` ${by.unit.text}` : ""),
    }),
    unit: unit ? shown.unit || unit.text : "",
  };
}

export function valueItem(
  sources: Sources,
  statement: Statement,
  name: string,
  formula: Formula | undefined,
): ValueItem {
  const { calculation, text } = sources;
  const path = writeName(name);
  const value = calculation.value(setKey(name));
  const origin = originOf(formula);
  const shown = show(value, path, name, origin);
  const parts = partsOf(sources, value, path, name, origin);
  const trial = trialRange(sources, statement, value);
  const outside = trial && outsideNote(trial, value);
  return {
    type: "value",
    statement,
    ...remark(statement),
    name,
    formula: formula ? sourceOf(text, statement, formula.span) : "",
    formulaSpan: formula
      ? { from: statement.at + formula.span.from, to: statement.at + formula.span.to }
      : { from: statement.at, to: statement.at + statement.length },
    shown: noted(formula && origin === "typed" ? asTyped(shown, formula) : shown, outside),
    parts,
    ...(trial && { trial }),
  };
}

/** The range of a slider is no check: a value outside it is allowed, and noted. */
function outsideNote(trial: TrialRange, value: Value): string | undefined {
  if (trial.type === "choices") {
    return value.type === "text" && !trial.choices.includes(value.text)
      ? "outside the choices that are offered for it"
      : undefined;
  }
  if (value.type !== "quantity" || trial.idle) return undefined;
  const low = Math.min(trial.from, trial.to);
  const high = Math.max(trial.from, trial.to);
  return value.n.v < low || value.n.v > high ? "outside the range that is offered for trying" : undefined;
}

const noted = (shown: Shown, text: string | undefined): Shown =>
  text === undefined ? shown : { ...shown, notes: [...shown.notes, { text }] };

/** Work of a part that is shown by itself, with its path. */
const PART_WORK = 200;

/** The parts of a record or list, flattened; a fault in their place when there are too many to show. */
function partsOf(
  { calculation }: Sources,
  value: Value,
  path: string,
  name: string,
  origin: Origin,
): readonly Shown[] {
  if (value.type !== "record" && value.type !== "list") return [];
  if (value.type === "list" && value.entries.length === 0) return [];
  if (calculation.allowance.affords(PART_WORK * countParts(value))) return flatten(value, path, name, origin);
  return [show(faultFrom(TOO_MUCH, { path, from: 0, to: 0 }), path, name, origin)];
}

function countParts(value: Value): number {
  if (value.type === "record") {
    let count = 0;
    for (const part of value.parts.values()) count += countParts(part);
    return count;
  }
  if (value.type !== "list") return 1;
  const [first] = value.entries;
  return value.entries.length * (first?.type === "record" ? countParts(first) : 1);
}

/** What a value is tried over; where its formula cannot be read, the range behind it still can be. */
function triedIn({ text }: Sources, { node, at, length }: Statement) {
  if (node.type !== "unread") return node.type === "set" ? node.trial : undefined;
  const behind = /\btry\b.*/su.exec(text.slice(at, at + length));
  const again = behind && parseBook(`set value = blank ${behind[0]}`).statements[0]?.node;
  return again?.type === "set" ? again.trial : undefined;
}

function trialRange(sources: Sources, statement: Statement, value: Value): TrialRange | undefined {
  const tried = triedIn(sources, statement);
  if (tried === undefined) return undefined;
  const { names } = sources.calculation.plan;
  const work = (formula: Formula): Value =>
    sources.calculation.evaluate(compile(formula, { names, place: "book", frames: [] }).code, {
      pathOf: () => "",
    });
  const from = work(tried.from);
  if (!tried.to) {
    if (from.type !== "list") return undefined;
    return { type: "choices", choices: from.entries.flatMap((e) => (e.type === "text" ? [e.text] : [])) };
  }
  const to = work(tried.to);
  const step = tried.step && work(tried.step);
  if (from.type !== "quantity" || to.type !== "quantity") return undefined;
  // While the value is mended, the range stays as it is written.
  const idle = value.type !== "quantity" || value.unit.kind !== from.unit.kind;
  const unit = idle ? from.unit : value.unit;
  const inUnit = (q: Quantity, difference = false): number | undefined => {
    if (
      q.unit.kind !== unit.kind &&
      !(difference && (q.unit.kind === kinds.difference || q.unit.kind === kinds.temperature))
    )
      return undefined;
    if (!difference || unit.kind !== kinds.temperature) return convert(q, unit).n.v;
    const by = q.unit.kind === kinds.temperature ? quantity(q.n, asDifference(q.unit)) : q;
    return convert(by, asDifference(unit)).n.v;
  };
  const low = inUnit(from);
  const high = inUnit(to);
  if (low === undefined || high === undefined) return undefined;
  const by = step?.type === "quantity" ? inUnit(step, true) : undefined;
  return {
    type: "range",
    from: low,
    to: high,
    ...(by !== undefined && { step: Math.abs(by) }),
    unit: unit.text,
    ends: [convert(from, unit), convert(to, unit)].sort((a, b) => a.n.v - b.n.v).map((end) => format(end)),
    ...(idle && { idle }),
  };
}

// ---- checks

export function checkItem(sources: Sources, sink: Sink): CheckItem {
  const { statement } = sink;
  const node = statement.node as Statement["node"] & { type: "check" };
  const { calculation, text } = sources;
  const owner = ownerOf(sink);
  const value = calculation.evaluate(sink.compiled.code, owner);
  const formula = sourceOf(text, statement, node.formula.span);
  const base = {
    type: "check" as const,
    statement,
    ...remark(statement),
    formula,
    text: node.text ?? formula,
    notes: value.notes ?? [],
  };
  if (value.type === "gap" || value.type === "fault") {
    return { ...base, state: "unknown", says: show(value, sink.path, "", "computed").message! };
  }
  if (value.type === "list") {
    const states = value.entries.map((e) => (e.type === "truth" ? e.value : undefined));
    const bad = states.indexOf(false);
    const unknown = states.indexOf(undefined);
    const who = (i: number): string => value.origin?.names[i] || `entry ${i + 1}`;
    if (bad >= 0) return { ...base, state: "unmet", says: `not met for ${who(bad)}` };
    if (unknown >= 0) return { ...base, state: "unknown", says: `not yet known for ${who(unknown)}` };
    return { ...base, state: "met" };
  }
  if (value.type !== "truth") {
    return {
      ...base,
      state: "unknown",
      says: `A check wants true or false; this comes to ${describe(value)}.`,
    };
  }
  if (!value.value) {
    const says = missOf(sources, node.formula, owner);
    return { ...base, state: "unmet", ...(says && { says }) };
  }
  const unsure = (value.notes ?? []).some((n) => n.text.includes("uncertainty"));
  return { ...base, state: "met", ...(unsure && { says: "met, but within its uncertainty" }) };
}

/** By how much a comparison misses: "over by 0.06 GBP". */
function missOf(sources: Sources, formula: Formula, owner: Owner): string | undefined {
  const { calculation } = sources;
  const { names } = calculation.plan;
  const work = (f: Formula): Value =>
    calculation.evaluate(compile(f, { names, place: "book", frames: [] }).code, owner);
  const apart = (a: Value, b: Value): { amount: string; above: boolean } | undefined => {
    if (a.type !== "quantity" || b.type !== "quantity") return undefined;
    try {
      const d = subtract(a, b);
      // Right at the border there is nothing to tell.
      if (d.n.v === 0) return undefined;
      return {
        amount: format({ ...d, n: { ...d.n, v: Math.abs(d.n.v), ...(d.n.big && { big: d.n.big.abs() }) } }),
        above: d.n.v > 0,
      };
    } catch (error) {
      if (error instanceof Trouble) return undefined;
      throw error;
    }
  };
  if (formula.type === "logic" && formula.operator === "and") {
    for (const side of [formula.left, formula.right]) {
      const value = work(side);
      if (value.type === "truth" && !value.value) return missOf(sources, side, owner);
    }
    return undefined;
  }
  if (formula.type === "within") {
    const of = work(formula.of);
    const below = apart(of, work(formula.low));
    const above = apart(of, work(formula.high));
    if (below && !below.above) return `under by ${below.amount}`;
    return above ? `over by ${above.amount}` : undefined;
  }
  if (formula.type !== "compare" || formula.operator === "is not") return undefined;
  const miss = apart(work(formula.left), work(formula.right));
  if (!miss) return undefined;
  return `${miss.above ? "over" : "under"} by ${miss.amount}`;
}

// ---- steps

/** The name of a row before its amount in a sentence. A digit at its end would run into the number: `run 1: 400 mL`. */
export const nameBefore = (name: string): string =>
  name === "" ? "" : `${name}${/\p{Nd}$/u.test(name) ? ":" : ""} `;

/** In a sentence a list is its entries, as it is in a text; those of a column go by the names of their rows. */
function inSentence({ entries, origin }: ListValue): string {
  return entries
    .map((entry, i) => {
      const text = inText(entry);
      const name = origin?.names[i] ?? "";
      // The names themselves are not told twice.
      return name === text ? text : nameBefore(name) + text;
    })
    .join(", ");
}

export function stepItem(sources: Sources, sink: StepSink, number: number): StepItem {
  const { statement } = sink;
  const node = statement.node as Statement["node"] & { type: "step" };
  const { calculation, text } = sources;
  const owner = ownerOf(sink);
  const pieces = sink.pieces.map((piece, i): string | Shown => {
    if (typeof piece === "string") return piece;
    const formula = node.text.pieces[i] as Formula;
    const path = sourceOf(text, statement, formula.span);
    const value = calculation.evaluate(piece.code, owner);
    const label = path;
    if (value.type === "record")
      return {
        ...show(value, path, label, "computed"),
        state: "fault",
        text: "",
        message: "This result has parts; say which one.",
      };
    // A fault of the braces themselves begins here.
    const begins = value.type === "fault" && value.place?.path === sink.path;
    const shown = { ...show(value, begins ? sink.path : path, label, "computed"), path };
    return value.type === "list" && shown.state === "ok" ? { ...shown, text: inSentence(value) } : shown;
  });
  const words = pieces
    .map((p) =>
      typeof p === "string"
        ? p
        : p.state === "ok"
          ? p.text
          : p.value.type === "gap"
            ? `(${gapWords(p.value)})`
            : p.state === "gap"
              ? "(not filled in yet)"
              : "(fault)",
    )
    .join("");
  const wait =
    sink.wait && show(calculation.evaluate(sink.wait.code, owner), `${sink.path} wait`, "wait", "computed");
  return {
    type: "step",
    statement,
    ...remark(statement),
    number,
    pieces,
    text: words,
    ...(wait && { wait }),
    asks: node.asks.map((ask, i) => {
      const path = sourceOf(text, statement, ask.path.span);
      const expect =
        sink.asks[i] &&
        show(calculation.evaluate(sink.asks[i]!.code, owner), `${path} expected`, "expect", "typed");
      const { unit, shown } = askTarget(sources, ask.path);
      return { path, unit: ask.unit?.text ?? unit, ...(expect && { expect }), ...(shown && { shown }) };
    }),
  };
}

/** Unit and present value of what a step asks for: a `set`, or a column of a table. */
function askTarget(sources: Sources, path: Formula): { unit: string; shown?: Shown } {
  const { calculation } = sources;
  const { names } = calculation.plan;
  if (path.type === "name") {
    const set = names.sets.get(path.name);
    if (!set) return { unit: "" };
    const value = calculation.value(setKey(path.name));
    const written = set.formula?.type === "shown" ? set.formula.unit.text : "";
    const shown = show(value, writeName(path.name), path.name, originOf(set.formula));
    return { unit: value.type === "quantity" ? value.unit.text : written, shown };
  }
  if (path.type === "part" && path.of.type === "name") {
    const table = names.tables.get(path.of.name);
    const key = table && cellsKey(table.name, path.part);
    const nature = key ? calculation.nature(key) : undefined;
    return { unit: nature?.type === "quantity" ? nature.unit.text : "" };
  }
  return { unit: "" };
}

export type SinkItem = CheckItem | StepItem | ChartItem;

export function makeItem(sources: Sources, sink: Sink | StepSink, step: number): SinkItem {
  const { node } = sink.statement;
  if (node.type === "check") return checkItem(sources, sink);
  if (node.type === "step") return stepItem(sources, sink as StepSink, step);
  return chartItem(sources, sink);
}
