import { alignUnits, type Edit } from "./merge/align";
import { joinUnits, mergeBodies, type Unit, unitsOf } from "./merge/units";

/**
 * Brings two versions of a book together that began as one: three ways, by statement, by row and by cell. What only
 * one of them changed is taken; what both changed alike is taken once; what both changed differently stands in the
 * text as both versions, below a comment that says so, so that nothing is ever lost. In the book such a pair shows
 * as a fault (a name defined twice) until one of the two is taken out.
 *
 * Merging a version with itself, or with the version that it came from, gives that version back byte for byte, and
 * the order of the two versions does not matter.
 */
export interface Merged {
  readonly text: string;
  readonly conflicts: readonly MergeConflict[];
}
export interface MergeConflict {
  /** What both changed, as a name or in words: `bottling`, `stock.juniper`, `a step`. */
  readonly name: string;
  /** Its text in each version; undefined where it is missing there. */
  readonly base: string | undefined;
  readonly mine: string | undefined;
  readonly theirs: string | undefined;
  /** 1-based line of the merged text at which the comment stands. */
  readonly line: number;
}

/** Begins the comment above two versions of one thing. */
export const CONFLICT_MARK = "# conflict:";

export function mergeTexts(base: string, mine: string, theirs: string): Merged {
  // The frequent cases, and with them the promise that nothing changes where nothing was changed.
  if (mine === theirs || theirs === base) return { text: mine, conflicts: [] };
  if (mine === base) return { text: theirs, conflicts: [] };
  return mergeUnits(unitsOf(base), unitsOf(mine), unitsOf(theirs));
}

/** Unlike any line of a book. */
const NOTHING = "\u0000";

/**
 * Brings two versions together whose common beginning is not known: what only one of them has is taken, and whatever
 * both have and write differently is a conflict without a base. Nothing is ever taken out.
 */
export function mergeWithoutBase(mine: string, theirs: string): Merged {
  if (mine === theirs) return { text: mine, conflicts: [] };
  const [a, b] = [unitsOf(mine), unitsOf(theirs)];
  const { kept } = alignUnits(a, b);
  const old = a.flatMap((unit, i): Unit[] => {
    const other = kept[i] === undefined ? undefined : b[kept[i]];
    // Two things of different names are two things, even where they stand in one place.
    if (other === undefined || (unit.named && unit.key !== other.key)) return [];
    if (other.body === unit.body) return [unit];
    const { cells: _, ...rest } = unit;
    return [{ ...rest, body: NOTHING, code: 0 }];
  });
  return mergeUnits(old, a, b);
}

function mergeUnits(old: readonly Unit[], mine: readonly Unit[], theirs: readonly Unit[]): Merged {
  const [a, b] = [new Version(old, mine), new Version(old, theirs)];
  settleMoves(a, b);
  settleMoves(b, a);
  const out = new Output();
  for (let i = 0; i <= old.length; i++) {
    insertions(a.inserted[i]!, b.inserted[i]!, out);
    if (i < old.length) settleUnit(old[i]!, a.kept[i], b.kept[i], out);
  }
  return out.done();
}

/** What one version made of each unit of the base, and what it put between them. */
class Version {
  /** The unit in this version, or undefined when it was taken out. */
  readonly kept: (Unit | undefined)[];
  /** Units put before the unit of that index; the last entry is behind all. */
  readonly inserted: Unit[][];

  constructor(old: readonly Unit[], now: readonly Unit[]) {
    const edit: Edit = alignUnits(old, now);
    this.kept = edit.kept.map((j) => (j === undefined ? undefined : now[j]!));
    this.inserted = edit.inserted.map((list) => list.map((j) => now[j]!));
    this.old = old;
  }
  readonly old: readonly Unit[];
}

/**
 * A unit that one version moved elsewhere and the other left in its place goes to the new place, with the other's
 * changes; moved by both, it goes to the earlier of the two places.
 */
function settleMoves(mover: Version, other: Version): void {
  mover.old.forEach((unit, i) => {
    if (!unit.named || mover.kept[i] !== undefined) return;
    for (const [gap, list] of mover.inserted.entries()) {
      const at = list.findIndex((u) => u.key === unit.key);
      if (at < 0) continue;
      const moved = list[at]!;
      const there = other.kept[i];
      if (there !== undefined) {
        const body = mergeBodies(unit, moved, there);
        if (body === undefined) return;
        list[at] = { ...moved, ...body };
        other.kept[i] = undefined;
        return;
      }
      for (const [otherGap, otherList] of other.inserted.entries()) {
        const k = otherList.findIndex((u) => u.key === unit.key);
        if (k < 0 || otherGap === gap) continue;
        const body = mergeBodies(unit, moved, otherList[k]!);
        if (body === undefined) return;
        if (gap < otherGap) {
          list[at] = { ...moved, ...body };
          otherList.splice(k, 1);
        } else {
          otherList[k] = { ...otherList[k]!, ...body };
          list.splice(at, 1);
        }
        return;
      }
      return;
    }
  });
}

