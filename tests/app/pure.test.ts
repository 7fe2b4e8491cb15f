import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { axisFor, axisWithin, dayAxis, roundStep, tickText } from "../../src/app/state/axis";
import { fileNameFor } from "../../src/app/state/files";
import { foretold } from "../../src/app/state/foretell";
import { matching } from "../../src/app/state/glossary";
import { inksOf, inksOfBook } from "../../src/app/state/inks";
import { firstChoice, offeredFor, taken } from "../../src/app/state/offers";
import { pathsIn, placeOfPath } from "../../src/app/state/path-places";
import { partsOf } from "../../src/app/state/paths";
import { cellPlace, itemPlace } from "../../src/app/state/place";
import { readSentence, writeSentence } from "../../src/app/state/sentence";
import { detent, literalWith } from "../../src/app/state/trial";
import { Prose } from "../../src/app/view/Prose";
import { pieces, rowsInView } from "../../src/app/view/useWindow";
import { openBook } from "../../src/engine";
import { vocabulary } from "../../src/vocabulary";

describe("an axis", () => {
  it("has round ticks around all values", () => {
    expect(axisFor([3, 97], 5).ticks).toEqual([0, 20, 40, 60, 80, 100]);
    expect(axisFor([0.12, 0.19], 4).ticks).toEqual([0.12, 0.14, 0.16, 0.18, 0.2]);
    expect(axisFor([5], 5).ticks.length).toBeGreaterThan(1);
    expect(axisFor([], 5).ticks.length).toBeGreaterThan(1);
    expect(axisFor([Number.NaN, 1, 2], 5).low).toBe(1);
  });
  it("may end where its range ends, and says so", () => {
    const axis = axisWithin(20, 200, 6, true);
    expect(axisWithin(20, 200, 6).ticks).toEqual([50, 100, 150, 200]);
    expect([axis.low, axis.high]).toEqual([20, 200]);
    expect(axis.ticks).toEqual([20, 50, 100, 150, 200]);
    expect(tickText(axis, -20)).toBe("−20");
  });
  it("of days tells at least the first and the last of them", () => {
    expect(dayAxis([101, 103, 119], 2).ticks).toEqual([101, 119]);
    expect(dayAxis([100, 103, 121], 5).ticks).toEqual([100, 105, 110, 115, 120]);
    expect(dayAxis([100], 5).ticks).toEqual([100]);
    expect(dayAxis([101, 119], 2).low).toBe(100);
  });
  it("steps by one, two and five", () => {
    expect([0.7, 1, 1.1, 3, 7, 43].map(roundStep)).toEqual([1, 1, 2, 5, 10, 50]);
  });
});

describe("a slider", () => {
  it("steps as the writer says, else by about two hundred steps", () => {
    const range = { type: "range", from: 20, to: 200, unit: "mbar" } as const;
    expect(detent(range)).toBe(1);
    expect(detent({ ...range, step: 5 })).toBe(5);
    expect(detent({ ...range, from: 0, to: 1 })).toBe(0.005);
  });
  it("rewrites the number alone", () => {
    expect(literalWith("60 mbar", 61, 1)).toBe("61 mbar");
    expect(literalWith("-10 ± 2 °C", -9.5, 0.5)).toBe("-9.5 ± 2 °C");
    expect(literalWith("0.1 L", 0.30000000000000004, 0.1)).toBe("0.3 L");
    expect(literalWith("5 g", -0, 1)).toBe("0 g");
  });
});

