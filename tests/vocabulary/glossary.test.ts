import { describe, expect, it } from "vitest";
import { kinds } from "../../src/quantity";
import { declarations as aroma } from "../../src/vocabulary/aroma";
import { declarations as day } from "../../src/vocabulary/day";
import type { Declaration } from "../../src/vocabulary/declaration";
import { vocabularyDocument } from "../../src/vocabulary/document";
import {
  byGroup,
  callOf,
  entryMarkdown,
  entryText,
  hoverText,
  listText,
  search,
  signature,
  takesInWords,
  wrapped,
} from "../../src/vocabulary/glossary";
import { declarations as plain } from "../../src/vocabulary/plain";
import { declarations as totals } from "../../src/vocabulary/totals";
import { declarations as trials } from "../../src/vocabulary/trials";

const all = [...aroma, ...totals, ...trials, ...day, ...plain];
const named = (name: string): Declaration => all.find((d) => d.name === name)!;

/** A declaration of the test's own, with everything that a text must show or escape. */
const boils: Declaration = {
  name: "boils_at",
  group: "setting the still",
  says: "The temperature at which it boils; see `pressure_for`.",
  parameters: [
    { name: "pressure", says: "Absolute | never below the room's.", takes: [{ kind: kinds.pressure }] },
    {
      name: "strength",
      says: "Strength.",
      takes: [{ kind: kinds.strengthVolume }, { kind: kinds.strengthMass }],
      optional: true,
      otherwise: "0 %vol",
    },
    { name: "bath", says: "Bath.", takes: [{ kind: kinds.temperature }], optional: true },
    {
      name: "coolant",
      says: "Which.",
      takes: "text",
      choices: ["glycol", "brine", "water"],
      optional: true,
      otherwise: '"brine"',
    },
  ],
  result: [{ name: "", says: "First bubble.", holds: { kind: kinds.temperature, unit: "°C" } }],
  equation: "x*g1*p1 + (1-x)*g2*p2 = P, where P < 110 kPa",
  source: "a regression [1]",
  range: "0 to 130 °C",
  trust: "±0.3 K",
  cautions: ["Glass under vacuum can implode."],
  examples: [{ formula: "boils_at(60 mbar, strength: 40 %vol)", gives: "24.955 °C" }],
  compute: () => 300,
};

describe("the signature", () => {
  it("puts what takes a label behind the semicolon, with its value when left out", () => {
    expect(signature(boils)).toBe(
      'boils_at(pressure; strength = 0 %vol, bath, coolant = "brine") -> temperature',
    );
    expect(callOf(named("comes_over"))).toBe("comes_over(compound, volume, strength, pressure, take)");
    expect(signature(named("rinses"))).toBe("rinses(clings, rinse; to) -> plain number");
    expect(signature(named("compare_means"))).toBe(
      "compare_means(a, b) -> .difference .low .high .chance_alone",
    );
    expect(signature(named("day_plan"))).toMatch(
      /^day_plan\(names, run_times, clean_times; starts = 8 h, chill_down = 45 min, ends\) -> for each of names: \.start /,
    );
    expect(signature(named("sum"))).toBe("sum(values) -> value");
  });
  it("names what is taken in words", () => {
    expect(boils.parameters.map(takesInWords)).toEqual([
      "a pressure",
      "a strength by volume or a strength by mass",
      "a temperature",
      '"glycol", "brine" or "water"',
    ]);
    expect(takesInWords({ ...boils.parameters[0]!, list: true })).toBe("a list, each a pressure");
  });
});

