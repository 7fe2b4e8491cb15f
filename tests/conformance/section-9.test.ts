import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { faults, faultsOf, notesOf, reads } from "./telling";

type Items = ReturnType<typeof openBook>["items"];
const of = <T extends Items[number]["type"]>(text: string, type: T) =>
  openBook(text).items.filter((i): i is Extract<Items[number], { type: T }> => i.type === type);

describe("try", () => {
  it("offers a range in the unit of the value, or choices", () => {
    expect(
      of(
        'set a = 2 L try 1000 mL to 3 L step 0.5 L\nset b = "x" try ["x", "y"]\nset c = 20 °C try 10 °C to 86 °F step 5 °C\nset d = 5 ± 1 g try 1 g to 9 g',
        "value",
      ).map((v) => v.trial),
    ).toEqual([
      { type: "range", from: 1, to: 3, ends: ["1 L", "3 L"], step: 0.5, unit: "L" },
      { type: "choices", choices: ["x", "y"] },
      { type: "range", from: 10, to: 30, ends: ["10 °C", "30 °C"], step: 5, unit: "°C" },
      { type: "range", from: 1, to: 9, ends: ["1 g", "9 g"], unit: "g" },
    ]);
  });
  it("needs a plain quantity or text", () => {
    faults("set a = 2\nset b = a * 2 try 1 to 3", [2, "plain quantity"]);
    faults("set a = blank try 1 to 3", [1, "plain quantity"]);
  });
  it("of another kind than the value is a fault", () => {
    faults("set a = 2 L try 1 g to 3 g", [1, "volume", "mass"]);
    faults("set a = 2 L try 1 L to 3 g", [1, "mass"]);
    faults('set a = "x" try 1 to 2', [1, "text"]);
    faults("set a = 2 try [1, 2]", [1, "list"]);
    faults("set a = 2 L try 1 L to nosuch", [1, "nosuch"]);
    faults("set a = 2 L try 1 L to 3 L step 1 g", [1, "steps"]);
  });
  it("is no check: a value outside is allowed, and noted", () => {
    const book = reads('set a = 5 L try 1 L to 3 L\nset b = "z" try ["x", "y"]', "a=5 L", "b=z");
    for (const answer of book.answers()) expect(answer.notes.join()).toContain("outside");
  });
});

describe("step", () => {
  const RUNS =
    "table runs\n| run | on (date) | got (mL) |\n| 1 | 2026-01-01 | 400 |\nset cut = blank in mL\nset charge = 3 kg\n";
  it("waits, asks and expects; the unit is the heading's or the value's unless `in` says another", () => {
    const [step] = of(
      `${RUNS}step "One {charge}." wait 40 min ask runs.got expect 400 mL ± 10 mL ask cut ask charge in g ask runs.got in L`,
      "step",
    );
    expect(step?.text).toBe("One 3 kg.");
    expect(step?.wait?.text).toBe("40 min");
    expect(step?.asks.map((a) => [a.path, a.unit, a.expect?.text])).toEqual([
      ["runs.got", "mL", "400 ± 10 mL"],
      ["cut", "mL", undefined],
      ["charge", "g", undefined],
      ["runs.got", "L", undefined],
    ]);
  });
  it("asks for a blank or plain value, or for a typed column", () => {
    faults(`${RUNS}set z = charge * 2\nstep "s" ask z`, [7, "formula"]);
    faults(`${RUNS}step "s" ask nosuch`, [6, "nosuch"]);
    faults(`${RUNS}step "s" ask runs.nope`, [6, "nope"]);
    faults(`${RUNS}step "s" ask runs.1.got`, [6, "column"]);
    faults(`table runs\n| run | got |\n| 1 | 2 |\ncolumn y = got\nstep "s" ask runs.y`, [5, "computed"]);
    faults(`${RUNS}step "s" ask charge + 1`, [6]);
  });
  it("has a unit and a plan of the kind of what is read, and waits for a time", () => {
    faults(`${RUNS}step "s" ask runs.got in g`, [6, "mass"]);
    faults(`${RUNS}step "s" ask cut expect 400 g`, [6, "mass"]);
    faults(`${RUNS}step "s" ask cut expect 400`, [6, "plain number"]);
    faults(`${RUNS}step "s" wait 3 g`, [6, "time"]);
    expect(faultsOf(openBook(`${RUNS}step "s" ask cut in L expect 400 mL ± 10 mL`))).toEqual([]);
  });
  it("shows live values, lists entry by entry, and what is not known yet", () => {
    expect(of(`${RUNS}step "{cut} {runs.got} {[1 L, 2 L]}"`, "step")[0]?.text).toBe(
      // A column goes by the names of its rows: run 1 has 400 mL.
      "(not filled in yet) 1: 400 mL 1 L, 2 L",
    );
    faults(`${RUNS}step "{runs}"`, [6, "parts"]);
  });
});

