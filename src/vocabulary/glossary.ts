import { type Kind, kinds } from "../quantity";
import type { Declaration, Parameter, ResultPart } from "./declaration";
import { foldName } from "./names";

/** Declarations as text: for the command, for hover texts and for the documentation. */

const bare = (kind: Kind): string => kind.name.replace(/^an? /u, "");

/** `a, b or c`. */
function either(words: readonly string[]): string {
  const each = [...new Set(words)];
  return each.length < 2 ? each.join("") : `${each.slice(0, -1).join(", ")} or ${each.at(-1)}`;
}

/** What a parameter takes, in words: `a volume or a mass`, `a list, each a text`, `"bath" or "chiller"`. */
export function takesInWords({ takes, list, choices }: Parameter): string {
  let one: string;
  if (choices !== undefined) one = either(choices.map((c) => `"${c}"`));
  else if (takes === "text") one = "a text";
  else if (takes === "date") one = "a date";
  else if (takes === "any") one = "any value";
  else one = either(takes.map((t) => (t.kind === kinds.plain ? "a plain number or share" : t.kind.name)));
  return list === true ? `a list, each ${one}` : one;
}

/** What a result or a part of it is, in words, with the unit in which it is shown when no argument lends its own. */
export function givesInWords({ holds }: ResultPart): string {
  if (holds === "text") return "a text";
  if (holds === "truth") return "true or false";
  if (holds === "any") return "of the sort that was given";
  if (holds.unit === "") return holds.kind.name;
  return `${holds.kind === kinds.plain ? "a share" : holds.kind.name}, ${holds.unit}`;
}

/** Whether a parameter can be given by its label only. */
export const labelOnly = (declaration: Declaration, parameter: Parameter): boolean =>
  parameter.optional === true || (declaration.labelsOnly?.includes(parameter.name) ?? false);

/** How a function is called: `boils_at(pressure; strength = 0 %vol)`. Behind the semicolon: by label only. */
export function callOf(declaration: Declaration): string {
  const written = (p: Parameter) => (p.otherwise === undefined ? p.name : `${p.name} = ${p.otherwise}`);
  const byPlace = declaration.parameters.filter((p) => !labelOnly(declaration, p)).map(written);
  const byLabel = declaration.parameters.filter((p) => labelOnly(declaration, p)).map(written);
  const inside = byLabel.length === 0 ? byPlace.join(", ") : `${byPlace.join(", ")}; ${byLabel.join(", ")}`;
  return `${declaration.name}(${inside})`;
}

/** What comes out: `temperature`, `.volume .strength`, `a row for each of names: .start .end`. */
function outcome({ result, rowPer }: Declaration): string {
  const [only] = result;
  let parts: string;
  if (result.length === 1 && only!.name === "") {
    const { holds } = only!;
    if (holds === "any") parts = "value";
    else if (holds === "text") parts = "text";
    else if (holds === "truth") parts = "true or false";
    else parts = bare(holds.kind);
  } else {
    parts = result.map((part) => `.${part.name}`).join(" ");
  }
  return rowPer === undefined ? parts : `for each of ${rowPer}: ${parts}`;
}

/** Call and outcome in a line: `boils_at(pressure; strength = 0 %vol, …) -> temperature`. */
export const signature = (declaration: Declaration): string =>
  `${callOf(declaration)} -> ${outcome(declaration)}`;

/** Two or three lines for a hover text or a screen reader: call, meaning, range. */
export const hoverText = (declaration: Declaration): string =>
  `${signature(declaration)}\n${declaration.says}\nRange: ${declaration.range}.`;

/** What is told of a function besides its parameters and parts, each under its heading. */
export function facts(declaration: Declaration): readonly (readonly [heading: string, text: string])[] {
  const { equation, source, range, trust } = declaration;
  return [
    ["equation", equation],
    ["source", source],
    ["range", range],
    ...(trust === undefined ? [] : [["trust", trust] as const]),
  ];
}

