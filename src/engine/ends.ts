import { convert, fromSI, type Quantity, toSI } from "../quantity";

/** Where a search or a curve ends, as a number in the unit in which it begins: `20 °C` to `140 °F` ends at 60. */
export function inUnitOf(to: Quantity, { unit }: Quantity): number {
  // A water content beside a percentage shares no conversion with it, but the number behind both.
  return to.unit.kind === unit.kind ? convert(to, unit).n.v : fromSI(toSI(to), unit).n.v;
}
