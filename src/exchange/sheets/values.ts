import type { Formula } from "../../../grammar";
import type { Book, Shown, ValueItem } from "../../engine";
import type { Value } from "../../vocabulary";
import { call, text } from "../expression";
import type { Live } from "../live";
import { EMPTY, type SheetCell, words } from "../sheet";
import { contentOf, type SetSpot } from "../translation/layout";
import { NotLive, type Term } from "../translation/term";
import { type AsTyped, typedInSet } from "./as-typed";
import type { Spreads } from "./spreads";

/** The sheet of named values: name, value, uncertainty, unit, how it comes about, and the writer's remark. */
export const VALUE_COLUMN = 1;

interface Line {
  readonly item?: ValueItem;
  readonly title?: string;
  readonly cells: readonly Shown[];
}

/** Where each value will stand: a line for a value, or one for each of its parts. */
export function placeValues(
  book: Book,
  sheet: string,
): { lines: readonly Line[]; sets: Map<string, SetSpot> } {
  const lines: Line[] = [];
  const sets = new Map<string, SetSpot>();
  let row = 1;
  for (const item of book.items) {
    if (item.type === "part") {
      lines.push({ title: item.text, cells: [] });
      row++;
    } else if (item.type === "value") {
      const cells = item.parts.length > 0 || item.shown.value.type === "list" ? item.parts : [item.shown];
      lines.push({ item, cells });
      if (!sets.has(item.name)) {
        sets.set(item.name, {
          item,
          cells: cells.map((shown, i) => ({ shown, at: { sheet, row: row + i, column: VALUE_COLUMN } })),
        });
      }
      row += Math.max(1, cells.length);
    }
  }
  return { lines, sets };
}

export function valueRows(book: Book, lines: readonly Line[], live: Live, spreads: Spreads): SheetCell[][] {
  const rows: SheetCell[][] = [
    ["name", "value", "±", "unit", "comes from", "remark"].map((w) => words(w, "heading")),
  ];
  for (const line of lines) {
    if (line.item === undefined) {
      rows.push([words(line.title ?? "", "title")]);
      continue;
    }
    rows.push(...itemRows(book, line.item, line.cells, live, spreads));
  }
  return rows;
}

function itemRows(
  book: Book,
  item: ValueItem,
  cells: readonly Shown[],
  live: Live,
  spreads: Spreads,
): SheetCell[][] {
  const node = item.statement.node;
  const formula = node.type === "set" ? node.formula : undefined;
  const typed = item.shown.origin === "typed";
  const terms = formula === undefined || typed ? [] : termsOf(formula, item, live);
  if (cells.length === 0) {
    return [
      [
        words(item.shown.path),
        { value: item.shown.text, role: "kept" },
        EMPTY,
        EMPTY,
        words(item.formula, "formula"),
      ],
    ];
  }
  return cells.map((shown, i) => {
    const value = typed
      ? typedCell(shown, typedInSet(book, item))
      : live.cell(shown, terms[i]!, item.formula, "computed", decimalsOf(shown));
    const note = notesOf(shown);
    return [
      words(shown.path, "plain", note === "" ? undefined : note),
      value,
      spreads.cell(shown, value),
      words(shown.unit === "" && shown.state === "gap" ? unitOfGap(terms[i]) : shown.unit, "remark"),
      i === 0 && !typed ? words(item.formula, "formula") : EMPTY,
      i === 0 && item.remark !== undefined ? words(item.remark, "remark") : EMPTY,
    ];
  });
}

const unitOfGap = (term: Term | NotLive | undefined): string =>
  term !== undefined && !(term instanceof NotLive) && term.type === "quantity" ? term.unit.text : "";

/** Terms of the parts of a value, in the order in which they are flattened. */
function termsOf(formula: Formula, item: ValueItem, live: Live): (Term | NotLive)[] {
  const whole = live.translate(formula, {}, item.shown.path);
  const out: (Term | NotLive)[] = [];
  const walk = (value: Value, term: Term | NotLive): void => {
    if (value.type === "record") {
      for (const [name, part] of value.parts) walk(part, term instanceof NotLive ? term : partOf(term, name));
    } else if (value.type === "list") {
      value.entries.forEach((entry, i) => {
        const row = value.origin?.rows[i];
        walk(
          entry,
          term instanceof NotLive ? term : (live.attempt(() => entryOf(term, i, row)) as Term | NotLive),
        );
      });
    } else out.push(term);
  };
  walk(item.shown.value, whole);
  return out;
}

function partOf(term: Term, name: string): Term | NotLive {
  if (term.type !== "record") return new NotLive("its parts are not told apart in a spreadsheet");
  return term.parts.get(name) ?? new NotLive("this part is not written out");
}

/** Entry of a list value; of a selection, the entry of that row, empty when it is no longer chosen. */
function entryOf(term: Term, index: number, row: number | undefined): Term {
  if (term.type !== "list") throw new NotLive("it is no list in a spreadsheet");
  if (term.chosen === undefined) return term.entry(index);
  const at = term.origin === undefined || row === undefined ? -1 : term.origin.rows.indexOf(row);
  if (at < 0) throw new NotLive("the chosen rows cannot be told apart");
  const entry = term.entry(at);
  const chosen = term.chosen(at);
  if (!("missing" in entry)) return entry;
  return { ...entry, missing: [...entry.missing, call("NOT", chosen.expression)] };
}

function typedCell(shown: Shown, asTyped: AsTyped | undefined): SheetCell {
  const { content, isDate } = contentOf(shown);
  if (shown.state === "gap") return { value: null, role: "gap", note: shown.message ?? "to be filled in" };
  if (asTyped !== undefined) return { value: asTyped.text, role: "fault", note: asTyped.note };
  if (shown.state === "fault") return { value: content, role: "fault" };
  const decimals = decimalsOf(shown);
  return {
    value: content,
    role: "typed",
    ...(isDate ? { isDate } : {}),
    ...(decimals === undefined ? {} : { decimals }),
  };
}

/** Decimals as they are shown in the book. */
export function decimalsOf(shown: Shown): number | undefined {
  if (shown.value.type !== "quantity" || shown.state !== "ok") return undefined;
  const found = /^[-−]?\d+(?:\.(\d+))?$/.exec(shown.number);
  return found === null ? undefined : Math.min(12, found[1]?.length ?? 0);
}

/** Remarks that travel with a value. */
export const notesOf = (shown: Shown): string => shown.notes.map((n) => n.text).join("\n");
export { text };
