import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import {
  definitionAt,
  foretell,
  meaning,
  outline,
  referencesTo,
  signatureAt,
} from "../../../src/engine/editing";
import { cordial, field, marked } from "./writing";

const TABLES = `table t
| i | x | f |
| r | 1 | 2 |
| s | 1 | 2 |
column y = x
table u
| i | x |
| r | 1 |
foot x = sum(x)
`;

describe("where a path is used", () => {
  const uses = (text: string, path: string) =>
    referencesTo(openBook(text), path)
      .map(({ from, to, line }) => `${line} ${text.slice(from, to)}`)
      .join(", ");
  const functions = "set a = 1\ndefine f(x) = x + a\ndefine g(x) = f(x)\nset q = f(1) + g(2) + a\n";
  it.each([
    // A function is found by its name or by a call of it, and no other function or value with it.
    ["f", functions, "3 f, 4 f"],
    ["f(1)", functions, "3 f, 4 f"],
    ["g", functions, "4 g"],
    ["a", functions, "2 a, 4 a"],
    ["f.x", functions, ""],
    ["f(1).x", functions, ""],
    // Names in two tables are told apart.
    ["t", `${TABLES}set q = t.x + u.x\n`, "10 t"],
    ["t.x", `${TABLES}set q = t.x + u.x\nset z = t.i\n`, "5 x, 10 x"],
    ["t.r", `${TABLES}set q = t.r.x + u.r.x + t.s.x\n`, "10 r"],
    ["t.r.x", `${TABLES}set q = t.r.x + u.r.x + t.s.x + t.r.f\n`, "10 r.x"],
    ["u.foot.x", `${TABLES}set q = u.foot.x + u . foot . x + u.x + t.x\n`, "10 x, 10 x"],
    ["u.foot.x", `${TABLES}foot i = foot.x + sum(x)\n`, "10 x"],
    // Parts behind a name, in backticks or with blanks.
    ["`a b`.c", "set `a b` = 1\nset q = `a b`.c + `a b`.d + `a b` . `c`\n", "2 `a b`.c, 2 `a b` . `c`"],
    [
      "t.`r 1`.x",
      "table t\n| i | a-b | x |\n| r 1 | 1 | 2 |\nset q = t.`r 1`.x + t.`r 1`.`a-b`\n",
      "4 `r 1`.x",
    ],
    // What is no path, or names nothing.
    ["a +", functions, ""],
    ["nobody", functions, ""],
    ["t.nobody", `${TABLES}set q = t.nobody\n`, ""],
    ["3", functions, ""],
  ])("%s in %j: %s", (path, text, wanted) => expect(uses(text, path)).toBe(wanted));
});

describe("where a name is made", () => {
  const made = (written: string) => {
    const { text, caret } = marked(written);
    const found = definitionAt(openBook(text), caret);
    return found && `${found.line} ${text.slice(found.from, found.to)} at ${found.from}`;
  };
  it.each([
    ["set a = find x from 1 to 2 so that x¦ is 1\n", "1 x at 13"],
    // The nearest search before it, and no text that looks like one.
    ["set a = (find x from 1 to 2 so that x is 1) + (find x from 1 to 2 so that x¦ is 1)\n", "1 x at 52"],
    ["set a = (find x from 1 to 2 so that x¦ is 1) + (find x from 1 to 2 so that x is 1)\n", "1 x at 14"],
    ["set a = (find xx from 1 to 2 so that xx is 1) + (find x from 1 to 2 so that x¦ is 1)\n", "1 x at 54"],
    ['set a = "find x" is "find x" or (find `x` from 1 to 2 so that `x`¦ is 1) > 1\n', "1 `x` at 38"],
    ["set a = find `x y` from 1 to 2 so that `x y`¦ is 1\n", "1 `x y` at 13"],
    ['set a = 1\nchart "c" : curve p¦ * 2 for p from 1 to 2\n', "2 p at 38"],
    ['chart "c" : curve (find q from 1 to 2 so that q¦ is p) for p from 1 to 2\n', "1 q at 24"],
    ["define f(x) = x¦\n", "1 x at 9"],
    ["define f(x) = x\nset q = f(x¦: 3)\n", "1 x at 9"],
    ["set a = marry([1 L], [40 %vol])\nset q = a.volume¦\n", "1 a at 4"],
    [`${TABLES}set q = t.r.x¦\n`, "3 1 at 28"],
    [`${TABLES}set q = t.x¦\n`, "2 x at 14"],
    [`${TABLES}set q = t.s¦.x\n`, "4 s at 38"],
    [`${TABLES}set q = t.y¦\n`, "5 y at 57"],
    [`${TABLES}set q = t.r.y¦\n`, "5 y at 57"],
    [`${TABLES}set q = u.foot¦.x\n`, "6 u at 69"],
    [`${TABLES}set q = u.foot.x¦\n`, "9 x at 96"],
    // What no book makes.
    ["set q = boils_at¦(3 mbar)\n", undefined],
    ["set q = boils_at(pressure¦: 3 mbar)\n", undefined],
    ["set q = nobody¦\n", undefined],
    [`${TABLES}column z = before¦.x\n`, undefined],
  ])("%j: %s", (written, wanted) => expect(made(written)).toBe(wanted));
});

