import { elapsed, type Run, recordOf, spanText, type Timer } from "./run";
import type { BenchStep } from "./steps";

/** Hours between 5 and 60 °C at which the usual rule changes: use at once, discard. */
export const WARM_HOURS = [2, 4] as const;
const HOUR = 3_600_000;

/** A clock that has come to its end and was not heard yet. */
export interface Alarm {
  readonly id: string;
  readonly says: string;
  readonly of:
    | { readonly clock: "wait"; readonly step: BenchStep }
    | { readonly clock: "warm"; readonly hours: number };
}

/** What has to be told now: waits that are over, hours of warmth that are reached; each until it is heard. */
export function alarmsOf(run: Run, steps: readonly BenchStep[], now: number): readonly Alarm[] {
  if (run.finishedAt !== undefined) return [];
  const alarms: Alarm[] = [];
  for (const step of steps) {
    const timer = recordOf(run, step)?.timer;
    const planned = step.wait?.milliseconds;
    if (timer === undefined || planned === undefined || timer.heard || timer.since === undefined) continue;
    if (elapsed(timer, now) < planned) continue;
    alarms.push({
      id: `step ${step.number}`,
      says: `Step ${step.number}: ${step.wait!.text} are over.`,
      of: { clock: "wait", step },
    });
  }
  const { warm } = run;
  const reached = WARM_HOURS.findLast((hours) => elapsed(warm, now) >= hours * HOUR);
  if (warm !== undefined && reached !== undefined && reached > warm.heardHours)
    alarms.push({
      id: `warm ${reached}`,
      says: `Warm clock: ${reached} h between 5 and 60 °C are reached.`,
      of: { clock: "warm", hours: reached },
    });
  return alarms;
}

/** Whether any clock of a run is going, so that time must be looked at. */
export function isTicking(run: Run): boolean {
  const going = (timer: Timer | undefined) => timer?.since !== undefined;
  return run.finishedAt === undefined && (going(run.warm) || run.steps.some((s) => going(s.timer)));
}

/** How much of a wait is left, and since when it is over. */
export function waitState(
  timer: Timer | undefined,
  planned: number | undefined,
  now: number,
): { readonly state: "not begun" | "going" | "held" | "over"; readonly shown: number } {
  if (timer === undefined) return { state: "not begun", shown: planned ?? 0 };
  const run = elapsed(timer, now);
  if (planned === undefined) return { state: timer.since === undefined ? "held" : "going", shown: run };
  if (run >= planned) return { state: "over", shown: run - planned };
  // A second that has begun is still to be waited for.
  return {
    state: timer.since === undefined ? "held" : "going",
    shown: Math.ceil((planned - run) / 1000) * 1000,
  };
}

/** What is left until the warm clock's rule changes, in words; undefined behind the last change. */
export function untilNextRule(warm: Timer | undefined, now: number): string | undefined {
  const total = elapsed(warm, now);
  const next = WARM_HOURS.find((hours) => total < hours * HOUR);
  return next === undefined ? undefined : `${spanText(next * HOUR - total)} until ${next} h are reached`;
}