describe("seen", () => {
  const ticks = (text: string) => openBook(text).ticks.map((t) => t.state);
  const mark = (text: string, path: string) => openBook(text).markOf(path)!;
  it("marks a formula by its tokens, FNV-1a over 32 bits", () => {
    const T = "table t\n| n | volume (L) | strength (%vol) |\n| r | 1 | 40 |\n";
    expect(mark(`${T}column spirit = pure_volume(volume, strength)`, "t.spirit")).toBe("@2ffcfed6");
    expect(ticks(`${T}column spirit = pure_volume ( volume,strength ) # c\nseen t.spirit @2ffcfed6`)).toEqual(
      ["holds"],
    );
    expect(
      ticks(`${T}column spirit = pure_volume(volume,\n# c\n strength)\nseen t.spirit @2ffcfed6 "fine"`),
    ).toEqual(["holds"]);
    expect(ticks(`${T}column spirit = pure_volume(volume, 40 %vol)\nseen t.spirit @2ffcfed6`)).toEqual([
      "changed",
    ]);
  });
  it("ticks a value, a column, a foot, a cell and a definition, and tells when there is none", () => {
    const T =
      "set a = 1 + 2\ndefine f(x, y) = x + y\ntable t\n| n | x |\n| r | = 1 + 2 |\n| s | 4 |\ncolumn y = x * 2\nfoot x = sum(x)\n";
    for (const path of ["a", "f", "t.y", "t.foot.x", "t.r.x", "t.s.x"])
      expect(ticks(`${T}seen ${path} ${mark(T, path)}`), path).toEqual(["holds"]);
    expect(ticks(`${T}seen nosuch @00000000\nseen t.q @00000000`)).toEqual(["lost", "lost"]);
  });
  it("of a definition includes its parameters", () => {
    expect(mark("define f(x, y) = x + y", "f")).not.toBe(mark("define f(y, x) = x + y", "f"));
    expect(mark("define f(x, y) = x + y", "f")).toBe(mark("define f( x,y )=x+y", "f"));
  });
});

describe("check", () => {
  it("is met, unmet by how much, or not yet known", () => {
    expect(
      of(
        'set a = 3 L\nset got = blank in L\ncheck a > 2 L\ncheck a > 4 L : "more"\ncheck got > 1 L\ncheck nosuch > 1\ncheck a within 4 L to 5 L',
        "check",
      ).map((c) => [c.text, c.state, c.says]),
    ).toEqual([
      ["a > 2 L", "met", undefined],
      ["more", "unmet", "under by 1 L"],
      ["got > 1 L", "unknown", "needs got"],
      ["nosuch > 1", "unknown", "Nothing here is called `nosuch`."],
      ["a within 4 L to 5 L", "unmet", "under by 1 L"],
    ]);
    faults("check 3 L", [1, "true or false"]);
  });
});

describe("titles and records", () => {
  it("titles are plain text: a brace in them is a fault", () => {
    faults(
      'book "a {1}"\nabout "b {1}"\npart "c {1}"\ntable t "d {1}"\n| n |\nset a = 1',
      [1, "{"],
      [2, "{"],
      [3, "{"],
      [4, "{"],
    );
    expect(openBook('book "a \\{1\\}"').title).toBe("a {1}");
  });
  it("a record has no value of its own: its parts are shown, a line each", () => {
    reads(
      "set m = marry([1 L, 1 L], [40 %vol, 40 %vol])\ntable t\n| n | x |\n| r | 1 |\nset r = t.r",
      "m.volume=2 L",
      "m.strength=40 %vol",
      "m.mass=1896.1 g",
      "m.pure_volume=0.8 L",
      "m.contraction=0 mL",
      "t.r.x=1",
      "r.n=r",
      "r.x=1",
    );
    faults(
      'set m = let_down(1 L, 96 %vol, to: 40 %vol)\nset a = m * 2\nset b = "{m}"',
      [2, "add", "total"],
      [3, "add"],
    );
  });
  it("names in results are written as in a formula, lists by number, repeated rows with their count", () => {
    reads(
      "table t\n| n | my x |\n| bay leaf | 1 |\n| bay leaf | 2 |\n| | 3 |\nset l = 1 to 2\nset `my l` = [4]",
      "t.`bay leaf`.`my x`=1",
      "t.`bay leaf (2)`.`my x`=2",
      "t.`row 3`.`my x`=3",
      "l.1=1",
      "l.2=2",
      "`my l`.1=4",
    );
    expect(notesOf(openBook("set a = 1"))).toEqual([]);
  });
});
