import { jointKind, type Kind, kindName, kinds, type Unit } from "../../quantity";
import type { Parameter } from "../../vocabulary/declaration";
import { takesInWords } from "../../vocabulary/glossary";
import type { RecordValue, Value } from "../../vocabulary/value";
import type { TableName } from "../names";
import { TableRecord } from "../tables";

/** What a thing is, whatever its value: enough to say whether it can stand in a place. */
export type Sort =
  | { readonly is: "quantity"; readonly unit: Unit }
  | { readonly is: "text" | "date" | "truth" | "unknown" }
  | { readonly is: "list"; readonly of: Sort; readonly table?: string }
  | { readonly is: "record"; readonly parts: ReadonlyMap<string, Sort> }
  | { readonly is: "table"; readonly table: TableName }
  | { readonly is: "row" | "feet"; readonly table: TableName };

export const unknown: Sort = { is: "unknown" };

export function sortOfValue(value: Value): Sort {
  switch (value.type) {
    case "quantity":
      return { is: "quantity", unit: value.unit };
    case "text":
    case "date":
    case "truth":
      return { is: value.type };
    case "list": {
      const first = value.entries.find((e) => e.type !== "gap" && e.type !== "fault");
      const of: Sort = first
        ? sortOfValue(first)
        : value.unit
          ? { is: "quantity", unit: value.unit }
          : unknown;
      return { is: "list", of, ...(value.origin && { table: value.origin.table }) };
    }
    case "record":
      return value instanceof TableRecord ? unknown : sortOfRecord(value);
    default:
      return unknown;
  }
}

/** A record is looked at again for every keystroke, and never changes. */
const records = new WeakMap<RecordValue, Sort>();

function sortOfRecord(value: RecordValue): Sort {
  let sort = records.get(value);
  if (sort === undefined) {
    const parts = new Map([...value.parts].map(([name, part]) => [name, sortOfValue(part)] as const));
    sort = { is: "record", parts };
    records.set(value, sort);
  }
  return sort;
}

/** What a sort is called in a sentence: "a volume", "a list, each a price per volume", "a result with parts". */
export function sortInWords(sort: Sort): string {
  switch (sort.is) {
    case "quantity":
      return kindName(sort.unit);
    case "text":
      return "a text";
    case "date":
      return "a date";
    case "truth":
      return "true or false";
    case "list":
      return sort.of.is === "unknown" ? "a list" : `a list, each ${sortInWords(sort.of)}`;
    case "record":
      return "a result with parts";
    case "table":
      return "a table";
    case "row":
      return "a row";
    case "feet":
      return "values under a table";
    case "unknown":
      return "";
  }
}

/** What a place wants. `says` is how it is told: "a volume or a mass". */
export interface Expected {
  readonly wants:
    | { readonly is: "quantity"; readonly kinds: readonly Kind[]; readonly unit?: Unit }
    | { readonly is: "text"; readonly choices?: readonly string[] }
    /** `number`: a quantity of any kind. */
    | { readonly is: "date" | "truth" | "number" | "anything" };
  /** `wanted`: a list stands here; `taken`: one value, but a list is worked out entry by entry. */
  readonly list: "wanted" | "taken";
  readonly says: string;
}

/** What a parameter of the vocabulary wants. */
export function wantedBy(parameter: Parameter): Expected {
  const { takes } = parameter;
  const core = {
    list: parameter.list === true ? ("wanted" as const) : ("taken" as const),
    says: takesInWords(parameter),
  };
  if (takes === "text")
    return { ...core, wants: { is: "text", ...(parameter.choices && { choices: parameter.choices }) } };
  if (takes === "date") return { ...core, wants: { is: "date" } };
  if (takes === "any") return { ...core, wants: { is: "anything" } };
  return { ...core, wants: { is: "quantity", kinds: takes.map((t) => t.kind) } };
}

/** A place that wants one of some kinds. */
export function wantedKinds(wanted: readonly Kind[], unit?: Unit): Expected {
  return {
    wants: { is: "quantity", kinds: wanted, ...(unit && { unit }) },
    list: "taken",
    says: either(wanted.map((kind) => (kind === kinds.plain ? "a plain number" : kind.name))),
  };
}

/** A place that wants the like of something else: what stands beside it in a sum, comparison or list. */
export function wantedLike(sort: Sort): Expected | undefined {
  switch (sort.is) {
    case "quantity":
      return { ...wantedKinds([sort.unit.kind], sort.unit), says: kindName(sort.unit) };
    case "text":
    case "date":
    case "truth":
      return { wants: { is: sort.is }, list: "taken", says: sortInWords(sort) };
    case "list":
      return wantedLike(sort.of);
    default:
      return undefined;
  }
}

/** Whether something can stand where something is wanted; `why` tells in words why not. */
export interface Fit {
  readonly fits: boolean;
  /** Smaller stands first among those that fit: as wanted, a list for one value, not known. */
  readonly rank: 0 | 1 | 2 | 3;
  readonly why?: string;
}

const FITS: Fit = { fits: true, rank: 0 };
const MAPPED: Fit = { fits: true, rank: 1 };
const UNSURE: Fit = { fits: true, rank: 2 };
const misfit = (why: string): Fit => ({ fits: false, rank: 3, why });

/** `lists`: whether a list may stand in the place at all. */
export function fitOf(sort: Sort, expected: Expected | undefined, lists = true): Fit {
  if (sort.is === "list" && !lists) return misfit("a list, where one value stands");

  if (sort.is === "unknown") return expected === undefined ? FITS : UNSURE;
  if (sort.is === "table" || sort.is === "row" || sort.is === "feet" || sort.is === "record") {
    if (expected === undefined) return FITS;
    return misfit(
      sort.is === "record" ? "choose one of its parts" : `${sortInWords(sort)}: go on with a dot`,
    );
  }
  if (expected === undefined) return FITS;
  const single = sort.is === "list" ? sort.of : sort;
  const one = single.is === "unknown" ? UNSURE : fitOfOne(single, expected);
  if (!one.fits) return one;
  if (sort.is === "list")
    return expected.list === "wanted" ? one : { ...one, rank: Math.max(one.rank, 1) as 1 | 2 };
  return expected.list === "wanted" ? misfit("one value, not a list") : one;
}

function fitOfOne(sort: Sort, { wants, says }: Expected): Fit {
  const plainSays = says.replace(/^a list, each /u, "");
  switch (wants.is) {
    case "anything":
      return FITS;
    case "number":
      return sort.is === "quantity" ? FITS : misfit(`not ${plainSays}`);
    case "quantity":
      if (sort.is !== "quantity") return misfit(`not ${plainSays}`);
      if (wants.kinds.some((kind) => kind === sort.unit.kind)) return FITS;
      return wants.kinds.some((kind) => jointKind(kind, sort.unit.kind) !== undefined)
        ? MAPPED
        : misfit(`not ${plainSays}`);
    default:
      return sort.is === wants.is ? FITS : misfit(`not ${plainSays}`);
  }
}

/** `a`, `a or b`, `a, b or c`; each word once. */
export function either(words: readonly string[]): string {
  const each = [...new Set(words)];
  return each.length < 2 ? each.join("") : `${each.slice(0, -1).join(", ")} or ${each.at(-1)}`;
}
