/**
 * Functions that are on their way. In a program that is whole, every function is here from the start, and this says so.
 * The page is sent them in parts (src/build/functions-apart.ts): a book is opened when the functions that it calls are
 * here, the others follow, and what was written with one of them in the meantime is worked out again.
 */

/** Whether there is a function of that name that is not here yet. */
export const isAway = (_name: string): boolean => false;

/** Whether a text calls a function that is not here yet. */
export const callsAway = (_text: string): boolean => false;

/** Fetches the functions that a text calls, or all. Fails when they do not come. */
export const fetchFunctions = async (_text?: string): Promise<void> => undefined;

/** Calls back whenever functions have come; gives the way to be told no longer. */
export const onArrival =
  (_tell: () => void): (() => void) =>
  () =>
    undefined;