/** Declarations under their groups, both in the order of the vocabulary. */
export function byGroup(declarations: Iterable<Declaration>): ReadonlyMap<string, readonly Declaration[]> {
  const groups = new Map<string, Declaration[]>();
  for (const declaration of declarations) {
    const group = groups.get(declaration.group);
    if (group === undefined) groups.set(declaration.group, [declaration]);
    else group.push(declaration);
  }
  return groups;
}

/** Breaks a text at blanks into lines of at most `width` characters; a longer word stands alone. */
export function wrapped(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/u)) {
    if (line === "") line = word;
    else if (line.length + 1 + word.length <= width) line += ` ${word}`;
    else {
      lines.push(line);
      line = word;
    }
  }
  return [...lines, line];
}

/** A heading in the margin and a wrapped text behind it. */
function margin(heading: string, text: string, indent: number, width: number): readonly string[] {
  return wrapped(text, Math.max(24, width - indent)).map(
    (line, i) => `${(i === 0 ? heading : "").padEnd(indent)}${line}`,
  );
}

/** All about one function, as plain text. */
export function entryText(declaration: Declaration, width = 88): string {
  const lines: string[] = [signature(declaration), ...wrapped(declaration.says, width)];
  const row = (name: string, kind: string, says: string): void => {
    lines.push(...margin(`  ${name} `, `${says} (${kind})`, Math.max(16, name.length + 3), width));
  };
  if (declaration.parameters.length > 0) lines.push("", "takes");
  for (const p of declaration.parameters) {
    const rest =
      p.optional !== true
        ? ""
        : p.otherwise === undefined
          ? "; may be left out"
          : `; ${p.otherwise} when left out`;
    row(p.name, takesInWords(p) + rest, p.says);
  }
  lines.push("", declaration.rowPer === undefined ? "gives" : `gives, for each of ${declaration.rowPer}`);
  for (const part of declaration.result)
    row(part.name === "" ? "result" : `.${part.name}`, givesInWords(part), part.says);
  lines.push("");
  for (const [heading, text] of facts(declaration)) lines.push(...margin(`${heading} `, text, 10, width));
  for (const caution of declaration.cautions ?? []) lines.push(...margin("caution ", caution, 10, width));
  for (const { formula, gives } of declaration.examples)
    lines.push(...margin("example ", `${formula} is ${gives}`, 10, width));
  return lines.join("\n");
}

/** A function as plain data, for programs: its declaration without its code. */
export interface GlossaryEntry {
  readonly name: string;
  readonly group: string;
  /** How it is called: `boils_at(pressure; strength = 0 %vol)`. Behind the semicolon: by label only. */
  readonly call: string;
  readonly says: string;
  readonly parameters: readonly {
    readonly name: string;
    /** What it takes, in words. */
    readonly takes: string;
    readonly optional: boolean;
    /** What is taken when it is left out, as a formula. */
    readonly otherwise: string | null;
    readonly says: string;
  }[];
  readonly result: readonly { readonly name: string; readonly is: string; readonly says: string }[];
  readonly equation: string;
  readonly source: string;
  readonly range: string;
  readonly trust: string | null;
  readonly cautions: readonly string[];
  readonly examples: readonly { readonly formula: string; readonly gives: string }[];
}

