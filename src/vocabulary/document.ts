import type { Declaration } from "./declaration";
import { byGroup, entryMarkdown } from "./glossary";

const INTRODUCTION = `# The vocabulary

Every function of the language: how it is called, what it means, where its equation comes from and how far it holds.
This file is generated from the declarations in \`src/vocabulary\`; change it there.

How to read it:

- Arguments before the semicolon are given in their place or by label (\`strength: 40 %vol\`); those behind it by label only.
  Behind \`=\` stands the value when one is left out.
- Where one value is expected and a list is given, the function answers for each entry.
- A result with parts is read with a dot: \`marry(…).strength\`. It is shown in the unit of an argument of the same kind, else in
  the one named beside it.
- Pressures are absolute: a perfect vacuum is 0. Volumes and strengths by volume are those at 20 °C unless a temperature is given.
- Outside its range a function refuses and says so. *Trust* is how far its answer can be wrong inside it.
- Examples are run by the tests.

None of this replaces local codes and licensed practice.
`;

const title = (group: string): string => group[0]!.toUpperCase() + group.slice(1);
const anchor = (heading: string): string =>
  heading
    .toLowerCase()
    .replace(/[^\p{L}\p{N}_ -]/gu, "")
    .replace(/ /gu, "-");

/** The text of docs/vocabulary.md. The same declarations give the same text. */
export function vocabularyDocument(declarations: Iterable<Declaration>): string {
  const groups = [...byGroup(declarations)];
  const contents = groups.map(
    ([group, members]) =>
      `- [${title(group)}](#${anchor(group)}): ${members.map((d) => `[${d.name}](#${anchor(d.name)})`).join(", ")}`,
  );
  const sections = groups.map(([group, members]) =>
    [`## ${title(group)}`, ...members.map((d) => entryMarkdown(d))].join("\n\n"),
  );
  return `${[INTRODUCTION, contents.join("\n"), ...sections]
    .join("\n\n")
    .replace(/\n{3,}/gu, "\n\n")
    .trimEnd()}\n`;
}
