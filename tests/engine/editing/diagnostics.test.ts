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
