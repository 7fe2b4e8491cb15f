import {
  type Book,
  type CheckItem,
  type Item,
  openBook,
  type Shown,
  type StepItem,
  type TableItem,
  type ValueItem,
} from "../engine";
import { answersOf, piecesOf, textOf } from "./digits";
import { messageLines } from "./message";
import { readText, type Source } from "./source";
import { type GridColumn, grid, paint, type Role, type Sink, type Terminal, wrap } from "./terminal";
import { exit } from "./wrong-call";

export interface CalcOptions {
  readonly json?: boolean;
  readonly digits?: number;
}

/** `calc BOOK`: works a book out and prints its values, tables, checks and steps in the order of the text. */
export async function calc(name: string, options: CalcOptions, terminal: Terminal): Promise<number> {
  const source = await readText(name, terminal);
  const book = openBook(source.text);
  if (options.json) {
    await terminal.out.write(`${JSON.stringify(calcReport(book, options.digits), null, 2)}\n`);
  } else {
    for (const lines of printedItems(book, terminal.out, options.digits)) {
      await terminal.out.write(`${lines.join("\n")}\n`);
    }
  }
  return tellMessages(book, source, terminal);
}

/** The shape of `calc --json`, a contract with scripts. */
export function calcReport(book: Book, digits?: number) {
  return {
    book: book.title,
    values: answersOf(book, digits),
    checks: book.items
      .filter((item): item is CheckItem => item.type === "check")
      .map((item) => ({ text: item.text, state: item.state })),
    steps: book.items
      .filter((item): item is StepItem => item.type === "step")
      .map((item) => ({
        number: item.number,
        text: stepText(item, digits),
        wait: item.wait ? textOf(item.wait, digits) : null,
        asks: item.asks.map((ask) => ({
          path: ask.path,
          unit: ask.unit,
          expect: ask.expect ? textOf(ask.expect, digits) : null,
        })),
      })),
  };
}

/**
 * Prints the messages of a book on standard error, each once, and a closing count.
 * Returns the exit code: 1 when the book has faults or unmet checks.
 */
export async function tellMessages(book: Book, source: Source, terminal: Terminal): Promise<number> {
  const { err } = terminal;
  if (book.text.replace("\ufeff", "").trim() === "") {
    await err.write(`${source.name} is empty. A book is lines such as:  set bottle = 500 mL\n`);
    return exit.faulty;
  }
  for (const message of book.messages) {
    await err.write(`${messageLines(message, source, err).join("\n")}\n\n`);
  }
  const { faults, gaps, unmet, unknown } = book.tally;
  const told = book.messages.filter((m) => m.severity === "fault").length;
  const counts = [
    counted(Math.max(told, faults > 0 ? 1 : 0), "fault", "faults"),
    counted(unmet, "check not met", "checks not met"),
    counted(unknown, "check not yet known", "checks not yet known"),
    counted(gaps, "value not filled in yet", "values not filled in yet"),
  ].filter((part) => part !== "");
  if (counts.length > 0) await err.write(`${source.name}: ${counts.join(", ")}.\n`);
  return faults > 0 || told > 0 || unmet > 0 ? exit.faulty : exit.well;
}

function counted(count: number, one: string, many: string): string {
  return count === 0 ? "" : `${count} ${count === 1 ? one : many}`;
}

/** A step's sentence, its live values with as many digits as were asked for. */
export function stepText(step: StepItem, digits?: number): string {
  if (digits === undefined) return step.text;
  return step.pieces.map((piece) => (typeof piece === "string" ? piece : textOf(piece, digits))).join("");
}

/** The printed book, a block of lines for each group of items. */
function* printedItems(book: Book, sink: Sink, digits?: number): Generator<string[]> {
  let first = true;
  for (const group of grouped(book.items)) {
    const lines = printGroup(group, sink, digits);
    if (lines.length === 0) continue;
    yield first ? lines : ["", ...lines];
    first = false;
  }
  if (book.cautions.length > 0) {
    const width = sink.width ?? 100;
    yield [
      ...(first ? [] : [""]),
      paint(sink, "title", "Take care"),
      ...book.cautions.flatMap((text) => bullet("! ", text, width)),
    ];
  }
}

