import { list, type Value } from "../vocabulary/value";
import { withNotes } from "./fault";
import { truthTrouble } from "./operations";

/** The entries of a list for which a test is true; an entry whose test is not known is left out, with a note. */
export function chosen(values: Value & { type: "list" }, tests: readonly Value[]): Value {
  const kept: number[] = [];
  let unknown = 0;
  for (let i = 0; i < tests.length; i++) {
    const test = tests[i]!;
    if (test.type === "truth") {
      if (test.value) kept.push(i);
    } else if (test.type === "gap") unknown++;
    else if (test.type === "fault") return test;
    else throw truthTrouble("where", test);
  }
  const entries = values.entries;
  const origin = values.origin && {
    table: values.origin.table,
    rows: kept.map((i) => values.origin!.rows[i]!),
    names: kept.map((i) => values.origin!.names[i]!),
  };
  const first = entries.find((e) => e.type === "quantity");
  const unit = first?.type === "quantity" ? first.unit : values.unit;
  const result = {
    ...list(
      kept.map((i) => entries[i]!),
      origin,
    ),
    ...(unit && { unit }),
  };
  const notes = [...(values.notes ?? [])];
  if (unknown > 0) {
    notes.push({
      text:
        unknown === 1
          ? "1 row left out, its condition is not known"
          : `${unknown} rows left out, their condition is not known`,
    });
  }
  return withNotes(result, notes);
}
