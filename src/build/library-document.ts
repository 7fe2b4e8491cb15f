import { type Declared, declarations } from "./declarations";

/** docs/library.api.md: every name of the library with its types, as a consumer's compiler sees them. */
export function libraryDocument(): string {
  const { exported, inner } = declarations();
  const isCall = ({ sort }: Declared) => sort === "function" || sort === "class" || sort === "const";
  const section = (title: string, says: string, list: readonly Declared[]): string[] => [
    `## ${title}`,
    "",
    says,
    "",
    "```ts",
    list.flatMap(({ pieces }) => pieces.map(({ comment, code }) => `${comment}${code}`)).join("\n\n"),
    "```",
    "",
  ];
  return [
    "# The library, name by name",
    "",
    "Written by `npm run generate` from the source; a test compares it with what the source says. A name that is taken",
    "away or changes its type here breaks somebody's program: change it on purpose, and say so. How to begin is told in",
    "[library.md](library.md).",
    "",
    ...section("What can be called", "", exported.filter(isCall)),
    ...section(
      "Types",
      "Each can be imported by its name.",
      exported.filter((d) => !isCall(d)),
    ),
    ...section("What these are made of", "Shapes inside the types above, without a name to import.", inner),
  ]
    .join("\n")
    .replace(/\n{3,}/g, "\n\n");
}
