/**
 * Text that some program may run as a formula when it opens a CSV file (OWASP, "CSV Injection"): it begins with one of
 * the marks of a formula, blanks or not, or with a tab or line end. The wide forms of the marks count too, since some
 * programs take them for the narrow ones. So does text with apostrophes before all that, so that taking one away again
 * always gives back what stood there.
 */
const RISKY = /^'*(?:\s*[=+\-@＝＋－＠]|[\t\r\n])/u;

/** The text with an apostrophe in front when it is risky. Never for numbers. */
export const guarded = (text: string): string => (RISKY.test(text) ? `'${text}` : text);

/** The text without the apostrophe that `guarded` put there. */
export const unguarded = (text: string): string =>
  text.startsWith("'") && RISKY.test(text.slice(1)) ? text.slice(1) : text;
