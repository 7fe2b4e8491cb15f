import { currencies, currencySign } from "./currency";
import { Trouble } from "./trouble";
import { ambiguous, everyday, namedUnits, relatives, spellings } from "./unit-table";

/** A part of a compound unit: `GBP/L` is GBP to the power 1 and L to the power -1. */
export interface Factor {
  readonly name: string;
  readonly power: number;
}

/** Largest exponent that a part of a unit may have. */
export const MOST_POWER = 9;

const RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹";
const BLANKS = "[ \\t\\u00a0\\u2007\\u2009\\u202f]";
const SPACED = new RegExp(`([%°])${BLANKS}+(?=\\p{L})`, "gu");
const AROUND = new RegExp(`^${BLANKS}+|${BLANKS}+$`, "g");

/** The text as it is looked up: NFC, every degree sign as °, `% vol` as `%vol`, no blanks around. */
function tidy(text: string): string {
  return text.normalize("NFC").replace(/[º˚]/g, "°").replace(AROUND, "").replace(SPACED, "$1");
}

/** An exponent behind a word: `^-1`, `³`, `⁻¹`. */
const EXPONENT = /^(.*?)(?:\^([-−]?\d+)|(⁻?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+))$/u;
/** Digits directly behind a unit, as in `m3`. */
const DIGITS = /^(.*?\D)(\d+)$/u;

function splitExponent(word: string): Factor {
  const match = EXPONENT.exec(word);
  if (match !== null) {
    const digits =
      match[2]?.replace("−", "-") ??
      (match[3] === "" ? "" : "-") + [...match[4]!].map((c) => RAISED.indexOf(c)).join("");
    return { name: match[1]!, power: Number(digits) };
  }
  const direct = DIGITS.exec(word);
  if (direct !== null && namedUnits.has(spellings.get(direct[1]!) ?? direct[1]!)) {
    return { name: direct[1]!, power: Number(direct[2]) };
  }
  return { name: word, power: 1 };
}