describe("what the word under the caret means, in the text of the book", () => {
  const meant = (written: string, draft?: string) => {
    const { text, caret } = marked(written);
    const found = meaning(openBook(draft ?? text), { in: "book", text }, caret);
    return (
      found && `${text.slice(found.from, found.to)} ${found.means.type} ${found.path} ${found.is}`.trim()
    );
  };
  it.each([
    ["set ¦a = 1\n", "a value a a plain number"],
    ["set a¦ = 1\n", "a value a a plain number"],
    ["set q = 1\nset `a b`¦ = 3\n", "`a b` value `a b` a plain number"],
    ["set `a b` = 3\nset q = `a¦ b`\n", "`a b` value `a b` a plain number"],
    ["table t¦\n| i | x |\n| r | 1 |\n", "t table t a table"],
    ["table t\n| i | x¦ |\n| r | 1 |\n", "x column t.x a list, each a plain number"],
    ["table t\n| i | x |\n| r¦ | 1 |\n", "r row t.r a row"],
    ["table t\n| i | x |\n| r | 1¦ |\n", "1 cell t.r.x a plain number"],
    ["table t\n| i | x |\n| r | 1 |\nfoot x¦ = sum(x)\n", "x foot t.foot.x a plain number"],
    ["define f¦(x) = x\n", "f function"],
    ["set q = boils_at¦ (3 mbar)\n", "boils_at function"],
    ["set q = 3 mL¦\n", "mL unit"],
    ["set a = 1\nset q = (1) a¦\n", "a value a a plain number"],
    ["set q = boils_at(strength¦: 3 %vol)\n", "strength label"],
    ["set q = boils_at(1 + strength¦: 3)\n", undefined],
    // Past what counts, and where nothing is meant.
    ["table t\n| i | x |\n| r | 1 | 2¦ |\n", undefined],
    ["table t\n| i | x |\n| r | 1 |\nfoot x = sum(x)\nfoot x¦ = 3\n", undefined],
    ["set a = 1\nset a¦ = 2\n", undefined],
    ["column x¦ = 3\n", undefined],
    ["foot x¦ = 3\n", undefined],
    ["define f(x¦) = x\n", "x local"],
    ["set a = 1¦\nset b = 2\n", undefined],
    ["set a = 1\n¦\nset b = 2\n", undefined],
    ["set q = nobody¦(3)\n", undefined],
    ["set q = 3 qq¦\n", undefined],
    ["# a¦\nset a = 1\n", undefined],
  ])("%j: %s", (written, wanted) => expect(meant(written)).toBe(wanted));
  it("is not told of a name that a draft makes, before the draft is kept", () => {
    expect(meant("set a¦ = 1\n", "set b = 1\n")).toBeUndefined();
  });
  it("is told of nothing outside the text", () => {
    for (const caret of [-3, 99]) expect(meaning(cordial, field("set x", "pull"), caret)).toBeUndefined();
  });
});

