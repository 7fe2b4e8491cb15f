import { nearName } from "../../grammar";
import { vocabulary } from "../vocabulary";
import { entryOf, entryText, listText, search } from "../vocabulary/glossary";
import type { Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface GlossaryOptions {
  readonly json?: boolean;
}

/** `glossary [NAME]`: all functions by group, all about one, or those in whose description the words are found. */
export async function glossary(
  name: string | undefined,
  options: GlossaryOptions,
  terminal: Terminal,
): Promise<number> {
  const { out } = terminal;
  const width = out.width ?? 100;
  const exactly = name === undefined ? undefined : vocabulary.get(name);
  if (exactly) {
    await out.write(`${options.json ? inJson(entryOf(exactly)) : entryText(exactly, width)}\n`);
    return exit.well;
  }
  const found = search(vocabulary.values(), name ?? "");
  if (found.length === 0) {
    const near = nearName(name!, vocabulary.keys());
    throw new WrongCall(
      `No function is called ${name} or speaks of it.`,
      near === undefined ? "invacuo glossary lists all functions." : `Near it: ${near}.`,
    );
  }
  await out.write(`${options.json ? inJson(found.map(entryOf)) : listText(found, width)}\n`);
  return exit.well;
}

const inJson = (report: unknown): string => JSON.stringify(report, null, 2);