/** The named factors of a unit's text, each name once, or the trouble with it. Nothing here knows what they come to. */
export function readUnit(text: string): readonly Factor[] | Trouble {
  const clean = tidy(text);
  // Words at even places, the marks between them at odd ones.
  const pieces = clean.split(/([/*·])/u);
  const compound = pieces.length > 1;
  const powers = new Map<string, number>();
  for (let i = 0; i < pieces.length; i += 2) {
    const { name: written, power } = splitExponent(pieces[i]!);
    const name = spellings.get(written) ?? written;
    const unit = namedUnits.get(name);
    if (unit === undefined) return diagnose(written, pieces, i);
    if (power === 0 || Math.abs(power) > MOST_POWER) return wrongPower(name, power);
    if (!unit.joins && (compound || power !== 1)) {
      return new Trouble({
        code: "unit-compound",
        says: `${name} stands alone and cannot be part of a compound unit such as ${clean}.`,
        help: `Keep the ${name} in a value of its own and multiply or divide by it.`,
      });
    }
    const sign = pieces[i - 1] === "/" ? -1 : 1;
    const total = (powers.get(name) ?? 0) + sign * power;
    if (Math.abs(total) > MOST_POWER) return wrongPower(name, total);
    powers.set(name, total);
  }
  const factors = [...powers].map(([name, power]) => ({ name, power })).filter((f) => f.power !== 0);
  const [first] = factors;
  if (first !== undefined) {
    // Degrees are differences inside a compound; what cancels down to a lone degree must not become a point.
    const lone = compound && factors.length === 1 && first.power === 1;
    if (!lone || namedUnits.get(first.name)!.offset === undefined) return factors;
  }
  return new Trouble({
    code: "unit-unknown",
    says:
      first === undefined
        ? `Everything in the unit ${clean} cancels.`
        : `The unit ${clean} cancels down to ${first.name}.`,
    help:
      first === undefined
        ? "Leave the unit out: it is a plain number."
        : "Write `K` for a temperature difference.",
  });
}

function wrongPower(name: string, power: number): Trouble {
  return new Trouble({
    code: "unit-power",
    says: `${power} is not an exponent that ${name} can have.`,
    help: `Use a whole exponent from -${MOST_POWER} to ${MOST_POWER}, and not 0.`,
  });
}

const ticked = (name: string): string => `\`${name}\``;
function either(names: readonly string[]): string {
  const last = ticked(names.at(-1)!);
  return names.length === 1 ? last : `${names.slice(0, -1).map(ticked).join(", ")} or ${last}`;
}

/**
 * Why a word is no unit, and what was probably meant. The same word always gets the same answer. The rewrite
 * is for the whole text of the unit, and only given when the other spelling is the same size.
 */
function diagnose(word: string, pieces: readonly string[], at: number): Trouble {
  const whole = pieces.join("");
  const place = pieces.length > 1 ? ` in ${whole}` : "";
  const trouble = (code: string, says: string, help: string | undefined, meant?: string): Trouble =>
    new Trouble({
      code,
      says,
      ...(help === undefined ? {} : { help }),
      ...(meant === undefined ? {} : { rewrite: withWord(pieces, at, word, meant) }),
    });
  if (word === "") {
    return trouble(
      "unit-unknown",
      whole === "" ? "A unit is missing here." : `A unit is missing in ${whole}.`,
      "Write one such as `g` or `mL`.",
    );
  }
  // `%w/w` is one word of everyday speech, though its stroke looks like a division.
  const phrase = pieces.length > 1 ? everyday.get(whole.toLowerCase()) : undefined;
  if (phrase !== undefined) {
    return new Trouble({
      code: "unit-unknown",
      says: `${whole} is no unit.`,
      help: `It is written \`${phrase}\`.`,
      rewrite: phrase,
    });
  }
  const low = word.toLowerCase();
  const choices = ambiguous.get(low);
  if (choices !== undefined) {
    return trouble(
      "unit-ambiguous",
      `${word}${place} stands for more than one unit.`,
      `Say which: ${either(choices)}.`,
    );
  }
  const codes = currencySign(word);
  if (codes !== undefined) {
    const help =
      codes.length === 1
        ? `Write ${either(codes)}.`
        : `Write ${either(codes)}, or the code of another currency.`;
    const says = `Money is written with the code of its currency, not with ${word}.`;
    return trouble("unit-symbol", says, help, codes.length === 1 ? codes[0] : undefined);
  }
  const no = `${word}${place} is no unit`;
  const meant = everyday.get(low);
  if (meant !== undefined) return trouble("unit-unknown", `${no}.`, `It is written \`${meant}\`.`, meant);
  const relative = relatives.get(low);
  if (relative !== undefined) return trouble("unit-unknown", `${no}.`, `Measure it in \`${relative}\`.`);
  const cased = otherCase(word);
  if (cased !== undefined) {
    const words = namedUnits.get(cased)!.words;
    return trouble(
      "unit-case",
      `${no}; capitals count.`,
      `Write \`${cased}\` (${words}).`,
      sureOfCase(word, cased) ? cased : undefined,
    );
  }
  const near = nearest(word);
  if (near !== undefined) return trouble("unit-near", `${no}.`, `The nearest unit is \`${near}\`.`, near);
  if (at > 0 && at === pieces.length - 1) {
    const before = pieces.slice(0, at - 1).join("");
    const spaced = `${before} ${pieces[at - 1]} ${word}`;
    const does = pieces[at - 1] === "/" ? "divides" : "multiplies";
    return new Trouble({
      code: "unit-unknown",
      says: `${no}.`,
      help: `\`${spaced}\`, with blanks, ${does} by ${word}.`,
      rewrite: spaced,
    });
  }
  return trouble("unit-unknown", `${no}.`, `To multiply by ${word}, write \`* ${word}\`.`);
}

/** The text with one word replaced; its exponent stays. */
function withWord(pieces: readonly string[], at: number, word: string, by: string): string {
  return pieces.map((piece, i) => (i === at ? by + piece.slice(word.length) : piece)).join("");
}

/** A unit whose name is the same in other capitals: measures first, currencies last. */
function otherCase(word: string): string | undefined {
  const low = word.toLowerCase();
  for (const name of namedUnits.keys()) if (name.toLowerCase() === low) return name;
  for (const [spelling, name] of spellings) if (spelling.toLowerCase() === low) return name;
  return undefined;
}

/** A wrong m or M may mean a thousandth or a million, and a small word may be no currency: no one-click fix then. */
function sureOfCase(word: string, unit: string): boolean {
  return !currencies.has(unit) && word[0] !== "M" && !(word[0] === "m" && unit[0] === "M");
}

/** Edits (insert, leave out, replace, swap neighbours) from one word to another. */
function distance(a: string, b: string): number {
  const rows: number[][] = [Array.from({ length: b.length + 1 }, (_, j) => j)];
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let best = Math.min(rows[i - 1]![j]! + 1, row[j - 1]! + 1, rows[i - 1]![j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, rows[i - 2]![j - 2]! + 1);
      }
      row.push(best);
    }
    rows.push(row);
  }
  return rows[a.length]![b.length]!;
}

const LONGEST_WORD = 40;

/**
 * The measure closest in spelling, at most a third of the word away; ties go to the first in the table.
 * Words of one or two letters get none, for everything is near them. Currencies are not offered: a wrong
 * word is seldom a rare currency.
 */
function nearest(word: string): string | undefined {
  const low = word.toLowerCase();
  if (low.length < 3 || low.length > LONGEST_WORD) return undefined;
  let best: string | undefined;
  let least = Math.floor(low.length / 3) + 1;
  const consider = (name: string, unit: string): void => {
    if (name.length < 2) return;
    const edits = distance(low, name.toLowerCase());
    if (edits < least) {
      least = edits;
      best = unit;
    }
  };
  for (const name of namedUnits.keys()) if (!currencies.has(name)) consider(name, name);
  for (const [name, unit] of everyday) consider(name, unit);
  return best;
}