describe("an entry", () => {
  it("tells everything as plain text, within the width", () => {
    const text = entryText(boils, 60);
    for (const piece of [
      signature(boils),
      "0 %vol when left out",
      "may be left out",
      "First bubble.",
      boils.equation,
      "±0.3 K",
      "implode",
      "is 24.955 °C",
    ]) {
      expect(text.replace(/\s+/gu, " ")).toContain(piece);
    }
    // The signature is one line that can be copied; all else is wrapped.
    for (const line of text.split("\n").slice(1)) expect(line.length).toBeLessThanOrEqual(60);
    for (const d of all)
      for (const line of entryText(d).split("\n").slice(1))
        expect(line.length, d.name).toBeLessThanOrEqual(88);
  });
  it("tells the same as Markdown, with what would mean something escaped", () => {
    const text = entryMarkdown(boils);
    expect(text).toContain("### boils_at\n");
    expect(text).toContain("Absolute \\| never below");
    expect(text).toContain("- **Equation:** `x*g1*p1 + (1-x)*g2*p2 = P, where P < 110 kPa`");
    expect(text).toContain("a regression \\[1\\]");
    expect(text).toContain("see `pressure_for`.");
    expect(text).toContain("- **Caution:** Glass under vacuum can implode.");
    expect(text).toContain("- **Example:** `boils_at(60 mbar, strength: 40 %vol)` is `24.955 °C`");
    for (const d of [...all, boils]) {
      for (const row of entryMarkdown(d)
        .split("\n")
        .filter((line) => line.startsWith("|"))) {
        const bars = row.replace(/\\\|/gu, "").split("|").length - 2;
        expect([3, 4], row).toContain(bars);
      }
    }
  });
  it("has a short text for hovering", () => {
    expect(hoverText(boils).split("\n")).toEqual([signature(boils), boils.says, "Range: 0 to 130 °C."]);
  });
});

describe("the list", () => {
  it("keeps groups and functions in their order, each function once", () => {
    expect([...byGroup(all).keys()]).toEqual(["the run", "trials", "the day and the books", "plain"]);
    const text = listText(all);
    const places = all.map((d) => text.indexOf(`  ${d.name} `));
    expect(places.every((p) => p >= 0)).toBe(true);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    for (const line of listText(all, 60).split("\n")) expect(line.length).toBeLessThanOrEqual(60);
  });
  it("breaks texts at blanks only", () => {
    expect(wrapped("one two three", 7)).toEqual(["one two", "three"]);
    expect(wrapped("extraordinary one", 5)).toEqual(["extraordinary", "one"]);
    expect(wrapped("", 5)).toEqual([""]);
  });
});

describe("the search", () => {
  const found = (words: string) => search(all, words).map((d) => d.name);
  it("puts the name first", () => {
    expect(found("mean")[0]).toBe("mean");
    expect(found("Mean").slice(0, 3)).toEqual(["mean", "mean_interval", "compare_means"]);
    expect(found("round")[0]).toBe("round_to");
  });
  it("wants every word, anywhere in the entry", () => {
    expect(found("aroma pot")).toEqual(["comes_over"]);
    expect(found("allergy")).toEqual(["rinses"]);
    expect(found("Welch 1947")).toEqual(["compare_means"]);
    expect(found("aroma sausage")).toEqual([]);
    expect(found("constructor")).toEqual([]);
  });
  it("gives all for no words", () => {
    expect(found("  ")).toHaveLength(all.length);
  });
});

describe("the document", () => {
  const text = vocabularyDocument(all);
  it("has a heading for every group and function, and links that lead there", () => {
    const headings = text
      .split("\n")
      .filter((line) => /^#{2,3} /u.test(line))
      .map((line) => line.replace(/^#+ /u, ""));
    expect(headings).toContain("The day and the books");
    for (const d of all) expect(headings.filter((h) => h === d.name)).toHaveLength(1);
    const anchors = new Set(headings.map((h) => h.toLowerCase().replace(/ /gu, "-")));
    const links = [...text.matchAll(/\]\(#([^)]+)\)/gu)].map((m) => m[1]!);
    expect(links).toHaveLength(all.length + 4);
    for (const link of links) expect(anchors.has(link), link).toBe(true);
  });
  it("is the same every time and ends in one line end", () => {
    expect(vocabularyDocument(all)).toBe(text);
    expect(text).toMatch(/[^\n]\n$/u);
    expect(text).not.toMatch(/\n{3}|undefined|\[object/u);
  });
});
