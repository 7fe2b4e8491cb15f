import { BLOCK, WHOLES } from "./blocks";

/**
 * Loops over the rows of a block, one for each operation: a loop that is written out stays fast however many
 * formulas a book has, where one loop that is handed its operation does not. `n` is how many rows there are;
 * `out` may be one of the operands.
 */
export type Run = Float64Array;

export function addRuns(out: Run, x: Run, y: Run, n: number): void {
  for (let i = 0; i < n; i++) out[i] = x[i]! + y[i]!;
}
export function addNumber(out: Run, x: Run, k: number, n: number): void {
  for (let i = 0; i < n; i++) out[i] = x[i]! + k;
}
export function subtractRuns(out: Run, x: Run, y: Run, n: number): void {
  for (let i = 0; i < n; i++) out[i] = x[i]! - y[i]!;
}
/** k − x. */
export function subtractFrom(out: Run, k: number, x: Run, n: number): void {
  for (let i = 0; i < n; i++) out[i] = k - x[i]!;
}
export function multiplyRuns(out: Run, x: Run, y: Run, n: number): void {
  for (let i = 0; i < n; i++) out[i] = x[i]! * y[i]!;
}
export function multiplyBy(out: Run, x: Run, k: number, n: number): void {
  for (let i = 0; i < n; i++) out[i] = x[i]! * k;
}
/** Division by 0 gives no finite number, which is left to the careful path. */
export function divideRuns(out: Run, x: Run, y: Run, n: number): void {
  for (let i = 0; i < n; i++) out[i] = x[i]! / y[i]!;
}
export function divideBy(out: Run, x: Run, k: number, n: number): void {
  for (let i = 0; i < n; i++) out[i] = x[i]! / k;
}
/** k / x. */
export function divideInto(out: Run, k: number, x: Run, n: number): void {
  for (let i = 0; i < n; i++) out[i] = k / x[i]!;
}
/** Each the double nearest to its decimal; −0 becomes 0. */
export function roundTo(out: Run, x: Run, scale: number, n: number): void {
  for (let i = 0; i < n; i++) out[i] = (x[i]! * scale + WHOLES - WHOLES) / scale;
}
/** The same of x times k. */
export function roundProduct(out: Run, x: Run, k: number, scale: number, n: number): void {
  for (let i = 0; i < n; i++) out[i] = (x[i]! * k * scale + WHOLES - WHOLES) / scale;
}
export function roundWhole(out: Run, x: Run, n: number): void {
  for (let i = 0; i < n; i++) out[i] = x[i]! + WHOLES - WHOLES;
}

/** Turns −0 into 0, and tells whether every number is finite. */
export function finish(x: Run): boolean {
  let trace = 0;
  for (let i = 0; i < x.length; i++) {
    const v = x[i]! + 0;
    x[i] = v;
    trace += v * 0;
  }
  return trace === 0;
}

/** Blocks for what is worked out on the way, used again and again. A calculation within one takes others. */
const free: Run[] = [];
export const takeRun = (): Run => free.pop() ?? new Float64Array(BLOCK);
export function giveBack(runs: readonly Run[]): void {
  for (const run of runs) if (free.length < 64) free.push(run);
}
