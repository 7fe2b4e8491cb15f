import { type Constraint, type Options, solve } from "yalps";
import { Trouble } from "../quantity/trouble";

/**
 * Shares of several stocks that meet goals: linear programs over shares that add to one. Properties that add by
 * mass are linear in the mass shares, so the whole question is one.
 */

/** A property of the mix that must lie between two values; equal ones make it exact. */
export interface Bound {
  /** The property of each stock. */
  readonly of: readonly number[];
  readonly low: number;
  readonly high: number;
}

/** Least cost (per unit of share) or least sum of deviations of `scale_i * x_i` from `wish_i`. */
export type Objective =
  | { readonly type: "cost"; readonly per: readonly number[] }
  | { readonly type: "wish"; readonly shares: readonly number[]; readonly scale: readonly number[] };

export interface Program {
  /** Most of each stock, as a share of the whole; together at least one. */
  readonly caps: readonly number[];
  readonly bounds: readonly Bound[];
}

/** Tighter than the solver's usual 1e-8; what is left is polished away below. */
const OPTIONS: Options = { precision: 1e-10, checkCycles: true, maxPivots: 20_000 };
/** A deviation from a goal, in parts of the spread of the stocks, that rounding may cause. */
const SLACK = 1e-9;

const spanOf = (of: readonly number[]): number => {
  const span = Math.max(...of) - Math.min(...of);
  return span > 0 ? span : Math.max(1, Math.abs(of[0] ?? 1));
};

type Rows = Map<string, Constraint>;
type Columns = Map<string, Map<string, number>>;

/** The rows and columns that every program shares: shares add to one, and no stock gives more than it has. */
function frame(caps: readonly number[]): { readonly rows: Rows; readonly columns: Columns } {
  const rows: Rows = new Map([["whole", { equal: 1 }]]);
  const columns: Columns = new Map();
  caps.forEach((cap, i) => {
    const column = new Map([["whole", 1]]);
    if (cap < 1) {
      rows.set(`cap ${i}`, { max: cap });
      column.set(`cap ${i}`, 1);
    }
    columns.set(`x ${i}`, column);
  });
  return { rows, columns };
}

function run(
  rows: Rows,
  columns: Columns,
  count: number,
): { readonly x: number[]; readonly value: number } | undefined {
  const solution = solve(
    { direction: "minimize", objective: "goal", constraints: rows, variables: columns },
    OPTIONS,
  );
  if (solution.status === "infeasible") return undefined;
  if (solution.status !== "optimal") {
    throw new Trouble({
      code: "did-not-converge",
      says: "The search for a blend did not come to an end, so there is no answer to give.",
      help: "Try with fewer stocks or with targets a little further apart.",
    });
  }
  const x = new Array<number>(count).fill(0);
  for (const [key, value] of solution.variables) {
    if (key.startsWith("x ")) x[Number(key.slice(2))] = value;
  }
  return { x, value: solution.result };
}

/** The shares that come nearest to the bounds, and by how much they miss in all, in parts of each property's span. */
export function nearestTo(program: Program): { readonly x: readonly number[]; readonly miss: number } {
  const { rows, columns } = frame(program.caps);
  program.bounds.forEach((bound, g) => {
    const span = spanOf(bound.of);
    rows.set(`low ${g}`, { min: 0 });
    rows.set(`high ${g}`, { max: 0 });
    bound.of.forEach((v, i) => {
      columns.get(`x ${i}`)!.set(`low ${g}`, (v - bound.low) / span);
      columns.get(`x ${i}`)!.set(`high ${g}`, (v - bound.high) / span);
    });
    columns.set(
      `under ${g}`,
      new Map([
        [`low ${g}`, 1],
        ["goal", 1],
      ]),
    );
    columns.set(
      `over ${g}`,
      new Map([
        [`high ${g}`, -1],
        ["goal", 1],
      ]),
    );
  });
  const found = run(rows, columns, program.caps.length);
  // Caps that add to one or more always leave a blend, however far from the bounds.
  if (found === undefined) throw impossibleFrame();
  return { x: found.x, miss: found.value <= SLACK ? 0 : found.value };
}

const impossibleFrame = (): Trouble =>
  new Trouble({
    code: "too-little",
    says: "The stocks together come to less than the total.",
    help: "Ask for less, or add a stock.",
  });

/**
 * The shares that meet all bounds at the least of the objective. The bounds must be known to be possible
 * ({@link nearestTo} with no miss).
 */