describe("paths", () => {
  it("are taken apart at their dots, backticks minded", () => {
    expect(partsOf("distillates.`lemon peel`.cost")).toEqual(["distillates", "lemon peel", "cost"]);
    expect(partsOf("`a.b`.c")).toEqual(["a.b", "c"]);
  });
  it("are found in a formula, the longest first, and only as whole names", () => {
    const found = pathsIn("let_down(blend.volume, blend, to: blending)", ["blend", "blend.volume"]);
    expect(found.filter((p) => p.path !== undefined).map((p) => p.text)).toEqual(["blend.volume", "blend"]);
    expect(found.map((p) => p.text).join("")).toBe("let_down(blend.volume, blend, to: blending)");
  });
  it("lead to their place on the page", () => {
    const book = openBook("set a = 1\ntable t\n| item | x |\n| b c | 1 |\nfoot x = sum(x)\n");
    expect(placeOfPath(book, "a")?.place).toEqual(itemPlace("value:a", "formula"));
    expect(placeOfPath(book, "t.`b c`.x")?.place).toEqual(cellPlace("table:t", 0, 1));
    expect(placeOfPath(book, "t.foot.x")?.place).toEqual(cellPlace("table:t", 1, 1));
    expect(placeOfPath(book, "nothing")).toBeUndefined();
  });
});

describe("a sentence", () => {
  it("comes back as it was, with quotes inside and outside braces", () => {
    for (const inner of [
      'say \\"now\\" {a}',
      '{if a is "x" then 1 else 2} g',
      "plain",
      "\\{not a formula\\}",
    ])
      expect(writeSentence(readSentence(inner))).toBe(inner);
    expect(readSentence('say \\"now\\"')).toBe('say "now"');
  });
});

describe("inks", () => {
  it("cover the text without holes, whatever it is", () => {
    const book = 'book "B"\n# words\nset a = (1 + \n| x | = 2 * a |\ntable t "T"\n| i | n |\n| j | 3 g |\n\n';
    for (const [inks, text] of [
      [inksOfBook(book, openBook(book).messages), book],
      [inksOf("= 2 * a.b", "cell"), "= 2 * a.b"],
      [inksOf("curve f(x) for x from 1 to 2", "statement"), "curve f(x) for x from 1 to 2"],
      [inksOf("", "formula"), ""],
    ] as const) {
      expect(inks.map((i) => text.slice(i.from, i.to)).join("")).toBe(text);
      let at = 0;
      for (const ink of inks) {
        expect(ink.from).toBe(at);
        at = ink.to;
      }
    }
  });
});

describe("offers", () => {
  const book = openBook("set pull = 60 mbar\nset bath = 30 °C\nset b = boils_at(pull)\n");
  const draft = (text: string) =>
    ({ place: itemPlace("value:b", "formula"), text, caret: text.length, via: "place" }) as const;

  it("begin with what fits, and take the place of what was typed", () => {
    const now = draft("boils_at(p");
    const offered = offeredFor(book, now);
    expect(offered.proposals[0]).toMatchObject({ label: "pull", fits: true });
    expect(firstChoice(offered, now)).toBe(0);
    expect(taken(now, offered, offered.proposals[0]!)).toEqual({ text: "boils_at(pull", caret: 13 });
    expect(offered.signature?.name).toBe("boils_at");
  });

  it("never choose for a person who has typed nothing, or a whole word", () => {
    expect(offeredFor(book, draft("")).proposals).toEqual([]);
    expect(offeredFor(book, draft("24")).proposals).toEqual([]);
    const whole = draft("boils_at(pull");
    expect(firstChoice(offeredFor(book, whole), whole)).toBe(-1);
    const litres = draft("500 ml");
    expect(offeredFor(book, litres).proposals.map((p) => p.insert)).toContain("mL");
    expect(firstChoice(offeredFor(book, litres), litres)).toBe(-1);
    const open = draft("boils_at(");
    expect(firstChoice(offeredFor(book, open), open)).toBe(-1);
  });

  it("count in what was typed, an equals sign in front included", () => {
    const now = draft("= boils_at(pu");
    const offered = offeredFor(book, now);
    expect(taken(now, offered, offered.proposals[0]!).text).toBe("= boils_at(pull");
  });

  it("come behind a name and its equals sign too, and never for the name itself", () => {
    const named = (text: string) =>
      ({ place: itemPlace("value:b", "name"), text, caret: text.length, via: "place" }) as const;
    const now = named("pot = boils_at(pu");
    const offered = offeredFor(book, now);
    expect(offered.proposals[0]).toMatchObject({ label: "pull", fits: true });
    expect(taken(now, offered, offered.proposals[0]!)).toEqual({ text: "pot = boils_at(pull", caret: 19 });
    expect(foretold(book, named("pot = 2 * 30 g"))).toMatchObject({ type: "value", shown: { text: "60 g" } });
    expect(offeredFor(book, named("pu")).proposals).toEqual([]);
    expect(foretold(book, named("pot"))).toEqual({ type: "nothing" });
  });
});

