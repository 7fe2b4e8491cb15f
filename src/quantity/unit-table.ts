import { currencies } from "./currency";
import { type Dimension, dimension, type Kind, kinds, none } from "./dimension";
import { one, type Ratio, ratio, ratioOf } from "./ratio";

/** A unit with a name of its own, out of which compounds are made. */
export interface NamedUnit {
  readonly name: string;
  /** What it is called in words, for the help: "millilitre". */
  readonly words: string;
  /** Kind when it stands alone. */
  readonly kind: Kind;
  /** Dimension inside a compound. Degrees are differences there. */
  readonly dimension: Dimension;
  /** SI value = number * scale (+ offset for temperatures). */
  readonly scale: Ratio;
  readonly offset?: Ratio;
  /** Whether it may be a part of a compound unit. */
  readonly joins: boolean;
}

const table = new Map<string, NamedUnit>();

function unit(name: string, kind: Kind, scale: Ratio, words: string): void {
  table.set(name, { name, words, kind, dimension: kind.dimension, scale, joins: true });
}
/** Strengths, solids, refractive index: they stand alone. */
function alone(name: string, kind: Kind, scale: Ratio, words: string): void {
  table.set(name, { name, words, kind, dimension: none, scale, joins: false });
}

unit("g", kinds.mass, ratio(1, 1000), "gram");
unit("kg", kinds.mass, one, "kilogram");
unit("mg", kinds.mass, ratio(1, 1_000_000), "milligram");
// International yard and pound agreement of 1959: the pound is 0.45359237 kg, an ounce a sixteenth of it.
unit("oz", kinds.mass, ratioOf("0.028349523125"), "ounce (avoirdupois)");
unit("lb", kinds.mass, ratioOf("0.45359237"), "pound (avoirdupois)");

unit("mL", kinds.volume, ratio(1, 1_000_000), "millilitre");
unit("cL", kinds.volume, ratio(1, 100_000), "centilitre");
unit("L", kinds.volume, ratio(1, 1000), "litre");
unit("hL", kinds.volume, ratio(1, 10), "hectolitre");
// 231 cubic inches of 2.54 cm, and a hundred-and-twenty-eighth of it.
unit("us_gal", kinds.volume, ratioOf("0.003785411784"), "US gallon");
unit("us_floz", kinds.volume, ratioOf("0.0000295735295625"), "US fluid ounce");
// Weights and Measures Act 1985: 4.54609 L, and a hundred-and-sixtieth of it.
unit("uk_gal", kinds.volume, ratioOf("0.00454609"), "imperial gallon");
unit("uk_floz", kinds.volume, ratioOf("0.0000284130625"), "imperial fluid ounce");

unit("m", kinds.length, one, "metre");
unit("cm", kinds.length, ratio(1, 100), "centimetre");
unit("mm", kinds.length, ratio(1, 1000), "millimetre");

unit("Pa", kinds.pressure, one, "pascal");
unit("hPa", kinds.pressure, ratio(100), "hectopascal, the same as a millibar");
unit("kPa", kinds.pressure, ratio(1000), "kilopascal");
unit("mbar", kinds.pressure, ratio(100), "millibar");
unit("bar", kinds.pressure, ratio(100_000), "bar");
// Conventional millimetre of mercury: 13 595.1 kg/m3 and 9.806 65 m/s2. The torr is 1/760 of an atmosphere.
unit("mmHg", kinds.pressure, ratioOf("133.322387415"), "millimetre of mercury");
unit("torr", kinds.pressure, ratio(101_325, 760), "torr, 1/760 of an atmosphere");
unit("atm", kinds.pressure, ratio(101_325), "standard atmosphere");

unit("s", kinds.time, one, "second");
unit("min", kinds.time, ratio(60), "minute");
unit("h", kinds.time, ratio(3600), "hour");
unit("d", kinds.time, ratio(86_400), "day of 24 hours");

unit("W", kinds.power, one, "watt");
unit("kW", kinds.power, ratio(1000), "kilowatt");
unit("mW", kinds.power, ratio(1, 1000), "milliwatt");
unit("J", kinds.energy, one, "joule");
unit("kJ", kinds.energy, ratio(1000), "kilojoule");
unit("MJ", kinds.energy, ratio(1_000_000), "megajoule");
unit("kWh", kinds.energy, ratio(3_600_000), "kilowatt hour");

unit("%", kinds.plain, ratio(1, 100), "per cent, a hundredth");
unit("‰", kinds.plain, ratio(1, 1000), "per mille, a thousandth");
unit("ppm", kinds.plain, ratio(1, 1_000_000), "parts per million");

