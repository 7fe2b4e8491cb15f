import { type Formula, type Span, writeName, writePart } from "../../grammar";
import { vocabulary } from "../vocabulary";
import type { Value } from "../vocabulary/value";
import type { Calculation } from "./calculation";
import type { Scope } from "./compilation";
import { compile } from "./compile";
import { contributionsTo } from "./contributions";
import type { Code } from "./environment";
import { gapWords } from "./fault";
import type { Sources } from "./items";
import { originOf, sourceOf } from "./items";
import { inText } from "./literals";
import { type Located, locate } from "./located";
import { cellsKey } from "./names";
import type { Explanation, Shown } from "./report";
import { show } from "./show";
import type { Sink } from "./sinks";
import { childrenOf } from "./syntax";

/** Entries of a list that the working writes out. */
const LIST_SHOWN = 6;
/** Steps of working that are shown. */
const STEPS_SHOWN = 24;

/** How a value came about: its formula, the working, what it used and what carries its uncertainty. */
export function explain(located: Located, sources: Sources, sinks: readonly Sink[]): Explanation {
  const { calculation, text } = sources;
  const { statement, formula, scope, row, value, path } = located;
  const origin = originOf(formula);
  const shown = show(value, path, located.label, formula ? origin : "typed");
  const node = calculation.plan.nodes.get(located.key)!;
  const owner = { pathOf: (r: number) => node.pathOf(r) };
  const run = (code: Code, at = row): Value => calculation.evaluate(code, owner, at);
  const written = sourceOf(text, statement, located.span);
  const functions = formula ? [...compile(formula, scope).functions] : [];

  const uses: Shown[] = [];
  const working: { text: string; result: string }[] = [];
  let filled = written;
  // A whole computed column has its formula, but a value only row by row.
  const workable = formula !== undefined && (row >= 0 || scope.place !== "row");
  if (formula) {
    const paths = pathsIn(formula);
    const values = new Map<Formula, Value>();
    for (const p of paths) {
      const resolved = resolvedPath(p, scope, calculation, row);
      const v = workable ? run(compile(p, scope).code) : wholeValue(p, scope, calculation);
      values.set(p, v);
      if (!uses.some((u) => u.path === resolved))
        uses.push(show(v, resolved, lastPart(resolved), originAt(resolved, calculation)));
    }
    if (workable) {
      const fill = (within: Formula): string =>
        filledIn(within, paths, values, (span) => sourceOf(text, statement, span));
      filled = fill(formula);
      for (const part of stepsIn(formula).slice(0, STEPS_SHOWN)) {
        const result = part === formula ? value : run(compile(part, scope).code);
        working.push({ text: fill(part), result: tell(result) });
      }
    }
  }

  const dependants = (calculation.plan.dependants.get(located.key) ?? []).filter(
    (key) => key !== located.key,
  );
  const usedBy = dependants.map((key) => calculation.plan.nodes.get(key)!.pathOf(-1));
  for (const sink of sinks) if (sink.compiled.references.has(located.key)) usedBy.push(sink.path);

  return {
    path,
    shown,
    formula: written,
    filled,
    working,
    uses,
    usedBy: [...new Set(usedBy)],
    functions: functions.map((name) => {
      const d = vocabulary.get(name)!;
      return {
        name,
        says: d.says,
        equation: d.equation,
        source: d.source,
        range: d.range,
        ...(d.trust !== undefined && { trust: d.trust }),
        ...(d.cautions && { cautions: d.cautions }),
      };
    }),
    contributions: contributionsTo(value, sources),
    notes: value.notes ?? [],
    from: statement.at + located.span.from,
    to: statement.at + located.span.to,
  };
}

/** Names and paths in a formula, whole and outermost, without those that are bound inside it. */
function pathsIn(formula: Formula): Formula[] {
  const found: Formula[] = [];
  const walk = (node: Formula, bound: ReadonlySet<string>): void => {
    if (node.type === "name") {
      if (!bound.has(node.name)) found.push(node);
      return;
    }
    if (node.type === "part") {
      let base: Formula = node;
      while (base.type === "part") base = base.of;
      if (base.type === "name") {
        if (!bound.has(base.name)) found.push(node);
        return;
      }
      walk(base, bound);
      return;
    }
    if (node.type === "find") {
      walk(node.from, bound);
      walk(node.to, bound);
      walk(node.goal, new Set([...bound, node.name]));
      return;
    }
    if (node.type === "where") {
      // The names of the condition belong to each row, not to this place.
      walk(node.of, bound);
      return;
    }
    for (const child of childrenOf(node)) walk(child, bound);
  };
  walk(formula, new Set());
  return found;
}

