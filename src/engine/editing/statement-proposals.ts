import { writeName } from "../../../grammar";
import type { Book } from "../report";
import { wantedNames } from "./name-proposals";
import { type Candidate, matchOf } from "./proposal";
import type { Source } from "./source";
import { snippet } from "./word-proposals";

interface Beginning {
  readonly word: string;
  readonly template: string;
  readonly says: string;
  /** Only under the rows of a table. */
  readonly inTable?: boolean;
}

const BEGINNINGS: readonly Beginning[] = [
  { word: "set", template: "set ¦ = ¦", says: "a named value" },
  { word: "column", template: "column ¦ = ¦", says: "a column that is computed, row by row", inTable: true },
  { word: "foot", template: "foot ¦ = ¦", says: "a value under a column", inTable: true },
  { word: "table", template: "table ¦\n| ¦ | ¦ |\n", says: "a grid; its first row names the columns" },
  { word: "check", template: 'check ¦ : "¦"', says: "a condition that the book must meet" },
  { word: "chart", template: 'chart "¦" : bars ¦ by ¦', says: "a picture" },
  { word: "step", template: 'step "¦"', says: "one line of the bench card" },
  { word: "part", template: 'part "¦"', says: "a titled part of the book" },
  { word: "define", template: "define ¦(¦) = ¦", says: "a function of your own" },
  { word: "about", template: 'about "¦"', says: "words about the book" },
  { word: "book", template: 'book "¦"', says: "the title" },
  { word: "language", template: "language 1", says: "the version of the language; the first line of a book" },
];

/** The words that can begin a statement, each with its template; under a table its own come first. */
export function statementCandidates(typed: string, source: Source, book: Book): readonly Candidate[] {
  const candidates: Candidate[] = [];
  for (const { word, template, says, inTable } of BEGINNINGS) {
    if (inTable === true && source.table === undefined) continue;
    if (word === "language" && typed === "") continue;
    if (word === "book" && book.title !== "") continue;
    const match = matchOf(word, typed);
    if (match === undefined || match > 1) continue;
    candidates.push({
      label: word,
      thing: "statement",
      fit: { fits: true, rank: 0 },
      match,
      near: inTable === true ? (source.directlyBelow === true ? 0 : 2) : 1,
      make: () => ({ ...snippet(template), is: "", says }),
    });
  }
  return candidates;
}

/** The name that a statement is about to define, as far as it can be guessed. */
export function headerCandidates(
  keyword: string,
  typed: string,
  source: Source,
  book: Book,
  words: number,
): readonly Candidate[] {
  if (words > 0) return [];
  const offer = (name: string, says: string): readonly Candidate[] => {
    const match = matchOf(name, typed.replace(/^`/, ""));
    if (match === undefined) return [];
    const insert = `${writeName(name)} = `;
    return [
      {
        label: name,
        thing: keyword === "set" ? "name" : "column",
        fit: { fits: true, rank: 0 },
        match,
        near: 0,
        make: () => ({ insert, is: "", says }),
      },
    ];
  };
  if (keyword === "foot" && source.table) {
    const { table } = source;
    return [...table.byName.keys()]
      .filter((c) => !table.feet.has(c))
      .flatMap((c) => offer(c, `a foot under ${c}`));
  }
  if (keyword !== "set") return [];
  return wantedNames(book, source.place).flatMap((name) => offer(name, "is used already, and not set yet"));
}
