import { bridge, inHundredths, isShare } from "./advice";
import { unitsOfKind } from "./completion";
import { type Kind, kinds } from "./dimension";
import { format } from "./format";
import { affineNum } from "./number";
import { type Quantity, quantity, sideOf } from "./quantity";
import { kelvinPoint, parseUnit } from "./unit";
import { conversion } from "./unit-sum";

const celsius = parseUnit("°C");

/** How many units of a kind are named: enough to find one's own, few enough to read. */
const MOST_UNITS = 6;

/**
 * What to do when a value stands where another kind is wanted, as for an argument of a function: a sentence,
 * or undefined when there is nothing better to say than what is wanted. `300 K` for a temperature gives
 * "A typed K is a difference. As a temperature this is `26.85 °C`."
 */
export function adviceFor(given: Quantity, wanted: Kind): string | undefined {
  const { kind } = given.unit;
  if (kind === kinds.difference && wanted === kinds.temperature) {
    const { factor, shift } = conversion(kelvinPoint, celsius);
    const point = affineNum(given.n, factor, shift);
    return `A typed K is a difference. As a temperature this is \`${format(quantity(point, celsius))}\`.`;
  }
  if (kind === kinds.temperature && wanted === kinds.difference) {
    return "A difference is wanted; write it in K, or take one temperature from another.";
  }
  return kind === kinds.plain ? adviceForPlain(given, wanted) : bridge(kind, wanted);
}

/** A number without unit, or a ratio, where something with a unit of its own is wanted. */
function adviceForPlain(given: Quantity, wanted: Kind): string | undefined {
  const units = unitsOfKind(wanted).slice(0, MOST_UNITS);
  const last = units.at(-1);
  if (last === undefined) return undefined;
  if (isShare(wanted)) {
    const [number = ""] = sideOf(given).text.split(" ");
    return `Write \`${given.unit.text === "" ? inHundredths(number) : number} ${last}\`.`;
  }
  if (given.unit.text !== "") return undefined;
  const names = units.map((name) => `\`${name}\``);
  const named = names.length === 1 ? names[0] : `${names.slice(0, -1).join(", ")} or ${names.at(-1)}`;
  return `Give the number its unit: ${named}.`;
}
