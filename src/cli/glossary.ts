import { nearName } from "../../grammar";
import { type LanguageWord, languageWords, wordsCalled } from "../engine/editing";
import { vocabulary } from "../vocabulary";
import { entryOf, entryText, listText, search, wrapped } from "../vocabulary/glossary";
import type { Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface GlossaryOptions {
  readonly json?: boolean;
}

/** `glossary [NAME]`: all functions by group, all about one or about a word of the language, or those in whose description the words are found. */
export async function glossary(
  name: string | undefined,
  options: GlossaryOptions,
  terminal: Terminal,
): Promise<number> {
  const { out } = terminal;
  const width = out.width ?? 100;
  const exactly = name === undefined ? undefined : vocabulary.get(name);
  const words = name === undefined || exactly ? [] : wordsCalled(name);
  if (words.length > 0) {
    await out.write(`${options.json ? inJson(words) : words.map((w) => wordText(w, width)).join("\n\n")}\n`);
    return exit.well;
  }
  if (exactly) {
    await out.write(`${options.json ? inJson(entryOf(exactly)) : entryText(exactly, width)}\n`);
    return exit.well;
  }
  const found = search(vocabulary.values(), name ?? "");
  if (found.length === 0) {
    const near = nearName(name!, [...vocabulary.keys(), ...languageWords.map(({ word }) => word)]);
    throw new WrongCall(
      `No function is called ${name} or speaks of it.`,
      near === undefined ? "invacuo glossary lists all functions." : `Near it: ${near}.`,
    );
  }
  await out.write(`${options.json ? inJson(found.map(entryOf)) : listText(found, width)}\n`);
  if (name === undefined && !options.json) {
    const all = [...new Set(languageWords.map(({ word }) => word))].sort().join(", ");
    await out.write(
      `\n${wrapped(`Words of the language, explained in the same way: ${all}.`, width).join("\n")}\n`,
    );
  }
  return exit.well;
}

/** A word of the language: what it does, and an example with what that gives. */
function wordText({ word, says, example, gives }: LanguageWord, width: number): string {
  const lines = example.split("\n").map((line, i) => `  ${i === 0 ? "example: " : "         "} ${line}`);
  return [
    word,
    ...wrapped(says, width - 2).map((line) => `  ${line}`),
    ...lines,
    `  gives:    ${gives}`,
  ].join("\n");
}

const inJson = (report: unknown): string => JSON.stringify(report, null, 2);
