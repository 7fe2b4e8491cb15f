import { describe, expect, it } from "vitest";
import { excerpt, messageLines } from "../../src/cli/message";
import type { Sink } from "../../src/cli/terminal";
import type { Message } from "../../src/engine";

const sink: Sink = { write: () => Promise.resolve(), colour: false };

describe("a message", () => {
  it("shows its place, the line with a mark under it, what to do, and what the fix would write", () => {
    const text = 'book "Gin"\nset a = 2 L/jars\n';
    const from = text.indexOf("L/jars");
    const message: Message = {
      code: "unit-unknown",
      severity: "fault",
      from,
      to: from + 6,
      line: 2,
      column: 11,
      says: "jars is no unit.",
      help: "Blanks around the stroke divide.",
      fixes: [
        {
          says: "Divide by jars",
          certain: true,
          edits: [{ span: { from: from + 1, to: from + 2 }, text: " / " }],
        },
      ],
    };
    expect(messageLines(message, { name: "gin.vacuo", text }, sink)).toEqual([
      "gin.vacuo:2:11: fault: jars is no unit.",
      "    set a = 2 L/jars",
      "              ~~~~~~",
      "    help: Blanks around the stroke divide.",
      "    fix: Divide by jars: set a = 2 L / jars",
    ]);
  });
});

describe("an excerpt", () => {
  it("keeps tabs, so that the mark stands under its place", () => {
    expect(excerpt("\tset a = x", 9, 10, sink)).toEqual(["    \tset a = x", "    \t        ~"]);
  });

  it("marks the end of a line that stops too early", () => {
    expect(excerpt("set a =", 7, 7, sink)).toEqual(["    set a =", "           ~"]);
  });

  it("cuts a long line to the neighbourhood of the place", () => {
    const text = `set a = ${"1 + ".repeat(500_000)}x`;
    const [line, mark] = excerpt(text, text.length - 1, text.length, sink);
    expect(line!.length).toBeLessThan(120);
    expect(line!.startsWith("    … ")).toBe(true);
    expect(line!.indexOf("x")).toBe(mark!.indexOf("~"));
  });

  it("marks no more than the first line of a longer place", () => {
    expect(excerpt("set a = (1 +\n2", 8, 14, sink)).toEqual(["    set a = (1 +", "            ~~~~"]);
  });

  it("counts wide signs and carriage returns as a terminal does", () => {
    expect(excerpt('"蒸" + x\r\n', 6, 7, sink)).toEqual(['    "蒸" + x', "           ~"]);
  });

  it("is nothing for an empty text or a place behind the end", () => {
    expect(excerpt("", 0, 0, sink)).toEqual([]);
    expect(excerpt("a\n", 9, 9, sink)).toEqual([]);
  });
});
