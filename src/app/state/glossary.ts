import type { Declaration, Parameter } from "../../vocabulary";

/** How a function is called, as the vocabulary writes it: required ones, then those that take a label. */
export function signatureOf(d: Declaration): string {
  const labels = new Set(d.labelsOnly ?? d.parameters.filter((p) => p.optional).map((p) => p.name));
  const words = d.parameters.map((p) => {
    if (!p.optional && !labels.has(p.name)) return p.name;
    return p.otherwise === undefined ? `${p.name}:` : `${p.name}: ${p.otherwise}`;
  });
  return `${d.name}(${words.join(", ")})`;
}

/** The kinds that a parameter takes, in words: "a volume or a mass". */
export function kindsOf(p: Parameter): string {
  if (p.takes === "any") return "";
  if (p.takes === "text")
    return p.choices === undefined ? "a text" : `one of ${p.choices.map((c) => `"${c}"`).join(", ")}`;
  if (p.takes === "date") return "a date";
  const names = [...new Set(p.takes.map((t) => t.kind.name))];
  const joined = names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} or ${names.at(-1)}`;
  return p.list ? `a list, each ${joined}` : joined;
}

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
