import { InvalidArgumentError } from "commander";
import { nearName } from "../../grammar";
import { type Answer, type Book, type Explanation, openBook } from "../engine";
import { tellMessages } from "./calc";
import { answersOf, textOf } from "./digits";
import { readText } from "./source";
import { bullet, grid, paint, type Sink, type Terminal } from "./terminal";
import { exit, WrongCall } from "./wrong-call";

export interface WhyOptions {
  readonly digits?: number;
  readonly trials?: number;
}

/** Reads the option `--trials`: a whole number from 100 to 1,000,000. */
export function readTrials(text: string): number {
  const trials = Number(text);
  if (!/^\d+$/.test(text) || trials < 100 || trials > 1_000_000) {
    throw new InvalidArgumentError("Give a whole number from 100 to 1000000.");
  }
  return trials;
}

/** `why BOOK NAME`: how a value came about, as a worked example. */
export async function why(
  name: string,
  path: string,
  options: WhyOptions,
  terminal: Terminal,
): Promise<number> {
  const source = await readText(name, terminal);
  const book = openBook(source.text);
  const explanation = book.why(path, options.trials === undefined ? {} : { trials: options.trials });
  if (!explanation) {
    await tellMessages(book, source, terminal);
    const near = nearNames(book, path);
    throw new WrongCall(
      `${source.name} has no value ${path}.`,
      near.length > 0 ? `Near it: ${near.join(", ")}.` : "invacuo calc shows the names of all values.",
    );
  }
  const parts = answersOf(book, options.digits).filter((answer) =>
    answer.name.startsWith(`${explanation.path}.`),
  );
  const lines = explanationLines(explanation, terminal.out, options.digits, parts);
  await terminal.out.write(`${lines.join("\n")}\n`);
  return explanation.shown.state === "fault" ? exit.faulty : exit.well;
}

/** A worked example as lines: formula, working, what it used, equations and sources, where the uncertainty comes from. */
export function explanationLines(
  told: Explanation,
  sink: Sink,
  digits?: number,
  parts: readonly Answer[] = [],
): string[] {
  const width = sink.width ?? 100;
  const { shown } = told;
  const title = (text: string) => ["", paint(sink, "title", text)];
  const lines: string[] = [];

  const answer = shown.state === "ok" ? textOf(shown, digits) : `${shown.state}: ${shown.message ?? ""}`;
  lines.push(paint(sink, "title", told.path));
  if (told.formula !== "") lines.push(...bullet("  = ", told.formula, width));
  if (told.filled !== "" && told.filled !== told.formula) lines.push(...bullet("  = ", told.filled, width));
  if (shown.value.type !== "record" && shown.value.type !== "list") {
    lines.push(`  = ${shown.state === "ok" ? answer : paint(sink, shown.state, answer)}`);
  }
  if (shown.value.type === "record" && shown.state === "ok") {
    lines.push(
      ...grid([
        { heading: [], side: "left", cells: parts.map((part) => `  ${paint(sink, "name", part.name)}`) },
        {
          heading: [],
          side: "left",
          cells: parts.map((part) => `= ${part.state === "ok" ? part.text : (part.message ?? part.state)}`),
        },
      ]),
    );
  }
  if (shown.help) lines.push(...bullet("  help: ", shown.help, width));
  if (shown.cause) lines.push(`  first cause: ${shown.cause}`);

  // A single step is the formula once more.
  if (told.working.length > 1) {
    lines.push(...title("Step by step"));
    lines.push(
      ...grid([
        { heading: [], side: "left", cells: told.working.map((step) => `  ${step.text}`) },
        { heading: [], side: "left", cells: told.working.map((step) => `= ${step.result}`) },
      ]),
    );
  }
  if (told.uses.length > 0) {
    lines.push(...title("It uses"));
    lines.push(
      ...grid([
        { heading: [], side: "left", cells: told.uses.map((used) => `  ${paint(sink, "name", used.path)}`) },
        {
          heading: [],
          side: "left",
          cells: told.uses.map((used) =>
            used.state === "ok" ? textOf(used, digits) : (used.message ?? used.state),
          ),
        },
      ]),
    );
  }
  if (told.usedBy.length > 0) {
    lines.push(...title("It is used by"));
    lines.push(...bullet("  ", told.usedBy.join(", "), width));
  }
  for (const f of told.functions) {
    lines.push(...title(f.name));
    lines.push(...bullet("  ", f.says, width));
    lines.push(...bullet("  equation: ", f.equation, width));
    lines.push(...bullet("  source:   ", f.source, width));
    lines.push(...bullet("  range:    ", f.range, width));
    if (f.trust) lines.push(...bullet("  trust:    ", f.trust, width));
  }
  if (told.contributions.length > 0) {
    lines.push(...title("Where the uncertainty comes from"));
    lines.push(
      ...grid([
        { heading: [], side: "right", cells: told.contributions.map((c) => `  ${percent(c.share)}`) },
        { heading: [], side: "left", cells: told.contributions.map((c) => bar(c.share)) },
        { heading: [], side: "left", cells: told.contributions.map((c) => c.input) },
        { heading: [], side: "left", cells: told.contributions.map((c) => c.amount) },
      ]),
    );
  }
  if (told.monteCarlo) lines.push(...bullet("  ", told.monteCarlo.says, width));
  const notes = told.notes.filter((note) => !note.caution);
  const cautions = told.notes.filter((note) => note.caution);
  if (notes.length > 0)
    lines.push(...title("Notes"), ...notes.flatMap((note) => bullet("  ", note.text, width)));
  if (cautions.length > 0)
    lines.push(...title("Take care"), ...cautions.flatMap((c) => bullet("! ", c.text, width)));
  return lines;
}

function percent(share: number): string {
  return share > 0 && share < 0.005 ? "under 1 %" : `${Math.round(share * 100)} %`;
}

function bar(share: number): string {
  return "▇".repeat(Math.max(1, Math.round(share * 20)));
}

/** Names of the book that a mistyped one may have meant: the same last part, or part of it. */
function nearNames(book: Book, path: string): string[] {
  const wanted = path.toLowerCase().replaceAll("`", "");
  const last = wanted.split(".").at(-1)!;
  const names = book.answers().map((answer) => answer.name);
  const held = names
    .filter((name) => {
      const plain = name.toLowerCase().replaceAll("`", "");
      return (
        last !== "" &&
        (plain.includes(wanted) || plain.endsWith(`.${last}`) || plain.startsWith(`${wanted}.`))
      );
    })
    .slice(0, 6);
  if (held.length > 0) return held;
  // A slip of the pen holds no whole name: the nearest of all names and of their first parts.
  const near = nearName(path, [...names, ...names.map((name) => name.split(".")[0]!)]);
  return near === undefined ? [] : [near];
}
