import { Trouble } from "../quantity/trouble";
import { rootBetween } from "./bracket";

/**
 * Ordinary differential equations by the Dormand–Prince pair of orders 5 and 4 (J. Comput. Appl. Math. 6 (1980) 19),
 * with step control: a step is kept when the difference of the two orders is below `TOLERANCE` of each component
 * (1e-10), which leaves the results of a run converged to better than 1e-8. The same arguments give the same bits.
 */

const TOLERANCE = 1e-10;
/** Below this a component counts by its absolute error. */
const FLOOR = 1e-12;
const MOST_STEPS = 20_000;

export type State = readonly number[];
export type Slope = (t: number, state: State) => number[];

export interface Course {
  readonly t: number;
  readonly state: State;
}

const STAGES: readonly (readonly number[])[] = [
  [1 / 5],
  [3 / 40, 9 / 40],
  [44 / 45, -56 / 15, 32 / 9],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
const TIMES = [1 / 5, 3 / 10, 4 / 5, 8 / 9, 1, 1];
/** Fifth order minus fourth. */
const ERRORS = [71 / 57600, 0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40];

function step(
  slope: Slope,
  t: number,
  state: State,
  first: readonly number[],
  h: number,
): { readonly state: number[]; readonly last: number[]; readonly error: number } {
  const slopes: (readonly number[])[] = [first];
  let next: number[] = [...state];
  for (let stage = 0; stage < STAGES.length; stage++) {
    const weights = STAGES[stage]!;
    next = state.map((value, i) => {
      let sum = 0;
      for (let k = 0; k < weights.length; k++) sum += weights[k]! * slopes[k]![i]!;
      return value + h * sum;
    });
    slopes.push(slope(t + TIMES[stage]! * h, next));
  }
  let error = 0;
  for (let i = 0; i < state.length; i++) {
    let sum = 0;
    for (let k = 0; k < ERRORS.length; k++) sum += ERRORS[k]! * slopes[k]![i]!;
    const scale = FLOOR + TOLERANCE * Math.max(Math.abs(state[i]!), Math.abs(next[i]!));
    error = Math.max(error, Math.abs(h * sum) / scale);
  }
  return { state: next, last: slopes[6] as number[], error };
}

/**
 * Follows `slope` from `start` until `goal` has risen to zero or above, or to `end`.
 *
 * @param goal negative before the wanted event, and rising through zero at it; the event is located to the resolution
 *   of a double by taking the last step again with a shorter length
 * @param end where to stop at the latest
 * @returns the place and state, and whether the goal was met
 * @throws Trouble `did-not-converge` when the steps run out
 */
export function follow(
  slope: Slope,
  start: Course,
  goal: (t: number, state: State) => number,
  end: number,
  what: string,
): Course & { readonly met: boolean } {
  let { t, state } = start;
  if (goal(t, state) >= 0) return { t, state, met: true };
  let first: readonly number[] = slope(t, state);
  let h = Math.min(0.02, end - t);
  for (let count = 0; count < MOST_STEPS; count++) {
    if (t >= end) return { t, state, met: false };
    h = Math.min(h, end - t);
    const tried = step(slope, t, state, first, h);
    if (!(tried.error <= 1)) {
      h *= Number.isFinite(tried.error) ? Math.max(0.1, 0.9 * tried.error ** -0.2) : 0.1;
      if (h < 1e-14) break;
      continue;
    }
    if (goal(t + h, tried.state) >= 0) {
      const from = t;
      const before = state;
      const slopeThere = first;
      const length = rootBetween(
        (l) =>
          l === 0 ? goal(from, before) : goal(from + l, step(slope, from, before, slopeThere, l).state),
        0,
        h,
        { what },
      );
      return { t: from + length, state: step(slope, from, before, slopeThere, length).state, met: true };
    }
    t = h === end - t ? end : t + h;
    state = tried.state;
    first = tried.last;
    h *= Math.min(5, Math.max(0.2, 0.9 * (tried.error + 1e-12) ** -0.2));
  }
  throw new Trouble({
    code: "did-not-converge",
    says: `Following ${what} did not settle, so there is no answer to give.`,
    help: "Try slightly different numbers, and report the formula if it happens again.",
  });
}
