import type { Span } from "../../grammar";
import type { Trouble } from "../quantity";
import type { Fault, FaultPlace, Value } from "../vocabulary/value";
import { ColumnList } from "./blocks";
import type { Environment } from "./environment";
import { guarded } from "./fault";

/** Work of an entry of a list: it is made, and kept, so that this bounds memory too. */
const ENTRY_WORK = 40;
/** The same of an input that an uncertainty is made of. */
const INPUT_WORK = 10;

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
      if (value.type === "list" && !(value instanceof ColumnList)) {
        env.values.spend(ENTRY_WORK * value.entries.length);
        if (!value.entries.some(isPlaceless)) return value;
        const place = placeIn(env, span);
        return { ...value, entries: value.entries.map((e) => (isPlaceless(e) ? { ...e, place } : e)) };
      }
      if (value.type === "quantity" && value.spread) env.values.spend(INPUT_WORK * value.spread.size);
      // A fault that was left without a place stands here.
      return isPlaceless(value) ? { ...value, place: placeIn(env, span) } : value;
    },
  );
}

const isPlaceless = (value: Value): value is Fault => value.type === "fault" && value.place === undefined;

/** The place of a fault: the value whose formula is worked out, and where in it. */
export function placeIn(env: Environment, span: Span): FaultPlace {
  return { path: env.owner.pathOf(env.row), from: span.from, to: span.to };
}
