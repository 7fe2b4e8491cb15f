import type { Span } from "../../grammar";
import type { Trouble } from "../quantity";
import type { FaultPlace, Value } from "../vocabulary/value";
import type { Environment } from "./environment";
import { guarded } from "./fault";

/** Runs an operation whose trouble becomes a fault at `span` of the formula, or where `spanOf` says. */
export function at(
  env: Environment,
  span: Span,
  work: () => Value,
  spanOf?: (trouble: Trouble) => Span,
): Value {
  return guarded(
    (trouble) => placeIn(env, spanOf ? spanOf(trouble) : span),
    () => {
      const value = work();
      // A fault that an entry-wise operation left without a place stands here.
      if (value.type === "fault" && value.place === undefined)
        return { ...value, place: placeIn(env, span)! };
      return value;
    },
  );
}

/** The place of a fault: the value whose formula is worked out, and where in it. */
export function placeIn(env: Environment, span: Span): FaultPlace {
  return { path: env.owner.pathOf(env.row), from: span.from, to: span.to };
}
