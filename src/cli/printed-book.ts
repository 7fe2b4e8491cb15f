import type { Book, CheckItem, Item, Shown, StepItem, TableItem, ValueItem } from "../engine";
import { piecesOf, textOf } from "./digits";
import { Footnotes } from "./footnotes";
import { bullet, type GridColumn, grid, pad, paint, type Role, type Sink, widthOf, wrap } from "./terminal";

/** A book on paper: a block of lines for each group of its items, in the order of the text. */
export function* printedBook(book: Book, sink: Sink, digits?: number): Generator<string[]> {
  const printer = new Printer(sink, digits);
  let first = true;
  for (const group of grouped(book.items)) {
    const lines = printer.group(group);
    if (lines.length === 0) continue;
    yield first ? lines : ["", ...lines];
    first = false;
  }
  if (book.cautions.length > 0) {
    yield [
      ...(first ? [] : [""]),
      paint(sink, "title", "Take care"),
      ...book.cautions.flatMap((text) => bullet("! ", text, sink.width ?? 100)),
    ];
  }
}

/** A step's sentence, its live values with as many digits as were asked for. */
export function stepText(step: StepItem, digits?: number): string {
  if (digits === undefined) return step.text;
  return step.pieces.map((piece) => (typeof piece === "string" ? piece : textOf(piece, digits))).join("");
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

const checkWords: Record<CheckItem["state"], { word: string; role: Role }> = {
  met: { word: "✓ met", role: "met" },
  unmet: { word: "✗ not met", role: "fault" },
  unknown: { word: "○ not yet known", role: "gap" },
};

/** A value on its line: name, number and unit (or a text in place of both), and what the writer remarked. */
interface Line {
  readonly name: string;
  readonly number: string;
  readonly unit: string;
  readonly text: string;
  readonly remark: string;
}

class Printer {
  readonly #notes: Footnotes;

  constructor(
    readonly sink: Sink,
    readonly digits: number | undefined,
  ) {
    this.#notes = new Footnotes(sink);
  }

  group(group: readonly Item[]): string[] {
    const { sink } = this;
    const [item] = group;
    switch (item!.type) {
      case "book":
      case "part":
        return [paint(sink, "title", item!.text)];
      case "about":
        return wrap(item!.text, sink.width ?? 100);
      case "value":
        return [...this.#values(group as readonly ValueItem[]), ...this.#notes.told()];
      case "table":
        return [...this.#table(item!), ...this.#notes.told()];
      case "check":
        return [
          ...(group as readonly CheckItem[]).flatMap((check) => this.#check(check)),
          ...this.#notes.told(),
        ];
      case "step":
        return (group as readonly StepItem[]).flatMap((step) => this.#step(step));
      case "chart": {
        const points = item!.series.reduce((sum, series) => sum + series.points.length, 0);
        const what = points === 0 ? "nothing to draw yet" : `${points} points, drawn on the page`;
        const told = item!.message === undefined ? what : `${what}; ${item!.message}`;
        return [`${paint(sink, "title", item!.title)} ${paint(sink, "quiet", `(chart: ${told})`)}`];
      }
      case "unread":
        return [`${paint(sink, "fault", "not read")}  ${item!.text.split("\n")[0] ?? ""}`];
      case "define":
        return [];
    }
  }

  /** Names to the left, the ends of numbers under each other, units, then what the writer remarked. */
  #values(items: readonly ValueItem[]): string[] {
    const lines: Line[] = [];
    for (const item of items) {
      const remark = item.remark ?? "";
      if (item.parts.length === 0) lines.push(this.#line(item.name, item.shown, remark));
      else {
        lines.push({ name: item.name, number: "", unit: "", text: "", remark });
        for (const part of item.parts) {
          lines.push(this.#line(`  ${part.path.slice(item.shown.path.length)}`, part, ""));
        }
      }
    }
    const widest = (texts: readonly string[]) =>
      texts.reduce((most, text) => Math.max(most, widthOf(text)), 0);
    const names = widest(lines.map((line) => line.name));
    const numbers = widest(lines.map((line) => line.number));
    const units = widest(lines.map((line) => line.unit));
    // A text may be a whole sentence: it runs over the places of number and unit and moves nothing else.
    const room = numbers + units + 3;
    return lines.map(({ name, number, unit, text, remark }) => {
      const middle = text === "" ? `${pad(number, numbers, "right")}   ${pad(unit, units)}` : pad(text, room);
      const name_ = paint(this.sink, "name", name) + " ".repeat(names - widthOf(name));
      return `${name_}   ${middle}   ${paint(this.sink, "quiet", remark)}`.trimEnd();
    });
  }

  #line(name: string, shown: Shown, remark: string): Line {
    const { sink } = this;
    const marks = this.#notes.marks(shown.notes);
    const marked = (text: string) => (marks === "" ? text : `${text} ${marks}`.trimStart());
    if (shown.state !== "ok") {
      const text = `${shown.state}: ${shown.message ?? "not filled in yet"}`;
      return { name, number: "", unit: "", text: paint(sink, shown.state, text), remark };
    }
    if (shown.value.type !== "quantity")
      return { name, number: "", unit: "", text: marked(shown.text), remark };
    const pieces = piecesOf(shown, this.digits);
    const number = pieces.spread ? `${pieces.number} ± ${pieces.spread}` : pieces.number;
    return { name, number, unit: marked(pieces.unit), text: "", remark };
  }

  #table(table: TableItem): string[] {
    const { sink } = this;
    const heading = table.title === "" ? table.name : `${table.title} (${table.name})`;
    const remarks = new Map<string, string[]>();
    const remember = (text: string, where: string) => {
      const places = remarks.get(text);
      if (places) places.push(where);
      else remarks.set(text, [where]);
    };
    const look = (shown: Shown, where: string) => {
      for (const note of shown.notes) if (!note.caution) remember(note.text, where);
      if (shown.state === "gap" && shown.message && shown.origin !== "typed") remember(shown.message, where);
    };
    const names = Array.from({ length: table.rowCount }, (_, row) => table.rowName(row));
    const units = table.columns.some((column) => column.unit !== "");
    const columns = table.columns.map((column, c): GridColumn => {
      const cells: string[] = [];
      for (let row = 0; row < table.rowCount; row++) {
        const shown = table.cell(row, c);
        look(shown, `${column.name}, ${names[row] || `row ${row + 1}`}`);
        cells.push(this.#cell(shown, column.unit));
      }
      if (table.feet.size > 0) {
        const foot = table.feet.get(column.name);
        if (foot) look(foot.shown, `foot of ${column.name}`);
        const empty = c === 0 ? paint(sink, "quiet", "foot") : "";
        cells.push(foot ? paint(sink, "title", this.#cell(foot.shown, column.unit)) : empty);
      }
      return {
        heading: [
          paint(sink, "quiet", `${column.typed ? "" : "= "}${column.name}`),
          ...(units ? [paint(sink, "quiet", column.unit)] : []),
        ],
        cells,
        side: column.holds === "quantity" ? "right" : "left",
      };
    });
    const room = sink.width === undefined ? undefined : sink.width - 2;
    const lines = [
      paint(sink, "title", heading),
      ...grid(columns, room).map((line) => `  ${line}`.trimEnd()),
    ];
    for (const [text, places] of remarks) {
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
  #cell(shown: Shown, unit: string): string {
    if (shown.state === "fault") return paint(this.sink, "fault", "fault");
    if (shown.state === "gap") return shown.origin === "typed" ? "" : paint(this.sink, "gap", "gap");
    if (shown.value.type !== "quantity") return shown.text;
    const pieces = piecesOf(shown, this.digits);
    const number = pieces.spread ? `${pieces.number} ± ${pieces.spread}` : pieces.number;
    return pieces.unit === unit || pieces.unit === "" ? number : `${number} ${pieces.unit}`;
  }

  #check(check: CheckItem): string[] {
    const { word, role } = checkWords[check.state];
    const marks = this.#notes.marks(check.notes);
    const lines = [`${paint(this.sink, role, word)}  ${check.text || check.formula} ${marks}`.trimEnd()];
    if (check.says && check.state !== "met") lines.push(`    ${check.says}`);
    return lines;
  }

  #step(step: StepItem): string[] {
    const { sink, digits } = this;
    const lead = `${step.number}. `;
    const lines = bullet(lead, stepText(step, digits), sink.width ?? 100);
    const indent = " ".repeat(lead.length);
    if (step.wait) lines.push(`${indent}${paint(sink, "quiet", `wait ${textOf(step.wait, digits)}`)}`);
    for (const ask of step.asks) {
      const unit = ask.unit === "" ? "" : ` in ${ask.unit}`;
      const expect = ask.expect ? `, expected ${textOf(ask.expect, digits)}` : "";
      lines.push(`${indent}${paint(sink, "quiet", `write down ${ask.path}${unit}${expect}`)}`);
    }
    return lines;
  }
}