alone("%vol", kinds.strengthVolume, ratio(1, 100), "strength by volume at 20 °C");
alone("%mas", kinds.strengthMass, ratio(1, 100), "strength by mass");
alone("proof", kinds.proof, ratio(1, 200), "US proof, a half of a per cent by volume at 60 °F");
alone("°Bx", kinds.solids, ratio(1, 100), "degree Brix, sugar by mass");
alone("nD", kinds.index, one, "refractive index at the sodium line");

unit("K", kinds.difference, one, "kelvin, a temperature difference");
function degrees(name: string, scale: Ratio, offset: Ratio, words: string): void {
  const dimension = kinds.difference.dimension;
  table.set(name, { name, words, kind: kinds.temperature, dimension, scale, offset, joins: true });
}
degrees("°C", one, ratioOf("273.15"), "degree Celsius");
// K = (F + 459.67) * 5/9.
degrees("°F", ratio(5, 9), ratio(45_967, 180), "degree Fahrenheit");

for (const code of currencies.keys()) {
  unit(code, { id: code, name: "", dimension: dimension([[code, 1]]) }, one, `currency ${code}`);
}

/** Every unit with a name of its own, in the order of the table: measures first, then currencies. */
export const namedUnits: ReadonlyMap<string, NamedUnit> = table;

/** Other spellings that are taken as they stand. */
export const spellings: ReadonlyMap<string, string> = new Map([
  ["l", "L"],
  ["ml", "mL"],
  ["cl", "cL"],
  ["hl", "hL"],
  ["degC", "°C"],
  ["degF", "°F"],
]);

/** Names that stand for more than one unit. */
export const ambiguous: ReadonlyMap<string, readonly string[]> = new Map([
  ["gal", ["us_gal", "uk_gal"]],
  ["gallon", ["us_gal", "uk_gal"]],
  ["gallons", ["us_gal", "uk_gal"]],
  ["floz", ["us_floz", "uk_floz"]],
  ["fl_oz", ["us_floz", "uk_floz"]],
  ["pound", ["lb", "GBP"]],
  ["pounds", ["lb", "GBP"]],
  ["degree", ["°C", "°F", "°Bx"]],
  ["degrees", ["°C", "°F", "°Bx"]],
  ["deg", ["°C", "°F", "°Bx"]],
  ["°", ["°C", "°F", "°Bx"]],
]);

const byWord = (units: Readonly<Record<string, string>>): ReadonlyMap<string, string> =>
  new Map(
    Object.entries(units).flatMap(([unit, words]) => words.split(" ").map((word) => [word, unit] as const)),
  );

/** Everyday words, in lower case, and the unit that they are. */
export const everyday: ReadonlyMap<string, string> = byWord({
  g: "gram grams gramme grammes gr gm gms",
  kg: "kilo kilos kilogram kilograms kgs",
  mg: "milligram milligrams",
  oz: "ounce ounces",
  lb: "lbs",
  mL: "millilitre millilitres milliliter milliliters cc ccm mls",
  cL: "centilitre centilitres centiliter centiliters",
  L: "litre litres liter liters lt ltr",
  hL: "hectolitre hectolitres hectoliter hectoliters",
  m: "metre metres meter meters",
  cm: "centimetre centimetres centimeter centimeters",
  mm: "millimetre millimetres millimeter millimeters",
  mbar: "millibar millibars",
  Pa: "pascal pascals",
  s: "sec secs second seconds",
  min: "mins minute minutes",
  h: "hr hrs hour hours",
  d: "day days",
  W: "watt watts",
  kW: "kilowatt kilowatts",
  J: "joule joules",
  "%": "percent pct",
  "%vol": "abv %abv vol% %v %v/v vol.%",
  "%mas": "abw %abw %mass %w %w/w %wt",
  "°Bx": "bx brix °brix",
  "°C": "c celsius centigrade °celsius",
  "°F": "f fahrenheit °fahrenheit",
  K: "kelvin kelvins °k",
});

/** Measures that are not taken, in lower case, and the unit in which to write the amount instead. */
export const relatives: ReadonlyMap<string, string> = byWord({
  mL: "cup cups tsp tsps tbsp tbsps teaspoon teaspoons tablespoon tablespoons drop drops dash dashes shot shots",
  cL: "dl decilitre decilitres deciliter deciliters",
  L: "pint pints pt quart quarts qt",
  mg: "ug µg μg microgram micrograms",
  mm: "um µm μm in inch inches",
  m: "ft foot feet",
  kg: "t ton tons tonne tonnes stone",
  kJ: "cal kcal calorie calories btu",
  kPa: "psi inhg",
  d: "week weeks month months",
  "°Bx": "plato °p °plato oechsle °oe",
});
