import type { Statement } from "../../../grammar";
import type { Book, Item, TableItem, ValueItem } from "../report";

/** One line of the contents of a book. */
export interface OutlineEntry {
  readonly type: "title" | "part" | "table" | "value" | "function" | "check" | "chart" | "step" | "unread";
  /** What it is called: a title where it has one, else its name. */
  readonly label: string;
  /** Path of a value or table. */
  readonly path?: string;
  /** 0 for titles and parts, 1 for what stands under a part. */
  readonly level: 0 | 1;
  /** Stretch in the text of the book; of a part all that stands under it. */
  readonly from: number;
  readonly to: number;
  /** 1-based. */
  readonly line: number;
  /** The worst that is to be told about it. */
  readonly state: "ok" | "gap" | "unknown" | "unmet" | "fault";
  readonly counts: OutlineCounts;
}

export interface OutlineCounts {
  /** Messages about faults that begin here. */
  readonly faults: number;
  /** Values and cells that are not filled in. */
  readonly gaps: number;
  readonly unmet: number;
  readonly unknown: number;
  /** Rows of a table; entries under a part. */
  readonly size: number;
}

/** The contents of a book: its parts, tables, charts, named values, checks and steps, in the order of the text. */
export function outline(book: Book): readonly OutlineEntry[] {
  const entries: OutlineEntry[] = [];
  const faults = book.messages.filter((m) => m.severity === "fault").map((m) => m.from);
  let inPart = false;
  for (const item of book.items) {
    const { from, to } = stretchOf(item);
    if (item.type === "part") inPart = true;
    const level = item.type === "book" || item.type === "part" || !inPart ? 0 : 1;
    const count = faults.filter((at) => at >= from && at <= to).length;
    const entry = entryOf(item, count);
    if (entry) entries.push({ ...entry, level, from, to, line: item.statement.line });
  }
  return withParts(entries, book.text.length);
}

function stretchOf(item: Item): { from: number; to: number } {
  const { at, length } = item.statement;
  if (item.type !== "table") return { from: at, to: at + length };
  const { rows, columns, feet, heading } = item.tree;
  const all: readonly (Statement | undefined)[] = [heading, rows.at(-1), columns.at(-1), feet.at(-1)];
  return { from: at, to: Math.max(at + length, ...all.map((s) => (s ? s.at + s.length : 0))) };
}

type Told = Pick<OutlineEntry, "type" | "label" | "path" | "state" | "counts">;

const none: OutlineCounts = { faults: 0, gaps: 0, unmet: 0, unknown: 0, size: 0 };

function entryOf(item: Item, faults: number): Told | undefined {
  const told = (
    type: OutlineEntry["type"],
    label: string,
    state: OutlineEntry["state"] = "ok",
    counts: Partial<OutlineCounts> = {},
  ): Told => ({ type, label, state: faults > 0 ? "fault" : state, counts: { ...none, faults, ...counts } });
  switch (item.type) {
    case "book":
      return told("title", item.text);
    case "part":
      return told("part", item.text);
    case "about":
      return undefined;
    case "value": {
      const gaps = item.shown.state === "gap" && item.shown.cause === undefined ? 1 : 0;
      return { ...told("value", item.name, stateOfValue(item), { gaps }), path: item.shown.path };
    }
    case "define":
      return told("function", `${item.name}(${item.parameters.join(", ")})`);
    case "table": {
      const gaps = gapsIn(item);
      const broken = item.columns.some((c) => c.fault !== undefined);
      const state = broken ? "fault" : gaps > 0 ? "gap" : "ok";
      return {
        ...told("table", item.title || item.name, state, { gaps, size: item.rowCount }),
        path: item.name,
      };
    }
    case "check": {
      const state = item.state === "met" ? "ok" : item.state;
      return told("check", item.text || item.formula, state, {
        unmet: item.state === "unmet" ? 1 : 0,
        unknown: item.state === "unknown" ? 1 : 0,
      });
    }
    case "chart":
      return told("chart", item.title || item.formula, item.message === undefined ? "ok" : "unknown");
    case "step":
      return told("step", item.text);
    case "unread":
      return { ...told("unread", item.text), state: "fault" };
  }
}

function stateOfValue({ shown, parts }: ValueItem): OutlineEntry["state"] {
  const states = [shown, ...parts].map((s) => s.state);
  return states.includes("fault") ? "fault" : states.includes("gap") ? "gap" : "ok";
}

/** Typed cells that are blank, the names of the rows left out. */
function gapsIn({ tree }: TableItem): number {
  let gaps = 0;
  for (const { node } of tree.rows)
    for (let i = 1; i < node.cells.length; i++) if (node.cells[i]!.content.type === "blank") gaps++;
  return gaps;
}

const worst = ["ok", "gap", "unknown", "unmet", "fault"] as const;

/** A part reaches to the next one and tells the worst of what stands under it. */
function withParts(entries: readonly OutlineEntry[], end: number): readonly OutlineEntry[] {
  return entries.map((entry, i) => {
    if (entry.type !== "part") return entry;
    const next = entries.findIndex((e, k) => k > i && e.type === "part");
    const under = entries.slice(i + 1, next < 0 ? undefined : next);
    const sum = (of: (c: OutlineCounts) => number): number =>
      under.reduce((n, e) => n + of(e.counts), of(entry.counts));
    return {
      ...entry,
      to: next < 0 ? end : entries[next]!.from,
      state: under.reduce((s, e) => (worst.indexOf(e.state) > worst.indexOf(s) ? e.state : s), entry.state),
      counts: {
        faults: sum((c) => c.faults),
        gaps: sum((c) => c.gaps),
        unmet: sum((c) => c.unmet),
        unknown: sum((c) => c.unknown),
        size: under.length,
      },
    };
  });
}
