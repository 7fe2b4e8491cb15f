import { grammarEbnf } from "./ebnf";
import { railroadPage } from "./railroad";

/**
 * The documents of the grammar that are kept beside the parser, by their path from the project's root. They are
 * generated from the parser's own rules; a check compares them with what is committed.
 */
export function generateGrammarDocuments(): Map<string, string> {
  return new Map([
    ["grammar/language.ebnf", grammarEbnf()],
    ["grammar/railroad.html", railroadPage()],
  ]);
}
