import { isPlain, parseFormula } from "../../../grammar";
import type { Book, Shown, StepItem } from "../../engine";
import {
  convert,
  format,
  formatParts,
  parseUnit,
  type Quantity,
  sigma,
  subtract,
  unitExists,
} from "../../quantity";
import { withoutHalfUnit } from "../state/bare-numbers";
import { type Reading as CommaReading, readings as commaReadings } from "../state/commas";
import { asked, type Wanted } from "./wanted";

/** What a typed reading comes to. */
export type Read =
  | { readonly state: "empty" }
  /** Words or a day, for a column that holds such. */
  | { readonly state: "words"; readonly written: string }
  | {
      readonly state: "read";
      readonly value: Quantity;
      /** The number without its unit, as it was typed when it needed no conversion: what a cell under a unit holds. */
      readonly number: string;
      /** Unit of the field, "" for none. */
      readonly unit: string;
      /** Told when it was read in another way than it was typed: a decimal comma, another unit. */
      readonly says?: string;
    }
  /** A comma that may mean two numbers: which one is for the person to say. */
  | { readonly state: "unclear"; readonly choices: readonly CommaReading[] }
  | { readonly state: "refused"; readonly says: string; readonly help?: string };

type Ask = StepItem["asks"][number];

/** Reads what was typed for a step's question: a decimal comma is understood, a typed unit converted. */
export function readReading(book: Book, ask: Ask, typed: string): Read {
  const wanted = asked(book, ask.path);
  return readTyped(book, typed, ask.unit, wanted === undefined ? "quantity" : wanted.holds);
}

/** Reads a quantity, a day or words; a number without a unit has that of the field. */
export function readTyped(book: Book, typed: string, unit: string, holds: Wanted["holds"]): Read {
  const line = typed.replace(/[\p{Cc}\u2028\u2029]+/gu, " ").trim();
  if (line === "") return { state: "empty" };
  if (holds === "words") return { state: "words", written: line };
  if (holds === "date") return readDay(line);

  const points = withoutCommas(line);
  if (typeof points !== "string") return { state: "unclear", choices: points };
  const commas = withoutHalfUnit(points, unit);
  const bare = /^[-+−]?\d+(\.\d+)?(\s*±\s*\d+(\.\d+)?)?$/u.test(commas);
  const formula = (bare && unit !== "" ? `${commas} ${unit}` : commas).replace("−", "-");
  const parsed = parseFormula(formula);
  const fault = parsed.messages.find((m) => m.severity === "fault");
  if (fault !== undefined) return refusal(fault.says, fault.help);
  if (!isPlain(parsed.formula) || parsed.formula.type === "text" || parsed.formula.type === "date")
    return refusal(
      `“${line}” is not one number.`,
      unit === ""
        ? "Type the number that was read."
        : `Type the number that was read; ${unit} is meant when no unit stands behind it.`,
    );
  const value = book.ask(formula).raw;
  if (value.type === "fault") return refusal(value.says, value.help);
  if (value.type !== "quantity") return refusal(`“${line}” is not one number.`);
  if (bare || unit === "") {
    const says = commas === line ? undefined : `read as ${format(value)}`;
    const number = unit === "" ? formula : commas.replace("−", "-");
    return { state: "read", value, number, unit, ...(says === undefined ? {} : { says }) };
  }
  const inUnit = book.ask(`${formula} in ${unit}`);
  if (inUnit.raw.type === "fault") return refusal(inUnit.raw.says, inUnit.raw.help);
  if (inUnit.raw.type !== "quantity") return refusal(`“${line}” is no amount in ${unit}.`);
  const own = value.unit.text === inUnit.raw.unit.text;
  const says = own && commas === line ? undefined : `read as ${format(inUnit.raw)}`;
  return {
    state: "read",
    value: inUnit.raw,
    number: numberText(inUnit.raw),
    unit,
    ...(says === undefined ? {} : { says }),
  };
}

const refusal = (says: string, help?: string): Read =>
  help === undefined ? { state: "refused", says } : { state: "refused", says, help };

function readDay(line: string): Read {
  const { formula, messages } = parseFormula(line);
  if (formula.type === "date" && messages.length === 0) return { state: "words", written: line };
  return refusal(`“${line}” is no day.`, "Write a day as 2026-02-03: year, month, day.");
}

