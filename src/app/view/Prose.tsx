/**
 * Words of the language between backticks, and between more of them a name that is written in backticks itself: it
 * stands at the beginning, or behind a dot, a comma, a bracket or a blank.
 */
const WRITTEN = /`((?:[^`]|(?<=[`.,(\s])`\p{L}[^`]*`)+)`/u;

/** A sentence in which words of the language stand between backticks. A name alone stands without them. */
export function Prose({ text }: { text: string | undefined }) {
  if (text === undefined || text === "") return null;
  return text
    .split(WRITTEN)
    .map((piece, i) => (i % 2 === 1 ? <code key={i}>{piece.replace(/^`([^`]+)`$/, "$1")}</code> : piece));
}

/** A sentence with its capital and its full stop. */
export function sentence(text: string): string {
  const trimmed = text.trim();
  if (trimmed === "") return "";
  const whole = trimmed[0]!.toUpperCase() + trimmed.slice(1);
  return /[.!?…]$/.test(whole) ? whole : `${whole}.`;
}