function settleUnit(base: Unit, mine: Unit | undefined, theirs: Unit | undefined, out: Output): void {
  if (mine === undefined && theirs === undefined) return;
  if (mine === undefined || theirs === undefined) {
    const left = (mine ?? theirs)!;
    if (left.body === base.body) return;
    out.conflict(base, mine, theirs, base);
    return;
  }
  const merged = mergeBodies(base, mine, theirs);
  if (merged === undefined) out.conflict(base, mine, theirs, base);
  else out.put({ ...base, ...merged });
}

/** What both put into one place: alike once, of one name twice as a conflict, else both, in an order of their own. */
function insertions(mine: readonly Unit[], theirs: readonly Unit[], out: Output): void {
  if (mine.length === 0 || theirs.length === 0 || sameUnits(mine, theirs)) {
    for (const unit of mine.length === 0 ? theirs : mine) out.put(unit);
    return;
  }
  const byKey = new Map(theirs.filter((u) => u.named).map((u) => [u.key, u]));
  const clash = new Map<string, Unit>();
  for (const unit of mine) {
    const twin = unit.named ? byKey.get(unit.key) : undefined;
    if (twin !== undefined) clash.set(unit.key, twin);
  }
  const own = (list: readonly Unit[]): Unit[] => list.filter((u) => !clash.has(u.key));
  // Blocks keep together. Which comes first is told from their text alone, so that it does not matter who merges.
  const blocks = [own(mine), own(theirs)].sort((p, q) => order(joinUnits(p), joinUnits(q)));
  if (joinUnits(blocks[0]!) === joinUnits(blocks[1]!)) blocks.pop();
  for (const unit of blocks.flat()) out.put(unit);
  for (const unit of mine) {
    const twin = unit.named ? clash.get(unit.key) : undefined;
    if (twin === undefined) continue;
    if (twin.body === unit.body) out.put(unit);
    else out.conflict(undefined, unit, twin, unit);
  }
}

const sameUnits = (a: readonly Unit[], b: readonly Unit[]): boolean =>
  a.length === b.length && a.every((u, i) => u.body === b[i]!.body);
const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Two versions in the order in which they stand in the text, which is told from what they say alone. */
function inOrder<T>(mine: T | undefined, theirs: T | undefined, body: (version: T) => string): T[] {
  return [mine, theirs].filter((v) => v !== undefined).sort((p, q) => order(body(p), body(q)));
}

class Output {
  private readonly units: Unit[] = [];
  private readonly found: { conflict: Omit<MergeConflict, "line">; at: number }[] = [];

  put(unit: Unit): void {
    this.units.push(unit);
  }

  conflict(base: Unit | undefined, mine: Unit | undefined, theirs: Unit | undefined, about: Unit): void {
    this.found.push({
      conflict: {
        name: about.label,
        base: base?.body === NOTHING ? undefined : base?.body,
        mine: mine?.body,
        theirs: theirs?.body,
      },
      at: this.units.length,
    });
    const versions = inOrder(mine, theirs, (u) => u.body);
    const says =
      versions.length === 2
        ? `${about.label} differs in the two versions; keep one of the two and take this line out`
        : `${about.label} was taken out in one version and changed in the other; keep it or take it out, and this line`;
    const like = versions[0] ?? about;
    const indent = /^[ \t]*/.exec(like.body)![0];
    this.put({ ...like, body: `${indent}${CONFLICT_MARK} ${says}`, end: like.end || "\n", named: false });
    for (const version of versions) this.put(version);
  }

  done(): Merged {
    const text = joinUnits(this.units);
    let line = 1;
    const starts = this.units.map((unit) => {
      const start = line;
      line += lineBreaks(unit.body) + 1;
      return start;
    });
    return { text, conflicts: this.found.map(({ conflict, at }) => ({ ...conflict, line: starts[at]! })) };
  }
}

export type Choice = "mine" | "theirs" | "both";

/**
 * The text of a merge with its conflicts settled: of each the chosen version stays and its comment goes; `both`
 * leaves it as it stands. There is one choice for each conflict, in their order.
 */
export function settleConflicts({ text, conflicts }: Merged, choices: readonly Choice[]): string {
  const lines = text.split(/(?<=\r\n|\n|\r(?!\n))/);
  for (let i = conflicts.length - 1; i >= 0; i--) {
    const { mine, theirs, line } = conflicts[i]!;
    const choice = choices[i] ?? "both";
    if (choice === "both") continue;
    const chosen = choice === "mine" ? mine : theirs;
    const versions = inOrder(mine, theirs, (body) => body);
    const counts = versions.map((body) => lineBreaks(body) + 1);
    let at = line;
    const kept: string[] = [];
    versions.forEach((body, v) => {
      if (body === chosen) kept.push(...lines.slice(at, at + counts[v]!));
      at += counts[v]!;
    });
    lines.splice(line - 1, at - (line - 1), ...kept);
  }
  return lines.join("");
}

const lineBreaks = (text: string): number => text.split(/\r\n|\r|\n/).length - 1;
