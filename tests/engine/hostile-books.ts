/** Books of about a given size that try to make a calculation run away, by what they try. */

/** Lines until the text has so many characters. */
function filled(size: number, line: (i: number) => string, head = ""): string {
  const lines = head === "" ? [] : [head];
  let length = head.length;
  for (let i = 0; length < size; i++) {
    const next = line(i);
    lines.push(next);
    length += next.length + 1;
  }
  return lines.join("\n");
}

const tens = (name: string): string => Array(10).fill(`${name}(x)`).join(" + ");
const DEFINES = [
  `define p1(x) = ${Array(10).fill("x").join(" + ")}`,
  `define p2(x) = ${tens("p1")}`,
  `define p3(x) = ${Array(8).fill("p2(x)").join(" + ")}`,
].join("\n");
const TABLE = "table t\n|n|x (g)|";
const lines = (count: number, line: (i: number) => string): string =>
  Array.from({ length: Math.floor(count) }, (_, i) => line(i)).join("\n");

/** Searches through values that are themselves searched for: every level multiplies the trials by fifty. */
function towerOfSearches(levels: number): string {
  const out = ["set k0 = 1", "set v0 = k0"];
  for (let i = 1; i <= levels; i++)
    out.push(`set k${i} = 1`, `set v${i} = (find k${i - 1} from 0 to 9 so that v${i - 1} is 3) + k${i}`);
  out.push(`set last = find k${levels} from 0 to 9 so that v${levels} is 4`);
  return out.join("\n");
}

