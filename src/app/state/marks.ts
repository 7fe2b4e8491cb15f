import type { Book, Item, Shown } from "../../engine";
import { type Graduation, type Group, groupsOf, membersOf, outline, type Placed } from "./items";
import { messagesOf } from "./messages";

/**
 * The contents with their marks. A mistake has one, where it stands and is told; what only comes of it has a quiet mark,
 * and says from where. What a person has to fill in comes before what is only not worked out yet.
 */
export function markedOutline(book: Book): readonly Graduation[] {
  const groups = new Map(groupsOf(book).map((group) => [group.key, group]));
  const refused = new Set<string>();
  return outline(book).map((graduation) => {
    const group = groups.get(graduation.key)!;
    const shown = membersOf(group).flatMap(({ item }) => shownIn(item));
    return {
      ...graduation,
      ...(markOfFaults(causesTold(book, membersOf(group), refused)) ??
        markOfFaults(shown.flatMap(({ state, cause }) => (state === "fault" ? [cause] : []))) ??
        markOfChecks(group, "unmet", "not met") ??
        markOfChecks(group, "unknown", "not yet known") ??
        markOfGaps(shown)),
    };
  });
}

type Marked = Pick<Graduation, "mark" | "markSays"> | undefined;
/** Where a fault stands; undefined for here. */
type Cause = string | undefined;

/**
 * Where the faults that are told at some items stand. A name whose kind one function refuses is refused wherever else it
 * is used, and that is the same mistake: `refused` gathers such names down the page.
 */
function causesTold(book: Book, members: readonly Placed[], refused: Set<string>): readonly Cause[] {
  return members.flatMap(({ item }) =>
    messagesOf(book, item).flatMap(({ message: { code, from, to, severity } }) => {
      if (severity !== "fault") return [];
      const names = book.text.slice(from, to).split(/[^\p{L}\p{N}_.]+/u);
      const cause = /kind/.test(code) ? names.find((name) => refused.has(name)) : undefined;
      if (code === "argument-kind" && names.length === 1) refused.add(names[0]!);
      return [cause];
    }),
  );
}

function markOfFaults(causes: readonly Cause[]): Marked {
  if (causes.length === 0) return undefined;
  const own = causes.filter((cause) => cause === undefined).length;
  return own === 0
    ? { mark: "follows", markSays: `follows from ${causes[0]}` }
    : { mark: "fault", markSays: own === 1 ? "a fault" : "faults" };
}

function markOfChecks(group: Group, mark: "unmet" | "unknown", says: string): Marked {
  if (group.type !== "checks") return undefined;
  const count = group.checks.filter(({ item }) => item.state === mark).length;
  if (count === 0) return undefined;
  return { mark, markSays: count === 1 ? `one check ${says}` : `${count} checks ${says}` };
}

function markOfGaps(shown: readonly Shown[]): Marked {
  const gaps = shown.filter((s) => s.state === "gap");
  if (gaps.length === 0) return undefined;
  const isOpen = gaps.some(({ value }) => value.type !== "gap" || !value.waits);
  return { mark: "gap", markSays: isOpen ? "not filled in yet" : "not worked out yet" };
}

/** Rows of a long table that are looked at for its mark; the tally counts all of them. */
const LOOKED_AT = 200;

function shownIn(item: Item): readonly Shown[] {
  if (item.type === "value") return [item.shown, ...item.parts];
  if (item.type !== "table") return [];
  return Array.from({ length: Math.min(item.rowCount, LOOKED_AT) }, (_, row) =>
    item.columns.map((_, column) => item.cell(row, column)),
  ).flat();
}
