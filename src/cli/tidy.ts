import { tidy } from "../../grammar";
import { replaceFile } from "./files";
import { readText } from "./source";
import type { Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface TidyOptions {
  readonly check?: boolean;
  readonly write?: boolean;
}

/** `tidy BOOK`: the text of a book in good order; its values, comments and line ends stay as they are. */
export async function tidyBook(name: string, options: TidyOptions, terminal: Terminal): Promise<number> {
  if (options.check && options.write)
    throw new WrongCall("--check looks and --write writes; give one of them.");
  if (options.write && name === "-")
    throw new WrongCall("Standard input cannot be written back.", "Leave --write away.");
  const source = await readText(name, terminal);
  const tidied = tidy(source.text);
  if (options.check) {
    if (tidied === source.text) return exit.well;
    await terminal.err.write(
      `${source.name}:${firstChange(source.text, tidied)}: not tidy. invacuo tidy --write mends it.\n`,
    );
    return exit.faulty;
  }
  if (!options.write) await terminal.out.write(tidied);
  else if (tidied !== source.text) await replaceFile(name, tidied, terminal);
  return exit.well;
}

/** The first line that tidying changes, 1-based. */
function firstChange(before: string, after: string): number {
  const tidied = after.split("\n");
  const at = before.split("\n").findIndex((line, i) => line !== tidied[i]);
  return at < 0 ? tidied.length : at + 1;
}
