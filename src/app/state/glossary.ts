import type { Declaration } from "../../vocabulary";

export interface GlossaryGroup {
  readonly name: string;
  readonly functions: readonly Declaration[];
}
export interface Matching {
  readonly groups: readonly GlossaryGroup[];
  /** False when no function speaks of all that was asked, and these only speak of the most of it. */
  readonly whole: boolean;
}

/** Words of a question that say nothing about what is asked. */
const small = new Set(
  "a an and are at be by can do does for from how i if in is it many me much my of on or our the this to we what when which will with you".split(
    " ",
  ),
);

/** The functions that speak of the words that were asked for, by group; a match in the name comes first. */
export function matching(all: Iterable<Declaration>, asked: string): Matching {
  const typed = asked
    .toLowerCase()
    .split(/[^\p{L}\p{N}_]+/u)
    .filter((w) => w !== "");
  const telling = typed.filter((w) => !small.has(w));
  const words = telling.length === 0 ? typed : telling;
  const scored = [...all].map((is) => {
    const text = textOf(is);
    return { is, score: words.filter((w) => text.includes(w)).length };
  });
  const best = Math.max(0, ...scored.map(({ score }) => score));
  if (words.length > 0 && best === 0) return { groups: [], whole: false };
  const named = (d: Declaration) => words.some((w) => d.name.toLowerCase().includes(w));
  const groups = new Map<string, Declaration[]>();
  for (const { is, score } of scored) {
    if (score < best) continue;
    const list = groups.get(is.group);
    if (list) list.push(is);
    else groups.set(is.group, [is]);
  }
  return {
    groups: [...groups].map(([name, functions]) => ({
      name,
      functions:
        words.length === 0 ? functions : [...functions.filter(named), ...functions.filter((d) => !named(d))],
    })),
    whole: best === words.length,
  };
}

/** All that a function says of itself. */
const textOf = (d: Declaration): string =>
  [
    d.name,
    d.name.replaceAll("_", " "),
    d.says,
    d.group,
    ...d.parameters.map((p) => `${p.name} ${p.says}`),
    ...d.result.map((r) => `${r.name} ${r.says}`),
  ]
    .join(" ")
    .toLowerCase();
