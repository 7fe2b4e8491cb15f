import type { Declaration } from "../../vocabulary";

export interface GlossaryGroup {
  readonly name: string;
  readonly functions: readonly Declaration[];
}

/** The functions that speak of every word that was asked for, by group; a match in the name comes first. */
export function matching(all: Iterable<Declaration>, asked: string): readonly GlossaryGroup[] {
  const words = asked
    .toLowerCase()
    .split(/[^\p{L}\p{N}_]+/u)
    .filter((w) => w !== "");
  const groups = new Map<string, Declaration[]>();
  for (const d of all) {
    const text = [
      d.name,
      d.name.replaceAll("_", " "),
      d.says,
      d.group,
      ...d.parameters.map((p) => `${p.name} ${p.says}`),
      ...d.result.map((r) => `${r.name} ${r.says}`),
    ]
      .join(" ")
      .toLowerCase();
    if (!words.every((w) => text.includes(w))) continue;
    const list = groups.get(d.group);
    if (list) list.push(d);
    else groups.set(d.group, [d]);
  }
  const named = (d: Declaration) => words.some((w) => d.name.toLowerCase().includes(w));
  return [...groups].map(([name, functions]) => ({
    name,
    functions:
      words.length === 0 ? functions : [...functions.filter(named), ...functions.filter((d) => !named(d))],
  }));
}