/** All about one function, as plain data. */
export function entryOf(declaration: Declaration): GlossaryEntry {
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

/** Characters that would mean something in Markdown, outside of code spans. */
const plainMarkdown = (text: string): string =>
  text
    .split(/(`[^`]*`)/u)
    .map((piece, i) => (i % 2 === 1 ? piece : piece.replace(/[*<\\[\]]/gu, "\\$&")))
    .join("");
/** The same within a table, where a bar would end the cell even in a code span. */
const cell = (text: string): string => plainMarkdown(text).replace(/\|/gu, "\\|");
const code = (text: string): string => (text.includes("`") ? `\`\` ${text} \`\`` : `\`${text}\``);

/** All about one function, as a section of Markdown. */
export function entryMarkdown(declaration: Declaration, level = 3): string {
  const lines = [
    `${"#".repeat(level)} ${declaration.name}`,
    "",
    "```",
    signature(declaration),
    "```",
    "",
    plainMarkdown(declaration.says),
    "",
  ];
  if (declaration.parameters.length > 0) {
    lines.push("| parameter | takes | left out | meaning |", "|---|---|---|---|");
    for (const p of declaration.parameters) {
      const left = p.optional !== true ? "" : p.otherwise === undefined ? "absent" : code(p.otherwise);
      lines.push(`| ${code(p.name)} | ${cell(takesInWords(p))} | ${cell(left)} | ${cell(p.says)} |`);
    }
    lines.push("");
  }
  lines.push("| result | is | meaning |", "|---|---|---|");
  for (const part of declaration.result) {
    lines.push(
      `| ${part.name === "" ? "" : code(`.${part.name}`)} | ${cell(givesInWords(part))} | ${cell(part.says)} |`,
    );
  }
  lines.push("");
  for (const [heading, text] of facts(declaration)) {
    const title = heading[0]!.toUpperCase() + heading.slice(1);
    lines.push(`- **${title}:** ${heading === "equation" ? code(text) : plainMarkdown(text)}`);
  }
  for (const caution of declaration.cautions ?? []) lines.push(`- **Caution:** ${plainMarkdown(caution)}`);
  for (const { formula, gives } of declaration.examples)
    lines.push(`- **Example:** ${code(formula)} is ${code(gives)}`);
  return lines.join("\n");
}

/** Groups with a line for each function, as plain text. */
export function listText(declarations: Iterable<Declaration>, width = 88): string {
  const groups = [...byGroup(declarations)];
  const indent = Math.max(0, ...groups.flatMap(([, members]) => members.map((d) => d.name.length))) + 5;
  const sections = groups.map(([group, members]) =>
    [group, ...members.flatMap((d) => margin(`  ${d.name}`, d.says, indent, width))].join("\n"),
  );
  return sections.join("\n\n");
}

/** Where a word may be found, and how much a find there is worth. */
function worthOf(declaration: Declaration, word: string): number {
  const inName = foldName(declaration.name);
  if (inName === word) return 100;
  if (inName.split("_").includes(word)) return 60;
  if (inName.includes(word)) return 40;
  const has = (texts: readonly (string | undefined)[]): boolean =>
    texts.some((t) => t !== undefined && foldName(t).includes(word));
  if (has([declaration.says])) return 20;
  const names = [...declaration.parameters, ...declaration.result].map((p) => p.name);
  if (has([...names, declaration.group])) return 10;
  const said = [...declaration.parameters, ...declaration.result].map((p) => p.says);
  if (has([...said, ...declaration.parameters.map(takesInWords), ...declaration.result.map(givesInWords)]))
    return 5;
  return has([
    declaration.equation,
    declaration.source,
    declaration.range,
    declaration.trust,
    ...(declaration.cautions ?? []),
  ])
    ? 2
    : 0;
}

/** Functions in which every word is found, the best first; of equals in the order of the vocabulary. */
export function search(declarations: Iterable<Declaration>, words: string): readonly Declaration[] {
  const wanted = foldName(words)
    .split(/[\s,]+/u)
    .filter((word) => word !== "");
  if (wanted.length === 0) return [...declarations];
  const found: { readonly declaration: Declaration; readonly worth: number; readonly place: number }[] = [];
  let place = 0;
  for (const declaration of declarations) {
    const worths = wanted.map((word) => worthOf(declaration, word));
    if (worths.every((w) => w > 0)) found.push({ declaration, worth: worths.reduce((a, b) => a + b), place });
    place++;
  }
  return found.sort((a, b) => b.worth - a.worth || a.place - b.place).map((f) => f.declaration);
}
