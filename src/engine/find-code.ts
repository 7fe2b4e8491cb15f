import type { Formula } from "../../grammar";
import type { Quantity } from "../quantity";
import { type Value, waiting } from "../vocabulary/value";
import type { Compilation, Scope } from "./compilation";
import type { Code, Environment } from "./environment";
import { findRoot } from "./find";
import { localCode } from "./locals";
import { plainQuantity, setKey } from "./names";
import { at } from "./places";
import type { Making } from "./search";

/** Searches that may stand one inside the other. */
const MOST_SEARCHES = 2;
/** Work of one trial of a search beside that of its goal: a calculation is laid over the book. */
const TRIAL_WORK = 50;

/** Code of a `find`: each trial works out both sides of its goal for another value. */
export function findCode(node: Formula & { type: "find" }, scope: Scope, into: Compilation): Code {
  const { goal, name } = node;
  const from = into.formula(node.from, scope);
  const to = into.formula(node.to, scope);
  if (goal.type !== "compare" || goal.operator !== "is") {
    return into.trouble(goal.span, {
      code: "find-goal",
      says: "`find` looks for the place where one thing `is` another.",
      help: "Write `so that … is …`.",
    });
  }
  if (into.searches >= MOST_SEARCHES) {
    return into.trouble(node.span, {
      code: "find-nested",
      says: "This is a `find` inside a `find` inside a `find`; one inside another is the most.",
      help: "Give the inner search a name of its own with `set`.",
    });
  }
  const set = scope.names.sets.get(name);
  const turning =
    set?.formula !== undefined &&
    plainQuantity(set.formula) &&
    localCode(name, scope) === undefined &&
    !(scope.table?.byName.has(name) ?? false);
  if (turning) into.turned.add(name);
  const inner = into.withinSearch();
  const goalScope: Scope = turning ? scope : { ...scope, frames: [...scope.frames, [name]] };
  const left = inner.formula(goal.left, goalScope);
  const right = inner.formula(goal.right, goalScope);
  const key = setKey(name);
  into.absorb(inner, turning ? key : undefined);
  const wanted = new Set(inner.references.keys());
  return (env) =>
    at(env, node.span, () => {
      const path = env.owner.pathOf(env.row);
      const sides = (x: Quantity) => {
        env.values.spend(TRIAL_WORK + inner.size);
        if (turning) {
          const within: Environment = { ...env, values: env.values.trial(key, x, wanted) };
          return { left: left(within), right: right(within) };
        }
        const within: Environment = { ...env, locals: { values: [x], outer: env.locals } };
        return { left: left(within), right: right(within) };
      };
      const low = from(env);
      const high = to(env);
      const made = (search?: Making): Value => findRoot(name, low, high, sides, search);
      const { searches } = env.values;
      if (!searches) return made();
      return searches.make(`${path}${env.route} ${node.span.from}`, made, () =>
        waiting(`\`${name}\` is still being searched for`, env.owner.isSink ? undefined : path),
      );
    });
}
