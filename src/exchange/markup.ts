/**
 * Text that is safe inside XML and HTML. XML 1.0 cannot hold most control characters even when they are
 * escaped, nor lone halves of a surrogate pair, so those are shown by the replacement character: a file that
 * opens with a mark in it is better than one that no reader accepts.
 */

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters that XML 1.0 refuses
const REFUSED = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** The text with every character that XML 1.0 refuses replaced by U+FFFD. */
export function cleanText(text: string): string {
  return text.replace(REFUSED, "\ufffd").replace(LONE_SURROGATE, "\ufffd");
}

/** Text for the content of an element or for an attribute in double quotes. */
export function escapeMarkup(text: string): string {
  return cleanText(text)
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;");
}

/** An attribute value keeps its line ends and tabs only as references. */
export function escapeAttribute(text: string): string {
  return escapeMarkup(text).replace(/\t/g, "&#9;").replace(/\n/g, "&#10;").replace(/\r/g, "&#13;");
}

/** An opening, closed or empty tag. Attributes that are undefined are left out. */
export function tag(
  name: string,
  attributes: Readonly<Record<string, string | number | undefined>>,
  content?: string,
): string {
  let text = "<" + name;
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== undefined) text += ` ${key}="${escapeAttribute(String(value))}"`;
  }
  return content === undefined || content === "" ? text + "/>" : `${text}>${content}</${name}>`;
}