/** Neighbours of one type stand in one block: values under values, checks under checks. */
function grouped(items: readonly Item[]): Item[][] {
  const groups: Item[][] = [];
  for (const item of items) {
    const last = groups[groups.length - 1];
    const joins = item.type === "value" || item.type === "check" || item.type === "step";
    if (last && joins && last[0]!.type === item.type) last.push(item);
    else groups.push([item]);
  }
  return groups;
}

function printGroup(group: readonly Item[], sink: Sink, digits?: number): string[] {
  const [item] = group;
  const width = sink.width ?? 100;
  switch (item!.type) {
    case "book":
    case "part":
      return [paint(sink, "title", item!.text)];
    case "about":
      return wrap(item!.text, width);
    case "value":
      return printValues(group as readonly ValueItem[], sink, digits);
    case "table":
      return printTable(item as TableItem, sink, digits);
    case "check":
      return (group as readonly CheckItem[]).flatMap((check) => printCheck(check, sink));
    case "step":
      return (group as readonly StepItem[]).flatMap((step) => printStep(step, sink, digits));
    case "chart": {
      const points = item!.series.reduce((sum, s) => sum + s.points.length, 0);
      const what =
        item!.message ?? (points === 0 ? "nothing to draw yet" : `${points} points, drawn on the page`);
      return [`${paint(sink, "title", item!.title)} ${paint(sink, "quiet", `(chart: ${what})`)}`];
    }
    case "unread":
      return [`${paint(sink, "fault", "not read")}  ${item!.text.split("\n")[0] ?? ""}`];
    case "define":
      return [];
  }
}

/** Names to the left, numbers with their points' ends under each other, units, then what the writer remarked. */
function printValues(items: readonly ValueItem[], sink: Sink, digits?: number): string[] {
  const rows: { name: string; shown?: Shown; remark: string }[] = [];
  for (const item of items) {
    const remark = item.remark ?? "";
    if (item.parts.length === 0) rows.push({ name: item.name, shown: item.shown, remark });
    else {
      rows.push({ name: item.name, remark });
      for (const part of item.parts) {
        rows.push({ name: `  ${part.path.slice(item.shown.path.length)}`, shown: part, remark: "" });
      }
    }
  }
  const columns: GridColumn[] = [
    { heading: [], side: "left", cells: rows.map((r) => paint(sink, "name", r.name)) },
    {
      heading: [],
      side: "right",
      cells: rows.map((r) => (r.shown ? numberText(r.shown, sink, digits) : "")),
    },
    { heading: [], side: "left", cells: rows.map((r) => (r.shown ? unitText(r.shown, sink, digits) : "")) },
    { heading: [], side: "left", cells: rows.map((r) => paint(sink, "quiet", r.remark)) },
  ];
  const lines = grid(columns);
  // A remark that travels with a value stands right under it.
  return rows.flatMap((row, i) => [
    lines[i]!,
    ...(row.shown ? noteLines(row.shown, sink).map((line) => `    ${line}`) : []),
  ]);
}

function printTable(table: TableItem, sink: Sink, digits?: number): string[] {
  const heading = table.title === "" ? table.name : `${table.title} (${table.name})`;
  const notes = new Map<string, string[]>();
  const keep = (shown: Shown, where: string) => {
    for (const note of shown.notes) {
      if (note.caution) continue;
      const places = notes.get(note.text);
      if (places) places.push(where);
      else notes.set(note.text, [where]);
    }
    if (shown.state === "gap" && shown.message && shown.origin !== "typed") {
      const text = shown.message;
      const places = notes.get(text);
      if (places) places.push(where);
      else notes.set(text, [where]);
    }
  };
  const names = Array.from({ length: table.rowCount }, (_, row) => table.rowName(row));
  const columns = table.columns.map((column, c): GridColumn => {
    const cells: string[] = [];
    for (let row = 0; row < table.rowCount; row++) {
      const shown = table.cell(row, c);
      keep(shown, `${column.name}, ${names[row] || `row ${row + 1}`}`);
      cells.push(cellText(shown, column.unit, sink, digits));
    }
    const foot = table.feet.get(column.name);
    if (table.feet.size > 0) {
      if (foot) keep(foot.shown, `foot of ${column.name}`);
      cells.push(foot ? paint(sink, "title", cellText(foot.shown, column.unit, sink, digits)) : "");
    }
    const numbers = column.holds === "quantity";
    const origin = column.typed ? "" : "=";
    return {
      heading: [
        paint(sink, "quiet", `${origin}${column.name}`),
        ...(table.columns.some((other) => other.unit !== "") ? [paint(sink, "quiet", column.unit)] : []),
      ],
      cells,
      side: numbers ? "right" : "left",
    };
  });
  const lines = [
    paint(sink, "title", heading),
    ...grid(columns, sink.width).map((line) => `  ${line}`.trimEnd()),
  ];
  for (const [text, places] of notes) {
    const where =
      places.length > 3
        ? `${places.slice(0, 2).join("; ")} and ${places.length - 2} more`
        : places.join("; ");
    lines.push(
      ...bullet("  note: ", `${text} (${where})`, sink.width ?? 100, (t) => paint(sink, "quiet", t)),
    );
  }
  return lines;
}