export const hostileBooks: ReadonlyMap<string, (size: number) => string> = new Map(
  Object.entries<(size: number) => string>({
    "searches in searches": (size) =>
      filled(
        size,
        (i) => `set a${i} = find x from 1 to 3 so that (find y from 1 to 3 so that y * x is 3) is 1.5`,
      ),
    "a tower of searches": () => towerOfSearches(8),
    "long ranges": (size) => filled(size, (i) => `set a${i} = 1 to 10000`),
    "products of ranges": (size) => filled(size, (i) => `set a${i} = sum((1 to 10000) * (1 to 10000))`),
    "lists of lists": (size) =>
      filled(size, (i) =>
        i === 0 ? "set a0 = 1 to 10000" : `set a${i} = [a0, a0, a0, a0, a0, a0, a0, a0, a0]`,
      ),
    "definitions that expand": (size) => filled(size, (i) => `set a${i} = p3(1)`, DEFINES),
    "definitions of definitions": (size) => filled(size, (i) => `define d${i}(x) = p3(x)`, DEFINES),
    "a chain in the worst order": () =>
      lines(100_000, (i) => (i === 99_999 ? "set v0 = 1" : `set v${99_999 - i} = v${99_998 - i} + 1`)),
    "names of objects": (size) =>
      filled(size, (i) => `set __proto__${i} = constructor${i} + toString + __proto__`),
    "names that are unknown": (size) => filled(size, (i) => `set abcdef${i} = abcdeg${i}x`),
    "long formulas over a long table, with conditions": (size) =>
      `${filled(size / 2, (i) => `|a|${i % 10}|`, TABLE)}\n${lines(size / 40_000, (i) => `column f${i} = if x > 2 g then ${Array(2000).fill("x").join(" + ")} else x`)}`,
    "long formulas over a long table": (size) =>
      `${filled(size / 2, (i) => `|a|${i % 10}|`, TABLE)}\n${lines(size / 666, (i) => `column f${i} = ${Array(60).fill("x").join(" + ")}`)}`,
    "selections over a whole table": (size) =>
      `${filled(size / 33, (i) => `|a|${i % 10}|`, TABLE)}\nfoot x = sum(x)\n${lines(size / 66, (i) => `set w${i} = sum(t.x where x > ${i % 9} g and t.foot.x > 1 g)`)}`,
    "a total in every row": (size) =>
      `${filled(size / 4, (i) => `|a|${i % 10}|`, TABLE)}\ncolumn y = x / sum(t.x * 2)\ncolumn z = sum(t.x where x > 3 g)`,
    "a wide table": (size) =>
      `table t\n|n|${lines(size / 20, (i) => `c${i}`).replaceAll("\n", "|")}|\n|a|${lines(size / 20, String).replaceAll("\n", "|")}|`,
    "rows of one name": (size) => filled(size, (i) => (i % 2 ? "|a|1|" : "|a|2|"), TABLE),
    "rows that are not there": (size) =>
      `${filled(size / 2, (i) => `|row${i}|1|`, TABLE)}\n${lines(size / 50, (i) => `set q${i} = t.roww${i}.x`)}`,
    "brackets without end": (size) => filled(size, () => "(".repeat(5000)),
    "brackets in every formula": (size) =>
      filled(size, (i) => `set a${i} = ${"(".repeat(39)}1${")".repeat(39)}`),
    "one statement": (size) => `set a = ${"1 + ".repeat(size / 4)}1`,
    "one line of ten megabytes": (size) => "x".repeat(10 * size),
    "a text of braces": (size) => `step "${"{".repeat(2 * size)}`,
    "a row of bars": (size) => `${TABLE}\n${"|".repeat(2 * size)}`,
    "no text at all": () =>
      String.fromCharCode(...Array.from({ length: 60_000 }, (_, i) => (i * 7919) % 65_536)),
    "every byte": (size) => {
      const all = Array.from({ length: 1000 }, (_, i) => String.fromCharCode(((i * 7919) % 255) + 1)).join(
        "",
      );
      return all.repeat(size / 1000);
    },
    "halves of characters": (size) => `set a = \ud800\n${"\udfff".repeat(size / 2)}\nset b = "\ud800"`,
    "nothing but faults": (size) => filled(size, () => "$"),
    "texts that double": (size) =>
      filled(size, (i) => (i === 0 ? 'set a0 = "xxxxxxxxxxxxxxxx"' : `set a${i} = "{a${i - 1}}{a${i - 1}}"`)),
    "many steps": (size) => filled(size, (i) => `step "do {1 + ${i}}" wait ${i} min`),
    "many charts": (size) =>
      `${filled(size / 4, (i) => `|a|${i}|`, TABLE)}\n${filled(size / 2, (i) => `chart "c${i}" : line t.x by t.x`)}`,
    "many curves": (size) =>
      filled(size, (i) => `chart "c${i}" : curve sum(1 to 5000) + x for x from 1 to 2`),
    "many ticks": (size) => filled(size, () => "seen a @2ffcfed6", "set a = 1"),
    "a great circle": (size) => lines(size / 20, (i) => `set a${i} = a${(i + 1) % (size / 20)}`),
    "huge powers": (size) => filled(size, (i) => `set a${i} = (1.000001 ^ 1000000) ^ 1000000`),
    "a run in every value": (size) =>
      filled(size, (i) => `set a${i} = distil(1 L, 40 %vol, ${30 + (i % 100)} mbar, take: 400 mL)`),
    "runs over ranges": (size) =>
      filled(
        size,
        (i) => `set a${i} = distil(1 L, 40 %vol, 30 mbar to 100 mbar step 0.01 mbar, take: 400 mL)`,
      ),
    "uncertainties that add up": (size) =>
      filled(size, (i) => (i === 0 ? "set a0 = 1 ± 0.1" : `set a${i} = a${i - 1} + (1 ± 0.1)`)),
    "uncertainties down a column": (size) =>
      `${filled(size, () => "|a|1 ± 0.1|", "table t\n|n|x (number)|")}\ncolumn y = if before.y is blank then x else before.y + x`,
    "a blend of everything": (size) =>
      `${filled(size / 4, (i) => `|s${i}|1 L|${i % 90} %vol|`, "table t\n|n|v|s|")}\nset a = compose(1 L, t.v, strength: t.s, to_strength: 30 %vol)`,
    "names picked from a long table": (size) =>
      `${filled(size / 2, (i) => `|s${i}|${i % 90}|`, TABLE)}\ntable u\n|n|y (g)|\n${filled(size / 2, (i) => `|q${i}|${i % 90}|`)}\ncolumn z = pick(t.x, n)`,
    "tables in tables": (size) =>
      `${filled(size / 2, (i) => `|s${i}|${i % 90}|`, TABLE)}\n${filled(size / 2, (i) => `set a${i} = t`)}`,
  }),
);