/** The operations in a formula, innermost first; what stands inside `find`, `where` or a list is not taken apart. */
function stepsIn(formula: Formula): Formula[] {
  const found: Formula[] = [];
  const walk = (node: Formula): void => {
    if (node.type !== "find" && node.type !== "where") for (const child of childrenOf(node)) walk(child);
    const leaf = [
      "number",
      "date",
      "text",
      "truth",
      "blank",
      "name",
      "part",
      "list",
      "spread",
      "unread",
    ].includes(node.type);
    if (
      !leaf ||
      (node.type === "part" && childrenOf(node)[0]?.type !== "name" && childrenOf(node)[0]?.type !== "part")
    )
      found.push(node);
  };
  walk(formula);
  if (found[found.length - 1] !== formula) found.push(formula);
  return found;
}

function filledIn(
  within: Formula,
  paths: readonly Formula[],
  values: ReadonlyMap<Formula, Value>,
  source: (span: Span) => string,
): string {
  const inside = paths.filter((p) => p.span.from >= within.span.from && p.span.to <= within.span.to);
  let out = "";
  let at = within.span.from;
  for (const path of [...inside].sort((a, b) => a.span.from - b.span.from)) {
    if (path.span.from < at) continue;
    out += source({ from: at, to: path.span.from });
    const value = values.get(path)!;
    out += value.type === "record" ? source(path.span) : tell(value);
    at = path.span.to;
  }
  return out + source({ from: at, to: within.span.to });
}

/** A value in a line of working. */
function tell(value: Value): string {
  switch (value.type) {
    case "gap":
      return `(${gapWords(value)})`;
    case "fault":
      return "(fault)";
    case "record":
      return [...value.parts].map(([name, part]) => `${name}: ${tell(part)}`).join(", ");
    case "list": {
      const entries = value.entries.slice(0, LIST_SHOWN).map(tell);
      return `[${entries.join(", ")}${value.entries.length > LIST_SHOWN ? `, … ${value.entries.length} in all` : ""}]`;
    }
    case "text":
      return `"${value.text}"`;
    default:
      return inText(value);
  }
}

/** Full path of a name as it stands in a formula: `volume` in a row is `distillates.juniper.volume`. */
function resolvedPath(node: Formula, scope: Scope, calculation: Calculation, row: number): string {
  const parts: string[] = [];
  let base = node;
  while (base.type === "part") {
    parts.unshift(base.part);
    base = base.of;
  }
  if (base.type !== "name") return "";
  const rest = parts.map((p) => `.${writePart(p)}`).join("");
  const { table } = scope;
  if (table) {
    const at = (r: number, column: string): string =>
      calculation.plan.nodes.get(cellsKey(table.name, column))?.pathOf(r) ?? column;
    if (base.name === "before" && parts[0] !== undefined)
      return row > 0 ? at(row - 1, parts[0]) : `before.${parts[0]}`;
    if (base.name === "foot") return `${writeName(table.name)}.foot${rest}`;
    if (base.name === "book")
      return [writeName(parts[0]!), ...parts.slice(1).map((p) => writePart(p))].join(".");
    if (table.byName.has(base.name)) return at(scope.place === "row" ? row : -1, base.name) + rest;
  }
  return writeName(base.name) + rest;
}

const lastPart = (path: string): string => path.replace(/`/gu, "").split(".").pop() ?? path;

/** In a whole column, a bare column name is that column, and so is that of the row before. */
function wholeValue(node: Formula, scope: Scope, calculation: Calculation): Value {
  const wide: Scope = { ...scope, place: "foot" };
  const isBefore = node.type === "part" && node.of.type === "name" && node.of.name === "before";
  const column: Formula = isBefore ? { type: "name", name: node.part, span: node.span } : node;
  return calculation.evaluate(compile(column, wide).code, { pathOf: () => "" });
}

function originAt(path: string, calculation: Calculation): Shown["origin"] {
  const located = locate(path, calculation);
  return located?.formula ? originOf(located.formula) : "typed";
}
