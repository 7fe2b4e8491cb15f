import { describe, expect, it } from "vitest";
import { type ChartItem, openBook } from "../../src/engine";

const BOOK = `set a = 3 L
set pull = 60 mbar
set got = blank in mL
table t
| i    | x (L) | w (mL) | n    | on (date)  | s    |
| good | 1     | 5 ± 1  | calm | 2026-02-03 | 1 g  |
| open |       | 6      |      |            | 2 g  |
| bad  | 3     |        | dull | 2026-02-05 | 3 kg |
| void |       |        |      |            |      |
`;

function chart(drawn: string, behind = ""): ChartItem {
  const found = openBook(`${BOOK}chart "c" : ${drawn}${behind}`).items.at(-1)!;
  if (found.type !== "chart") throw new Error(`no chart in ${drawn}`);
  return found;
}

describe("a chart of lists", () => {
  const rows = "2 rows are not drawn: a value is not known yet";
  it.each([
    // what is drawn, its series as `label unit: name=y`, what it is laid out along, what is told below
    ["bars t.x by t.i", ["x L: good=1 bad=3"], "names i ", rows],
    ["line t.x by t.i", ["x L: good=1 bad=3"], "names i ", rows],
    ["bars t.x * 2 by t.i", ["t.x * 2 L: good=2 bad=6"], "names i ", rows],
    [
      "bars t.x where x > 0 L by t.i where x > 0 L",
      ["t.x where x > 0 L L: good=1 bad=3"],
      "names t.i where x > 0 L ",
      undefined,
    ],
    // A row that is blank in both is passed over without a word.
    ["bars t.x by t.n", ["x L: calm=1 dull=3"], "names n ", undefined],
    ["bars t.x by t.on", ["x L: 2026-02-03=1 2026-02-05=3"], "names on ", undefined],
    ["line t.x by t.on", ["x L: 2026-02-03=1 2026-02-05=3"], "dates on ", undefined],
    ["line t.x by t.x", ["x L: good=1 bad=3"], "quantities x L", undefined],
    ["dots t.w by t.on", ["w mL: 2026-02-03=5±1"], "dates on ", rows],
    ["bars t.x by t.w", ["x L: 5.0 ± 1.0 mL=1"], "names w mL", rows],
    // Each row is counted once, however many of its values are missing.
    [
      "bars t.x, t.w by t.i",
      ["x L: good=1 bad=3", "w mL: good=5±1 open=6"],
      "names i ",
      "3 rows are not drawn in full: a value is not known yet",
    ],
    [
      "dots t.s by t.w",
      ["s g: good=1 open=2"],
      "quantities w mL",
      "1 row is not drawn: a value is not known yet",
    ],
    // All values are told in the unit of the first.
    [
      "bars t.s by t.n",
      ["s g: calm=1 dull=3000"],
      "names n ",
      "1 row is not drawn: a value is not known yet",
    ],
    ["line [1, 2] by [1 K, 2 K]", ["[1, 2] : 1 K=1 2 K=2"], "quantities [1 K, 2 K] K", undefined],
    ["bars [1, 2] by [true, false]", ["[1, 2] : =1 =2"], "names [true, false] ", undefined],
    ["bars [] by []", ["[] : "], "names [] ", undefined],
  ])("%s", (drawn, series, along, message) => {
    const { xHolds, xLabel, xUnit, ...found } = chart(drawn);
    expect(
      found.series.map(
        ({ label, unit, points }) =>
          `${label} ${unit}: ${points.map((p) => `${p.name}=${p.y}${p.spread ? `±${p.spread}` : ""}`).join(" ")}`,
      ),
    ).toEqual(series);
    expect(`${xHolds} ${xLabel} ${xUnit}`).toBe(along);
    expect(found.message).toBe(message);
    expect(found.formula).toBe(drawn);
  });
  it("places its points by their names in order, by their days, or by their amounts", () => {
    const xs = (drawn: string) => chart(drawn).series[0]!.points.map((p) => p.x);
    expect(xs("bars t.x by t.i")).toEqual([0, 2]);
    expect(xs("bars t.x by t.on")).toEqual([0, 2]);
    expect(xs("bars t.x by t.x")).toEqual([0, 2]);
    const [first, second] = xs("line t.x by t.on");
    expect(second! - first!).toBe(2);
    expect(xs("line t.w by t.s")).toEqual([1, 2]);
    expect(xs("line [1, 2] by [3 g, 1 kg]")).toEqual([3, 1000]);
  });
  it.each([
    ["bars t.x by a", "After `by` stands a column or a list; this is a volume."],
    ["bars a by t.i", "A chart draws a column or a list; a is a volume."],
    ["bars t.x, a by t.i", "A chart draws a column or a list; a is a volume."],
    ["bars t.n by t.i", "A chart draws numbers; n holds the text “calm”."],
    ["bars t.on by t.i", "A chart draws numbers; on holds the date 2026-02-03."],
    ["bars got by t.i", "needs got"],
    ["bars t.x by got", "needs got"],
    ["bars t.x by [1, 2]", "These lists do not match: 4 values by 2."],
    ["bars nobody by t.i", "Nothing here is called `nobody`."],
  ])("%s is not drawn: %s", (drawn, message) => {
    expect(chart(drawn)).toMatchObject({ series: [], message, xHolds: "names", xUnit: "" });
  });
  it("has its title, its style and the remark beside it", () => {
    expect(chart("dots t.w by t.x", " # look")).toMatchObject({ title: "c", style: "dots", remark: "look" });
    expect(chart("dots t.w by t.x")).not.toHaveProperty("remark");
  });
});

