/** A sentence in which words of the language stand between backticks. */
export function Prose({ text }: { text: string | undefined }) {
  if (text === undefined || text === "") return null;
  return text.split("`").map((piece, i) => (i % 2 === 1 ? <code key={i}>{piece}</code> : piece));
}

/** A sentence with its capital and its full stop. */
export function sentence(text: string): string {
  const trimmed = text.trim();
  if (trimmed === "") return "";
  const whole = trimmed[0]!.toUpperCase() + trimmed.slice(1);
  return /[.!?…]$/.test(whole) ? whole : `${whole}.`;
}
