import { openBook } from "../engine";
import { compareBooks, comparisonText } from "../exchange";
import { withDigits } from "./digits";
import { readText } from "./source";
import type { Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface CompareOptions {
  readonly json?: boolean;
  readonly digits?: number;
}

/** `compare A B`: what differs between two books, formula by formula and value by value. Ends with 1 when values differ. */
export async function compare(
  a: string,
  b: string,
  options: CompareOptions,
  terminal: Terminal,
): Promise<number> {
  if (a === "-" && b === "-") throw new WrongCall("Only one of the two books can come from standard input.");
  const [before, after] = [await readText(a, terminal), await readText(b, terminal)];
  const [old, now] = [before, after].map(({ text }) => withDigits(openBook(text), options.digits));
  const comparison = compareBooks(old!, now!);
  await terminal.out.write(
    options.json ? `${JSON.stringify(comparison, null, 2)}\n` : comparisonText(comparison),
  );
  return comparison.valuesDiffer ? exit.faulty : exit.well;
}