describe("a curve", () => {
  it.each([
    // its ends and its first step, by the variable and by the formula
    ["curve x * 2 for x from 1 to 3", "x ", [1, 2], [1.03125, 2.0625], [3, 6]],
    ["curve x for x from 3 to 1", "x ", [3, 3], [2.96875, 2.96875], [1, 1]],
    ["curve x for x from 1 L to 1500 mL", "x L", [1, 1], [1.0078125, 1.0078125], [1.5, 1.5]],
    ["curve x for x from 1000 mL to 3 L", "x mL", [1000, 1000], [1031.25, 1031.25], [3000, 3000]],
    ["curve x for x from 20 °C to 86 °F", "x °C", [20, 20], [20.15625, 20.15625], [30, 30]],
    ["curve x * 1 g / 1 K for x from 0 K to 64 K", "x K", [0, 0], [1, 1], [64, 64]],
  ])("%s", (drawn, along, first, second, last) => {
    const { series, xHolds, xLabel, xUnit, formula, message } = chart(drawn);
    const points = series[0]!.points.map((p) => [p.x, p.y]);
    expect(points).toHaveLength(65);
    expect([points[0], points[1]]).toEqual([first, second]);
    expect(points[64]![0]).toBeCloseTo(last[0]!, 12);
    expect(points[64]![1]).toBeCloseTo(last[1]!, 12);
    expect(`${xLabel} ${xUnit}`).toBe(along);
    expect([xHolds, formula, message]).toEqual(["quantities", drawn, undefined]);
  });
  it("tells the unit of each of its formulas, and names each point by the variable", () => {
    const { series } = chart("curve boils_at(p), p * 2 for p from 20 mbar to 200 mbar");
    expect(series.map((s) => [s.label, s.unit])).toEqual([
      ["boils_at(p)", "°C"],
      ["p * 2", "mbar"],
    ]);
    expect(series[0]!.points[1]!.name).toBe("22.813 mbar");
    expect(chart("curve x ± 1 for x from 1 to 2").series[0]!.points[0]).toEqual({
      x: 1,
      y: 1,
      spread: 1,
      name: "1",
    });
  });
  it.each([
    ["curve x, x^2 for x from 1 to 3 mark 2", { x: 2, ys: [2, 4], text: "2" }],
    ["curve x for x from 0.02 bar to 200 mbar mark pull", { x: 0.06, ys: [0.06], text: "0.06 bar" }],
    ["curve x for x from 1 to 3", undefined],
    ["curve x for x from 1 L to 3 L mark got", undefined],
    ["curve x for x from 1 L to 3 L mark nobody", undefined],
  ])("%s is marked there", (drawn, mark) => {
    const found = chart(drawn);
    expect(found.mark).toEqual(mark);
    expect(found.formula).toBe(drawn);
    expect(found.message).toBeUndefined();
  });
  it.each([
    ["curve x for x from 1 g to 2 L", "A curve runs between two of one kind; 1 g is a mass, 2 L a volume."],
    ['curve x for x from "a" to "b"', "A curve runs between two numbers."],
    ["curve x for x from 1 to true", "A curve runs between two numbers."],
    ["curve x for x from got to 2 L", "needs got"],
    ["curve x for x from 1 L to nobody", "Nothing here is called `nobody`."],
  ])("%s is not drawn: %s", (drawn, message) => {
    expect(chart(drawn)).toMatchObject({ series: [], message, xHolds: "quantities", xUnit: "", xLabel: "x" });
  });
  it.each([
    // How much of it is drawn, and why not more.
    ["curve x for x from 1 L to 2 L mark 3 g", [65], "The mark is a mass, and the curve runs over a volume"],
    ["curve x for x from 1 L to 2 L mark true", [65], "The mark is true, and the curve runs over a volume"],
    [
      "curve 1 / (x - 2) for x from 1 to 3",
      [64],
      "1 of 65 points lies outside a function's range and is not drawn",
    ],
    [
      "curve x, boils_at(x) for x from -32 mbar to 32 mbar",
      // Under 6.1 mbar water freezes before it boils.
      [65, 26],
      "39 of 130 points lie outside a function's range and are not drawn",
    ],
    ["curve got for x from 1 to 2", [0], "got is not filled in yet"],
    ["curve nobody for x from 1 to 2", [0], "Nothing here is called `nobody`."],
  ])("%s is drawn in part", (drawn, counts, message) => {
    const found = chart(drawn);
    expect(found.series.map((s) => s.points.length)).toEqual(counts);
    expect(found.message).toBe(message);
  });
});
