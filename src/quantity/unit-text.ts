import { currencies, currencySign } from "./currency";
import { Trouble } from "./trouble";
import { ambiguous, everyday, namedUnits, spellings } from "./unit-table";

/**
 * Reading the text of a unit into named factors, and the messages when that fails. Nothing here knows what
 * the factors come to.
 */
interface Factor {
  readonly name: string;
  readonly power: number;
}

const RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹";
const MOST_POWER = 9;

/** A word as it is looked up: NFC, all degree signs as °, `% vol` as `%vol`, no blanks around. */
function tidy(text: string): string {
  return text
    .normalize("NFC")
    .replace(/[º˚]/g, "°")
    .replace(/^[\s\u00a0]+|[\s\u00a0]+$/g, "")
    .replace(/%[ \t\u00a0\u2007\u2009\u202f]+(?=\p{L})/gu, "%")
    .replace(/°[ \t\u00a0\u2007\u2009\u202f]+(?=\p{L})/gu, "°");
}

/** The text with `³` and `^-1` behind a word turned into a number. */
const EXPONENT = /^(.*?)(?:\^([-−]?\d+)|([⁻]?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+))$/u;

function splitExponent(word: string): { readonly name: string; readonly power: number } {
  const match = EXPONENT.exec(word);
  if (match !== null) {
    const digits = match[2]?.replace("−", "-") ?? [...match[4]!].map((c) => RAISED.indexOf(c)).join("");
    return { name: match[1]!, power: Number(match[3] ? `-${digits}` : digits) };
  }
  // m3, cm2: digits directly behind a unit are its exponent.
  const direct = /^(.*?\D)(\d+)$/u.exec(word);
  if (direct !== null && isKnown(direct[1]!)) return { name: direct[1]!, power: Number(direct[2]) };
  return { name: word, power: 1 };
}

const isKnown = (name: string): boolean => namedUnits.has(spellings.get(name) ?? name);

/** The factors of a unit's text, each name once, or the trouble with it. */
export function readUnit(text: string): readonly Factor[] | Trouble {
  const clean = tidy(text);
  if (clean === "") return unknown("");
  const powers = new Map<string, number>();
  const pieces = clean.split(/([/*·])/u);
  const words = pieces.filter((_, i) => i % 2 === 0);
  for (let i = 0; i < pieces.length; i += 2) {
    const { name: written, power } = splitExponent(pieces[i]!);
    const name = spellings.get(written) ?? written;
    const unit = namedUnits.get(name);
    if (unit === undefined) return diagnose(written, words.length > 1 ? clean : undefined);
    if (power === 0 || Math.abs(power) > MOST_POWER) {
      return new Trouble({
        code: "unit-power",
        says: `The exponent ${power} of ${name} is not one that a unit can have.`,
        help: `Use a whole exponent from -${MOST_POWER} to ${MOST_POWER}, and not 0.`,
      });
    }
    if (!unit.joins && (words.length > 1 || power !== 1)) {
      return new Trouble({
        code: "unit-compound",
        says: `${name} stands alone and cannot be part of a compound unit such as ${clean}.`,
        help: `Keep ${name} in a value of its own and multiply: a volume times %vol is the volume of pure ethanol.`,
      });
    }
    const sign = i > 0 && pieces[i - 1] === "/" ? -1 : 1;
    powers.set(name, (powers.get(name) ?? 0) + sign * power);
  }
  const factors = [...powers].map(([name, power]) => ({ name, power })).filter((f) => f.power !== 0);
  return factors.length > 0 ? factors : unknownCompound(clean);
}

function unknownCompound(text: string): Trouble {
  return new Trouble({
    code: "unit-unknown",
    says: `Everything in the unit ${text} cancels.`,
    help: "Leave the unit out: it is a plain number.",
  });
}

function unknown(word: string, near?: string, whole?: string): Trouble {
  if (word === "") {
    return new Trouble({
      code: "unit-unknown",
      says: "A unit is missing here.",
      help: "Write one such as `g` or `mL`.",
    });
  }
  const place = whole === undefined ? "" : ` in ${whole}`;
  return new Trouble({
    code: "unit-unknown",
    says: `${word}${place} is no unit.`,
    ...(near === undefined ? {} : { help: `The nearest unit is \`${near}\`.` }),
    ...(near === undefined || whole !== undefined ? {} : { rewrite: near }),
  });
}

/** Units whose name is the same in other capitals: measures first, so that `cup` is not sent to Cuban pesos. */
function otherCase(word: string): string | undefined {
  const low = word.toLowerCase();
  for (const name of namedUnits.keys()) if (name.toLowerCase() === low) return name;
  for (const [spelling, name] of spellings) if (spelling.toLowerCase() === low) return name;
  return undefined;
}

const listed = (names: readonly string[]): string =>
  names.length === 1
    ? `\`${names[0]}\``
    : `${names
        .slice(0, -1)
        .map((n) => `\`${n}\``)
        .join(", ")} or \`${names.at(-1)}\``;

/** Why a word is no unit, and what was probably meant. The same word always gets the same answer. */
function diagnose(word: string, whole?: string): Trouble {
  const place = whole === undefined ? "" : ` in ${whole}`;
  const choices = ambiguous.get(word.toLowerCase());
  if (choices !== undefined) {
    return new Trouble({
      code: "unit-ambiguous",
      says: `${word}${place} stands for more than one unit.`,
      help: `Say which: ${listed(choices)}.`,
    });
  }
  const codes = currencySign(word);
  if (codes !== undefined) {
    return new Trouble({
      code: "unit-symbol",
      says: `Money is written with the code of its currency, not with ${word}.`,
      help:
        codes.length === 1
          ? `Write \`${codes[0]}\`.`
          : `Write ${listed(codes)}, or the code of another currency.`,
      ...(codes.length === 1 && whole === undefined ? { rewrite: codes[0]! } : {}),
    });
  }
  const meant = everyday.get(word.toLowerCase());
  if (meant !== undefined) return unknown(word, meant, whole);
  const cased = otherCase(word);
  if (cased !== undefined) {
    return new Trouble({
      code: "unit-case",
      says: `${word}${place} is no unit; capitals count.`,
      help: currencies.has(cased) ? `Write \`${cased}\` for the currency.` : `Write \`${cased}\`.`,
      ...(whole === undefined && !currencies.has(cased) ? { rewrite: cased } : {}),
    });
  }
  return unknown(word, nearest(word), whole);
}

/** Edits (insert, leave out, replace, swap neighbours) from one word to another. */
export function distance(a: string, b: string): number {
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

/**
 * The measure closest in spelling, at most a third of the word away; ties go to the first in the table.
 * Words of one or two letters get none: everything is near them. Currencies are not offered: a wrong word
 * is seldom a rare currency.
 */
function nearest(word: string): string | undefined {
  const low = word.toLowerCase();
  if (low.length < 3) return undefined;
  let best: string | undefined;
  let least = Math.max(1, Math.floor(low.length / 3)) + 1;
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
