import { createInterface } from "node:readline";
import { Readable } from "node:stream";
import { type Answer, type Asked, type Book, openBook } from "../engine";
import type { Value } from "../vocabulary";
import { tellMessages } from "./calc";
import { askedParts, askedText } from "./digits";
import { excerpt } from "./message";
import { readText } from "./source";
import { bullet, paint, type Sink, type Terminal, wrap } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface AskOptions {
  readonly json?: boolean;
  readonly lines?: boolean;
  readonly digits?: number;
  readonly book?: string;
}

/** `ask FORMULA`: one formula, or with `--lines` one a line from standard input; `--book` lends its names. */
export async function ask(
  formula: string | undefined,
  options: AskOptions,
  terminal: Terminal,
): Promise<number> {
  if (formula !== undefined && options.lines) {
    throw new WrongCall("--lines reads the formulas from standard input; leave the formula away.");
  }
  if (formula === undefined && !options.lines) {
    throw new WrongCall("ask needs a formula, in quotes.", "For example: invacuo ask 'boils_at(60 mbar)'");
  }
  if (options.book === "-" && options.lines) {
    throw new WrongCall("The book and the formulas cannot both come from standard input.");
  }
  let book = openBook("");
  let code: number = exit.well;
  if (options.book !== undefined) {
    const source = await readText(options.book, terminal);
    book = openBook(source.text);
    // A formula may be sound in a book that has a fault elsewhere, but the person must hear of it.
    if (book.messages.some((m) => m.severity === "fault")) code = await tellMessages(book, source, terminal);
  }
  if (options.lines) return Math.max(code, await askLines(book, options, terminal));

  const asked = book.ask(formula!);
  const { out, err } = terminal;
  if (options.json) await out.write(`${JSON.stringify(askReport(asked, options.digits))}\n`);
  else if (asked.state === "ok") await out.write(`${answerLines(asked, options.digits).join("\n")}\n`);
  if (asked.state === "fault") await err.write(`${faultLines(asked, err).join("\n")}\n`);
  else if (asked.state === "gap")
    await err.write(`not yet known: ${asked.message ?? "a value is not filled in"}\n`);
  if (!options.json) {
    const cautions = new Set([...(asked.cautions ?? []), ...cautionsOf(asked.raw)]);
    const tell = (lead: string, text: string) =>
      err.write(`${bullet(lead, text, err.width ?? 100).join("\n")}\n`);
    for (const note of asked.notes) if (!cautions.has(note)) await tell("note: ", note);
    for (const caution of cautions) await tell("take care: ", caution);
  }
  return asked.state === "fault" ? Math.max(code, exit.faulty) : code;
}

/** The cautions that a value or one of its parts carries. */
function cautionsOf(value: Value, found = new Set<string>()): Set<string> {
  for (const note of value.notes ?? []) if (note.caution) found.add(note.text);
  if (value.type === "record") for (const part of value.parts.values()) cautionsOf(part, found);
  if (value.type === "list") for (const entry of value.entries) cautionsOf(entry, found);
  return found;
}

/** The shape of `ask --json`, a contract with scripts. */
export function askReport(asked: Asked, digits?: number) {
  const { formula, value, unit, state, message, uncertainty, notes } = asked;
  const parts = askedParts(asked, digits);
  const report = { formula, value, unit, text: askedText(asked, digits), state, message, uncertainty, notes };
  return parts === undefined ? report : { ...report, parts };
}

/** Thousands of formulas in one process: one answer line for each formula line, blank lines and comments passed over. */
async function askLines(book: Book, options: AskOptions, terminal: Terminal): Promise<number> {
  const { out, err } = terminal;
  let asked = 0;
  let faults = 0;
  const cautions = new Set<string>();
  // Answers are gathered and written in pieces: a write for each would cost more than the working out.
  let waiting = "";
  for await (const line of createInterface({
    input: Readable.from(terminal.input),
    crlfDelay: Number.POSITIVE_INFINITY,
  })) {
    if (/^\s*(#|$)/.test(line)) continue;
    const answer = book.ask(line);
    asked++;
    if (answer.state === "fault") faults++;
    for (const caution of [...(answer.cautions ?? []), ...cautionsOf(answer.raw)]) cautions.add(caution);
    waiting += `${options.json ? JSON.stringify(askReport(answer, options.digits)) : answerInLine(answer, options.digits)}\n`;
    if (waiting.length > 16_384) {
      await out.write(waiting);
      waiting = "";
    }
  }
  await out.write(waiting);
  if (faults > 0)
    await err.write(`${faults} of ${asked} formulas ${faults === 1 ? "is a fault" : "are faults"}.\n`);
  // Thousands of answers carry the same few cautions: each is told once, behind them.
  if (!options.json)
    for (const caution of cautions)
      await err.write(`${bullet("take care: ", caution, err.width ?? 100).join("\n")}\n`);
  return faults > 0 ? exit.faulty : exit.well;
}

function answerLines(asked: Asked, digits?: number): string[] {
  const parts = askedParts(asked, digits);
  if (!parts || parts.length === 0) return [askedText(asked, digits)];
  const width = Math.max(...parts.map((part) => part.name.length));
  return parts.map((part) => `${part.name.padEnd(width)}  ${partText(part)}`);
}

function answerInLine(asked: Asked, digits?: number): string {
  if (asked.state !== "ok") return `${asked.state}: ${asked.message ?? ""}`;
  const parts = askedParts(asked, digits);
  if (!parts || parts.length === 0) return askedText(asked, digits);
  if (asked.raw.type === "list") return parts.map(partText).join(", ");
  return parts.map((part) => `${part.name} ${partText(part)}`).join("; ");
}

function partText(part: Answer): string {
  return part.state === "ok" ? part.text : `${part.state}: ${part.message ?? ""}`;
}

function faultLines(asked: Asked, sink: Sink): string[] {
  const lines = [`${paint(sink, "fault", "fault")}: ${asked.message ?? ""}`];
  if (asked.span) lines.push(...excerpt(asked.formula, asked.span.from, asked.span.to, sink));
  const told = new Set<string>();
  for (const [word, text] of [
    ["help", asked.help ?? ""] as const,
    ...(asked.fixes ?? []).map((fix) => ["fix", fix.says] as const),
  ]) {
    if (text === "" || told.has(text)) continue;
    told.add(text);
    lines.push(
      ...wrap(text, (sink.width ?? 100) - 10).map(
        (t, i) => `    ${i === 0 ? `${paint(sink, "help", word)}: ` : "      "}${t}`,
      ),
    );
  }
  return lines;
}
