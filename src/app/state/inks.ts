import type { Message } from "../../engine";
import { scan, type TokenType } from "./scan";
import type { Language } from "./slot";

/** The inks of what is written: what each stretch is, so that it can be set in its colour. */
export interface Inking {
  readonly from: number;
  readonly to: number;
  readonly ink: string;
}

const inkOf: Readonly<Record<TokenType, string>> = {
  blank: "",
  number: "ink-number",
  date: "ink-date",
  unit: "ink-unit",
  name: "ink-name",
  call: "ink-call",
  part: "ink-name",
  word: "ink-word",
  text: "ink-text",
  comment: "ink-comment",
  operator: "",
  other: "ink-fault",
};

/** Inks of one formula, cell or statement. Sentences and names stand in plain ink. */
export function inksOf(text: string, language: Language): readonly Inking[] {
  if (language === "words" || language === "name") return [{ from: 0, to: text.length, ink: "" }];
  if (language === "cell" && !text.trimStart().startsWith("=")) {
    // Plain words in a cell are words, whatever they would mean in a formula.
    if (!/^\s*[-+−]?\d/u.test(text)) return [{ from: 0, to: text.length, ink: "" }];
  }
  return scan(text).map((t) => ({ from: t.from, to: t.to, ink: inkOf[t.type] }));
}

const STATEMENT = /^[ \t]*(language|book|about|part|set|define|table|column|foot|check|chart|step|seen)\b/;

/** Inks of a whole book, line by line, with the places of messages underlined. */
export function inksOfBook(text: string, messages: readonly Message[]): readonly Inking[] {
  const inks: Inking[] = [];
  let at = 0;
  for (const line of text.split("\n")) {
    inkLine(line, at, inks);
    at += line.length + 1;
  }
  return underlined(inks, messages);
}

function inkLine(line: string, at: number, inks: Inking[]): void {
  const put = (from: number, to: number, ink: string) => {
    if (to > from) inks.push({ from: at + from, to: at + to, ink });
  };
  if (/^\s*#/.test(line)) put(0, line.length, "ink-comment");
  else if (/^\s*\|/.test(line)) inkRow(line, put);
  else {
    const word = STATEMENT.exec(line)?.[0].length ?? 0;
    put(0, word, "ink-word");
    for (const t of scan(line, word)) put(t.from, t.to, inkOf[t.type]);
  }
  inks.push({ from: at + line.length, to: at + line.length + 1, ink: "" });
}

function inkRow(line: string, put: (from: number, to: number, ink: string) => void): void {
  let from = 0;
  for (let i = 0; i <= line.length; i++) {
    if (line[i] === "\\") {
      i++;
      continue;
    }
    if (i < line.length && line[i] !== "|") continue;
    const cell = line.slice(from, i);
    if (/^\s*=/.test(cell)) for (const t of scan(line, from, i)) put(t.from, t.to, inkOf[t.type]);
    else put(from, i, /^\s*[-+−]?\d/u.test(cell) ? "ink-number" : "");
    if (i < line.length) put(i, i + 1, "ghost");
    from = i + 1;
  }
}

/** Cuts inks at the ends of messages and underlines what lies inside. */
function underlined(inks: readonly Inking[], messages: readonly Message[]): readonly Inking[] {
  const faults = messages.filter((m) => m.severity === "fault");
  if (faults.length === 0) return inks;
  const out: Inking[] = [];
  for (const ink of inks) {
    let { from } = ink;
    const cuts = faults
      .flatMap((m) => [m.from, Math.max(m.to, m.from + 1)])
      .filter((c) => c > ink.from && c < ink.to)
      .sort((a, b) => a - b);
    for (const to of [...cuts, ink.to]) {
      if (to === from) continue;
      const wrong = faults.some((m) => from >= m.from && to <= Math.max(m.to, m.from + 1));
      out.push({ from, to, ink: wrong ? `${ink.ink} ink-fault`.trim() : ink.ink });
      from = to;
    }
  }
  return out;
}
