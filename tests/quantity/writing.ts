import {
  exact,
  format,
  type Num,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  spreadBy,
  Trouble,
} from "../../src/quantity";

/** A quantity as a person writes it: `q("2.4 L")`, `q("18 %")`, `q("61.2 ± 0.3 %vol")`, each ± its own input. */
export function q(text: string): Quantity {
  const match = /^(\S+)(?: ± (\S+))?(?: (.+))?$/.exec(text);
  if (match === null) throw new Error(`the test writes no quantity: ${text}`);
  const unit = match[3] === undefined ? plainUnit : parseUnit(match[3]);
  const value = quantity(exact(match[1]!), unit);
  if (match[2] === undefined) return value;
  inputs++;
  return spreadBy(value, quantity(exact(match[2]), unit), `input ${inputs}`);
}
let inputs = 0;

/** A value with ± under a name, so that it can be used twice as the same input. */
export function measured(name: string, value: string, by: string): Quantity {
  return spreadBy(q(value), q(by), name);
}

/** The trouble that something raises; fails when it raises none. */
export function troubleOf(work: () => unknown): Trouble {
  let result: unknown;
  try {
    result = work();
  } catch (trouble) {
    if (trouble instanceof Trouble) return trouble;
    throw trouble;
  }
  const shown =
    typeof result === "object" && result !== null && "unit" in result
      ? format(result as Quantity)
      : String(result);
  throw new Error(`no trouble was raised; it came to ${shown}`);
}

/** Everything that a trouble tells, for looking for words in it. */
export function told(work: () => unknown): string {
  const trouble = troubleOf(work);
  return `${trouble.says} ${trouble.help ?? ""}`;
}

export const isBig = (n: Num): boolean => n.big !== undefined;
