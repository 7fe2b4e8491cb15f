import { nameBefore } from "../engine/items";
import type { Book, CheckItem, Shown, State, StepItem } from "../engine/report";
import { format } from "../quantity";
import type { Value } from "../vocabulary/value";
import { concernsOf } from "./card-concerns";

/**
 * The bench card: the steps of a book with their live amounts, blanks for the readings, and the cautions,
 * as a document that says nothing about how it is set. `cardText` (here) and `cardHtml` (card-page.ts)
 * render it; the command, the page and the run view all start from `cardDocument`.
 */
export interface CardDocument {
  readonly title: string;
  /** Free text of the book, a paragraph each. */
  readonly about: readonly string[];
  /** Blanks at the head of the card, to be filled in by hand. */
  readonly blanks: readonly string[];
  /** What stands in the way of working from this card: faults, checks not met. Empty when all is well. */
  readonly warnings: readonly string[];
  /** Checks that cannot be answered yet, each in a sentence. */
  readonly open: readonly string[];
  /** Steps by part of the book; a part without steps is left out, the first may have no title. */
  readonly sections: readonly CardSection[];
  /** Cautions, each once, in the order of the book; the standing ones come last. Never empty. */
  readonly cautions: readonly string[];
  /** Beside each caution what of the book it is about, as `steps 2 and 3`; "" for the whole of it. */
  readonly concerns: readonly string[];
}
export interface CardSection {
  readonly title: string;
  readonly steps: readonly CardStep[];
}
export interface CardStep {
  /** 1-based, through the whole card. */
  readonly number: number;
  readonly pieces: readonly (string | CardAmount)[];
  /** A timer: `40 min`, or "" when its formula has no value yet. */
  readonly wait?: CardAmount;
  readonly readings: readonly CardReading[];
}
/** A live amount inside a sentence. `text` is what is printed: a blank rule stands for a gap or a fault. */
export interface CardAmount {
  readonly text: string;
  readonly number: string;
  readonly unit: string;
  readonly state: State;
  /** Why there is no amount, when there is none. */
  readonly message?: string;
  /** For a list, such as a column of a table: what is weighed of each. */
  readonly entries?: readonly CardEntry[];
}
/** An entry of a list, with the name of the row that it stands for, or "". */
export interface CardEntry {
  readonly name: string;
  readonly text: string;
}
/** A blank for a reading. */
export interface CardReading {
  /** What is read, the last part of its path: `got`. */
  readonly label: string;
  readonly unit: string;
  /** The plan, as text: `400 ± 10 mL`. */
  readonly expect?: string;
}

/** The line that no card goes without, whatever the book holds. */
export const STANDING_CAUTION = "Local codes and licensed practice come first.";

const BLANK = "______";

/** A card is made once for a book: the page shows it in several places. */
const cards = new WeakMap<Book, CardDocument>();

/** The bench card of a book. Never throws: what cannot be told yet is a blank and a line among the warnings. */
export function cardDocument(book: Book): CardDocument {
  const known = cards.get(book);
  if (known) return known;
  const card = makeCard(book);
  cards.set(book, card);
  return card;
}

function makeCard(book: Book): CardDocument {
  const about: string[] = [];
  const warnings: string[] = [];
  const open: string[] = [];
  const sections: { title: string; steps: CardStep[] }[] = [{ title: "", steps: [] }];
  let faults = 0;

  for (const item of book.items) {
    if (item.type === "about") about.push(item.text);
    else if (item.type === "part") sections.push({ title: item.text, steps: [] });
    else if (item.type === "check") sortCheck(item, warnings, open);
    else if (item.type === "step") {
      const step = cardStep(item);
      faults += amounts(step).filter((a) => a.state === "fault").length;
      sections[sections.length - 1]!.steps.push(step);
    }
  }
  if (faults > 0) {
    warnings.unshift(
      faults === 1
        ? "One amount on this card cannot be worked out. Put the book right before you begin."
        : `${faults} amounts on this card cannot be worked out. Put the book right before you begin.`,
    );
  } else if (book.tally.faults > 0) {
    warnings.unshift(
      book.tally.faults === 1
        ? "The book has a fault, though no amount on this card shows it."
        : `The book has ${book.tally.faults} faults, though no amount on this card shows them.`,
    );
  }
  const cautions = [...book.cautions.filter((c) => c !== STANDING_CAUTION), STANDING_CAUTION];
  return {
    title: book.title,
    about,
    blanks: ["Date", "Batch", "Hand"],
    warnings,
    open,
    sections: sections.filter((s) => s.steps.length > 0),
    cautions,
    concerns: concernsOf(book, cautions),
  };
}

function sortCheck(check: CheckItem, warnings: string[], open: string[]): void {
  if (check.state === "met") return;
  const sentence = sentenceOf(check.text === "" ? check.formula : check.text);
  // The engine says of a gap what is missing ("needs got"), as it stands beside a value; here it follows a sentence.
  const reason = check.says?.replace(/^needs /, "It needs ");
  const because = reason === undefined ? "" : ` ${sentenceOf(reason)}`;
  if (check.state === "unmet") warnings.push(`Not met: ${sentence}${because}`);
  else open.push(`Not yet known: ${sentence}${because}`);
}

const sentenceOf = (text: string): string => (/[.!?…]$/.test(text) ? text : text + ".");

function cardStep(step: StepItem): CardStep {
  return {
    number: step.number,
    pieces: step.pieces.map((piece) => (typeof piece === "string" ? piece : amountOf(piece))),
    ...(step.wait === undefined ? {} : { wait: amountOf(step.wait) }),
    readings: step.asks.map((ask) => ({
      label: lastPart(ask.path),
      unit: ask.unit,
      ...(ask.expect === undefined || ask.expect.state !== "ok" ? {} : { expect: ask.expect.text }),
    })),
  };
}

