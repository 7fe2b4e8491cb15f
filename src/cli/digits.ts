import { InvalidArgumentError } from "commander";
import type { Answer, Asked, Book, Item, Shown } from "../engine";
import { format, formatParts } from "../quantity";
import type { Value } from "../vocabulary";

/** A value in pieces, for setting numbers under each other. */
export interface Pieces {
  readonly number: string;
  readonly spread?: string;
  readonly unit: string;
}

/** Reads the option `--digits`: a whole number from 1 to 12. */
export function readDigits(text: string): number {
  const digits = Number(text);
  if (!/^\d+$/.test(text) || digits < 1 || digits > 12) {
    throw new InvalidArgumentError("Give a whole number from 1 to 12.");
  }
  return digits;
}

/** The pieces of a value, with as many digits as were asked for. */
export function piecesOf(shown: Shown, digits?: number): Pieces {
  if (digits === undefined || shown.value.type !== "quantity") return shown;
  return formatParts(shown.value, { digits });
}

/** The whole text of a value, with as many digits as were asked for. */
export function textOf(shown: Shown, digits?: number): string {
  return retold(shown.text, shown.value, digits);
}

/** The same book, its values written with as many digits as were asked for. */
export function withDigits(book: Book, digits: number | undefined): Book {
  if (digits === undefined) return book;
  const items = book.items.map((item) => itemWithDigits(item, digits));
  return Object.create(book, { items: { value: items } }) as Book;
}

function itemWithDigits(item: Item, digits: number): Item {
  const told = (shown: Shown): Shown =>
    shown.state === "ok" && shown.value.type === "quantity"
      ? { ...shown, ...formatParts(shown.value, { digits }), text: format(shown.value, { digits }) }
      : shown;
  switch (item.type) {
    case "value":
      return { ...item, shown: told(item.shown), parts: item.parts.map(told) };
    case "step":
      return {
        ...item,
        pieces: item.pieces.map((piece) => (typeof piece === "string" ? piece : told(piece))),
        ...(item.wait && { wait: told(item.wait) }),
        asks: item.asks.map((ask) => ({ ...ask, ...(ask.expect && { expect: told(ask.expect) }) })),
      };
    case "table":
      return {
        ...item,
        cell: (row, column) => told(item.cell(row, column)),
        feet: new Map([...item.feet].map(([name, foot]) => [name, { ...foot, shown: told(foot.shown) }])),
      };
    default:
      return item;
  }
}

/** The answers of a book, their texts with as many digits as were asked for. */
export function answersOf(book: Book, digits?: number): readonly Answer[] {
  const answers = book.answers();
  if (digits === undefined) return answers;
  return answers.map((answer) => ({ ...answer, text: retold(answer.text, book.value(answer.name), digits) }));
}

/** The text of an asked formula's single value, with as many digits as were asked for. */
export function askedText(asked: Asked, digits?: number): string {
  return retold(asked.text, asked.raw, digits);
}

/** The parts of an asked formula, their texts with as many digits as were asked for. */
export function askedParts(asked: Asked, digits?: number): readonly Answer[] | undefined {
  if (digits === undefined) return asked.parts;
  return asked.parts?.map((part) => ({
    ...part,
    text: retold(part.text, partOf(asked.raw, part.name), digits),
  }));
}

function retold(text: string, value: Value | undefined, digits: number | undefined): string {
  return digits !== undefined && value?.type === "quantity" ? format(value, { digits }) : text;
}

/** The value at a dotted name inside a record or a list (`taken.volume`, `2`, `juniper`). */
function partOf(value: Value, name: string): Value | undefined {
  let met: Value | undefined = value;
  for (const word of name.match(/`[^`]*`|[^.]+/g) ?? []) {
    const part: string = word.startsWith("`") ? word.slice(1, -1) : word;
    if (met?.type === "record") met = met.parts.get(part);
    else if (met?.type === "list") {
      const row = met.origin?.names.indexOf(part) ?? -1;
      met = met.entries[row >= 0 ? row : Number(part) - 1];
    } else return undefined;
  }
  return met;
}
