/**
 * The sentence of a step, as a writer sees it: formulas stand in braces, and a quote outside them needs no escape.
 */

/** From the text between the quotes of a statement. */
export function readSentence(inner: string): string {
  let out = "";
  let depth = 0;
  for (let i = 0; i < inner.length; i++) {
    const c = inner[i]!;
    if (c === "\\" && i + 1 < inner.length) {
      const next = inner[++i]!;
      out += next === '"' && depth === 0 ? '"' : c + next;
      continue;
    }
    if (c === "{") depth++;
    if (c === "}") depth = Math.max(0, depth - 1);
    out += c;
  }
  return out;
}

/** Back to what stands between the quotes. */
export function writeSentence(sentence: string): string {
  let out = "";
  let depth = 0;
  for (let i = 0; i < sentence.length; i++) {
    const c = sentence[i]!;
    if (c === "\\" && i + 1 < sentence.length) {
      out += c + sentence[++i]!;
      continue;
    }
    if (c === "{") depth++;
    if (c === "}") depth = Math.max(0, depth - 1);
    out += c === '"' && depth === 0 ? '\\"' : c;
  }
  return out;
}
