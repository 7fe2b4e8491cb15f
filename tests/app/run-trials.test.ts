import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { gathersRuns } from "../../src/app/run/gathering";
import { dependentResults, sweepPicture } from "../../src/app/run/sweeps";
import { bestTrial, compareTrials, firstColumn, seriesOf, trialsOf } from "../../src/app/run/trials";
import { type Book, openBook, type TableItem, type ValueItem } from "../../src/engine";

const tableOf = (book: Book): TableItem => book.items.find((i): i is TableItem => i.type === "table")!;
const namedValue = (book: Book, name: string): ValueItem =>
  book.items.find((i): i is ValueItem => i.type === "value" && i.name === name)!;
const coriander = openBook(readFileSync("workbooks/coriander-trials.vacuo", "utf8"));
const gin = openBook(readFileSync("workbooks/harbour-gin.vacuo", "utf8"));
const runs = tableOf(coriander);
const column = (table: TableItem, name: string) => table.columns.findIndex((c) => c.name === name);

describe("the runs of a table", () => {
  it("are the rows that have a result, in the order of their days", () => {
    const book = openBook(
      "table t\n| run | on (date) | got (mL) |\n| c | 2026-03-01 | 3 |\n| a | 2026-01-01 | 1 |\n| d | | 4 |\n| b | 2026-02-01 | 2 |\n| e | 2026-04-01 | |\n",
    );
    const table = tableOf(book);
    expect(trialsOf(table, 2).map((t) => t.name)).toEqual(["a", "b", "c", "d"]);
    expect(gathersRuns(book, table)).toBe(true);
    expect(gathersRuns(book, tableOf(openBook("table t\n| item | got (mL) |\n| a | 1 |\n")))).toBe(false);
  });

  it("are not the parts of a blend that was made over some days", () => {
    expect(gathersRuns(coriander, runs)).toBe(true);
    expect(gathersRuns(gin, tableOf(gin))).toBe(false);
    const dated = "table t\n| run | on (date) | got (mL) |\n| a | 2026-03-01 | 3 |\nfoot got = sum(got)\n";
    const gathers = (text: string): boolean => {
      const book = openBook(text);
      return gathersRuns(book, tableOf(book));
    };
    expect(gathers(dated)).toBe(false);
    expect(gathers(`${dated}column each = got * 1\nfoot each = mean(each)\n`)).toBe(true);
    expect(gathers(`${dated}step "Weigh." ask t.got\n`)).toBe(true);
  });

  it("are told by what the table, its title or its first column is called, where no day stands", () => {
    const gathers = (table: string, first: string, foot = "") => {
      const book = openBook(
        `table ${table}\n| ${first} | charge (mL) | got (mL) |\n| a | 10 | 3 |\n| b | 10 | 4 |\ncolumn yield = got / charge\n${foot}`,
      );
      return gathersRuns(book, tableOf(book));
    };
    for (const name of ["runs", "Run", "trial", "trials", "batch", "batches"]) {
      expect(gathers(name, "what")).toBe(true);
      expect(gathers(`t "${name}"`, "what")).toBe(true);
      expect(gathers("t", name)).toBe(true);
    }
    expect(gathers("distillates", "item")).toBe(false);
    expect(gathers('t "Bought for the run"', "item")).toBe(false);
    // The parts of a batch are no batches.
    expect(gathers("batch", "item", "foot got = sum(got)\n")).toBe(false);
  });

  it("are judged first by the column that the book itself draws", () => {
    expect(runs.columns[firstColumn(coriander, runs)!]!.name).toBe("yield");
    const plain = openBook(
      "table t\n| run | on (date) | got (mL) |\n| c | 2026-03-01 | 3 |\ncolumn twice = 2 * got\n",
    );
    expect(tableOf(plain).columns[firstColumn(plain, tableOf(plain))!]!.name).toBe("twice");
    // A pull that is the same in every run tells none from another, though it stands last and is drawn.
    const even = openBook(
      'table t\n| run | got (mL) | on (date) | pull |\n| a | 3 | 2026-03-01 | 60 mbar |\n| b | 4 | 2026-03-02 | 60 mbar |\nchart "x" : bars t.pull by t.run\n',
    );
    expect(tableOf(even).columns[firstColumn(even, tableOf(even))!]!.name).toBe("got");
  });

  it("have a best one, whichever way, also when units differ", () => {
    const yields = column(runs, "yield");
    const trials = trialsOf(runs, yields);
    const byHand = trials
      .map((t) => ({ name: t.name, v: coriander.ask(`runs.\`${t.name}\`.yield`).value as number }))
      .sort((a, b) => b.v - a.v);
    expect(bestTrial(runs, trials, yields, "highest")?.name).toBe(byHand[0]!.name);
    expect(bestTrial(runs, trials, yields, "lowest")?.name).toBe(byHand.at(-1)!.name);
    const mixed = tableOf(
      openBook("table t\n| run | got |\n| a | 900 mL |\n| b | 1.1 L |\n| c | 1000 mL |\n"),
    );
    expect(bestTrial(mixed, trialsOf(mixed, 1), 1, "highest")?.name).toBe("b");
  });

  it("have a mean and a band that the book's own functions give", () => {
    const series = seriesOf(coriander, runs, column(runs, "yield"));
    expect(series.points).toHaveLength(7);
    expect(series.mean).toBeCloseTo(coriander.ask("mean(runs.yield)").value as number, 12);
    expect(series.deviation).toBeCloseTo(coriander.ask("standard_deviation(runs.yield)").value as number, 12);
    expect(series.says).toContain("of 7 runs");
    expect(series.says).toContain("only roughly");
  });
});