export function best(
  program: Program,
  objective: Objective,
): { readonly x: readonly number[]; readonly value: number } {
  const { rows, columns } = frame(program.caps);
  program.bounds.forEach((bound, g) => {
    const span = spanOf(bound.of);
    rows.set(`low ${g}`, { min: -SLACK });
    rows.set(`high ${g}`, { max: SLACK });
    bound.of.forEach((v, i) => {
      columns.get(`x ${i}`)!.set(`low ${g}`, (v - bound.low) / span);
      columns.get(`x ${i}`)!.set(`high ${g}`, (v - bound.high) / span);
    });
  });
  if (objective.type === "cost") {
    const span = Math.max(...objective.per.map(Math.abs)) || 1;
    objective.per.forEach((c, i) => {
      columns.get(`x ${i}`)!.set("goal", c / span);
    });
  } else {
    objective.shares.forEach((wish, i) => {
      rows.set(`wish ${i}`, { equal: wish });
      columns.get(`x ${i}`)!.set(`wish ${i}`, objective.scale[i]!);
      columns.set(
        `more ${i}`,
        new Map([
          [`wish ${i}`, -1],
          ["goal", 1],
        ]),
      );
      columns.set(
        `less ${i}`,
        new Map([
          [`wish ${i}`, 1],
          ["goal", 1],
        ]),
      );
    });
  }
  const found = run(rows, columns, program.caps.length);
  if (found === undefined) {
    throw new Trouble({
      code: "did-not-converge",
      says: "The search for a blend lost itself at the edge of what is possible, so there is no answer to give.",
      help: "Move a target a little.",
    });
  }
  const x = polish(found.x, program);
  return { x, value: worthOf(x, objective) };
}

/** The objective at these shares. */
export function worthOf(x: readonly number[], objective: Objective): number {
  let sum = 0;
  x.forEach((share, i) => {
    sum +=
      objective.type === "cost"
        ? objective.per[i]! * share
        : Math.abs(objective.scale[i]! * share - objective.shares[i]!);
  });
  return sum;
}

/**
 * Rids a solution of the solver's rounding: the shares strictly between nothing and their cap are moved as little as
 * possible (least squares) until they add to one and meet the bounds they touch.
 *
 * @throws Trouble `did-not-converge` when a balance would still be off by more than 1e-9
 */
function polish(start: readonly number[], program: Program): readonly number[] {
  let x = start.map((v, i) => Math.min(program.caps[i]!, Math.max(0, v)));
  for (let round = 0; round < 3; round++) {
    const free = x.map((v, i) => v > SLACK && v < program.caps[i]! - SLACK);
    const equations: { row: number[]; off: number }[] = [
      { row: x.map((_, i) => (free[i] ? 1 : 0)), off: 1 - total(x) },
    ];
    for (const bound of program.bounds) {
      const span = spanOf(bound.of);
      const value = dot(bound.of, x);
      const touches =
        bound.low === bound.high || value < bound.low + 1e-7 * span
          ? bound.low
          : value > bound.high - 1e-7 * span
            ? bound.high
            : undefined;
      if (touches === undefined) continue;
      equations.push({
        row: bound.of.map((v, i) => (free[i] ? (v - touches) / span : 0)),
        off: -dot(
          bound.of.map((v) => (v - touches) / span),
          x,
        ),
      });
    }
    const step = leastSquaresStep(equations);
    x = x.map((v, i) => Math.min(program.caps[i]!, Math.max(0, v + (step[i] ?? 0))));
  }
  const off = Math.max(
    Math.abs(total(x) - 1),
    ...program.bounds.map((b) => Math.max(b.low - dot(b.of, x), dot(b.of, x) - b.high, 0) / spanOf(b.of)),
  );
  if (off > 1e-9) {
    throw new Trouble({
      code: "did-not-converge",
      says: "A blend was found, but its balance does not close to one part in a billion, so it is not given.",
      help: "Move a target a little.",
    });
  }
  return x;
}

const total = (x: readonly number[]): number => x.reduce((a, b) => a + b, 0);
const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, v, i) => sum + v * b[i]!, 0);

/** The shortest step d with row · d = off for each equation that the others do not already decide. */
function leastSquaresStep(
  equations: readonly { readonly row: readonly number[]; readonly off: number }[],
): number[] {
  const width = equations[0]!.row.length;
  // Gram–Schmidt over the rows: each new direction carries what the earlier ones do not reach.
  const basis: { direction: number[]; off: number }[] = [];
  for (const { row, off } of equations) {
    const direction = row.slice();
    let rest = off;
    for (const b of basis) {
      const along = dot(direction, b.direction);
      for (let i = 0; i < width; i++) direction[i]! -= along * b.direction[i]!;
      rest -= along * b.off;
    }
    const length = Math.sqrt(dot(direction, direction));
    if (length < 1e-7) continue;
    basis.push({ direction: direction.map((v) => v / length), off: rest / length });
  }
  const step = new Array<number>(width).fill(0);
  for (const b of basis) for (let i = 0; i < width; i++) step[i]! += b.off * b.direction[i]!;
  return step;
}

/** Least and most that a property can be with these caps, all other bounds held. */
export function reach(of: readonly number[], program: Program): readonly [low: number, high: number] {
  const span = spanOf(of);
  const least = best(program, { type: "cost", per: of.map((v) => v / span) });
  const most = best(program, { type: "cost", per: of.map((v) => -v / span) });
  return [dot(of, least.x), dot(of, most.x)];
}
