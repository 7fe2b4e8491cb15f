import type { Gap, Value } from "../vocabulary/value";
import { ColumnStore } from "./blocks";

/** A gap with the value that stood in its place before the change that is being worked out, if it was a single one. */
export function lastly(gap: Gap, before: Value | undefined): Gap {
  const was = before?.type === "gap" ? before.was : before;
  if (was === undefined || was.type === "list" || was.type === "record" || was.type === "fault") return gap;
  return { ...gap, was };
}

/** A column of which nothing is worked out yet: gaps, each with what stood in its row before. */
export class StandIn extends ColumnStore {
  private readonly gap: Gap;
  private readonly before: ColumnStore;

  private constructor(gaps: ColumnStore, gap: Gap, before: ColumnStore) {
    super(gaps.length, gaps);
    this.gap = gap;
    this.before = before;
  }

  static for(length: number, gap: Gap, before: ColumnStore | undefined): ColumnStore {
    const gaps = ColumnStore.filled(length, gap);
    // Where rows came or went, the row of a number is another one.
    if (before?.length !== length) return gaps;
    return new StandIn(gaps, gap, before instanceof StandIn ? before.before : before);
  }

  override get(row: number): Value {
    return lastly(this.gap, this.before.get(row));
  }
}
