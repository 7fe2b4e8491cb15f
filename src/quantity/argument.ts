import { bridge, isRatioSign, isShare } from "./advice";
import { unitsOfKind } from "./completion";
import { type Kind, kinds } from "./dimension";
import { format } from "./format";
import { affineNum } from "./number";
import { type Quantity, quantity, sideOf } from "./quantity";
import { kelvinPoint, parseUnit } from "./unit";
import { conversion } from "./unit-sum";

const celsius = parseUnit("°C");

/**
 * What to do when a value stands where another kind is wanted, as for an argument of a function: a sentence,
 * or undefined when there is nothing better to say than what is wanted. `300 K` for a temperature gives
 * "K is a difference: the temperature is `26.85 °C`."
 */
export function adviceFor(given: Quantity, wanted: Kind): string | undefined {
  const { kind } = given.unit;
  if (kind === wanted) return undefined;
  const { text } = sideOf(given);
  const number = text.split(" ")[0]!;
  if (kind === kinds.difference && wanted === kinds.temperature) {
    const { factor, shift } = conversion(kelvinPoint, celsius);
    const point = affineNum(given.n, factor, shift);
    return `K is a difference: the temperature is \`${format(quantity(point, celsius))}\`.`;
  }
  if (kind === kinds.temperature && wanted === kinds.difference) {
    return "A difference is wanted; write it in K, or take one temperature from another.";
  }
  if ((isRatioSign(given.unit) || given.unit.text === "") && kind === kinds.plain) {
    const units = unitsOfKind(wanted);
    const example = units[0];
    if (example === undefined) return undefined;
    if (isShare(wanted)) return `Write \`${number} ${example}\`.`;
    return given.unit.text === "" ? `Give the number a unit, as in \`${number} ${example}\`.` : undefined;
  }
  return bridge(kind, wanted);
}
