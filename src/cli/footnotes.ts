import type { Note } from "../quantity";
import { bullet, paint, type Sink } from "./terminal";

/**
 * The notes of a printed book. A note often travels with many values: it is told in full once, under the
 * block where it is first met, and every value that has it carries its mark.
 */
export class Footnotes {
  readonly #numbers = new Map<string, number>();
  #untold: string[] = [];

  constructor(readonly sink: Sink) {}

  /** The marks of notes (`¹ ²`), or "". Cautions are left out: they are gathered at the end of the book. */
  marks(notes: readonly Note[]): string {
    const marks = notes.filter((note) => !note.caution).map((note) => this.#mark(note.text));
    return paint(this.sink, "quiet", marks.join(" "));
  }

  /** The notes met since the last call that have not been told, as lines. */
  told(): string[] {
    const lines = this.#untold.flatMap((text) => {
      const lead = `  ${superscript(this.#numbers.get(text)!)} `;
      return bullet(lead, text, this.sink.width ?? 100, (line) => paint(this.sink, "quiet", line));
    });
    this.#untold = [];
    return lines;
  }

  #mark(text: string): string {
    let number = this.#numbers.get(text);
    if (number === undefined) {
      number = this.#numbers.size + 1;
      this.#numbers.set(text, number);
      this.#untold.push(text);
    }
    return superscript(number);
  }
}

function superscript(number: number): string {
  return [...String(number)].map((digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(digit)]!).join("");
}