describe("two runs side by side", () => {
  const trial = (name: string) => trialsOf(runs, column(runs, "yield")).find((t) => t.name === name)!;
  const between = (older: string, newer: string) =>
    compareTrials(coriander, runs, trial(older), trial(newer));
  const says = (older: string, newer: string, name: string) => {
    const c = between(older, newer);
    return [...c.inputs, ...c.readings, ...c.results].find((x) => x.column.name === name)!;
  };

  it("tell what was set, what was read and what is worked out apart", () => {
    const c = between("2b", "3a");
    expect(c.inputs.map((x) => x.column.name)).toEqual(["charge", "coolant", "remark"]);
    expect(c.readings.map((x) => x.column.name)).toEqual(["got", "strength"]);
    expect(c.results.map((x) => x.column.name)).toEqual(["alcohol", "yield", "gain"]);
  });

  it("say by how much in which direction, a temperature's step in K", () => {
    expect(says("2b", "3a", "coolant").says).toBe("5 K lower");
    expect(says("2b", "3a", "got").says).toBe("29 mL higher");
    expect(says("2b", "3a", "charge").says).toBe("the same");
    expect(says("2b", "3a", "charge").judged).toBeUndefined();
  });

  it("put a difference down to nothing, one thing with care, or no one of several", () => {
    expect(between("3a", "3b").says).toMatch(/^Nothing that is written down was changed/);
    expect(between("2b", "3a").says).toMatch(/^Only coolant was changed.*One pair of runs cannot show/);
    const two = openBook(
      "table t\n| run | on (date) | pull (mbar) | bath (°C) | got (mL) |\n| a | 2026-01-01 | 50 | 30 | 1 |\n| b | 2026-01-02 | 60 | 35 | 2 |\n",
    );
    const [a, b] = trialsOf(tableOf(two), 4);
    expect(compareTrials(two, tableOf(two), a!, b!).says).toMatch(
      /^pull, bath and got were changed together/,
    );
    // What the runs are judged by is no setting, though it was typed and no step asks for it.
    const judged = compareTrials(two, tableOf(two), a!, b!, 4);
    expect(judged.says).toMatch(/^pull and bath were changed together/);
    expect(judged.readings.map((c) => c.column.name)).toEqual(["got"]);
  });

  it("count what the judged column is worked out from as neither set nor changed", () => {
    const told = (rows: string, columns: string, judged: string) => {
      const book = openBook(
        `table t\n| run | charge (mL) | got (mL) | pull (mbar) | on (date) |\n${rows}${columns}`,
      );
      const table = tableOf(book);
      const at = column(table, judged);
      const [a, b] = trialsOf(table, at);
      return compareTrials(book, table, a!, b!, at);
    };
    const names = (changes: readonly { column: { name: string } }[]) => changes.map((c) => c.column.name);
    const yields = "column yield = got / charge in %\n";
    const pulled = "| a | 1000 | 412 | 60 | 2026-01-01 |\n| b | 1000 | 430 | 50 | 2026-01-02 |\n";
    const alone = told(pulled, yields, "yield");
    expect(names(alone.inputs)).toEqual(["pull"]);
    expect(names(alone.parts)).toEqual(["charge", "got"]);
    expect(alone.readings).toEqual([]);
    expect(alone.says).toMatch(
      /^Besides got, which goes into yield, only pull was changed between them\. One pair/,
    );
    // By way of another column, and of a subtraction that has no division line.
    expect(
      names(told(pulled, `column part = got / charge\ncolumn score = part * 2\n`, "score").parts),
    ).toEqual(["charge", "got"]);
    expect(told(pulled, "column lost = charge - got\n", "lost").says).toMatch(
      /^Besides got, which goes into lost, only pull/,
    );
    const charged = "| a | 1000 | 412 | 60 | 2026-01-01 |\n| b | 1200 | 430 | 50 | 2026-01-02 |\n";
    expect(told(charged, yields, "yield").says).toBe(
      "charge, by which yield is divided, differs too, so the difference in yield cannot be put down to pull. Compare two runs that have the same charge.",
    );
    const still = "| a | 1000 | 412 | 60 | 2026-01-01 |\n| b | 1000 | 430 | 60 | 2026-01-02 |\n";
    expect(told(still, yields, "yield").says).toMatch(
      /^Besides got, which goes into yield, nothing that is written down was changed/,
    );
    // Judged by what was typed, nothing goes into it.
    expect(names(told(pulled, yields, "got").inputs)).toEqual(["charge", "pull"]);
  });

  it("go by the steps where these ask for what goes into the judged column", () => {
    const c = compareTrials(coriander, runs, trial("2b"), trial("3a"), column(runs, "yield"));
    expect(c.parts).toEqual([]);
    expect(c.inputs.map((x) => x.column.name)).toEqual(["charge", "coolant", "remark"]);
    expect(c.says).toBe(between("2b", "3a").says);
  });

  it("judge by the scatter of all runs with Student's t, and not at all from few", () => {
    const judged = says("3a", "3b", "got").judged!;
    expect(judged).toMatch(/^no more than two of these 7 runs may differ by chance \(up to about \d+ mL\)$/);
    // By hand: s of the seven, t(6) = 2.4469 (printed table), times √2.
    const got = [505, 498, 502, 489, 518, 521, 516];
    const mean = got.reduce((x, y) => x + y) / 7;
    const s = Math.sqrt(got.reduce((sum, x) => sum + (x - mean) ** 2, 0) / 6);
    expect(Number(/about (\d+)/.exec(judged)![1])).toBe(Math.round(2.4469 * s * Math.SQRT2));
    const few = openBook(
      "table t\n| run | on (date) |\n| a | 2026-01-01 |\n| b | 2026-01-02 |\n| c | 2026-01-03 |\ncolumn x = (on - 2026-01-01) * 1 g/d + 1 g\n",
    );
    const t = tableOf(few);
    const [p, q] = trialsOf(t, 2);
    expect(compareTrials(few, t, p!, q!).results[0]!.judged).toBe(
      "3 runs are too few to tell it from what runs scatter by themselves",
    );
  });

  it("make nothing of a difference below twice its own ±", () => {
    const book = openBook(
      'table t\n| run | on (date) | got |\n| a | 2026-01-01 | 400 ± 10 mL |\n| b | 2026-01-02 | 405 ± 10 mL |\nstep "x" ask t.got\n',
    );
    const [a, b] = trialsOf(tableOf(book), 2);
    expect(compareTrials(book, tableOf(book), a!, b!).readings[0]).toMatchObject({
      says: "5 mL higher",
      judged: "less than twice its own ±: it may be nothing",
    });
  });

  it("never speak of proof or significance", () => {
    const names = trialsOf(runs, column(runs, "yield")).map((t) => t.name);
    const words = names
      .flatMap((a) => names.map((b) => between(a, b)))
      .flatMap((c) => [c.says, ...[...c.readings, ...c.results].map((x) => `${x.says} ${x.judged ?? ""}`)]);
    for (const word of words) expect(word).not.toMatch(/significan|prove|certain|because/i);
  });
});

