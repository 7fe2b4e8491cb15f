/** Whether what failed is that a part of the page did not come: browsers and the build say so each in their own way. */
export const isUnfetched = (error: unknown): boolean =>
  error instanceof Error && /dynamically imported module|module script|preload CSS/i.test(error.message);

/** What an error says, for the end of a sentence. */
export const wordsOf = (error: unknown): string => {
  if (isUnfetched(error))
    return "what does this could not be fetched. Look whether this device is on its network, and try again.";
  return error instanceof Error ? error.message : String(error);
};
