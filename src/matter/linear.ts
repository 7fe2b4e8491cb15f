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
const OPTIONS: Options = { precision: 1e-10, checkCycles: true, maxPivots: 1000 };
/** Where rounding has led the solver into a corner: looser, and then polished all the same. */
const LOOSER: Options = { ...OPTIONS, precision: 1e-8 };
/** A deviation from a goal, in parts of the spread of the stocks, that rounding may cause. */
const SLACK = 1e-9;

/** The greatest distance of a stock from a bound: it brings every coefficient to at most one. */
function spanOf(bound: Bound): number {
  let span = 0;
  for (const v of bound.of) {
    for (const end of [bound.low, bound.high]) {
      if (Number.isFinite(end)) span = Math.max(span, Math.abs(v - end));
    }
  }
  return span > 0 ? span : 1;
}

/**
 * Coefficients on a grid of 2⁻³⁰: stocks that differ by less would make the solver pivot on noise. The polish below
 * works with the true ones.
 */
const GRID = 2 ** 30;
const snapped = (coefficient: number): number => Math.round(coefficient * GRID) / GRID;

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
  objective: string,
  options: Options = OPTIONS,
): { readonly x: number[]; readonly value: number } | undefined {
  const solution = solve(
    { direction: "minimize", objective, constraints: rows, variables: columns },
    options,
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

/** Rows that keep each property between its ends; an end at infinity is none. */
function fence(bounds: readonly Bound[], rows: Rows, columns: Columns, slack: number): void {
  bounds.forEach((bound, g) => {
    const span = spanOf(bound);
    for (const [name, end, row] of [
      [`low ${g}`, bound.low, { min: -slack }],
      [`high ${g}`, bound.high, { max: slack }],
    ] as const) {
      if (!Number.isFinite(end)) continue;
      rows.set(name, row);
      bound.of.forEach((v, i) => {
        columns.get(`x ${i}`)!.set(name, snapped((v - end) / span));
      });
    }
  });
}

/**
 * The shares that come nearest to the bounds, and by how much they miss in all, in parts of each property's span.
 * Of shares that come equally near, those at the least of the objective.
 */
export function nearestTo(
  program: Program,
  objective?: Objective,
): { readonly x: readonly number[]; readonly miss: number } {
  const { rows, columns } = frame(program.caps);
  fence(program.bounds, rows, columns, 0);
  program.bounds.forEach((_, g) => {
    columns.set(
      `under ${g}`,
      new Map([
        [`low ${g}`, 1],
        ["miss", 1],
      ]),
    );
    columns.set(
      `over ${g}`,
      new Map([
        [`high ${g}`, -1],
        ["miss", 1],
      ]),
    );
  });
  const count = program.caps.length;
  const found = run(rows, columns, count, "miss") ?? run(rows, columns, count, "miss", LOOSER);
  // Caps that add to one or more always leave a blend, however far from the bounds.
  if (found === undefined) throw lost();
  if (found.value <= SLACK) return { x: found.x, miss: 0 };
  if (objective === undefined) return { x: found.x, miss: found.value };
  rows.set("miss", { max: found.value + SLACK });
  aim(rows, columns, objective);
  return { x: (run(rows, columns, count, "goal") ?? found).x, miss: found.value };
}

const lost = (): Trouble =>
  new Trouble({
    code: "did-not-converge",
    says: "The search for a blend lost itself in rounding, so there is no answer to give.",
    help: "Move a target a little, or put stocks that are alike into one.",
  });

/** Gives the columns what they add to the objective, the row "goal". */
function aim(rows: Rows, columns: Columns, objective: Objective): void {
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
}

/** The best shares, what they cost or deviate, and how far a balance is off in parts of the whole or of a span. */
export interface Found {
  readonly x: readonly number[];
  readonly value: number;
  readonly off: number;
}

/**
 * The shares that meet all bounds at the least of the objective. The bounds must be known to be possible
 * ({@link nearestTo} with no miss).
 */
export function best(program: Program, objective: Objective): Found {
  // Many equal stocks can lead the solver into a corner by rounding; with more slack it comes out, and the polish closes it.
  for (const [slack, options] of [
    [SLACK, OPTIONS],
    [10 * SLACK, LOOSER],
    [100 * SLACK, LOOSER],
  ] as const) {
    const { rows, columns } = frame(program.caps);
    fence(program.bounds, rows, columns, slack);
    aim(rows, columns, objective);
    const found = run(rows, columns, program.caps.length, "goal", options);
    if (found === undefined) continue;
    const { x, off } = polish(found.x, program);
    return { x, value: worthOf(x, objective), off };
  }
  throw lost();
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
 * possible (least squares) until they add to one and meet the bounds they touch. `off` is what a balance still lacks.
 */
function polish(
  start: readonly number[],
  program: Program,
): { readonly x: readonly number[]; readonly off: number } {
  let x = start.map((v, i) => Math.min(program.caps[i]!, Math.max(0, v)));
  for (let round = 0; round < 3; round++) {
    const free = x.map((v, i) => v > SLACK && v < program.caps[i]! - SLACK);
    const equations: { row: number[]; off: number }[] = [
      { row: x.map((_, i) => (free[i] ? 1 : 0)), off: 1 - total(x) },
    ];
    for (const bound of program.bounds) {
      const span = spanOf(bound);
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
    ...program.bounds.map((b) => Math.max(b.low - dot(b.of, x), dot(b.of, x) - b.high, 0) / spanOf(b)),
  );
  return { x, off };
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
  const span = Math.max(...of.map(Math.abs)) || 1;
  const least = best(program, { type: "cost", per: of.map((v) => v / span) });
  const most = best(program, { type: "cost", per: of.map((v) => -v / span) });
  return [dot(of, least.x), dot(of, most.x)];
}
