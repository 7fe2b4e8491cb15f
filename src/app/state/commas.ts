/**
 * Decimal commas and grouping in what a person types or pastes. They are understood, and never guessed: a
 * number with a comma is offered in each of its readings.
 */

export interface Reading {
  /** What would be written. */
  readonly text: string;
  /** What that takes the comma for. */
  readonly says: string;
}

const NUMBER = /^([-+−]?)(\d[\d.,’' \u00a0\u2009\u202f]*)(.*)$/su;

/**
 * The readings of a quantity that holds a comma, an apostrophe or blanks between digits; undefined when there is
 * nothing to ask. The likelier reading comes first.
 */
export function readings(typed: string): readonly Reading[] | undefined {
  const [, of, spread] = /^([^±]*)±(.*)$/su.exec(typed) ?? [];
  if (of !== undefined) {
    const by = readings(spread!);
    const plain = by?.map(({ says }) => ({ text: of.trim(), says }));
    return (readings(of) ?? plain)?.map(({ text, says }) => {
      const alike = by?.find((r) => r.says === says) ?? by?.[0];
      return { text: `${text.trim()} ± ${alike?.text ?? spread!.trim()}`, says };
    });
  }
  const match = NUMBER.exec(typed.trim());
  if (match === null) return undefined;
  const sign = match[1] === "−" ? "-" : match[1]!;
  const digits = match[2]!.trimEnd();
  const rest = match[2]!.slice(digits.length) + match[3]!;
  if (/[,’'\s]$|[.,]$/.test(digits) && !/\d$/.test(digits)) return undefined;
  if (/^\d+(\.\d+)?$/.test(digits)) return undefined;
  const found: Reading[] = [];
  const add = (number: string, says: string) => {
    const text = `${sign}${number}${rest}`;
    if (/^\d+(\.\d+)?$/.test(number) && !found.some((r) => r.text === text)) found.push({ text, says });
  };
  const comma = digits.lastIndexOf(",");
  const point = digits.lastIndexOf(".");
  const bare = (s: string) => s.replace(/[.,’'\s]/gu, "");
  const grouped = (s: string) => /^\d{1,3}([.,’'\s]\d{3})+$/u.test(s) || /^\d+$/.test(s);
  if (comma >= 0 && comma > point && digits.indexOf(",") === comma && grouped(digits.slice(0, comma)))
    add(`${bare(digits.slice(0, comma))}.${digits.slice(comma + 1)}`, "a decimal comma");
  if (point >= 0 && point > comma && digits.indexOf(".") === point && grouped(digits.slice(0, point)))
    add(`${bare(digits.slice(0, point))}.${digits.slice(point + 1)}`, "a decimal point");
  // A group of thousands never begins with a nought.
  if (/^[1-9]\d{0,2}([,’'\s]\d{3})+$/u.test(digits)) add(bare(digits), "groups of a thousand");
  if (/^\d{1,3}(\.\d{3}){2,}$/.test(digits)) add(bare(digits), "groups of a thousand");
  return found.length === 0 ? undefined : found;
}

/** How the commas of a whole paste are read, when all cells agree on one reading. */
export type CommaRule = "decimal" | "thousands" | "as-is";

export function withRule(cell: string, rule: CommaRule): string {
  if (rule === "as-is") return cell;
  const wanted =
    rule === "decimal" ? ["a decimal comma", "a decimal point"] : ["groups of a thousand", "a decimal point"];
  const choices = readings(cell);
  return choices?.find((r) => wanted.includes(r.says))?.text ?? cell;
}
