import {
  type Fix,
  type Formula,
  parseBook,
  parseFormula,
  type Statement,
  type SyntaxMessage,
  writeName,
} from "../../../grammar";
import type { Value } from "../../vocabulary/value";
import { type Workings, workingsOf } from "../book";
import { oneValue } from "../calculation";
import { cellValue, natureOf } from "../cells";
import { type Compiled, compile, type Scope } from "../compile";
import { asTyped, originOf } from "../items";
import { cellsKey, footKey, setKey, type TableName } from "../names";
import type { Plan } from "../plan";
import type { Book, Origin, Shown } from "../report";
import { flatten, show } from "../show";
import type { Field } from "./field";

/** What a field would come to if it were kept. */
export interface Foretold {
  readonly shown: Shown;
  /** The parts of a result, the entries of a list; at most 100. */
  readonly parts: readonly Shown[];
  /** What stands in the way, with its place in the field's text; missing when the cause lies elsewhere. */
  readonly trouble?: Trouble;
}

export interface Trouble {
  readonly says: string;
  readonly help?: string;
  readonly from: number;
  readonly to: number;
  readonly fixes: readonly Fix[];
}

const MOST_PARTS = 100;

/**
 * What a field with this text would come to, in a book that stays as it is. Only the formula itself is worked out,
 * with the values that the book has now; where it would build on itself, the whole book is. Undefined for a field
 * that comes to no value: a heading, a chart, the text of the book.
 */
export function foretell(
  book: Book,
  field: Field,
  text = "text" in field ? (field.text ?? "") : "",
): Foretold | undefined {
  const workings = workingsOf(book);
  const { names } = workings.plan;
  const outside: Scope = { names, place: "book", frames: [] };
  switch (field.in) {
    case "value": {
      const key = setKey(field.name);
      return formulaForetold(
        workings,
        text,
        { scope: outside, row: -1, path: writeName(field.name), label: field.name, key },
        () => afterEdit(book, key, -1, spanOfFormula(names.sets.get(field.name)?.statement), text),
      );
    }
    case "check":
    case "formula":
      return formulaForetold(workings, text, { scope: outside, row: -1, path: "", label: "" });
    case "sentence":
      return sentenceForetold(workings, text, outside);
    case "column": {
      const table = names.tables.get(field.table);
      if (table === undefined || workings.calculation.rows(table.name).count === 0) return undefined;
      const key = cellsKey(table.name, field.column);
      const row = field.row ?? 0;
      const path = workings.plan.nodes.get(key)?.pathOf(row) ?? "";
      const scope: Scope = { names, table, place: "row", frames: [] };
      return formulaForetold(
        workings,
        text,
        { scope, row, path, label: field.column, key, oneValue: true },
        () => afterEdit(book, key, row, spanOfFormula(table.byName.get(field.column)?.statement), text),
      );
    }
    case "foot": {
      const table = names.tables.get(field.table);
      if (table === undefined) return undefined;
      const key = footKey(table.name, field.column);
      const path = workings.plan.nodes.get(key)?.pathOf(-1) ?? "";
      const scope: Scope = { names, table, place: "foot", frames: [] };
      return formulaForetold(workings, text, { scope, row: -1, path, label: field.column, key }, () =>
        afterEdit(book, key, -1, spanOfFormula(table.feet.get(field.column)?.statement), text),
      );
    }
    case "cell": {
      const table = names.tables.get(field.table);
      return table && cellForetold(book, workings, table, field.column, field.row, text);
    }
    default:
      return undefined;
  }
}

interface Standing {
  readonly scope: Scope;
  readonly row: number;
  readonly path: string;
  readonly label: string;
  /** Key of what the formula defines. */
  readonly key?: string;
  /** A cell holds one value, no list. */
  readonly oneValue?: boolean;
}

/** Works a formula out where it stands; `otherwise` is asked when it builds on itself. */
function formulaForetold(
  workings: Workings,
  text: string,
  standing: Standing,
  otherwise?: () => Value | undefined,
): Foretold | undefined {
  if (text.trim() === "") return undefined;
  const { formula, messages } = parseFormula(text);
  const fault = messages.find((m) => m.severity === "fault");
  if (fault) return unreadable(fault, standing, 0);
  const { scope, row, path, label, key } = standing;
  const compiled = compile(formula, scope);
  const value =
    key !== undefined && buildsOn(compiled, key, workings.plan)
      ? (otherwise?.() ?? worked(workings, compiled, path, row))
      : worked(workings, compiled, path, row);
  const single = standing.oneValue === true ? oneValue(value, () => path, formula.span) : value;
  return foretoldValue(single, path, label, originOf(formula), text.length, formula);
}

function worked({ calculation }: Workings, { code }: Compiled, path: string, row: number): Value {
  calculation.recount();
  return calculation.evaluate(code, { pathOf: () => path }, row);
}

function foretoldValue(
  value: Value,
  path: string,
  label: string,
  origin: Origin,
  length: number,
  formula?: Formula,
): Foretold {
  const plain = show(value, path, label, origin);
  const shown = formula && origin === "typed" ? asTyped(plain, formula) : plain;
  const parts =
    value.type === "record" || value.type === "list"
      ? flatten(value, path, label, origin).slice(0, MOST_PARTS)
      : [];
  const place = value.type === "fault" && value.place?.path === path ? value.place : undefined;
  if (value.type !== "fault" || place === undefined) return { shown, parts };
  const from = Math.min(Math.max(0, place.from), length);
  const to = Math.min(Math.max(from, place.to), length);
  return {
    shown,
    parts,
    trouble: {
      says: value.says,
      ...(value.help !== undefined && { help: value.help }),
      from,
      to,
      fixes:
        value.rewrite === undefined
          ? []
          : [
              {
                says: `Write ${value.rewrite}`,
                certain: true,
                edits: [{ span: { from, to }, text: value.rewrite }],
              },
            ],
    },
  };
}

