/** A remark that stays with a value and with everything worked out from it. */
export interface Note {
  readonly text: string;
  /** Cautions are shown on page, card and exports. */
  readonly caution?: boolean;
}

/** The notes of several values, each text once, in order; undefined when there are none. */
export function notesOf(
  ...values: readonly ({ readonly notes?: readonly Note[] } | undefined)[]
): readonly Note[] | undefined {
  let merged: readonly Note[] | undefined;
  for (const value of values) merged = mergeNotes(merged, value?.notes);
  return merged;
}

/** Two lists of notes, each text once. A text that is a caution in one of them stays a caution. */
export function mergeNotes(
  a: readonly Note[] | undefined,
  b: readonly Note[] | undefined,
): readonly Note[] | undefined {
  if (b === undefined || b.length === 0 || a === b) return a === undefined || a.length === 0 ? undefined : a;
  if (a === undefined || a.length === 0) return b;
  const byText = new Map<string, Note>();
  for (const note of [...a, ...b]) {
    const before = byText.get(note.text);
    if (before === undefined || (note.caution && !before.caution)) byText.set(note.text, note);
  }
  return byText.size === a.length && a.every((note) => byText.get(note.text) === note)
    ? a
    : [...byText.values()];
}
