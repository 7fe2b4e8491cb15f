import { parseUnit, Trouble } from "../../quantity";

/** A unit read out of a foreign heading or cell: certain, or one of several that must be asked about. */
export interface UnitGuess {
  /** In our spelling: `%vol`, `GBP/L`. Empty for a plain number. */
  readonly unit: string;
  /** Other units that the same words may mean; empty when there is no doubt. */
  readonly others: readonly string[];
}

/** What people write for a unit: lower case, blanks folded, full stops dropped. The first unit is proposed. */
const WRITINGS: readonly (readonly [units: string, writings: string])[] = [
  ["mL", "ml|mls|millilitre|millilitres|milliliter|milliliters|cc|ccm|cm3|cm³"],
  ["cL", "cl|centilitre|centilitres|centiliter|centiliters"],
  ["L", "l|lt|ltr|ltrs|litre|litres|liter|liters"],
  ["hL", "hl|hectolitre|hectolitres|hectoliter|hectoliters"],
  ["g", "g|gr|gm|gms|gram|grams|gramme|grammes"],
  ["kg", "kg|kgs|kilo|kilos|kilogram|kilograms|kilogramme|kilogrammes"],
  ["mg", "mg|mgs|milligram|milligrams"],
  ["lb", "lb|lbs|pound|pounds"],
  ["°C", "c|°c|º c|ºc|° c|deg c|degc|degrees c|celsius|centigrade|degrees celsius"],
  ["°F", "f|°f|ºf|° f|deg f|degf|degrees f|fahrenheit|degrees fahrenheit"],
  ["mbar", "mbar|mbars|mbara|millibar|millibars|mb"],
  ["hPa", "hpa"],
  ["kPa", "kpa"],
  ["Pa", "pa|pascal"],
  ["bar", "bar|bars|bara"],
  ["torr", "torr"],
  ["mmHg", "mmhg|mm hg"],
  ["atm", "atm"],
  ["s", "s|sec|secs|second|seconds"],
  ["min", "min|mins|minute|minutes"],
  ["h", "h|hr|hrs|hour|hours"],
  ["d", "d|day|days"],
  ["W", "w|watt|watts"],
  ["kW", "kw"],
  ["kWh", "kwh"],
  ["mm", "mm"],
  ["cm", "cm"],
  ["°Bx", "bx|°bx|ºbx|° bx|brix|°brix|ºbrix|° brix|deg brix|degrees brix"],
  [
    "%vol",
    "%vol|vol%|% vol|vol %|vol-%|% abv|%abv|abv|abv%|abv %|% v/v|%v/v|% (v/v)|v/v|alc/vol|alc vol|% alc|%alc|alc %|alc%|alcohol by volume|% alcohol by volume|% alc/vol",
  ],
  ["%mas", "%mas|% mas|abw|% abw|%abw"],
  ["proof", "proof|us proof|°proof"],
  ["‰", "‰|per mille"],
  ["ppm", "ppm"],
  ["us_gal", "us gal|us gallon|us gallons"],
  ["uk_gal", "uk gal|uk gallon|uk gallons|imp gal|imperial gallon|imperial gallons"],
  ["us_floz", "us fl oz|us floz|us fluid ounce|us fluid ounces"],
  ["uk_floz", "uk fl oz|uk floz|imperial fluid ounce|imperial fluid ounces"],
  ["EUR", "€|eur|euro|euros"],
  ["GBP", "gbp"],
  ["USD", "usd|us$"],
  ["oz us_floz uk_floz", "oz|ounce|ounces"],
  ["us_floz uk_floz", "fl oz|floz|fluid ounce|fluid ounces"],
  ["us_gal uk_gal", "gal|gals|gallon|gallons"],
  ["GBP EGP SYP", "£"],
  ["USD CAD AUD NZD SGD HKD", "$"],
  ["JPY CNY", "¥"],
  ["SEK NOK DKK ISK", "kr"],
  ["% %mas °Bx", "% w/w|%w/w|% m/m|%m/m|% by weight|% by mass|% mass|% weight|wt%|wt %|% wt"],
];
const KNOWN: ReadonlyMap<string, UnitGuess> = new Map(
  WRITINGS.flatMap(([units, writings]) => {
    const [unit, ...others] = units.split(" ");
    return writings.split("|").map((w): [string, UnitGuess] => [w, { unit: unit!, others }]);
  }),
);

const folded = (text: string): string =>
  text
    .normalize("NFC")
    .toLowerCase()
    .replace(/\.(?=\s|$|[a-z])/g, "")
    .replace(/[\s\u00a0\u2009\u202f]+/g, " ")
    .trim();

