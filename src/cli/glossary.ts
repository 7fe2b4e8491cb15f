import { nearName } from "../../grammar";
import { type Declaration, vocabulary } from "../vocabulary";
import { callOf, entryText, givesInWords, listText, search, takesInWords } from "../vocabulary/glossary";
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
    await out.write(`${options.json ? inJson(entryReport(exactly)) : entryText(exactly, width)}\n`);
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
  await out.write(`${options.json ? inJson(found.map(entryReport)) : listText(found, width)}\n`);
  return exit.well;
}

const inJson = (report: unknown): string => JSON.stringify(report, null, 2);

/** The shape of `glossary --json`: a declaration without its code. */
function entryReport(declaration: Declaration) {
  const { name, group, says, equation, source, range, trust, cautions, examples } = declaration;
  return {
    name,
    group,
    call: callOf(declaration),
    says,
    parameters: declaration.parameters.map((parameter) => ({
      name: parameter.name,
      takes: takesInWords(parameter),
      optional: parameter.optional ?? false,
      otherwise: parameter.otherwise ?? null,
      says: parameter.says,
    })),
    result: declaration.result.map((part) => ({ name: part.name, is: givesInWords(part), says: part.says })),
    equation,
    source,
    range,
    trust: trust ?? null,
    cautions: cautions ?? [],
    examples,
  };
}