describe("the rows near the view", () => {
  it("reach from above to below it, and keep the focused row", () => {
    expect(rowsInView(3800, 760, 38, 1000)).toEqual({ first: 76, last: 144 });
    const list = pieces(76, 78, 1000, 38, 5);
    expect(list.filter((p) => p.type === "row").map((p) => (p.type === "row" ? p.row : -1))).toEqual([
      5, 76, 77, 78,
    ]);
    const height = list.reduce((sum, p) => sum + (p.type === "row" ? 38 : p.height), 0);
    expect(height).toBe(38_000);
    expect(pieces(0, -1, 0, 38, undefined)).toEqual([]);
  });
});

it("a file is named after its book", () => {
  expect(fileNameFor("Harbour gin, spring trial")).toBe("harbour-gin-spring-trial.vacuo");
  expect(fileNameFor("Gewürz & Öl", "xlsx")).toBe("gewurz-ol.xlsx");
  expect(fileNameFor("")).toBe("book.vacuo");
});

it("functions are found by what they answer", () => {
  const found = (asked: string) => {
    const { groups, whole } = matching(vocabulary.values(), asked);
    return { names: groups.flatMap((g) => g.functions.map((f) => f.name)), whole };
  };
  expect(found("honey limit").names).toContain("infuse_honey_limit");
  expect(found("").names.length).toBe(vocabulary.size);
  expect(found("zzz").names).toEqual([]);
  // A question is asked in words of which some say nothing, and some are not ours.
  expect(found("How much infusion can a honey take?").names).toEqual(["infuse_honey", "infuse_honey_limit"]);
  const partly = found("honey infusion kettle");
  expect(partly.whole).toBe(false);
  expect(partly.names).toContain("infuse_honey");
  expect(found("the").whole).toBe(true);
});

describe("words of the language in a sentence", () => {
  const shown = (text: string) => renderToStaticMarkup(Prose({ text }));

  it("stand without their backticks, and a name that needs them keeps them only inside a path", () => {
    expect(shown("`cost per bottle` is near.")).toBe("<code>cost per bottle</code> is near.");
    expect(shown("``cost per bottle`` is near.")).toBe("<code>cost per bottle</code> is near.");
    expect(shown("Write `t.`net mass``, or `t.foot.`net mass`` for its foot.")).toBe(
      "Write <code>t.`net mass`</code>, or <code>t.foot.`net mass`</code> for its foot.",
    );
    expect(shown("`marry(`a b`, c)`")).toBe("<code>marry(`a b`, c)</code>");
    expect(shown("Give it a value: `set `a b` = …`.")).toBe("Give it a value: <code>set `a b` = …</code>.");
  });

  it("end at their own backtick, whatever stands before it", () => {
    expect(shown("`a`, `b` and `(` or `.` after `in `, not `L`")).toBe(
      "<code>a</code>, <code>b</code> and <code>(</code> or <code>.</code> after <code>in </code>, not <code>L</code>",
    );
    expect(shown("needs distillates.`lemon peel`.price")).toBe(
      "needs distillates.<code>lemon peel</code>.price",
    );
  });
});
