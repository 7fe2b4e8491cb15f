import { resolve } from "node:path";
import type { Plugin } from "vite";
import { calls } from "../vocabulary/calling";
import { files, vocabulary } from "../vocabulary/vocabulary";

/**
 * Sends the functions of the language to the page in parts, so that a book need only wait for those that it calls. In
 * the source they all stand in one table, src/vocabulary/vocabulary.ts; this writes that file, and the two beside it
 * that know of parts, anew for the page. Code that needs every function imports src/vocabulary/whole.ts.
 */
export function functionsApart(): Plugin {
  const room = resolve(import.meta.dirname, "../vocabulary");
  const written = new Map([
    ["vocabulary.ts", table()],
    ["arrival.ts", arrival()],
    ["whole.ts", whole()],
  ]);
  return {
    name: "functions-apart",
    apply: "build",
    enforce: "pre",
    resolveId(source) {
      return source.startsWith(PART) ? `\0${source}` : null;
    },
    load(id) {
      if (id.startsWith(`\0${PART}`)) return part(room, id.slice(PART.length + 1));
      const code = id.startsWith(`${room}/`) ? written.get(id.slice(room.length + 1)) : undefined;
      return code === undefined ? null : { code, moduleType: "js" };
    },
  };
}

/** Files of declarations that every book may need at once. */
const CORE = ["totals", "plain"];

/** Files that are sent together, because a book that calls one of them mostly calls another. A file in none is a part. */
const TOGETHER: Readonly<Record<string, readonly string[]>> = {
  bench: ["still", "run", "aroma", "alcohol-out"],
  kitchen: ["sugar", "salt", "keeping", "honey"],
};

const PART = "functions:";

/** The parts, each with its files. */
export const parts: ReadonlyMap<string, readonly string[]> = new Map(
  Object.keys(files)
    .filter((file) => !CORE.includes(file))
    .map((file) => {
      const [name, together] = Object.entries(TOGETHER).find(([, of]) => of.includes(file)) ?? [file, [file]];
      return [name, together] as const;
    }),
);

/** The parts with functions that a text calls, by the names of their modules. */
export const partsCalled = (text: string): readonly string[] =>
  [...parts]
    .filter(([, list]) => list.some((file) => files[file]!.some((d) => calls(text, d.name))))
    .map(([name]) => `${PART}${name}`);

const quoted = (from: string): string => JSON.stringify(from);
const importing = (names: string, from: string): string => `import { ${names} } from ${quoted(from)};`;
const fetching = (from: string): string => `import(${quoted(from)})`;
const imported = (list: readonly string[], folder: string): string =>
  list.map((file, i) => importing(`declarations as d${i}`, `${folder}/${file}`)).join("\n");
const spread = (list: readonly string[]): string => list.map((_, i) => `...d${i}`).join(", ");

const table = (): string => `${imported(CORE, ".")}
const order = ${JSON.stringify([...vocabulary.keys()])};
const here = new Map();
export const vocabulary = new Map();
export const waiting = new Set();
export const isAway = (name) => !here.has(name) && order.includes(name);
export function arrive(declarations) {
  const before = here.size;
  for (const one of declarations) here.set(one.name, one);
  if (here.size === before) return;
  vocabulary.clear();
  for (const name of order) if (here.has(name)) vocabulary.set(name, here.get(name));
  for (const tell of waiting) tell();
}
arrive([${spread(CORE)}]);
`;

const part = (room: string, name: string): string => {
  const list = parts.get(name)!;
  return `${imported(list, room)}
${importing("arrive", `${room}/vocabulary`)}
arrive([${spread(list)}]);
`;
};

const arrival = (): string => `${importing("calls", "./calling")}
${importing("isAway, waiting", "./vocabulary")}
const parts = [${[...parts]
  .map(([name, list]) => {
    const names = list.flatMap((file) => files[file]!.map((d) => d.name));
    return `[${JSON.stringify(names)}, () => ${fetching(`${PART}${name}`)}]`;
  })
  .join(",\n")}];
export { isAway };
const wants = (text, name) => isAway(name) && calls(text, name);
export const callsAway = (text) => parts.some(([names]) => names.some((name) => wants(text, name)));
export const fetchFunctions = async (text) => {
  const wanted = parts.filter(([names]) => names.some((name) => (text === undefined ? isAway(name) : wants(text, name))));
  await Promise.all(wanted.map(([, load]) => load()));
};
export const onArrival = (tell) => {
  waiting.add(tell);
  return () => waiting.delete(tell);
};
`;

const whole = (): string => [...parts.keys()].map((name) => importing("", `${PART}${name}`)).join("\n");