describe("the call around the caret", () => {
  const called = (written: string) => {
    const { text, caret } = marked(written);
    const found = signatureAt(cordial, field("set x", text), caret);
    if (found === undefined) return undefined;
    const parameters = found.parameters.map(
      (p, i) => `${i === found.active ? ">" : ""}${p.name}${p.given ? "+" : ""}`,
    );
    return `${found.name}: ${parameters.join(" ")}`;
  };
  it.each([
    ["kept(¦", "kept: >x share"],
    ["kept(1, ¦", "kept: x+ >share"],
    ["kept(share: 1, ¦", "kept: x >share+"],
    ["kept(share: ¦", "kept: x >share"],
    ["kept(1, 2, ¦", "kept: x+ share+"],
    ["kept(nobody: ¦", "kept: x share"],
    ["boils_at(¦", "boils_at: >pressure strength solids activity"],
    ["boils_at(nobody: ¦", "boils_at: pressure strength solids activity"],
    ["let_down(1 L, [¦", "let_down: volume+ >strength to"],
    ["kept(let_down(1 L, ¦", "let_down: volume+ >strength to"],
    ["kept(let_down(1 L, 40 %vol, to: 3 %vol), ¦", "kept: x+ >share"],
    // What stands behind the caret counts, where something stands there.
    ["let_down(¦, 96 %vol)", "let_down: >volume strength+ to"],
    ["let_down(¦, )", "let_down: >volume strength to"],
    ["let_down(¦, 96 %vol, )", "let_down: >volume strength+ to"],
    ["let_down(¦ + 1 - 2)", "let_down: >volume strength to"],
    ["let_down(¦, to: 3 %vol, 96 %vol)", "let_down: >volume strength to+"],
    ["let_down(¦ [1, 2])", "let_down: >volume strength to"],
    ["let_down(¦) + kept(1, 2)", "let_down: >volume strength to"],
    ["nobody(¦", undefined],
    ["(¦", undefined],
  ])("%s: %s", (written, wanted) => expect(called(written)).toBe(wanted));
  it("of the book tells what little is known of it", () => {
    expect(signatureAt(cordial, field("set x", "kept("), 5)).toEqual({
      name: "kept",
      call: "kept(x, share)",
      says: "A function of this book.",
      parameters: ["x", "share"].map((name) => ({
        name,
        takes: "",
        says: "",
        byLabel: false,
        optional: false,
        given: false,
      })),
      active: 0,
    });
  });
  it("of the vocabulary tells what is left out only where something stands for it", () => {
    const [pressure, strength] = signatureAt(cordial, field("set x", "boils_at("), 9)!.parameters;
    expect(pressure).toMatchObject({ takes: "a pressure", optional: false, byLabel: false });
    expect(pressure).not.toHaveProperty("otherwise");
    expect(strength).toMatchObject({ optional: true, byLabel: true, otherwise: "0 %vol" });
  });
});

describe("the contents of a book", () => {
  it.each([
    ["table t\n| k | x (Q) |\n| r | 1 |\n", "t: fault 1 0 0 0 1"],
    ["set a = 1 +\nset b = 2\n", "a: fault 1 0 0 0 0; b: ok 0 0 0 0 0"],
    [
      'part "p"\nset a = 1 +\nset b = blank in mL\ncheck 1 > 2 : "c"\ncheck b > 1 mL : "d"\n',
      "p: fault 1 1 1 1 4; a: fault 1 0 0 0 0; b: gap 0 1 0 0 0; c: unmet 0 0 1 0 0; d: unknown 0 0 0 1 0",
    ],
    [
      "set a = nobody\ntable t\n| k | x |\n| r | 1 |\ncolumn y = x * a\n",
      "a: fault 1 0 0 0 0; t: fault 0 0 0 0 1",
    ],
    ['about "x"\n', ""],
    ["table t\n| k | x |\n| r | 1 |\ncolumn y = x * nobody\n", "t: fault 1 0 0 0 1"],
    ['table t\n| k | x |\n| r | 1 |\ncolumn y = "a" * 2\nfoot x = nobody\n', "t: fault 2 0 0 0 1"],
    ["set a = 3 # a note\nset b = 3\n", "a: ok 0 0 0 0 0; b: ok 0 0 0 0 0"],
    ["set a = 02.50 mL\n", "a: ok 0 0 0 0 0"],
  ])("%j: state, faults, gaps, unmet, unknown, size: %s", (text, wanted) => {
    const told = outline(openBook(text)).map(({ label, state, counts: c }) =>
      [`${label}:`, state, c.faults, c.gaps, c.unmet, c.unknown, c.size].join(" "),
    );
    expect(told.join("; ")).toBe(wanted);
  });
});

