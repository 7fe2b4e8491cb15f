import type { Workings } from "../book";
import type { Calculation } from "../calculation";
import type { Scope } from "../compilation";
import type { Names, TableName } from "../names";
import type { Plan } from "../plan";
import type { Sort } from "./sort";

/** Where a formula stands: what its names mean there, and the values that they have now. */
export interface Place {
  readonly plan: Plan;
  readonly calculation: Calculation;
  readonly scope: Scope;
  /** 0-based row of the table, or -1 for a whole column's formula and outside tables. */
  readonly row: number;
  /** What the names of `scope.frames` are, as far as that is known. */
  readonly locals: ReadonlyMap<string, Sort>;
  /** Key of what the formula defines, so that it is not offered to itself. */
  readonly self?: string;
  /** How many formulas of other names were followed to come here. */
  readonly followed: number;
}

/** Outside every table and definition. */
export function outermost({ plan, calculation }: Workings): Place {
  return {
    plan,
    calculation,
    scope: { names: plan.names, place: "book", frames: [] },
    row: -1,
    locals: new Map(),
    followed: 0,
  };
}

export const namesAt = (place: Place): Names => place.plan.names;

/** The same place, seen from inside a `define`, a `find` or a curve, which adds names of its own. */
export function withLocals(place: Place, locals: ReadonlyMap<string, Sort>): Place {
  return {
    ...place,
    scope: { ...place.scope, frames: [...place.scope.frames, [...locals.keys()]] },
    locals: new Map([...place.locals, ...locals]),
  };
}

/** The same book, outside every table and definition: where the formula behind a name stands. */
export function outside(place: Place): Place {
  return { ...outermost(place), followed: place.followed + 1 };
}

/** The same place in a table: in a row, or under a column. */
export function placeIn(table: TableName, as: "row" | "foot", outside: Place): Place {
  return { ...outside, scope: { ...outside.scope, table, place: as } };
}
