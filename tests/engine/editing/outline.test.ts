import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { outline } from "../../../src/engine/editing";
import { CORDIAL, cordial } from "./writing";

const brief = (text: string) =>
  outline(openBook(text)).map((e) => `${e.level} ${e.type} ${e.label}: ${e.state}`);

describe("the contents of a book", () => {
  it("in the order of the text, what stands under a part one step in", () => {
    expect(brief('book "B"\nset a = 1 g\npart "P"\nset b = 2 g\ndefine f(x) = x\nstep "Stir."\n')).toEqual([
      "0 title B: ok",
      "0 value a: ok",
      "0 part P: ok",
      "1 value b: ok",
      "1 function f(x): ok",
      "1 step Stir.: ok",
    ]);
  });
  it("with where each stands in the text; a part reaches to the next", () => {
    const entries = outline(cordial);
    for (const { from, to, line, type } of entries) {
      expect(to).toBeGreaterThan(from);
      expect(CORDIAL.slice(0, from).split("\n").length).toBe(line);
      if (type === "table")
        expect(CORDIAL.slice(from, to)).toMatch(
          /^table .*\n[\s\S]*\|$|^table[\s\S]*foot cost = sum\(cost\)$/,
        );
    }
    const parts = entries.filter((e) => e.type === "part");
    expect(parts.map((p) => p.label)).toEqual(["The bench", "What goes in", "What comes out"]);
    expect(parts[0]!.to).toBe(parts[1]!.from);
    expect(parts[2]!.to).toBe(CORDIAL.length);
  });
  it("tells titles, and names where there is none", () => {
    expect(
      outline(cordial)
        .filter((e) => e.type === "table")
        .map((e) => e.label),
    ).toEqual(["On the shelf", "runs"]);
    expect(brief("check 1 < 2\n")).toEqual(["0 check 1 < 2: ok"]);
    expect(brief('chart "C" : bars [1, 2] by ["a", "b"]\n')).toEqual(["0 chart C: ok"]);
  });
  it("counts gaps where they are to be filled in, not where they are felt", () => {
    const entries = outline(
      openBook("set a = blank in mL\nset b = a * 2\ntable t\n| k | x (g) | y |\n| r | | |\n| s | 3 | |\n"),
    );
    expect(entries.map((e) => [e.label, e.state, e.counts.gaps])).toEqual([
      ["a", "gap", 1],
      ["b", "gap", 0],
      ["t", "gap", 3],
    ]);
  });
  it("counts a fault where it begins, and tells it wherever it is felt", () => {
    const entries = outline(
      openBook(
        "set a = 1 g + 1 mL\nset b = a * 2\ntable t\n| k | x (g) |\n| r | 1 mL |\ncolumn y = x + 1 L\n",
      ),
    );
    expect(entries.map((e) => [e.label, e.state, e.counts.faults])).toEqual([
      ["a", "fault", 1],
      ["b", "fault", 0],
      ["t", "fault", 1],
    ]);
  });
  it("tells checks that are not met, or not known yet", () => {
    expect(brief('set a = blank\ncheck 1 > 2 : "one"\ncheck a > 2 : "two"\ncheck 1 < 2 : "three"\n')).toEqual(
      ["0 value a: gap", "0 check one: unmet", "0 check two: unknown", "0 check three: ok"],
    );
  });
  it("a part tells the worst of what stands under it, and the sums", () => {
    const [part] = outline(
      openBook('part "P"\nset a = blank\ncheck 1 > 2\nset b = 1 g + 1 mL\npart "Q"\nset c = 1\n'),
    );
    expect(part).toMatchObject({
      state: "fault",
      counts: { faults: 1, gaps: 1, unmet: 1, unknown: 0, size: 3 },
    });
    expect(outline(openBook('part "P"\ncheck 1 > 2\nset a = blank\n'))[0]!.state).toBe("unmet");
  });
  it("keeps what cannot be read in its place", () => {
    expect(brief("sugar, two cups\nset b = 2\n")).toEqual([
      "0 unread sugar, two cups: fault",
      "0 value b: ok",
    ]);
  });
});