/** A cell; its unit stands in the heading unless the cell has another one. */
function cellText(shown: Shown, unit: string, sink: Sink, digits?: number): string {
  if (shown.state === "fault") return paint(sink, "fault", "fault");
  if (shown.state === "gap") return shown.origin === "typed" ? "" : paint(sink, "gap", "gap");
  if (shown.value.type !== "quantity") return shown.text;
  const pieces = piecesOf(shown, digits);
  const number = pieces.spread ? `${pieces.number} ± ${pieces.spread}` : pieces.number;
  return pieces.unit === unit || pieces.unit === "" ? number : `${number} ${pieces.unit}`;
}

function numberText(shown: Shown, sink: Sink, digits?: number): string {
  if (shown.state === "fault") return paint(sink, "fault", "fault");
  if (shown.state === "gap") return paint(sink, "gap", "gap");
  if (shown.value.type !== "quantity") return "";
  const pieces = piecesOf(shown, digits);
  return pieces.spread ? `${pieces.number} ± ${pieces.spread}` : pieces.number;
}

function unitText(shown: Shown, sink: Sink, digits?: number): string {
  if (shown.state === "gap") return paint(sink, "gap", shown.message ?? "not filled in yet");
  if (shown.state === "fault") return paint(sink, "fault", shown.message ?? "");
  if (shown.value.type !== "quantity") return shown.text;
  return piecesOf(shown, digits).unit;
}

/** Remarks that travel with a value; cautions are gathered at the end instead. */
export function noteLines(shown: Shown, sink: Sink): string[] {
  return shown.notes
    .filter((note) => !note.caution)
    .flatMap((note) => bullet("note: ", note.text, (sink.width ?? 100) - 4, (t) => paint(sink, "quiet", t)));
}

const checkWords: Record<CheckItem["state"], { word: string; role: Role }> = {
  met: { word: "✓ met", role: "met" },
  unmet: { word: "✗ not met", role: "fault" },
  unknown: { word: "○ not yet known", role: "gap" },
};

function printCheck(check: CheckItem, sink: Sink): string[] {
  const { word, role } = checkWords[check.state];
  const lines = [`${paint(sink, role, word)}  ${check.text || check.formula}`];
  if (check.says && check.state !== "met") lines.push(`    ${check.says}`);
  for (const note of check.notes) {
    if (!note.caution)
      lines.push(...bullet("    note: ", note.text, sink.width ?? 100, (t) => paint(sink, "quiet", t)));
  }
  return lines;
}

function printStep(step: StepItem, sink: Sink, digits?: number): string[] {
  const width = sink.width ?? 100;
  const lead = `${step.number}. `;
  const lines = bullet(lead, stepText(step, digits), width);
  const indent = " ".repeat(lead.length);
  if (step.wait) lines.push(`${indent}${paint(sink, "quiet", `wait ${textOf(step.wait, digits)}`)}`);
  for (const ask of step.asks) {
    const unit = ask.unit === "" ? "" : ` in ${ask.unit}`;
    const expect = ask.expect ? `, expected ${textOf(ask.expect, digits)}` : "";
    lines.push(`${indent}${paint(sink, "quiet", `write down ${ask.path}${unit}${expect}`)}`);
  }
  return lines;
}

/** Wrapped text behind a mark, its later lines under the first. */
export function bullet(lead: string, text: string, width: number, colour = (t: string) => t): string[] {
  const indent = " ".repeat(lead.length);
  return wrap(text, Math.max(40, width - lead.length)).map((line, i) =>
    colour((i === 0 ? lead : indent) + line),
  );
}
