import { parseFormula, type Span, type Statement, writeName } from "../../../grammar";
import { workingsOf } from "../book";
import type { Scope } from "../compilation";
import { compile } from "../compile";
import { originOf } from "../items";
import { cellsKey, footKey, setKey } from "../names";
import { oneValue } from "../node-faults";
import type { Book } from "../report";
import { cellForetold } from "./cell-foretelling";
import type { Field } from "./field";
import {
  afterEdit,
  type Back,
  backFrom,
  buildsOn,
  type Foretold,
  foretoldValue,
  type Named,
  unreadable,
  worked,
} from "./foretold";

/**
 * What a field with this text would come to, in a book that stays as it is. Only the formula itself is worked out,
 * with the values that the book has now; where it would build on itself, the whole book is. Undefined for a field
 * that comes to no value: a heading, a chart, the text of the book.
 */
export function foretell(book: Book, field: Field, text = field.text ?? ""): Foretold | undefined {
  const workings = workingsOf(book);
  const { names } = workings.plan;
  const outside: Scope = { names, place: "book", frames: [] };
  switch (field.in) {
    case "value": {
      const key = setKey(field.name);
      const { statement } = names.sets.get(field.name) ?? {};
      return formulaForetold(book, text, {
        scope: outside,
        row: -1,
        path: writeName(field.name),
        label: field.name,
        key,
        ...(statement && { statement }),
      });
    }
    case "check":
    case "formula":
      return formulaForetold(book, text, { scope: outside, row: -1, path: "", label: "" });
    case "sentence":
      return sentenceForetold(book, text, outside);
    case "column": {
      const table = names.tables.get(field.table);
      const row = field.row ?? 0;
      // A table without rows, or a row that was taken out meanwhile, has no cell.
      if (table === undefined || row >= workings.calculation.rows(table.name).count) return undefined;
      const key = cellsKey(table.name, field.column);
      const path = workings.plan.nodes.get(key)?.pathOf(row) ?? "";
      const scope: Scope = { names, table, place: "row", frames: [] };
      const { statement } = table.byName.get(field.column) ?? {};
      return formulaForetold(book, text, {
        scope,
        row,
        path,
        label: field.column,
        key,
        oneValue: true,
        ...(statement && { statement }),
      });
    }
    case "foot": {
      const table = names.tables.get(field.table);
      if (table === undefined) return undefined;
      const key = footKey(table.name, field.column);
      const path = workings.plan.nodes.get(key)?.pathOf(-1) ?? "";
      const scope: Scope = { names, table, place: "foot", frames: [] };
      const { statement } = table.feet.get(field.column) ?? {};
      return formulaForetold(book, text, {
        scope,
        row: -1,
        path,
        label: field.column,
        key,
        ...(statement && { statement }),
      });
    }
    case "cell": {
      const table = names.tables.get(field.table);
      return table && cellForetold(book, workings, table, field.column, field.row, text);
    }
    default:
      return undefined;
  }
}

interface Standing extends Named {
  readonly scope: Scope;
  readonly row: number;
  /** Key of what the formula defines, and the statement that holds its formula now. */
  readonly key?: string;
  readonly statement?: Statement;
  /** A cell holds one value, no list. */
  readonly oneValue?: boolean;
  /** Where the field's text was changed before it was read. */
  readonly back?: Back;
}

/** Works a formula out where it stands; one that builds on itself, in the book that it would make. */
function formulaForetold(book: Book, text: string, standing: Standing): Foretold | undefined {
  if (text.trim() === "") return undefined;
  const workings = workingsOf(book);
  const { scope, row, path, key, statement, back = (at: number) => Math.min(at, text.length) } = standing;
  const { formula, messages } = parseFormula(text);
  const fault = messages.find((m) => m.severity === "fault");
  if (fault) return unreadable(fault, standing, back);
  const compiled = compile(formula, scope);
  const span = formulaIn(statement);
  if (statement && span && key !== undefined && buildsOn(compiled, key, workings.plan)) {
    const { at } = statement;
    const own = afterEdit(book, key, row, { from: at + span.from, to: at + span.to }, text);
    // There its places count from the beginning of the statement.
    if (own)
      return foretoldValue(own, standing, originOf(formula), (here) => back(here - span.from), formula);
  }
  const value = worked(workings, compiled, path, row);
  const single = standing.oneValue === true ? oneValue(value, () => path, formula.span) : value;
  return foretoldValue(single, standing, originOf(formula), back, formula);
}

/** The stretch of its formula in a statement. */
function formulaIn(statement: Statement | undefined): Span | undefined {
  const node = statement?.node;
  return node !== undefined && "formula" in node ? node.formula.span : undefined;
}

/** The sentence of a step stands in quotes; its own quotes, outside of braces, are escaped there. */
function sentenceForetold(book: Book, text: string, scope: Scope): Foretold | undefined {
  const quotes = bareQuotes(text);
  let written = "";
  for (let at = 0; at < text.length; at++) written += quotes.has(at) ? `\\${text[at]}` : text[at];
  const back = backFrom(text, 1, 0, (at) => quotes.has(at));
  return formulaForetold(book, `"${written}"`, { scope, row: -1, path: "", label: "", back });
}

function bareQuotes(sentence: string): ReadonlySet<number> {
  const found = new Set<number>();
  let depth = 0;
  for (let at = 0; at < sentence.length; at++) {
    const c = sentence[at];
    if (c === "{") depth++;
    else if (c === "}") depth = Math.max(0, depth - 1);
    else if (c === '"' && depth === 0) found.add(at);
  }
  return found;
}
