import { openBook } from "../engine";
import { compareBooks, comparisonText } from "../exchange";
import { readText } from "./source";
import type { Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface CompareOptions {
  readonly json?: boolean;
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
  const comparison = compareBooks(openBook(before.text), openBook(after.text));
  await terminal.out.write(
    options.json ? `${JSON.stringify(comparison, null, 2)}\n` : comparisonText(comparison),
  );
  return comparison.valuesDiffer ? exit.faulty : exit.well;
}
