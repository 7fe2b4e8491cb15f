/** Round numbers for an axis, and where on it a value stands. Pure arithmetic, no drawing. */

export interface Axis {
  readonly low: number;
  readonly high: number;
  readonly step: number;
  readonly ticks: readonly number[];
  /** Decimals that every tick needs. */
  readonly decimals: number;
}

/** A scale with round ticks that holds all values, about `wanted` steps long; from zero when `fromZero`. */
export function axisFor(values: readonly number[], wanted: number, fromZero = false): Axis {
  const finite = values.filter(Number.isFinite);
  let low = finite.length === 0 ? 0 : Math.min(...finite);
  let high = finite.length === 0 ? 1 : Math.max(...finite);
  if (fromZero) {
    low = Math.min(0, low);
    high = Math.max(0, high);
  }
  if (low === high) {
    const room = low === 0 ? 1 : Math.abs(low) * 0.1;
    low -= fromZero && low >= 0 ? 0 : room;
    high += room;
  }
  const step = roundStep((high - low) / Math.max(1, wanted));
  const first = Math.floor(low / step + 1e-9);
  const last = Math.ceil(high / step - 1e-9);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: number[] = [];
  for (let i = first; i <= last; i++) ticks.push(Number((i * step).toFixed(decimals)));
  return { low: ticks[0]!, high: ticks.at(-1)!, step, ticks, decimals };
}

/** An axis that ends exactly where the range ends, with the round ticks inside it. */
export function axisWithin(low: number, high: number, wanted: number, endsToo = false): Axis {
  const [a, b] = low <= high ? [low, high] : [high, low];
  if (a === b) return axisFor([a], wanted);
  const step = roundStep((b - a) / Math.max(1, wanted));
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: number[] = [];
  for (let i = Math.ceil(a / step - 1e-9); i * step <= b + step * 1e-9; i++)
    ticks.push(Number((i * step).toFixed(decimals)));
  // The ends of a range that was asked for are told too, where they do not crowd a tick.
  for (const end of endsToo ? [a, b] : [])
    if (ticks.every((t) => Math.abs(t - end) > step * 0.55)) ticks.push(Number(end.toFixed(decimals)));
  ticks.sort((x, y) => x - y);
  return { low: a, high: b, step, ticks, decimals };
}

/** An axis of days with a day's room at both ends; where no round days fall between them it tells the first and the last. */
export function dayAxis(days: readonly number[], wanted: number): Axis {
  const [first, last] = [Math.min(...days), Math.max(...days)];
  const axis = axisWithin(first - 1, last + 1, wanted);
  const within = axis.ticks.filter((t) => t >= first && t <= last);
  return { ...axis, ticks: within.length > 1 ? within : [...new Set([first, last])] };
}

/** The next of 1, 2, 5 times a power of ten. */
export function roundStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  const times = [1, 2, 5, 10].find((m) => m * power >= rough * (1 - 1e-9))!;
  return times * power;
}

/** Where a value stands between two ends of a drawing. */
export const along = (axis: Axis, value: number, from: number, to: number): number =>
  from + ((value - axis.low) / (axis.high - axis.low)) * (to - from);

export const tickText = (axis: Axis, value: number): string => {
  if (Math.abs(value) >= 1e7) return value.toExponential(1);
  return value.toFixed(axis.decimals).replace("-", "−");
};

/** The day that a count of days since 1970-01-01 stands for, as ISO text. */
export const dayText = (day: number): string =>
  new Date(Math.round(day) * 86_400_000).toISOString().slice(0, 10);
