import type { Formula, Statement } from "../../grammar";
import type { Unit } from "../quantity";
import type { Calculation } from "./calculation";
import type { Nature } from "./cells";
import type { Compiled, Look, Scope } from "./compilation";
import type { Owner } from "./environment";
import { cellsKey, setKey } from "./names";
import { compileIn } from "./plan";
import { samePart } from "./recipes";

/** What looks at values and is looked at by nothing: a check, a chart, a step. */
export interface Sink {
  readonly statement: Statement;
  readonly path: string;
  /** All of its formulas as one, for what they look at and call. */
  readonly compiled: Compiled;
  /** Its formulas, in the order in which they are written. */
  readonly parts: readonly Compiled[];
}

export interface StepSink extends Sink {
  readonly pieces: readonly (string | Compiled)[];
  readonly wait?: Compiled;
  readonly asks: readonly (Compiled | undefined)[];
  /** What it asks for, of which it shows what is there: keys of values and of columns. */
  readonly asked: readonly string[];
}

export const ownerOf = ({ path }: Sink): Owner => ({ pathOf: () => path, isSink: true });

/** The checks, charts and steps of a book, ready to be made. */
export function sinksOf(statements: readonly Statement[], calculation: Calculation): Sink[] {
  const count = new Map<string, number>();
  const sinks: Sink[] = [];
  for (const statement of statements) {
    const { type } = statement.node;
    if (type !== "check" && type !== "step" && type !== "chart") continue;
    const n = (count.get(type) ?? 0) + 1;
    count.set(type, n);
    sinks.push(sinkOf(statement, `${type} ${n}`, calculation));
  }
  return sinks;
}

function sinkOf(statement: Statement, path: string, { plan: { names } }: Calculation): Sink | StepSink {
  const scope: Scope = { names, place: "book", frames: [] };
  const compiled = (formula: Formula): Compiled => compileIn(formula, scope);
  const node = statement.node as Statement["node"] & { type: "check" | "step" | "chart" };
  if (node.type === "check") {
    const only = compiled(node.formula);
    return { statement, path, compiled: only, parts: [only] };
  }
  if (node.type === "step") {
    const pieces = node.text.pieces.map((p) => (typeof p === "string" ? p : compiled(p)));
    const wait = node.wait && compiled(node.wait);
    const asks = node.asks.map((a) => a.expect && compiled(a.expect));
    const parts = [...pieces, wait, ...asks].filter((p) => typeof p === "object");
    const asked = node.asks.flatMap(({ path: of }) =>
      of.type === "name"
        ? [setKey(of.name)]
        : of.type === "part" && of.of.type === "name"
          ? [cellsKey(of.of.name, of.part)]
          : [],
    );
    return { statement, path, compiled: together(parts), parts, pieces, ...(wait && { wait }), asks, asked };
  }
  const parts =
    node.style === "curve"
      ? [
          ...node.what.map((what) => compileIn(what, { ...scope, frames: [[node.variable]] })),
          ...[node.from, node.to, ...(node.mark ? [node.mark] : [])].map(compiled),
        ]
      : [...node.what, node.by].map(compiled);
  return { statement, path, compiled: together(parts), parts };
}

/** Whether a sink would come to what the one in which the same is written, `then`, came to in the book before. */
export function isAsItWas(sink: Sink, then: Sink, now: Calculation, before: Calculation): boolean {
  return (
    // A step tells its number.
    (!("pieces" in sink) || sink.path === then.path) &&
    sink.parts.every((part, i) => samePart(part, then.parts[i]!)) &&
    now.unchanged(sink.compiled.references.keys()) &&
    askedOf(sink).every((key) => isAskedAsBefore(key, now, before))
  );
}

const askedOf = (sink: Sink | StepSink): readonly string[] => ("asked" in sink ? sink.asked : []);

/** Whether a value that is asked for, how it is written and in which unit, is as it was; or is as little there. */
function isAskedAsBefore(key: string, now: Calculation, before: Calculation): boolean {
  if (!now.has(key)) return !before.has(key);
  const node = now.plan.nodes.get(key);
  const then = before.plan.nodes.get(key);
  // Empty cells are the same in any unit.
  if (node?.type !== "formula") return unitOf(now.nature(key)) === unitOf(before.nature(key));
  return then?.type === "formula" && node.formula === then.formula && now.unchanged([key]);
}

const unitOf = (nature: Nature | undefined): Unit | undefined =>
  nature?.type === "quantity" ? nature.unit : undefined;

/** Several formulas as one, for what they look at and call. */
function together(all: readonly Compiled[]): Compiled {
  const references = new Map<string, Set<Look>>();
  for (const one of all) {
    for (const [key, looksAt] of one.references) {
      const set = references.get(key) ?? new Set();
      for (const look of looksAt) set.add(look);
      references.set(key, set);
    }
  }
  return {
    code: () => ({ type: "gap", says: "" }),
    parts: 0,
    references,
    functions: new Set(all.flatMap((c) => [...c.functions])),
    definitions: new Set(all.flatMap((c) => [...c.definitions])),
    turned: new Set(all.flatMap((c) => [...c.turned])),
    followed: new Map(all.flatMap((c) => [...c.followed])),
    layouts: new Set(all.flatMap((c) => [...c.layouts])),
    written: all.reduce((sum, c) => sum + c.written, 0),
    limited: all.some((c) => c.limited),
    troubles: all.flatMap((c) => c.troubles),
  };
}
