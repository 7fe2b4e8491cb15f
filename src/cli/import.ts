import { type Doubt, proposeTable, readTables, type TableProposal } from "../exchange";
import { readBytes } from "./source";
import { bullet, type Sink, type Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface ImportOptions {
  readonly answer?: readonly string[];
  readonly table?: string;
}

/**
 * `import FILE`: the tables of a spreadsheet or CSV file as table statements of a book, on standard output.
 * What only a person can decide is asked on standard error, and answered with `--answer`.
 */
export async function importTables(
  name: string,
  options: ImportOptions,
  terminal: Terminal,
): Promise<number> {
  const answers = readAnswers(options.answer ?? []);
  const found = readTables(await readBytes(name, terminal), name);
  const taken = new Set<string>();
  const proposals: TableProposal[] = [];
  for (const table of found) {
    const proposal = proposeTable(table, { answers, taken });
    taken.add(proposal.name);
    proposals.push(proposal);
  }
  const chosen = proposals.filter(({ name: own }) => options.table === undefined || own === options.table);
  if (chosen.length === 0) {
    throw new WrongCall(`${name} gives no table ${options.table}.`, `It gives: ${[...taken].join(", ")}.`);
  }
  const known = new Set(chosen.flatMap((proposal) => proposal.doubts.map((doubt) => doubt.id)));
  for (const id of answers.keys()) {
    if (!known.has(id)) {
      throw new WrongCall(
        `${name} raises no question ${id}.`,
        known.size > 0 ? `It asks: ${[...known].join(", ")}.` : "It raises none at all.",
      );
    }
  }
  await terminal.out.write(`${chosen.map((proposal) => proposal.statement.trimEnd()).join("\n\n")}\n`);
  for (const proposal of chosen) {
    for (const line of remarks(proposal, answers, terminal.err)) await terminal.err.write(`${line}\n`);
  }
  return exit.well;
}

function readAnswers(given: readonly string[]): ReadonlyMap<string, string> {
  return new Map(
    given.map((text) => {
      const at = text.indexOf("=");
      if (at < 1) throw new WrongCall(`--answer ${text} is no answer.`, "Write it as QUESTION=CHOICE.");
      return [text.slice(0, at), text.slice(at + 1)] as const;
    }),
  );
}

function remarks(proposal: TableProposal, answers: ReadonlyMap<string, string>, sink: Sink): string[] {
  const width = sink.width ?? 100;
  const open = proposal.doubts.filter((doubt) => !answers.has(doubt.id));
  if (open.length === 0 && proposal.notes.length === 0) return [];
  return [
    `table ${proposal.name}, from ${proposal.source}:`,
    ...proposal.notes.flatMap((note) => bullet("  note: ", note, width)),
    ...open.flatMap((doubt) => question(doubt, width)),
  ];
}

function question(doubt: Doubt, width: number): string[] {
  return [
    ...bullet("  please check: ", doubt.says, width),
    ...doubt.choices.map((choice) => {
      const taken = choice.value === doubt.chosen ? "   (taken)" : "";
      return `    --answer '${doubt.id}=${choice.value}'   ${choice.says}${taken}`;
    }),
  ];
}
