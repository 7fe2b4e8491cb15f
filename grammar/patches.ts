/** A replacement in the text of a book: what stands from `from` to `to` gives way to `insert`. */
export interface Patch {
  readonly from: number;
  readonly to: number;
  readonly insert: string;
}

/**
 * The text with all patches made. They are counted in the text as it is, may come in any order and may not overlap;
 * two that insert at one place are made in the order given.
 */
export function applyPatches(text: string, patches: readonly Patch[]): string {
  const ordered = patches.map((patch, order) => ({ patch, order }));
  ordered.sort((a, b) => a.patch.from - b.patch.from || a.patch.to - b.patch.to || a.order - b.order);
  let out = "";
  let at = 0;
  for (const { patch } of ordered) {
    if (patch.from < at || patch.to < patch.from || patch.to > text.length)
      throw new RangeError(`patch ${patch.from}..${patch.to} overlaps another or leaves the text`);
    out += text.slice(at, patch.from) + patch.insert;
    at = patch.to;
  }
  return out + text.slice(at);
}