function amountOf(shown: Shown): CardAmount {
  if (shown.state !== "ok") {
    return {
      text: BLANK,
      number: BLANK,
      unit: shown.unit,
      state: shown.state,
      ...(shown.message === undefined ? {} : { message: shown.message }),
    };
  }
  const entries = entriesOf(shown.value);
  if (entries !== undefined) {
    const text = entries.map((e) => nameBefore(e.name) + e.text).join(", ");
    return { text, number: text, unit: "", state: "ok", entries };
  }
  const number = shown.number === "" ? shown.text : shown.number;
  return {
    text: shown.text,
    number: shown.spread === undefined ? number : `${number} ± ${shown.spread}`,
    unit: shown.unit,
    state: "ok",
  };
}

/** The entries of a list by the names of their rows; undefined for what is no list. A blank stands for what is not known. */
export function entriesOf(value: Value): readonly CardEntry[] | undefined {
  if (value.type !== "list") return undefined;
  return value.entries.map((entry, i) => {
    const text = entryText(entry);
    const name = value.origin?.names[i] ?? "";
    // The names themselves are not told twice.
    return { name: name === text ? "" : name, text };
  });
}

function entryText(value: Value): string {
  switch (value.type) {
    case "quantity":
      return format(value);
    case "text":
      return value.text;
    case "date":
      return value.iso;
    case "truth":
      return value.value ? "yes" : "no";
    default:
      return BLANK;
  }
}

const amounts = (step: CardStep): CardAmount[] => [
  ...step.pieces.filter((p): p is CardAmount => typeof p !== "string"),
  ...(step.wait === undefined ? [] : [step.wait]),
];

/** The last part of a dotted path, backticks removed: ``runs.`first cut` `` is `first cut`. */
export function lastPart(path: string): string {
  const quoted = /`([^`]*)`$/.exec(path);
  if (quoted) return quoted[1]!;
  return path.slice(path.lastIndexOf(".") + 1);
}

// ---- as plain text ------------------------------------------------------------------------------

const WIDTH = 78;

/** The card as plain text, at most 78 characters wide, with a ring to tick before each step. Ends with a line end. */
export function cardText(card: CardDocument): string {
  const lines: string[] = [];
  const title = card.title === "" ? "Bench card" : card.title;
  lines.push(...wrap(title, "", ""), "=".repeat(Math.min(WIDTH, [...title].length)), "");
  for (const paragraph of card.about) lines.push(...wrap(paragraph, "", ""), "");
  lines.push(card.blanks.map((blank) => `${blank} ____________`).join("   "), "");
  for (const warning of card.warnings) lines.push(...wrap(warning, "!  ", "   "));
  for (const line of card.open) lines.push(...wrap(line, "?  ", "   "));
  if (card.warnings.length + card.open.length > 0) lines.push("");

  const digits = String(Math.max(0, ...card.sections.flatMap((s) => s.steps.map((t) => t.number)))).length;
  for (const section of card.sections) {
    if (section.title !== "")
      lines.push(section.title, "-".repeat(Math.min(WIDTH, [...section.title].length)), "");
    for (const step of section.steps) lines.push(...stepLines(step, digits), "");
  }
  if (card.sections.length === 0) lines.push("This book has no steps.", "");

  lines.push("+" + "-".repeat(WIDTH - 2) + "+");
  lines.push(boxed("Mind"));
  card.cautions.forEach((caution, i) => {
    const about = card.concerns[i] ? ` (${card.concerns[i]})` : "";
    for (const line of wrap(caution + about, "- ", "  ", WIDTH - 4)) lines.push(boxed(line));
  });
  lines.push("+" + "-".repeat(WIDTH - 2) + "+");
  return lines.join("\n") + "\n";
}

function stepLines(step: CardStep, digits: number): string[] {
  const head = `( ) ${String(step.number).padStart(digits)}.  `;
  const indent = " ".repeat(head.length);
  const sentence = step.pieces.map((p) => (typeof p === "string" ? p : p.text)).join("");
  const lines = wrap(sentence, head, indent);
  const missing = amounts(step).flatMap((a) => (a.message === undefined ? [] : [a.message]));
  for (const message of new Set(missing)) lines.push(...wrap(`(${message})`, indent, indent));
  if (step.wait !== undefined) lines.push(...wrap(`Wait ${step.wait.text}.`, indent, indent));
  for (const reading of step.readings) {
    const unit = reading.unit === "" ? "" : ` ${reading.unit}`;
    const plan = reading.expect === undefined ? "" : `   (planned ${reading.expect})`;
    lines.push(...wrap(`${reading.label} ________${unit}${plan}`, indent, indent));
  }
  return lines;
}

const boxed = (line: string): string => `| ${line}${" ".repeat(Math.max(0, WIDTH - 4 - [...line].length))} |`;

/** Breaks text at blanks. A no-break space keeps a number beside its unit; a word longer than the line is cut. */
function wrap(text: string, first: string, next: string, width = WIDTH): string[] {
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of text.split(/[ \t\n\r]+/).filter((w) => w !== "")) {
    let rest = word;
    if (!empty && [...line].length + 1 + [...rest].length > width) {
      lines.push(line);
      line = next;
      empty = true;
    }
    while (empty && [...line].length + [...rest].length > width) {
      const room = width - [...line].length;
      lines.push(line + [...rest].slice(0, room).join(""));
      rest = [...rest].slice(room).join("");
      line = next;
    }
    line += (empty ? "" : " ") + rest;
    empty = false;
  }
  if (!empty || lines.length === 0) lines.push(line);
  return lines;
}