/** The line with points for commas, or the readings between which only the person can choose. */
function withoutCommas(line: string): string | readonly CommaReading[] {
  const halves = line.split("±");
  const read: string[] = [];
  for (const [i, half] of halves.entries()) {
    const found = commaReadings(half.trim());
    if (found === undefined) {
      read.push(half.trim());
      continue;
    }
    if (found.length > 1)
      return found.map((choice) => ({
        ...choice,
        text: halves.map((h, j) => (i === j ? choice.text : h.trim())).join(" ± "),
      }));
    read.push(found[0]!.text);
  }
  return read.join(" ± ");
}

/** The number of a quantity with all its decimals, and its ± where it has one, without the unit. */
export function numberText(value: Quantity): string {
  const bare = formatParts({ ...value, spread: undefined }, { digits: 12 }).number;
  const by = sigma(value.spread);
  return by === 0 ? bare : `${bare} ± ${Number(by.toPrecision(6))}`;
}

/** How a reading stands to its plan. */
export interface Deviation {
  readonly state: "as planned" | "within" | "outside" | "off";
  /** "12 mL under the plan, within its ± 12 mL". */
  readonly says: string;
  /** "495.5 g under the plan", where it lies so far from it that something was probably misread or went wrong. */
  readonly far?: string;
}

/*
 * How far is far. A ± is a standard uncertainty: one reading in twenty lies outside twice of it, by the normal
 * distribution. Where a plan has none, a tenth of it, and for a temperature, whose nought means nothing, 10 K: both
 * chosen here, wider than what a kitchen's scale, jug or thermometer is out by, and narrower than a vessel forgotten.
 */
const FAR_IN_SPREADS = 2;
const FAR_IN_SHARES = 0.1;
const FAR_IN_KELVIN = 10;

/**
 * The distance of a reading from its plan, in words. The ± of the plan is what it allows; without one there is a
 * distance and no judgement. Undefined when the plan has no value yet.
 */
export function deviationFrom(expect: Shown | undefined, value: Quantity): Deviation | undefined {
  if (expect === undefined || expect.value.type !== "quantity") return undefined;
  const plan = expect.value;
  if (plan.unit.kind !== value.unit.kind) return undefined;
  const bare = (q: Quantity): Quantity => ({ ...q, spread: undefined, notes: undefined });
  const here = convert(bare(value), plan.unit);
  const distance = subtract(here, bare(plan));
  const allowed = sigma(plan.spread);
  const unit = distance.unit.text;
  const withUnit = (n: string) => (unit === "" ? n : `${n} ${unit}`);
  const plusMinus = `± ${withUnit(formatted(allowed))}`;
  const size = Math.abs(distance.n.v);
  // A hair's breadth of slack: readings that lie on the edge of the plan lie within it.
  if (size <= 1e-9 * Math.max(1, Math.abs(plan.n.v))) return { state: "as planned", says: "as planned" };
  const number = formatParts(distance, { digits: 4 }).number.replace("-", "");
  const off = `${withUnit(number)} ${distance.n.v < 0 ? "under" : "over"} the plan`;
  const far = size > farFrom(plan, allowed) * (1 + 1e-9) ? { far: off } : {};
  if (allowed === 0) return { state: "off", says: off, ...far };
  return size <= allowed * (1 + 1e-9)
    ? { state: "within", says: `${off}, within its ${plusMinus}` }
    : { state: "outside", says: `${off}, outside its ${plusMinus}`, ...far };
}

/** From which distance on a reading is far from its plan, in the unit of that distance. A plan of nought without a ± has none. */
function farFrom(plan: Quantity, allowed: number): number {
  if (allowed > 0) return FAR_IN_SPREADS * allowed;
  // The distance of two temperatures is in K, whatever their unit.
  if (plan.unit.offset !== undefined) return FAR_IN_KELVIN;
  return plan.n.v === 0 ? Number.POSITIVE_INFINITY : FAR_IN_SHARES * Math.abs(plan.n.v);
}

const formatted = (n: number): string => Number(n.toPrecision(4)).toString();

/** A reading in another unit of its kind, as a cell under that unit holds it. */
export function numberIn(value: Quantity, unit: string): string | undefined {
  if (!unitExists(unit)) return undefined;
  const there = parseUnit(unit);
  if (there.kind !== value.unit.kind) return undefined;
  return numberText(convert(value, there));
}
