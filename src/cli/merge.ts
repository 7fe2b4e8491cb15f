import { mergeTexts } from "../exchange";
import { writeOut } from "./files";
import { readText } from "./source";
import type { Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface MergeOptions {
  readonly out?: string;
  /** How messages name the result: git's driver writes into files of its own. */
  readonly name?: string;
}

/**
 * `merge BASE MINE THEIRS`: brings two versions of a book together. Where both changed the same thing, both
 * versions stand in the result, and the command ends with 1.
 */
export async function merge(
  names: readonly [base: string, mine: string, theirs: string],
  options: MergeOptions,
  terminal: Terminal,
): Promise<number> {
  if (names.filter((name) => name === "-").length > 1) {
    throw new WrongCall("Only one of the three books can come from standard input.");
  }
  const texts: string[] = [];
  for (const name of names) texts.push((await readText(name, terminal)).text);
  const { text, conflicts } = mergeTexts(texts[0]!, texts[1]!, texts[2]!);
  if (options.out === undefined) await terminal.out.write(text);
  else await writeOut(options.out, text, terminal);
  const where = options.name ?? options.out ?? "the result";
  for (const conflict of conflicts) {
    await terminal.err.write(
      `${where}:${conflict.line}: ${conflict.name} was changed in both; both versions stand there.\n`,
    );
  }
  return conflicts.length > 0 ? exit.faulty : exit.well;
}
