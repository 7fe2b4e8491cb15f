import { describe, expect, it } from "vitest";
import { openBook } from "../../../src/engine";
import { CORDIAL, completed, fitting, inCordial, proposal, taken } from "./writing";

describe("words behind a whole operand", () => {
  it("are those that what stands there can take", () => {
    expect(fitting("set x", "pull ¦")).toEqual(["in", "is", "is not", "within", "to"]);
    expect(fitting("set x", "glycol ¦")).toEqual(["is", "is not"]);
    expect(fitting("set x", "pull > 3 mbar ¦")).toEqual(expect.arrayContaining(["and", "or"]));
    expect(fitting("set x", "pull > 3 mbar ¦")).not.toContain("is");
    expect(fitting("set x", "stock.volume ¦")).toContain("where");
    expect(fitting("set x", "pull ¦")).not.toContain("where");
  });
  it("a beginning that is no operand is taken for one", () => {
    expect(fitting("set x", "pull i¦")).toEqual(["in", "is", "is not"]);
    expect(taken("set x", "pull wi¦", "within")).toBe("pull within ¦ to ");
  });
  it("lead through if, find and ranges", () => {
    expect(fitting("set x", "if pull > 3 mbar ¦")).toContain("then");
    expect(fitting("set x", "if pull > 3 mbar then pull ¦")).toContain("else");
    expect(fitting("set x", "if pull > 3 mbar then pull else pull ¦")).not.toContain("else");
    expect(fitting("set x", "find x ¦")).toEqual(["from"]);
    expect(fitting("set x", "find x from 1 K ¦")).toContain("to");
    expect(fitting("set x", "find x from 1 K to 3 K ¦")).toContain("so that");
    expect(fitting("set x", "find x from 1 K to 3 K so that x ¦")).toContain("is");
    expect(fitting("set x", "1 K to 3 K ¦")).toContain("step");
    expect(fitting("set x", "pull within 1 K to 3 K ¦")).not.toContain("step");
  });
  it("find is offered what it can turn", () => {
    const labels = fitting("set best", "find ¦");
    expect(labels).toEqual(expect.arrayContaining(["pull", "room", "goal"]));
    expect(labels).not.toContain("boiling");
    expect(labels).not.toContain("glycol");
  });
  it("begin an operand only once something of them is typed", () => {
    expect(fitting("set x", "¦")).not.toContain("if");
    expect(taken("set x", "i¦", "if")).toBe("if ¦ then  else ");
    expect(taken("set x", "fin¦", "find")).toBe("find ¦ from  to  so that ");
    expect(fitting("set x", "bl¦")).toContain("blank");
    expect(taken("column stock.cost", "bef¦", "before")).toBe("before.¦");
    expect(fitting("set x", "bef¦")).not.toContain("before");
    expect(fitting("foot stock.cost", "bef¦")).not.toContain("before");
  });
  it("say what they do", () => {
    expect(proposal("set x", "pull wit¦", "within")).toMatchObject({ thing: "word" });
    expect(proposal("set x", "pull wit¦", "within").says).toMatch(/between/);
  });
});

describe("clauses", () => {
  it("of a set", () => {
    expect(taken("book", inCordial("set x = 3 g tr¦"), "try")).toContain("set x = 3 g try ¦ to ");
    expect(fitting("book", inCordial("set x = 3 g try 1 g ¦"))).toContain("to");
    expect(fitting("book", inCordial("set x = 3 g try 1 g to 9 g ¦"))).toContain("step");
    expect(fitting("book", inCordial("set x = 3 g try 1 g ¦"))).not.toContain("try");
    expect(fitting("column stock.cost", "volume ¦")).not.toContain("try");
  });
  it("of a step", () => {
    expect(fitting("book", inCordial('step "Stir." ¦'))).toEqual(["wait", "ask"]);
    expect(fitting("clauses", "wait 3 min ¦")).toEqual(["ask"]);
    expect(fitting("clauses", "ask got ¦")).toEqual(expect.arrayContaining(["in", "expect", "wait"]));
    expect(fitting("clauses", "ask got in ¦")[0]).toBe("mL");
  });
  it("ask is offered what a reading can fill", () => {
    const labels = fitting("clauses", "ask ¦");
    expect(labels).toEqual(expect.arrayContaining(["got", "pull", "stock.volume", "runs.mass"]));
    for (const label of ["boiling", "blend", "stock.cost", "stock.item", "stock"])
      expect(labels).not.toContain(label);
  });
  it("of a chart", () => {
    expect(fitting("chart", "¦")).toEqual(["bars", "line", "dots", "curve"]);
    expect(taken("chart", "cu¦", "curve")).toBe("curve ¦ for x from  to ");
    expect(fitting("chart", "bars stock.alcohol ¦")).toContain("by");
    expect(fitting("chart", "bars stock.alcohol by stock.item ¦")).not.toContain("by");
    const by = fitting("chart", "bars runs.mass by ¦").filter((l) => l.includes("."));
    expect(by[0]).toBe("runs.run");
    expect(fitting("chart", "curve boils_at(p) ¦")).toContain("for");
    expect(fitting("chart", "curve boils_at(p) for p ¦")).toContain("from");
    expect(fitting("chart", "curve boils_at(p) for p from 2 mbar to 3 mbar ¦")).toContain("mark");
  });
});

describe("the start of a statement", () => {
  it("offers the words that can begin one, with their templates", () => {
    const labels = fitting("book", `${CORDIAL}\n¦`);
    expect(labels).toEqual(
      expect.arrayContaining(["set", "table", "check", "chart", "step", "part", "define"]),
    );
    expect(labels).not.toContain("book");
    expect(taken("book", `${CORDIAL}\nse¦`, "set")).toBe(`${CORDIAL}\nset ¦ = `);
    expect(taken("book", "ch¦\n", "check", openBook(""))).toBe('check ¦ : ""\n');
    expect(proposal("book", `${CORDIAL}\nch¦`, "chart").stops).toHaveLength(3);
    expect(taken("book", "ta¦", "table", openBook(""))).toBe("table ¦\n|  |  |\n");
  });
  it("under a table its columns and feet come first, elsewhere not at all without one", () => {
    expect(fitting("book", inCordial("¦", "foot cost ="))[0]).toBe("column");
    expect(fitting("book", inCordial("¦", "set boiling"))[0]).toBe("set");
    expect(fitting("book", "¦", openBook(""))).not.toContain("column");
    expect(fitting("book", "¦", openBook(""))).toContain("book");
  });
  it("replaces the word that is begun", () => {
    expect(taken("book", "che¦ck\n", "check", openBook(""))).toBe('check ¦ : ""\n');
    expect(completed("book", "  se¦", openBook("")).typed).toBe("se");
  });
  it("knows the statement of a field that holds a whole one", () => {
    expect(fitting("statement", "ch¦")).toEqual(expect.arrayContaining(["check", "chart"]));
    expect(fitting("statement stock", "column x = vol¦")[0]).toBe("volume");
    expect(fitting("statement", "check pul¦")).toContain("pull");
  });
});
