/** What an error says, for the end of a sentence. */
export const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
