import { vocabulary } from "../vocabulary";
import { entryOf, type GlossaryEntry, search } from "../vocabulary/glossary";

export type { GlossaryEntry } from "../vocabulary/glossary";

/** All about the function of that name; undefined when the language has none. */
export function lookUp(name: string): GlossaryEntry | undefined {
  const declaration = vocabulary.get(name);
  return declaration === undefined ? undefined : entryOf(declaration);
}

/** The functions in whose description every one of the words is found, the best first; without words, all. */
export function searchGlossary(words = ""): readonly GlossaryEntry[] {
  return search(vocabulary.values(), words).map(entryOf);
}
