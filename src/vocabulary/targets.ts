import type { Mix, Rounding, Target } from "../matter/composition";
import { strengthOfSweet } from "../matter/sweet";
import { fromSI, type Quantity, Trouble, toSI, type Unit } from "../quantity";
import { entriesOf, quantityOf } from "./entries";
import { isMass } from "./parameters";
import { type Args, byVolumeOf, type Column, ethanolWanted, type Plan, type Pricing } from "./stocks";
import type { Value } from "./value";

/** The targets of `compose`: a value or a range of strength, solids, content or price. */

/** Least and most of a target: one value, or a list of two. */
function rangeOf(name: string, value: Value): readonly [Quantity, Quantity] {
  const entries = entriesOf(value);
  const found = entries.map((e) => quantityOf(name, e));
  if (found.length === 1) return [found[0]!, found[0]!];
  if (found.length === 2 && toSI(found[0]!) <= toSI(found[1]!)) return [found[0]!, found[1]!];
  throw new Trouble({
    code: "target-range",
    says: `\`${name}\` wants one value, or a list of two, the least and the most.`,
    help: "For example `to_strength: 42 %vol` or `to_strength: [40 %vol, 43 %vol]`.",
  });
}

/** A target without its column, or the other way round. */
function needColumn(args: Args, target: string, column: Column): void {
  if (args[target] === undefined || args[column] !== undefined) return;
  throw new Trouble({
    code: "missing-argument",
    says: `\`${target}\` is a target, but what the stocks have of it is not given.`,
    help: `Give the list: \`${column}: stocks.${column}\`.`,
  });
}

const DIGITS = 5;
export const trimmed = (x: number): number => Number(x.toPrecision(DIGITS));

/** Five digits, the last one rounded to the side that is asked for. */
function rounded(x: number, way: Rounding): number {
  if (way === "near" || x === 0) return trimmed(x);
  const step = 10 ** (Math.floor(Math.log10(Math.abs(x))) + 1 - DIGITS);
  const steps = x / step;
  const whole = Math.round(steps);
  // What is whole to the solver's rounding is whole.
  const chosen =
    Math.abs(steps - whole) < 1e-5 ? whole : way === "down" ? Math.floor(steps) : Math.ceil(steps);
  return trimmed(chosen * step);
}

/** A value in SI told in a unit of the book. */
const told = (si: number, unit: Unit, way: Rounding): string =>
  `${rounded(fromSI(si, unit).n.v, way)} ${unit.text}`.trimEnd();

export function targetsOf(args: Args, plan: Plan, pricing: Pricing | undefined): readonly Target[] {
  const targets: Target[] = [];
  if (args.to_strength !== undefined) {
    needColumn(args, "to_strength", "strength");
    const range = rangeOf("to_strength", args.to_strength);
    const byVolume = byVolumeOf(range[0]) !== undefined;
    targets.push({
      name: "to_strength",
      of: plan.ethanol,
      bounds: (mix) => [ethanolWanted(range[0], mix.solids), ethanolWanted(range[1], mix.solids)],
      show: (e, mix, way) =>
        byVolume
          ? `${rounded(100 * strengthOfSweet(e, mix.solids), way)} %vol`
          : `${rounded(100 * e, way)} %mas`,
    });
  }
  if (args.to_solids !== undefined) {
    needColumn(args, "to_solids", "solids");
    const [low, high] = rangeOf("to_solids", args.to_solids).map(toSI) as [number, number];
    targets.push({
      name: "to_solids",
      of: plan.sugar,
      bounds: () => [low, high],
      show: (w, _mix, way) => `${rounded(100 * w, way)} °Bx`,
    });
  }
  if (args.to_content !== undefined) {
    needColumn(args, "to_content", "content");
    const range = rangeOf("to_content", args.to_content);
    const [low, high] = range.map(toSI) as [number, number];
    targets.push({
      name: "to_content",
      of: plan.rows.map((r) => toSI(r.cells.content!)),
      bounds: () => [low, high],
      show: (x, _mix, way) => told(x, range[0].unit, way),
    });
  }
  if (args.to_price !== undefined) {
    needColumn(args, "to_price", "price");
    targets.push(priceTarget(rangeOf("to_price", args.to_price), plan, pricing!));
  }
  return targets;
}

/** A single price is the most that the mix may cost; a list of two, the least and the most. */
function priceTarget(range: readonly [Quantity, Quantity], plan: Plan, pricing: Pricing): Target {
  const first = plan.rows[0]!.cells.price!;
  if (range[0].unit.kind !== first.unit.kind) {
    throw new Trouble({
      code: "kinds-differ",
      says: `\`to_price\` is ${range[0].unit.kind.name} and the prices are ${first.unit.kind.name}.`,
      help: "Give both in one currency, for a mass or for a volume.",
    });
  }
  const perKilogram = (mix: Mix): number => (isMass(pricing.basis.kind) ? 1 : 1 / mix.density);
  const low = range[0] === range[1] ? Number.NEGATIVE_INFINITY : toSI(range[0]);
  return {
    name: "to_price",
    of: pricing.per,
    bounds: (mix) => [low * perKilogram(mix), toSI(range[1]) * perKilogram(mix)],
    show: (x, mix, way) => told(x / perKilogram(mix), range[0].unit, way),
  };
}
