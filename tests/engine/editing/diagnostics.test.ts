import { describe, expect, it } from "vitest";
import { applyPatches } from "../../../grammar";
import { openBook } from "../../../src/engine";
import { diagnostics } from "../../../src/engine/editing";
import { cordial } from "./writing";

const of = (text: string) => diagnostics(openBook(text));

describe("what is told about a book", () => {
  it("is nothing for a book without a fault", () => {
    expect(diagnostics(cordial).filter((d) => d.severity === "fault")).toEqual([]);
  });
  it("has its place in the text, its line, and one message for one cause", () => {
    const text = "set a = 1 g + 1 mL\nset b = a * 2\nset c = nobody\n";
    const found = of(text);
    expect(found.map((d) => [d.line, text.slice(d.from, d.to)])).toEqual([
      [1, "1 g + 1 mL"],
      [3, "nobody"],
    ]);
    expect(found[0]!.path).toBe("a");
    expect(found[1]!.help).toMatch(/set nobody/);
  });
  it.each([
    [
      "ask nosuch",
      "nosuch: There is no value or table called `nosuch` for the reading. Add `set nosuch = blank in mL`, in the unit that is read.",
    ],
    ["ask gott", "gott: There is no value or table called `gott` for the reading. `got` is near."],
    ["ask runz", "runz: There is no value or table called `runz` for the reading. `runs` is near."],
    [
      "ask u.x",
      "u: There is no table called `u` for the reading. Add a table u with a column `x`, and the unit that is read in its heading; or ask for a value by its name alone.",
    ],
    ["ask runz.got", "runz: There is no table called `runz` for the reading. `runs` is near."],
    // A value is no table, and a name near one is not a table either.
    [
      "ask gott.x",
      "gott: There is no table called `gott` for the reading. Add a table gott with a column `x`, and the unit that is read in its heading; or ask for a value by its name alone.",
    ],
    [
      "ask got.x",
      "got.x: A reading is asked for a `set` or for a column of a table, and this is a part of one. Ask for the whole column, `ask runs.got`: each run becomes a row of its own.",
    ],
    [
      "ask runs.a.got",
      "runs.a.got: A reading is asked for a `set` or for a column of a table, and this is a part of one. Ask for the whole column, `ask runs.got`: each run becomes a row of its own.",
    ],
    ["ask runs.mas", "mas: Table runs has no column `mas` for the reading. `mass` is near."],
    ["ask runs.nothing", "nothing: Table runs has no column `nothing` for the reading."],
    [
      "ask runs.twice",
      "twice: The column `twice` of table runs is computed, so a reading cannot be written in it.",
    ],
    [
      "ask made",
      "made: `made` is worked out by a formula, so a reading cannot take its place. Ask for a `set` that is blank: `set reading = blank in mL`.",
    ],
    ["ask got", ""],
    ["ask typed", ""],
    ["ask runs.mass", ""],
  ])("a step's %s", (asked, wanted) => {
    const text = `set got = blank in mL\nset typed = 3 mL\nset made = typed * 2\ntable runs\n| k | mass (g) |\n| a | 1 |\ncolumn twice = mass * 2\nstep "Read." ${asked}\n`;
    const told = of(text)
      .filter((d) => d.code.startsWith("ask-"))
      .map((d) => `${text.slice(d.from, d.to)}: ${d.says}${d.help === undefined ? "" : ` ${d.help}`}`);
    expect(told.join("; ")).toBe(wanted);
  });
  it("a remark that is put in quotes keeps its bars, and only they are escaped", () => {
    const text = "table t\n| k | x |\n| r | 12 mL \\| 3 \\ 4 |";
    const [remark] = of(text);
    const mended = applyPatches(text, remark!.fixes[0]!.patches);
    expect(mended.split("\n")[2]).toBe('| r | "12 mL \\| 3 \\\\ 4" |');
    expect(of(mended)).toEqual([]);
    expect(openBook(mended).value("t.r.x")).toMatchObject({ type: "text", text: "12 mL | 3 \\ 4" });
  });
  it("a certain fix, once applied, takes its fault away", () => {
    const faulty = [
      "set a = 2,5 L\n",
      "set a = 3 Kg\n",
      "set a = .5 L\n",
      "set pull = 3\nset b = pul * 2\n",
      "set a = 1 <> 2\n",
      "set a = ½ * 3\n",
      "table t\n| k | x (g) |\n| r | 1 |\nset s = t.xx\n",
      "Set a = 3\n",
      "set a = 1 == 2\n",
      "set a = “x”\n",
      "table t\n| k | x |\n| r | 1\n",
    ];
    let applied = 0;
    for (const text of faulty) {
      const before = of(text);
      expect(before.length, text).toBeGreaterThan(0);
      for (const { code, fixes, from } of before) {
        for (const fix of fixes) {
          expect(fix.says, text).toMatch(/\w/);
          if (!fix.certain) continue;
          const after = of(applyPatches(text, fix.patches));
          expect(
            after.filter((d) => d.code === code && d.from === from),
            `${text} ${fix.says}`,
          ).toEqual([]);
          applied++;
        }
      }
    }
    expect(applied).toBeGreaterThan(6);
  });
});