/** What cannot be read is a fault in its place. `shift` is where the field begins in what was read. */
function unreadable(message: SyntaxMessage, { path, label }: Standing, shift: number): Foretold {
  const { code, says, help, fixes } = message;
  const back = ({ from, to }: { from: number; to: number }) => ({
    from: Math.max(0, from - shift),
    to: Math.max(0, to - shift),
  });
  const core = { says, ...(help !== undefined && { help }) };
  const span = back(message.span);
  return {
    shown: show({ type: "fault", code, ...core, place: { path, ...span } }, path, label, "computed"),
    parts: [],
    trouble: {
      ...core,
      ...span,
      fixes: (fixes ?? []).map((fix) => ({
        ...fix,
        edits: fix.edits.map((edit) => ({ ...edit, span: back(edit.span) })),
      })),
    },
  };
}

/** Whether a formula looks, directly or through others, at what it would itself define. */
function buildsOn({ references }: Compiled, key: string, plan: Plan): boolean {
  const seen = new Set<string>();
  const waiting = [...references.keys()];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (next === key) return true;
    if (seen.has(next)) continue;
    seen.add(next);
    waiting.push(...(plan.nodes.get(next)?.references.keys() ?? []));
  }
  return false;
}

function spanOfFormula(statement: Statement | undefined): { from: number; to: number } | undefined {
  const node = statement?.node;
  if (statement === undefined || node === undefined || !("formula" in node)) return undefined;
  return { from: statement.at + node.formula.span.from, to: statement.at + node.formula.span.to };
}

/** The value of a name once its formula is written into the book. */
function afterEdit(
  book: Book,
  key: string,
  row: number,
  span: { from: number; to: number } | undefined,
  text: string,
): Value | undefined {
  if (span === undefined) return undefined;
  const edited = book.edit(`${book.text.slice(0, span.from)}${text.trim()}${book.text.slice(span.to)}`);
  const { calculation } = workingsOf(edited);
  if (!calculation.has(key)) return undefined;
  return row < 0 ? calculation.value(key) : calculation.cell(key, row);
}

// ---- sentences

function sentenceForetold(workings: Workings, text: string, scope: Scope): Foretold | undefined {
  return formulaForetold(workings, `"${quotesEscaped(text)}"`, { scope, row: -1, path: "", label: "" });
}

/** Quotes outside of braces are escaped, as they stand in the book. */
function quotesEscaped(sentence: string): string {
  let out = "";
  let depth = 0;
  for (const c of sentence) {
    if (c === "{") depth++;
    else if (c === "}") depth = Math.max(0, depth - 1);
    out += c === '"' && depth === 0 ? '\\"' : c;
  }
  return out;
}

// ---- cells

/** A typed cell is read under its heading, in a row of its own, and worked out with the values of the book. */
function cellForetold(
  book: Book,
  workings: Workings,
  table: TableName,
  name: string,
  row: number,
  text: string,
): Foretold | undefined {
  const column = table.byName.get(name);
  const { heading, rows } = table.tree;
  const statement = rows[row];
  const index = column?.typed;
  const slot = index === undefined ? undefined : statement?.node.cells[index]?.slot;
  if (statement === undefined || heading === undefined || index === undefined || slot === undefined)
    return undefined;
  const source = (s: Statement): string => book.text.slice(s.at, s.at + s.length);
  const written = source(statement);
  const cell = text
    .trim()
    .replaceAll("|", "\\|")
    .replace(/[\r\n]+/g, " ");
  const line = `${written.slice(0, slot.from)} ${cell} ${written.slice(slot.to)}`;
  const tree = parseBook(`table t\n${source(heading)}\n${line}`).tables[0];
  const read = tree?.rows[0];
  if (read === undefined) return undefined;
  const key = cellsKey(table.name, name);
  const path = workings.plan.nodes.get(key)!.pathOf(row);
  const standing: Standing = {
    scope: { names: table && workings.plan.names, table, place: "row", frames: [] },
    row,
    path,
    label: name,
  };
  const shift = slot.from + 1 - (text.length - text.trimStart().length);
  const inCell = read.messages.find(
    (m) => m.severity === "fault" && m.span.from >= slot.from && m.span.to <= slot.from + cell.length + 2,
  );
  if (inCell) return unreadable(inCell, standing, shift);
  const content = read.node.cells[index]?.content;
  const changed: TableName = { ...table, tree: { ...table.tree, rows: rows.with(row, read) } };
  const value = cellValue(
    read,
    index,
    heading.node.columns.length,
    natureOf(changed, index),
    () => path,
    () => {
      const { formula } = content as { formula: Formula };
      const compiled = compile(formula, standing.scope);
      if (buildsOn(compiled, key, workings.plan)) {
        const at = { from: statement.at + slot.from, to: statement.at + slot.to };
        return afterEdit(book, key, row, at, ` ${cell} `) ?? worked(workings, compiled, path, row);
      }
      return oneValue(worked(workings, compiled, path, row), () => path, formula.span);
    },
  );
  return foretoldValue(
    shiftedBack(value, path, shift),
    path,
    name,
    content?.type === "formula" ? "computed" : "typed",
    text.length,
  );
}

/** Places in a row become places in its cell. */
function shiftedBack(value: Value, path: string, shift: number): Value {
  if (value.type !== "fault" || value.place?.path !== path) return value;
  const { from, to } = value.place;
  return { ...value, place: { ...value.place, from: from - shift, to: to - shift } };
}
