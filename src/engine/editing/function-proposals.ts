import { writeName } from "../../../grammar";
import { kinds } from "../../quantity";
import { vocabulary } from "../../vocabulary";
import type { Declaration } from "../../vocabulary/declaration";
import { callOf, labelOnly, takesInWords } from "../../vocabulary/glossary";
import type { ActiveParameter } from "./expectation";
import type { Found } from "./found";
import { sortOfFormula, sortOfResult } from "./inference";
import { namesAt, outside, type Place, withLocals } from "./place";
import { type Candidate, matchOf } from "./proposal";
import { type Expected, type Fit, fitOf, type Sort, sortInWords, unknown } from "./sort";

/** A call with the places to fill in: `let_down(¦, to: ¦)`. */
export interface Snippet {
  readonly insert: string;
  readonly stops: readonly number[];
}

/**
 * What is written for a function: its brackets, and the labels of what must be given by label. The places before
 * them are left to the writer, for commas that nothing stands between would be in the way.
 */
export function snippetOf(declaration: Declaration): Snippet {
  const required = declaration.parameters.filter((p) => p.optional !== true);
  const labelled = required.filter((p) => labelOnly(declaration, p));
  let insert = `${declaration.name}(`;
  const stops: number[] = [];
  if (labelled.length < required.length || required.length === 0) stops.push(insert.length);
  for (const { name } of labelled) {
    insert += `${stops.length > 0 ? ", " : ""}${name}: `;
    stops.push(insert.length);
  }
  return { insert: `${insert})`, stops };
}

/**
 * Functions of the book and of the vocabulary. `bracketed`: a bracket stands behind the caret already. `lists`:
 * whether a list may stand here.
 */
export function functionCandidates(
  typed: string,
  expected: Expected | undefined,
  place: Place,
  options: { readonly bracketed: boolean; readonly lists: boolean },
): readonly Candidate[] {
  const { bracketed, lists } = options;
  const candidates: Candidate[] = [];
  const names = namesAt(place);
  for (const define of names.defines.values()) {
    const match = matchOf(define.name, typed);
    if (match === undefined) continue;
    const locals = new Map(define.parameters.map((p) => [p, unknown] as const));
    const sort: Sort = define.formula
      ? sortOfFormula(define.formula, withLocals(outside(place), locals))
      : unknown;
    const name = writeName(define.name);
    candidates.push({
      label: define.name,
      thing: "function",
      fit: fitOfResult(sort, expected, lists),
      match,
      near: 3,
      make: () => ({
        insert: bracketed ? name : `${name}()`,
        ...(!bracketed && { stops: [name.length + 1] }),
        is: sortInWords(sort),
        says: "A function of this book.",
        signature: `${name}(${define.parameters.join(", ")})`,
      }),
    });
  }
  for (const declaration of vocabulary.values()) {
    const { name } = declaration;
    const match = matchOf(name, typed);
    if (match === undefined || names.defines.has(name)) continue;
    const sort = resultOf(declaration);
    candidates.push({
      label: name,
      thing: "function",
      fit: fitOfResult(sort, expected, lists),
      match,
      near: 4,
      make: () => ({
        ...(bracketed ? { insert: name } : snippetOf(declaration)),
        is: sortInWords(sort),
        says: declaration.says,
        signature: callOf(declaration),
      }),
    });
  }
  return candidates;
}

const results = new WeakMap<Declaration, Sort>();

/** What a function gives when nothing is known of its arguments. */
function resultOf(declaration: Declaration): Sort {
  let sort = results.get(declaration);
  if (sort === undefined) {
    sort = sortOfResult(declaration, []);
    results.set(declaration, sort);
  }
  return sort;
}

/** A result with parts does not stand for a value, but one of its parts may. */
export function fitOfResult(sort: Sort, expected: Expected | undefined, lists = true): Fit {
  const fit = fitOf(sort, expected, lists);
  if (sort.is !== "record" || expected === undefined) return fit;
  const fitting = fittingParts(sort, expected);
  return fitting === undefined ? fit : { ...fit, why: `a result with parts; \`.${fitting}\` fits` };
}

function fittingParts(sort: Sort & { is: "record" }, expected: Expected): string | undefined {
  for (const [name, part] of sort.parts) {
    if (part.is === "record") {
      const inner = fittingParts(part, expected);
      if (inner !== undefined) return `${name}.${inner}`;
    } else if (part.is !== "unknown" && fitOf(part, expected).fits) return name;
  }
  return undefined;
}

/** Labels that have not been used yet in a call, those that must be given first. */
export function labelCandidates(typed: string, active: ActiveParameter): readonly Candidate[] {
  const { declaration, given, parameter } = active;
  return declaration.parameters.flatMap((p): readonly Candidate[] => {
    const match = matchOf(p.name, typed);
    if (match === undefined || match > 1 || given.has(p.name)) return [];
    // What can be taken by place needs no label, unless its label is being typed.
    const nextByPlace = parameter !== undefined && !labelOnly(declaration, p);
    if (nextByPlace && (p !== parameter || typed === "")) return [];
    const otherwise = p.otherwise === undefined ? "" : ` When left out: ${p.otherwise}.`;
    return [
      {
        label: `${p.name}:`,
        thing: "label",
        fit: { fits: true, rank: 0 },
        match,
        near: p.optional === true ? 6 : 5,
        make: () => ({ insert: `${p.name}: `, is: takesInWords(p), says: `${p.says}${otherwise}` }),
      },
    ];
  });
}

const TOTALS: readonly (readonly [name: string, says: string])[] = [
  ["sum", "The total."],
  ["mean", "The average."],
  ["smallest", "The smallest entry."],
  ["largest", "The largest entry."],
  ["count", "How many are filled in."],
];

/** What is mostly put under a column: a total of its own. */
export function totalCandidates(typed: string, column: Found): readonly Candidate[] {
  const { sort, name } = column;
  const each = sort.is === "list" ? sort.of : unknown;
  const temperature = each.is === "quantity" && each.unit.kind === kinds.temperature;
  const fitting = TOTALS.filter(([total]) =>
    each.is === "quantity" ? !(temperature && total === "sum") : total === "count",
  );
  return fitting.flatMap(([total, says]): readonly Candidate[] => {
    const insert = `${total}(${writeName(name)})`;
    const match = matchOf(insert, typed);
    if (match === undefined || match > 1) return [];
    return [
      {
        label: insert,
        thing: "function",
        fit: { fits: true, rank: 0 },
        match,
        near: -2,
        make: () => ({ insert, is: total === "count" ? "a plain number" : sortInWords(each), says }),
      },
    ];
  });
}
