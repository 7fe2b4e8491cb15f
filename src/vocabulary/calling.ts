/** Whether a text calls a function of that name, as far as its letters tell: a comment may seem to. */
export const calls = (text: string, name: string): boolean =>
  new RegExp(`(?<![\\p{L}\\d_])${name}\\s*\\(`, "u").test(text);
