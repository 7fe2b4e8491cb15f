/**
 * The undo stack of a book: named changes of its text, each kept as the stretch that was replaced, never as
 * two whole texts.
 */

/** `removed` stood at `at`; `inserted` stands there now. */
export interface Change {
  readonly at: number;
  readonly removed: string;
  readonly inserted: string;
}
export interface Entry<Where> {
  /** What the change did, in words that follow "Undo": "volume of juniper". */
  readonly says: string;
  readonly change: Change;
  /** Where the writer was before and after. */
  readonly before: Where;
  readonly after: Where;
  /** Changes with one thread that follow each other are one entry: a slider's drag, a spell of typing. */
  readonly thread?: string;
}
export interface History<Where> {
  readonly past: readonly Entry<Where>[];
  readonly future: readonly Entry<Where>[];
}

/** Entries that are kept; the oldest are dropped behind it. */
export const DEPTH = 500;

export const noHistory = <Where>(): History<Where> => ({ past: [], future: [] });

/** The one stretch in which two texts differ, or undefined when they are the same. Never splits a surrogate pair. */
export function changeBetween(before: string, after: string): Change | undefined {
  if (before === after) return undefined;
  const shorter = Math.min(before.length, after.length);
  let at = 0;
  while (at < shorter && before.charCodeAt(at) === after.charCodeAt(at)) at++;
  let tail = 0;
  while (
    tail < shorter - at &&
    before.charCodeAt(before.length - 1 - tail) === after.charCodeAt(after.length - 1 - tail)
  )
    tail++;
  if (at > 0 && isHighSurrogate(before.charCodeAt(at - 1))) at--;
  if (tail > 0 && isLowSurrogate(before.charCodeAt(before.length - tail))) tail--;
  return {
    at,
    removed: before.slice(at, before.length - tail),
    inserted: after.slice(at, after.length - tail),
  };
}

const isHighSurrogate = (code: number): boolean => code >= 0xd800 && code <= 0xdbff;
const isLowSurrogate = (code: number): boolean => code >= 0xdc00 && code <= 0xdfff;

export const applyChange = (text: string, change: Change): string =>
  text.slice(0, change.at) + change.inserted + text.slice(change.at + change.removed.length);

export const inverse = (change: Change): Change => ({
  at: change.at,
  removed: change.inserted,
  inserted: change.removed,
});

/** The stack with one more change. What was undone before it is dropped, as it no longer fits. */
export function remembered<Where>(
  history: History<Where>,
  textBefore: string,
  textAfter: string,
  entry: Omit<Entry<Where>, "change">,
): History<Where> {
  const last = history.past.at(-1);
  if (entry.thread !== undefined && last?.thread === entry.thread) {
    const origin = applyChange(textBefore, inverse(last.change));
    const change = changeBetween(origin, textAfter);
    const past = history.past.slice(0, -1);
    return {
      past: change === undefined ? past : [...past, { ...entry, before: last.before, change }],
      future: [],
    };
  }
  const change = changeBetween(textBefore, textAfter);
  if (change === undefined) return history;
  return { past: [...history.past, { ...entry, change }].slice(-DEPTH), future: [] };
}

export interface Step<Where> {
  readonly text: string;
  readonly entry: Entry<Where>;
  readonly history: History<Where>;
}

/** Takes the last change back, or undefined when there is none. */
export function undone<Where>(history: History<Where>, text: string): Step<Where> | undefined {
  const entry = history.past.at(-1);
  if (entry === undefined) return undefined;
  const { thread: _, ...plain } = entry;
  return {
    text: applyChange(text, inverse(entry.change)),
    entry,
    history: { past: history.past.slice(0, -1), future: [plain, ...history.future] },
  };
}

/** Makes the change again that was undone last, or undefined when there is none. */
export function redone<Where>(history: History<Where>, text: string): Step<Where> | undefined {
  const entry = history.future[0];
  if (entry === undefined) return undefined;
  return {
    text: applyChange(text, entry.change),
    entry,
    history: { past: [...history.past, entry], future: history.future.slice(1) },
  };
}