describe("a sweep on the page", () => {
  it("offers every number that depends on the value, however far along, and no other", () => {
    const paths = dependentResults(gin, "bottling").map((r) => r.path);
    expect(paths).toEqual(
      expect.arrayContaining(["water.add", "water.total", "bottles", "spirit_due", "per_bottle"]),
    );
    for (const other of ["blend.strength", "flash", "bottling", "measured", "distillates.foot.cost"])
      expect(paths).not.toContain(other);
  });

  it("gives at every setting what the book would give there, and marks the present one", () => {
    const item = namedValue(gin, "bottling");
    const swept = sweepPicture(gin, item, { path: "water.add", label: "water.add" });
    if (!("rows" in swept)) throw new Error(swept.says);
    expect(swept.rows).toHaveLength(20);
    for (const { input, outcome } of [swept.rows[0]!, swept.rows[7]!, swept.rows[19]!]) {
      const there = gin.edit(gin.text.replace("set bottling = 42 %vol", `set bottling = ${input.text}`));
      expect(outcome.text).toBe(there.ask("water.add").text);
    }
    expect(swept.rows.filter((r) => r.here).map((r) => r.input.text)).toEqual(["42 %vol"]);
    expect(swept.chart.mark?.x).toBe(42);
    expect(swept.chart.mark?.ys[0]).toBeCloseTo(gin.ask("water.add").value as number, 9);
  });

  it("puts the present setting in where it lies between the steps", () => {
    const book = openBook("set a = 4.2 g try 2 g to 10 g step 1 g\nset b = 3 * a\n");
    const swept = sweepPicture(book, namedValue(book, "a"), { path: "b", label: "b" });
    if (!("rows" in swept)) throw new Error(swept.says);
    expect(swept.rows.map((r) => r.outcome.text)).toEqual(
      ["6", "9", "12", "12.6", "15", "18", "21", "24", "27", "30"].map((n) => `${n} g`),
    );
    expect(swept.chart.mark).toMatchObject({ x: 4.2 });
  });

  it("draws bars over choices, temperatures in their degrees, and tells what has no result", () => {
    const choices = openBook(
      'set kind = "lemon" try ["lemon", "lime"]\nset b = if kind is "lime" then 2 g else 1 g\n',
    );
    const bars = sweepPicture(choices, namedValue(choices, "kind"), { path: "b", label: "b" });
    if (!("rows" in bars)) throw new Error(bars.says);
    expect(bars.chart.style).toBe("bars");
    expect(bars.rows.map((r) => `${r.input.text} ${r.outcome.text}`)).toEqual(["lemon 1 g", "lime 2 g"]);
    const warm = openBook("set t = 20 °C try 10 °C to 30 °C step 10 K\nset b = t - 5 K\n");
    const line = sweepPicture(warm, namedValue(warm, "t"), { path: "b", label: "b" });
    if (!("rows" in line)) throw new Error(line.says);
    expect(line.rows.map((r) => r.outcome.text)).toEqual(["5 °C", "15 °C", "25 °C"]);
    const gone = openBook("set a = 1 try 0 to 2 step 1\nset b = 1 / a\n");
    const holed = sweepPicture(gone, namedValue(gone, "a"), { path: "b", label: "b" });
    if (!("rows" in holed)) throw new Error(holed.says);
    expect(holed.says).toMatch(/^1 of 3 settings have no result/);
    expect(holed.chart.series[0]!.points.map((p) => p.y)).toEqual([Number.NaN, 1, 0.5]);
  });
});
