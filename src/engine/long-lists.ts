import type { Value } from "../vocabulary/value";
import type { Allowance, Cost } from "./allowance";

/** Thrown in the middle of a formula, to leave it for a while. */
export class Left {}

/** What an entry of a list came to, or the error that it met, and what it took. */
interface Entry {
  readonly value: Value | undefined;
  readonly error?: unknown;
  readonly took: Cost;
}

/** Pieces of work after which a formula is left: what it does before its lists is done again each time. */
const PIECES = 10;

/**
 * The physics that one formula works out entry by entry over long lists. The formula is left in the middle, worked out
 * again from its beginning later, and then finds each list where it was left. What the entries took counts once.
 */
export class LongLists {
  private readonly allowance: Allowance;
  private readonly lists = new Map<string, Entry[]>();
  /** How often each place was met since the formula was begun: a `where` comes to it again and again. */
  private readonly times = new Map<string, number>();
  private done = 0;

  constructor(allowance: Allowance) {
    this.allowance = allowance;
  }

  /** The formula is begun again. */
  begin(): void {
    this.times.clear();
    this.done = 0;
  }

  /** Works out the entries of the list at a place, one after the other, or recalls them. */
  entries(place: string): (make: () => Value) => Value {
    const time = (this.times.get(place) ?? 0) + 1;
    this.times.set(place, time);
    const key = `${time} ${place}`;
    const list = this.lists.get(key) ?? [];
    this.lists.set(key, list);
    let next = 0;
    return (make) => {
      const entry = list[next] ?? this.made(make);
      if (next === list.length) list.push(entry);
      else this.allowance.charge(entry.took);
      next++;
      if (entry.value === undefined) throw entry.error;
      return entry.value;
    };
  }

  private made(make: () => Value): Entry {
    if (this.done >= PIECES * this.allowance.piece) throw new Left();
    const { counted } = this.allowance;
    let value: Value | undefined;
    let error: unknown;
    try {
      value = make();
    } catch (thrown) {
      error = thrown;
    }
    const took = this.allowance.since(counted);
    this.done += took.work;
    return { value, error, took };
  }
}