describe("what a field would come to, and what is wrong with it where it stands", () => {
  const told = (where: string, text: string) => {
    const found = foretell(cordial, field(where, text), text);
    if (found === undefined) return undefined;
    const { shown, parts, trouble } = found;
    return [
      shown.path,
      shown.text || shown.message,
      parts.map((p) => p.label).join(" "),
      trouble &&
        `${text.slice(trouble.from, trouble.to)}: ${trouble.fixes.map((fix) => fix.says).join(", ")}`,
    ].join(" | ");
  };
  const itself = (path: string) => `${path} | ${path} needs itself. | `;
  it.each([
    ["cell stock.sort 0", "a | b", "stock.quince.sort | a | b |  | "],
    [
      "cell stock.volume 0",
      "12 | 3",
      'stock.quince.volume | `12 | 3` begins like a number and goes on as something else. |  | 12 | 3: Write "12 | 3"',
    ],
    ["cell stock.sort 0", '"a', 'stock.quince.sort | The text `"a` is not closed. |  | "a: Close it with "'],
    [
      "cell stock.sort 0",
      '  "a',
      'stock.quince.sort | The text `"a` is not closed. |  | "a: Close it with "',
    ],
    ["cell stock.volume 0", "", "stock.quince.volume | stock.quince.volume is not filled in yet |  | "],
    ["cell stock.volume 0", "= volume", `${itself("stock.quince.volume")} | = volume: `],
    [
      "cell stock.volume 0",
      "= sum(stock.volume)",
      `${itself("stock.quince.volume")} | = sum(stock.volume): `,
    ],
    ["cell stock.volume 1", "= before.volume * 2", "stock.`bay leaf`.volume | 2400 mL |  | "],
    [
      "cell stock.volume 0",
      "12 g",
      "stock.quince.volume | 12 g is a mass, under a heading in mL, a volume. |  | 12 g: ",
    ],
    ["set blend", "blend.volume", `${itself("blend")} | blend.volume: `],
    ["set pull", "pull + 1 mbar", `${itself("pull")} | pull + 1 mbar: `],
    [
      "set goal",
      "thinned.total",
      "goal | This goes round in a circle: goal → thinned → goal. |  | thinned.total: ",
    ],
    [
      "set x",
      "marry([1 L], [40 %vol])",
      "x | a result with parts | volume strength mass pure_volume contraction | ",
    ],
    ["set x", "[1 g, 2 g]", "x | 2 entries | 1 2 | "],
    ["set x", "3 m L", "x | Between `m` and `L` an operator is missing. |  | 3 m L: Multiply with *"],
    ["column stock.cost", "alcohol * price", "stock.quince.cost | 4.34 GBP |  | "],
    ["column stock.cost 1", "cost + 1 GBP", `${itself("stock.`bay leaf`.cost")} | cost + 1 GBP: `],
    ["foot stock.cost", "foot.cost + 1 GBP", `${itself("stock.foot.cost")} | foot.cost + 1 GBP: `],
    ["sentence", "say {pull} and {room", " | This `{` is not closed before the text ends. |  | {: "],
    ["sentence", "a {3} {4 Kg} b", " | Kg is no unit; capitals count. |  | Kg: Write kg"],
    ["sentence", '{"{pull}"}', " | 60 mbar |  | "],
    ["check", "pull", " | 60 mbar |  | "],
    // What comes to no value, and cells that are not there or not typed.
    ["cell stock.cost 0", "3", undefined],
    ["cell stock.volume 99", "3", undefined],
    ["cell stock.gone 0", "3", undefined],
    ["cell gone.x 0", "3", undefined],
    ["column gone.x", "3", undefined],
    ["foot gone.x", "3", undefined],
    ["set x", " ", undefined],
    ["trial pull", "20 mbar to 30 mbar", undefined],
    ["clauses", "wait 3", undefined],
    ["chart", "bars stock.volume by stock.item", undefined],
    ["define kept", "x * 2", undefined],
    ["heading stock", "volume", undefined],
    ["statement", "set x = 3", undefined],
  ])("%s: %s: %s", (where, text, wanted) => expect(told(where, text)).toBe(wanted));
  it("is not blamed for what is wrong in another cell of its row", () => {
    const book = openBook("table t\n| k | a | b |\n| r | 3 Kg | 2 |\n");
    const cell = (column: string, text: string) => foretell(book, field(`cell t.${column} 0`, text), text)!;
    expect(cell("b", "5").shown).toMatchObject({ text: "5", state: "ok" });
    expect(cell("b", "5")).not.toHaveProperty("trouble");
    const unread = openBook('table t\n| k | a | b | c |\n| r | "x | 2 | 3 L ++ |\n');
    expect(foretell(unread, field("cell t.b 0", "5"), "5")).toMatchObject({
      shown: { text: "5", state: "ok" },
    });
    expect(cell("a", "4 Kg").trouble).toMatchObject({ from: 0, to: 4 });
    expect(cell("k", "s").shown).toMatchObject({ text: "s", state: "ok" });
  });
  it("bears no name where the field has none", () => {
    for (const where of ["sentence", "check", "formula"])
      expect(foretell(cordial, field(where, "3"), "3")!.shown, where).toMatchObject({ path: "", label: "" });
  });
  it("takes the text of the field itself where no other is given", () => {
    expect(foretell(cordial, field("set x", "pull * 2"))?.shown.text).toBe("120 mbar");
    expect(foretell(cordial, { in: "book" })).toBeUndefined();
  });
});
