import { describe, expect, it } from "vitest";
import { grid, harmless, pad, paint, type Sink, wantsColour, widthOf, wrap } from "../../src/cli/terminal";

const silent = { write: () => Promise.resolve() };
const plainSink: Sink = { ...silent, colour: false };
const colourSink: Sink = { ...silent, colour: true };

describe("colour", () => {
  it("is for terminals, and not when NO_COLOR is set", () => {
    expect(wantsColour(true, {})).toBe(true);
    expect(wantsColour(false, {})).toBe(false);
    expect(wantsColour(true, { NO_COLOR: "1" })).toBe(false);
    expect(wantsColour(true, { NO_COLOR: "" })).toBe(true);
    expect(wantsColour(true, { TERM: "dumb" })).toBe(false);
  });

  it("never changes what is written", () => {
    expect(paint(plainSink, "fault", "fault")).toBe("fault");
    expect(paint(colourSink, "fault", "fault")).toBe("\u001b[31mfault\u001b[0m");
    expect(widthOf(paint(colourSink, "fault", "fault"))).toBe(5);
  });
});

describe("what may reach a terminal", () => {
  it("passes letters, line ends, tabs and our own colours", () => {
    const text = "\u001b[31mjuniper\u001b[0m\t2.4 L\n°Bx ± 0.2";
    expect(harmless(text)).toBe(text);
  });

  it("takes the teeth out of whatever moves the cursor, renames the window or turns the writing round", () => {
    expect(harmless("a\u001b]0;title\u0007b")).toBe("a\ufffd]0;title\ufffdb");
    expect(harmless("a\u001b[2Jb")).toBe("a\ufffd[2Jb");
    expect(harmless("a\rb\u009b2Jc")).toBe("a\ufffdb\ufffd2Jc");
    expect(harmless("a\u202eb")).toBe("a\ufffdb");
  });
});

describe("width", () => {
  it("counts what a terminal shows", () => {
    expect(widthOf("°Bx")).toBe(3);
    expect(widthOf("e\u0301")).toBe(1);
    expect(widthOf("蒸留")).toBe(4);
  });

  it("pads to either side", () => {
    expect(pad("蒸", 4)).toBe("蒸  ");
    expect(pad("2.5", 5, "right")).toBe("  2.5");
    expect(pad("too long", 3)).toBe("too long");
  });
});

describe("wrapping", () => {
  it("breaks at blanks and leaves a long word alone", () => {
    expect(wrap("stir in a third at a time", 10)).toEqual(["stir in a", "third at a", "time"]);
    expect(wrap("distillates.juniper.strength is high", 10)).toEqual([
      "distillates.juniper.strength",
      "is high",
    ]);
    expect(wrap("  ", 10)).toEqual([]);
  });
});

describe("a grid", () => {
  const columns = [
    { heading: ["item"], cells: ["juniper", "orris"], side: "left" as const },
    { heading: ["volume"], cells: ["2400", "90"], side: "right" as const },
    { heading: ["cost"], cells: ["26.88", "9.40"], side: "right" as const },
  ];

  it("sets numbers under each other", () => {
    expect(grid(columns)).toEqual([
      "item      volume    cost",
      "juniper     2400   26.88",
      "orris         90    9.40",
    ]);
  });

  it("goes on in a second block where the terminal is narrow, the first column repeated", () => {
    expect(grid(columns, 17)).toEqual([
      "item      volume",
      "juniper     2400",
      "orris         90",
      "",
      "item       cost",
      "juniper   26.88",
      "orris      9.40",
    ]);
  });

  it("is nothing without columns", () => {
    expect(grid([])).toEqual([]);
  });
});
