import type { Answer, Shown, Sweep } from "../engine";
import { answer } from "../engine";

/** One point of a sweep, as a line of JSON holds it. */
export interface SweepPoint {
  readonly point: number;
  readonly inputs: Readonly<Record<string, Told>>;
  readonly outcomes: readonly (Told & { readonly formula: string })[];
}
type Told = Pick<Answer, "value" | "unit" | "text" | "state" | "message" | "uncertainty">;

/** Works one point out. */
export function sweepPoint(sweep: Sweep, point: number): SweepPoint {
  const inputs: Record<string, Told> = Object.create(null);
  for (const shown of sweep.inputs(point)) inputs[shown.label] = told(shown);
  return {
    point,
    inputs,
    outcomes: sweep.outcomes(point).map((shown, i) => ({ formula: sweep.shows[i]!, ...told(shown) })),
  };
}

function told(shown: Shown): Told {
  const { value, unit, text, state, message, uncertainty } = answer(shown);
  return { value, unit, text, state, message, uncertainty };
}
