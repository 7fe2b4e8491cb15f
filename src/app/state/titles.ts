/**
 * The text of a book that is begun, with a title that none of the others has: where one of them is “My blend” it is
 * “My blend 2”. The text itself when its title is free.
 */
export const titledApart = (text: string, others: readonly string[]): string =>
  text.replace(/^book "([^"]*)"/m, (line, title: string) => {
    if (!others.includes(title)) return line;
    let count = 2;
    while (others.includes(`${title} ${count}`)) count++;
    return `book "${title} ${count}"`;
  });
