import { highlight, highlightCell, highlightFormula, type Ink } from "../../../grammar";
import type { Message } from "../../engine";
import type { Language } from "./slot";

/** The inks of what is written, without holes: what each stretch is, so that it can be set in its colour. */
export interface Inking {
  readonly from: number;
  readonly to: number;
  readonly ink: string;
}

const plainInk = (text: string): readonly Inking[] => [{ from: 0, to: text.length, ink: "" }];

/** Stretches that belong to no ink stand in plain ink between the others. */
function withoutHoles(inks: readonly Ink[], length: number, offset = 0): Inking[] {
  const out: Inking[] = [];
  let at = 0;
  for (const ink of inks) {
    const from = Math.max(at, ink.from - offset);
    const to = Math.min(length, ink.to - offset);
    if (to <= from) continue;
    if (from > at) out.push({ from: at, to: from, ink: "" });
    out.push({ from, to, ink: `ink-${ink.ink}` });
    at = to;
  }
  if (at < length) out.push({ from: at, to: length, ink: "" });
  return out;
}

/** Inks of one formula, cell or statement. Names stand in plain ink; of a sentence only its formulas are inked. */
export function inksOf(text: string, language: Language): readonly Inking[] {
  switch (language) {
    case "name":
    case "words":
      return plainInk(text);
    case "cell":
      return withoutHoles(highlightCell(text), text.length);
    case "formula":
      return withoutHoles(highlightFormula(text), text.length);
    case "statement":
      return /^\s*(?:bars|line|dots|curve)\b/.test(text)
        ? withoutHoles(highlight(`chart "" : ${text}`), text.length, 11)
        : withoutHoles(highlight(text), text.length);
  }
}

/** Inks of a whole book, with the places of faults underlined. */
export function inksOfBook(text: string, messages: readonly Message[]): readonly Inking[] {
  return underlined(withoutHoles(highlight(text), text.length), messages);
}

/** Cuts inks at the ends of faults and underlines what lies inside. */
export function underlined(inks: readonly Inking[], messages: readonly Message[]): readonly Inking[] {
  const faults = messages
    .filter((m) => m.severity === "fault")
    .map((m) => ({ from: m.from, to: Math.max(m.to, m.from + 1) }))
    .sort((a, b) => a.from - b.from);
  if (faults.length === 0) return inks;
  const out: Inking[] = [];
  let first = 0;
  for (const ink of inks) {
    while (first < faults.length && faults[first]!.to <= ink.from) first++;
    let { from } = ink;
    const here: { from: number; to: number }[] = [];
    for (let i = first; i < faults.length && faults[i]!.from < ink.to; i++) here.push(faults[i]!);
    const cuts = here.flatMap((m) => [m.from, m.to]).filter((c) => c > ink.from && c < ink.to);
    for (const to of [...new Set([...cuts, ink.to])].sort((a, b) => a - b)) {
      const wrong = here.some((m) => from >= m.from && to <= m.to);
      out.push({ from, to, ink: wrong ? `${ink.ink} ink-fault`.trim() : ink.ink });
      from = to;
    }
  }
  return out;
}
