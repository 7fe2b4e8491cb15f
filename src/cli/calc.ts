import { type Book, type CheckItem, openBook, type StepItem } from "../engine";
import { answersOf, textOf } from "./digits";
import { messageLines } from "./message";
import { printedBook, stepText } from "./printed-book";
import { readText, type Source } from "./source";
import type { Terminal } from "./terminal";
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
    for (const lines of printedBook(book, terminal.out, options.digits)) {
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