/** The unit that some words stand for, or undefined. `about` is the heading around them, which settles a bare `%`. */
export function guessUnit(words: string, about = ""): UnitGuess | undefined {
  const plain = words.trim();
  if (plain === "" || plain.length > LONGEST_HEADING) return undefined;
  const text = folded(plain);
  if (text === "%" || text === "percent" || text === "per cent" || text === "pct") return percent(about);
  const known = KNOWN.get(text);
  if (known !== undefined) return known;
  const ratio = /^(.+?)\s*(?:\/|\bper\b)\s*(.+)$/.exec(text);
  if (ratio !== null) {
    const above = guessUnit(ratio[1]!);
    const below = guessUnit(ratio[2]!);
    if (above !== undefined && below !== undefined) {
      const units = [above.unit, ...above.others].flatMap((a) =>
        [below.unit, ...below.others].map((b) => `${a}/${b}`),
      );
      const real = units.filter(exists);
      if (real.length > 0) return { unit: real[0]!, others: real.slice(1, 7) };
    }
  }
  // Last: our own spellings, among them every currency code and compounds such as kJ/kg.
  return exists(plain) ? { unit: parseUnit(plain).text, others: [] } : undefined;
}

/** A bare % is a strength only when the heading speaks of alcohol, and then still a question. */
function percent(about: string): UnitGuess {
  const words = folded(about);
  if (/\b(alc|alcohol|abv|strength|spirit|ethanol)\b/.test(words))
    return { unit: "%vol", others: ["%mas", "%"] };
  if (/\b(sugar|solids|brix)\b/.test(words)) return { unit: "%", others: ["°Bx"] };
  return { unit: "%", others: [] };
}

function exists(unit: string): boolean {
  try {
    parseUnit(unit);
    return true;
  } catch (error) {
    if (error instanceof Trouble) return false;
    throw error;
  }
}

export interface HeadingGuess {
  /** The heading without its unit. */
  readonly label: string;
  readonly guess?: UnitGuess;
}

/** A longer heading is a sentence, in which no unit is looked for. */
const LONGEST_HEADING = 120;

/** `Volume (ml)`, `Volume [ml]`, `Volume, ml`, `Volume ml`, `ml`, `ABV`: what is measured, and in what. */
export function readHeading(heading: string): HeadingGuess {
  const text = heading.replace(/[\s\u00a0]+/g, " ").trim();
  if (text.length > LONGEST_HEADING) return { label: text };
  const bracket = /^(.*?)\s*[([{]\s*([^()[\]{}]*(?:\([^()]*\)[^()[\]{}]*)?)\s*[)\]}]\s*:?$/.exec(text);
  if (bracket !== null) {
    const guess = guessUnit(bracket[2]!, bracket[1]!);
    if (guess !== undefined) return { label: bracket[1]!.trim(), guess };
  }
  const split = /^(.*\S)\s*[,;:|–—]\s*(\S.*)$/.exec(text) ?? /^(.*\S)\s+in\s+(\S.*)$/i.exec(text);
  if (split !== null) {
    const guess = guessUnit(split[2]!, split[1]!);
    if (guess !== undefined) return { label: split[1]!, guess };
  }
  // The last words, longest first: "Juniper % vol", "Price £ / L".
  const words = text.split(" ");
  for (let n = 1; n < words.length; n++) {
    const tail = words.slice(n).join(" ");
    // A single letter at the end is more often a letter than a unit: "Vitamin C", "Still L".
    if (/^[a-z]$/i.test(tail)) continue;
    const guess = guessUnit(tail, words.slice(0, n).join(" "));
    if (guess !== undefined) return { label: words.slice(0, n).join(" "), guess };
  }
  const whole = text.length > 1 ? guessUnit(text) : undefined;
  return whole === undefined ? { label: text } : { label: nameForUnit(whole.unit, text), guess: whole };
}

/** A heading that is only a unit names the thing that it measures. */
function nameForUnit(unit: string, written: string): string {
  if (unit === "%vol" || unit === "%mas" || unit === "proof") return "strength";
  if (unit === "°Bx") return "solids";
  if (/^(mL|cL|L|hL|us_|uk_)/.test(unit)) return "volume";
  if (/^(g|kg|mg|oz|lb)$/.test(unit)) return "mass";
  if (/^°[CF]$/.test(unit)) return "temperature";
  if (/^(mbar|hPa|kPa|Pa|bar|torr|mmHg|atm)$/.test(unit)) return "pressure";
  if (/^(s|min|h|d)$/.test(unit)) return "time";
  return written;
}
