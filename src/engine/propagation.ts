import { type Quantity, type Spread, sigma, Trouble } from "../quantity";
import type {
  Call,
  NumberArguments,
  NumberResult,
  Parameter,
  PhysicsDeclaration,
} from "../vocabulary/declaration";
import { numberFor } from "./arguments";
import type { Draw } from "./environment";

/** Relative size of the second-order term from which the linear estimate is called poor. */
const CURVED = 0.2;

/** A measured input of a call. */
export interface Measured {
  /** Where the number stands among the arguments. */
  readonly parameter: number;
  readonly entry: number | undefined;
  /** Standard uncertainty in the numbers that `compute` is given; undefined where both its ends are no such numbers. */
  readonly step: number | undefined;
  /** Contributions by input, as multiples of `step`. */
  readonly shares: Spread;
}

/** A measured argument, with its standard uncertainty in the numbers that `compute` is given. */
export function measure(
  parameter: number,
  entry: number | undefined,
  p: Parameter,
  q: Quantity,
  callee: string,
): Measured {
  const step = sigma(q.spread);
  const at = (by: number): number | undefined => {
    try {
      return numberFor(p, { ...q, n: { v: q.n.v + by, dp: -1 } }, callee);
    } catch (error) {
      // Just outside what can be a strength or a share: the other side tells.
      if (error instanceof Trouble) return undefined;
      throw error;
    }
  };
  const up = at(step);
  const down = at(-step);
  const centre = numberFor(p, q, callee);
  const width =
    up !== undefined && down !== undefined
      ? (up - down) / 2
      : up !== undefined
        ? up - centre
        : down !== undefined
          ? centre - down
          : undefined;
  const shares = new Map<string, number>();
  for (const [input, amount] of q.spread!) shares.set(input, amount / step);
  return { parameter, entry, step: width, shares };
}

/** Parts of one record by name; "" for a single result. */
export type Parts = Readonly<Record<string, number | string | boolean | undefined>>;

export const numericParts = (result: NumberResult): readonly Parts[] =>
  typeof result === "number"
    ? [{ "": result }]
    : Array.isArray(result)
      ? (result as readonly Parts[])
      : [result as Parts];

/** Name of the model's own uncertainty as an input of one call; what stands behind the @ keeps calls apart. */
function modelInput(declaration: PhysicsDeclaration, identity: string): string {
  return `the equation of ${declaration.name} @${identity}`;
}

/** A result moved by what a Monte Carlo trial drew for the model's own uncertainty. */
export function drawnModel(
  declaration: PhysicsDeclaration,
  numbers: NumberArguments,
  result: NumberResult,
  identity: string,
  draw: Draw,
): NumberResult {
  const off = draw(modelInput(declaration, identity));
  if (off === 0 || !declaration.modelUncertainty) return result;
  const rows = numericParts(result).map((parts) => {
    const moved: Record<string, number | string | boolean | undefined> = Object.assign(
      Object.create(null),
      parts,
    );
    for (const [part, amount] of Object.entries(modelOf(declaration, numbers, parts))) {
      const centre = moved[part];
      if (typeof centre === "number") moved[part] = centre + off * amount;
    }
    return moved;
  });
  if (typeof result === "number") return rows[0]![""] as number;
  return Array.isArray(result) ? rows : rows[0]!;
}

function modelOf(
  declaration: PhysicsDeclaration,
  numbers: NumberArguments,
  parts: Parts,
): Readonly<Record<string, number>> {
  const plainParts: Record<string, number> = Object.create(null);
  for (const [part, value] of Object.entries(parts)) if (typeof value === "number") plainParts[part] = value;
  const model = declaration.modelUncertainty!(numbers, plainParts);
  const byPart = typeof model === "number" ? { "": model } : model;
  return Object.fromEntries(Object.entries(byPart).filter(([part]) => part in plainParts));
}

/** Contributions of every measured input and of the model to every part; index by row, then part name. */
export function spreadsOf(
  declaration: PhysicsDeclaration,
  numbers: NumberArguments,
  result: NumberResult,
  measured: readonly Measured[],
  again: (changed: NumberArguments) => NumberResult | undefined,
  remarks: Pick<Call, "note">,
  identity: string,
): readonly Map<string, Map<string, number>>[] {
  const rows = numericParts(result);
  const spreads = rows.map(() => new Map<string, Map<string, number>>());
  const contribute = (row: number, part: string, input: string, amount: number): void => {
    if (amount === 0 || !Number.isFinite(amount)) return;
    const parts = spreads[row]!;
    let inputs = parts.get(part);
    if (!inputs) {
      inputs = new Map();
      parts.set(part, inputs);
    }
    inputs.set(input, (inputs.get(input) ?? 0) + amount);
  };
  for (const m of measured) {
    if (m.step === 0) continue;
    const shifted = (by: number): readonly Parts[] | undefined => {
      const name = declaration.parameters[m.parameter]!.name;
      const changed: Record<string, number | readonly number[] | string | undefined> = Object.assign(
        Object.create(null),
        numbers,
      );
      if (m.entry === undefined) changed[name] = (numbers[name] as number) + by;
      else changed[name] = (numbers[name] as readonly number[]).map((v, k) => (k === m.entry ? v + by : v));
      const moved = again(changed);
      return moved === undefined ? undefined : numericParts(moved);
    };
    const up = m.step === undefined ? undefined : shifted(m.step);
    const down = m.step === undefined ? undefined : shifted(-m.step);
    if (!up && !down) {
      remarks.note("The uncertainty reaches outside the valid range on both sides; it is not carried on.");
      continue;
    }
    rows.forEach((parts, row) => {
      for (const [part, centre] of Object.entries(parts)) {
        if (typeof centre !== "number") continue;
        const high = up?.[row]?.[part];
        const low = down?.[row]?.[part];
        let amount: number;
        if (typeof high === "number" && typeof low === "number") {
          amount = (high - low) / 2;
          const bend = (high + low) / 2 - centre;
          if (Math.abs(bend) > CURVED * Math.abs(amount) && Math.abs(bend) > 1e-9 * Math.abs(centre)) {
            remarks.note(
              "The result bends strongly within the uncertainty: the ± shown is a poor linear estimate.",
            );
          }
        } else if (typeof high === "number") amount = high - centre;
        else if (typeof low === "number") amount = centre - low;
        else continue;
        // Two results that are equal in the language's sense (1e-9 of the larger) differ by rounding alone.
        if (Math.abs(amount) <= 1e-9 * Math.abs(centre)) continue;
        for (const [input, share] of m.shares) contribute(row, part, input, amount * share);
      }
    });
  }
  // Books without ± pay nothing: the model's own uncertainty is carried once something measured has one.
  if (declaration.modelUncertainty && measured.length > 0) {
    rows.forEach((parts, row) => {
      for (const [part, amount] of Object.entries(modelOf(declaration, numbers, parts))) {
        contribute(row, part, modelInput(declaration, identity), amount);
      }
    });
  }
  return spreads;
}
