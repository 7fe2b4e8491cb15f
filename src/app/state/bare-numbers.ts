import type { Reading } from "./commas";
import type { Slot } from "./slot";

/** A number without a unit, typed where one with a unit stands or belongs, is asked about: mostly the unit was forgotten. */

const NUMBER = /^[-+−]?\d+(?:[.,]\d+)?(?:\s*±\s*\d+(?:[.,]\d+)?)?$/u;
const WITH_UNIT =
  /^(?:=?\s*blank\s+in\s|[-+−]?\d+(?:[.,]\d+)?(?:\s*±\s*\d+(?:[.,]\d+)?)?)\s*((?:[\p{L}%°][\p{L}%°/·*^\d²³]*))$/u;

/** The unit behind a single number or a gap on purpose (`blank in mL`), as it is written; undefined for a formula, words, or a number without one. */
export const unitBehind = (written: string): string | undefined => WITH_UNIT.exec(written.trim())?.[1];

/** What is typed in haste for a unit, in the places where only that unit can be meant. */
const HASTY: Readonly<Record<string, RegExp>> = {
  "%vol": /\s*%$/u,
  "%mas": /\s*%$/u,
  "°C": /\s*(?:[Cc]|[°º]|º[Cc]|°c)$/u,
};

/** A number that was typed with half of a unit, without that half: `41.8%` where %vol is meant. */
export const withoutHalfUnit = (typed: string, unit: string): string =>
  typed.replace(HASTY[unit] ?? /$/u, "");

/**
 * The two readings of a number that lacks the unit its slot has, or has it only by half (`62%`, `20C`); the one with
 * the unit comes first.
 */
export function unitReadings(slot: Slot | undefined, typed: string): readonly Reading[] | undefined {
  const written = typed.trim();
  const unit = slot?.unit;
  if (unit === undefined || written === slot?.text.trim()) return undefined;
  const number = withoutHalfUnit(written, unit);
  if (!NUMBER.test(number) || number.includes(",")) return undefined;
  return [
    {
      text: `${number} ${unit}`,
      says:
        unitBehind(slot!.text) === unit
          ? "its unit as before"
          : `in the unit of its ${slot!.language === "cell" ? "column" : "step"}`,
    },
    { text: written, says: number === written ? "without a unit" : "as it is typed" },
  ];
}
