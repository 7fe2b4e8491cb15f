import { readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { beginRun, type Run, runAfter } from "../../src/app/run/run";
import { benchSteps } from "../../src/app/run/steps";
import { writesOf } from "../../src/app/run/writes";
import { clearCells, clipOf, fillDown, pasteCells } from "../../src/app/state/cells";
import { beginnings, examples } from "../../src/app/state/examples";
import { footOffer, putFoot } from "../../src/app/state/feet";
import { itemAt, outline, placedItems } from "../../src/app/state/items";
import { markedOutline } from "../../src/app/state/marks";
import {
  cellPlace,
  type Field,
  FORMULAS_ROW,
  itemPlace,
  NAMES_ROW,
  type Place,
} from "../../src/app/state/place";
import { addColumn, addRow, moveColumn, moveRow, removeColumn, removeRows } from "../../src/app/state/rows";
import type { Edit, Refusal } from "../../src/app/state/slot";
import { slotAt } from "../../src/app/state/slots";
import { addItem, moveItem, removeItem, type Sort } from "../../src/app/state/structure";
import { openBook } from "../../src/engine";

const folder = resolve(import.meta.dirname, "../../workbooks");
const books = readdirSync(folder)
  .filter((name) => name.endsWith(".vacuo"))
  .map((name) => [name, readFileSync(resolve(folder, name), "utf8")] as const);

const done = (edit: Edit | Refusal): Edit => {
  if ("refused" in edit) throw new Error(edit.refused);
  return edit;
};
const fields: readonly Field[] = [
  "formula",
  "name",
  "title",
  "text",
  "remark",
  "range",
  "clauses",
  "statement",
];

/** Every place of a book where something can be written. */
function* placesOf(text: string): Generator<Place> {
  const book = openBook(text);
  for (const { key, item } of placedItems(book)) {
    for (const field of fields) yield itemPlace(key, field);
    if (item.type !== "table") continue;
    for (let column = 0; column < item.columns.length; column++)
      for (let row = NAMES_ROW; row <= item.rowCount; row++) yield cellPlace(key, row, column);
  }
}

describe("writing what stands there already", () => {
  for (const [name, text] of books)
    it(`leaves ${name} byte for byte as it was, in every place`, () => {
      const book = openBook(text);
      let places = 0;
      for (const place of placesOf(text)) {
        const slot = slotAt(book, place);
        if (slot === undefined || slot.text === "") continue;
        places++;
        const edit = slot.write(slot.text);
        expect("refused" in edit ? edit.refused : edit.text, JSON.stringify(place)).toBe(text);
      }
      expect(places).toBeGreaterThan(10);
    });
});

describe("writing something else", () => {
  const text = books.find(([name]) => name === "harbour-gin.vacuo")![1];
  const book = openBook(text);
  const write = (place: Place, typed: string) => done(slotAt(book, place)!.write(typed));

  it("changes one stretch and nothing around it", () => {
    expect(write(cellPlace("table:distillates", 0, 1), "2500").text).toBe(text.replace("| 2400 ", "| 2500 "));
    expect(write(itemPlace("value:bottle", "formula"), "= 700 mL").text).toBe(
      text.replace("set bottle   = 500 mL", "set bottle   = 700 mL"),
    );
    expect(write(itemPlace("value:bottle", "remark"), "a small one").text).toBe(
      text.replace("# one bottle, filled at 20 °C", "# a small one"),
    );
    expect(write(cellPlace("table:distillates", FORMULAS_ROW, 6), "volume * price * 2").text).toBe(
      text.replace("column cost   = volume * price", "column cost   = volume * price * 2"),
    );
    expect(write(cellPlace("table:distillates", 5, 2), "mean(strength)").text).toContain(
      "foot cost   = sum(cost)\nfoot strength = mean(strength)\n",
    );
  });

  it("keeps bars, line ends and quotes from breaking a row or a sentence", () => {
    const barred = write(cellPlace("table:distillates", 0, 0), "juni|per\n(dried)").text;
    expect(barred).toContain("| juni\\|per (dried) |");
    expect(openBook(barred).items.length).toBe(book.items.length);
    const said = write(itemPlace("about~1", "text"), 'Say "hello" {not a formula}').text;
    const about = openBook(said).items.find((i) => i.type === "about")!;
    expect("text" in about && about.text).toBe('Say "hello" {not a formula}');
    const step = write(itemPlace("step~5", "text"), 'Fill "{bottles}" bottles').text;
    expect(step).toContain('step "Fill \\"{bottles}\\" bottles"');
  });

  it("leaves a gap with its unit where a value was emptied", () => {
    expect(write(itemPlace("value:bottle", "formula"), "").text).toContain("set bottle   = blank in mL");
  });

  it("gives a column another name in its formulas, and another unit", () => {
    const edit = write(cellPlace("table:distillates", NAMES_ROW, 1), "amount (L)");
    expect(edit.text).toContain("| amount (L)");
    expect(edit.text).toContain("pure_volume(amount, strength)");
    expect(edit.text).toContain("marry(distillates.amount, distillates.strength)");
    expect(edit.says).toBe("renaming volume to amount");
  });

  it("takes a name and a value that were written in one go", () => {
    const edit = write(itemPlace("value:bottle", "name"), "flask = 700 mL");
    expect(edit.text).toMatch(/^set flask +=\s700 mL/m);
    expect(edit.text).toContain("/ flask");
    expect(edit.lands).toEqual(itemPlace("value:flask", "formula"));
    const taken = slotAt(book, itemPlace("value:bottle", "name"))!.write("glass = 700 mL");
    expect("refused" in taken && taken.refused).toMatch(/glass/);
  });

  it("refuses a name that is taken, and says by what", () => {
    const edit = slotAt(book, itemPlace("value:bottle", "name"))!.write("glass");
    expect("refused" in edit && edit.refused).toMatch(/glass/);
  });
});

describe("rows, columns and items", () => {
  const text = `book "B"

table t "T"
| item | amount (g) | price    |
|------|------------|----------|
| one  | 10         | 2 GBP/kg |
| two  | 20         | 3 GBP/kg |
column cost = amount * price
set total = sum(t.amount)
`;
  const key = "table:t";
  const book = openBook(text);
  const whole = { top: 0, bottom: 1, left: 1, right: 2 };

  it("come and go, and the rest stays as it is", () => {
    const added = done(addRow(book, key, 0));
    expect(added.text).toContain("| one  | 10         | 2 GBP/kg |\n|      |            |          |\n| two");
    expect(added.lands).toEqual(cellPlace(key, 1, 0));
    expect(done(removeRows(openBook(added.text), key, 1, 1)).text).toBe(text);
    expect(done(moveRow(book, key, 1, "up")).text).toContain("| two  | 20         | 3 GBP/kg |\n| one");
    expect("refused" in moveRow(book, key, 0, "up")).toBe(true);
    const wide = done(addColumn(book, key, "typed", 1));
    expect(wide.text).toContain("| item | amount (g) | amount 2 | price    |");
    expect(wide.lands).toEqual(cellPlace(key, NAMES_ROW, 2));
    expect(done(removeColumn(openBook(wide.text), key, 2)).text).toBe(text);
    expect(done(moveColumn(book, key, 1, "right")).text).toContain("| item | price    | amount (g) |");
    expect(done(putFoot(book, key, 3)).text).toContain(
      "column cost = amount * price\nfoot cost = sum(cost)\n",
    );
    expect(done(addColumn(book, key, "computed")).text).toContain(
      "column cost = amount * price\ncolumn result = blank",
    );
  });

  it("are offered what makes sense under them: a total only of what adds", () => {
    const offered = (columns: string, row: string, more = "") => {
      const table = itemAt(
        openBook(`table t\n| item | ${columns} |\n| a | ${row} |\n${more}`),
        "table:t",
      )!.item;
      if (table.type !== "table") throw new Error("no table");
      return (name: string) =>
        footOffer(
          table,
          table.columns.findIndex((c) => c.name === name),
        )?.formula;
    };
    const blend = offered(
      "volume (mL) | strength | price | days (h)",
      "10 | 40 %vol | 3 GBP/L | 2",
      "column cost = volume * price\n",
    );
    expect(blend("volume")).toBe("sum(volume)");
    expect(blend("days")).toBe("sum(days)");
    expect(blend("cost")).toBe("sum(cost)");
    expect(blend("strength")).toBe("marry(volume, strength).strength");
    expect(blend("price")).toBe("sum(volume * price) / sum(volume) in GBP/L");
    expect(blend("item")).toBeUndefined();
    const alone = offered(
      "strength | bath | price | solids | bottles",
      "40 %vol | 30 °C | 3 GBP/L | 12 °Bx | 6",
    );
    expect(alone("strength")).toBe("mean(strength)");
    expect(alone("bath")).toBe("mean(bath)");
    expect(alone("price")).toBe("mean(price)");
    expect(alone("solids")).toBe("mean(solids)");
    expect(alone("bottles")).toBe("sum(bottles)");
    expect(offered("got (mL) | yield (%)", "500 | 73")("yield")).toBe("mean(yield)");
    // A price by weight asks for a weight, and money is no measure of how much there is.
    expect(offered("volume (mL) | price", "10 | 3 GBP/kg")("price")).toBe("mean(price)");
    expect(offered("cost (GBP) | solids", "10 | 12 °Bx")("solids")).toBe("mean(solids)");
  });

  it("have feet that the language works out as they are offered", () => {
    const text =
      "table t\n| item | volume (mL) | strength | price |\n| a | 100 | 40 %vol | 3 GBP/L |\n| b | 300 | 60 %vol | 5 GBP/L |\n";
    const strength = openBook(done(putFoot(openBook(text), "table:t", 2)).text).ask("t.foot.strength");
    expect(strength.state).toBe("ok");
    expect(strength.unit).toBe("%vol");
    // A quarter at 40 and three quarters at 60 come to about 55, a little off for the shrinking.
    expect(Number.parseFloat(strength.text)).toBeCloseTo(55, 0);
    expect(openBook(done(putFoot(openBook(text), "table:t", 3)).text).ask("t.foot.price").text).toBe(
      "4.5 GBP/L",
    );
  });

  it("are copied, emptied, filled and pasted together", () => {
    const table = itemAt(book, key)!.item;
    if (table.type !== "table") throw new Error("no table");
    expect(clipOf(table, { top: 0, bottom: 0, left: 1, right: 3 })).toEqual([
      [
        { raw: "10", text: "10 g" },
        { raw: "2 GBP/kg", text: "2 GBP/kg" },
        { raw: "0.02 GBP", text: "0.02 GBP" },
      ],
    ]);
    expect(openBook(done(clearCells(book, key, whole)).text).tally.gaps).toBeGreaterThanOrEqual(4);
    expect(done(fillDown(book, key, { top: 0, bottom: 0, left: 1, right: 1 })).text).toContain(
      "| two  | 10         |",
    );
    const pasted = done(
      pasteCells(book, key, { top: 1, bottom: 1, left: 0, right: 0 }, [
        ["x", "1"],
        ["y", "2", "4 GBP/kg"],
      ]),
    );
    expect(pasted.text).toContain(
      "| x    | 1          | 3 GBP/kg |\n| y    | 2          | 4 GBP/kg |\ncolumn",
    );
    expect(pasted.says).toBe("pasting 5 cells");
    const filled = done(pasteCells(book, key, whole, [["7"]]));
    expect(filled.text).toContain("| two  | 7          | 7        |");
  });

  it("of every sort can be added anywhere, land where they are, and go again", () => {
    const sorts: readonly Sort[] = ["value", "table", "check", "chart", "step", "words", "part", "function"];
    for (const sort of sorts)
      for (const below of [undefined, "book~1", key, "value:total"]) {
        const edit = done(addItem(book, sort, below));
        const after = openBook(edit.text);
        expect(after.messages, `${sort} below ${below}: ${edit.text}`).toEqual([]);
        expect(placedItems(after).length).toBe(placedItems(book).length + 1);
        const landed = itemAt(after, edit.lands!.key);
        expect(landed, `${sort} below ${below}`).toBeDefined();
        expect(slotAt(after, edit.lands!)).toBeDefined();
        expect(placedItems(openBook(done(removeItem(after, edit.lands!.key)).text)).length).toBe(
          placedItems(book).length,
        );
      }
  });

  it("of a value stand before the card, the charts and the checks at the end, beside other values", () => {
    const order = (text: string, sort: Sort, below?: string) => {
      const edit = done(addItem(openBook(text), sort, below));
      return placedItems(openBook(edit.text)).map(({ item }) => ("name" in item ? item.name : item.type));
    };
    const bench =
      'check a > 1 g : "enough"\nchart "c" : curve x^2 for x from 0 to 1\npart "Bench"\nstep "Do."\n';
    for (const sort of ["value", "function"] as const) {
      const fresh = sort === "value" ? "value" : "twice";
      expect(order(`book "b"\nset a = 2 g\n${bench}`, sort)).toEqual([
        "book",
        "a",
        fresh,
        "check",
        "chart",
        "part",
        "step",
      ]);
      // Where it is asked for below something, it stands there; a part begun at the end is filled.
      expect(order(`book "b"\nset a = 2 g\n${bench}`, sort, "step~1").at(-1)).toBe(fresh);
      expect(order('set a = 2 g\nstep "Do."\npart "Next"\n', sort).at(-1)).toBe(fresh);
      expect(order('step "Do."\n', sort)).toEqual(["step", fresh]);
    }
    expect(order(`set a = 2 g\n${bench}`, "step").at(-1)).toBe("step");
    expect(order(`set a = 2 g\n${bench}`, "table").at(-1)).toMatch(/^table/);
  });

  it("of a chart draw what varies, by what it hangs on, or say what is missing", () => {
    const drawn = (text: string, below?: string) => {
      const edit = addItem(openBook(text), "chart", below);
      if ("refused" in edit) return edit.refused;
      const chart = openBook(edit.text).items.find((i) => i.type === "chart" && i.title === "New chart");
      if (chart?.type !== "chart") throw new Error(edit.text);
      expect(chart.series.every(({ points }) => points.length > 1)).toBe(true);
      expect(chart.message ?? "").toBe("");
      return chart.formula;
    };
    const goods =
      "table goods\n| item | volume (mL) | price |\n| peel | 10 | 2 GBP/L |\n| bark | 30 | 2 GBP/L |\n";
    // The last column is the same in every row, so the one that differs is drawn; a computed one goes before it.
    expect(drawn(goods)).toBe("bars goods.volume by goods.item");
    expect(drawn(`${goods}column cost = volume * price\ncolumn same = 2 * price\n`)).toBe(
      "bars goods.cost by goods.item",
    );
    const runs =
      "table runs\n| run | on (date) | bath (°C) | got (mL) |\n| 1 | 2026-01-02 | 30 | 400 |\n| 2 | 2026-01-04 | 35 | 410 |\ncolumn share = got / 1 L in %\n";
    expect(drawn(runs)).toBe("line runs.share by runs.on");
    expect(drawn(runs.replaceAll(/2026-01-0\d/g, "2026-01-02"))).toBe("dots runs.share by runs.bath");
    expect(drawn(runs.replace("| 1 |", "| calm |").replace("| 2 |", "| brisk |"))).toBe(
      "bars runs.share by runs.run",
    );
    const flat = 'table flat "Flat"\n| item | mass (g) |\n| one | 5 |\n| two | 5 |\n';
    const says =
      "A chart draws numbers that differ from row to row, and “Flat” has none: fill in two rows of it first.";
    expect(drawn(flat)).toBe(says);
    // The last table has nothing to draw, the one before it has; asked for below one, it is that one.
    expect(drawn(`${goods}\n${flat}`)).toBe("bars goods.volume by goods.item");
    expect(drawn(`${goods}\n${flat}`, "table:flat")).toBe(says);
    expect(drawn("set a = 2 g\n")).toBe("curve x^2 for x from 0 to 10");
    expect(drawn("table t\n| item | amount (g) |\n|  |  |\n")).toMatch(
      /^A chart draws numbers .* and t has none/,
    );
  });

  it("of a chart can be added to every example, and draw something", () => {
    for (const [name, source] of books) {
      const whole = openBook(source);
      const after = openBook(done(addItem(whole, "chart")).text);
      const chart = after.items.find((i) => i.type === "chart" && i.title === "New chart");
      if (chart?.type !== "chart") throw new Error(name);
      for (const { points } of chart.series)
        expect(new Set(points.map((p) => p.y)).size, `${name}: ${chart.formula}`).toBeGreaterThan(1);
    }
  });

  it("move past each other and back", () => {
    for (const [name, source] of books) {
      const whole = openBook(source);
      const order = placedItems(whole).map((p) => p.key);
      // What stands inside a table, between its rows and its columns, leaves it for good when it is moved.
      const inside = (key: string) => {
        const { statement } = itemAt(whole, key)!.item;
        return whole.tree.tables.some(
          (t) => statement.at > t.statement.at && t.columns.some((c) => c.at > statement.at),
        );
      };
      for (const moving of order.slice(1, -1)) {
        const down = moveItem(whole, moving, "down");
        if ("refused" in down) continue;
        const there = openBook(down.text);
        expect(
          placedItems(there)
            .map((p) => p.key)
            .sort(),
          `${name}: ${moving}`,
        ).toEqual([...order].sort());
        const back = done(moveItem(there, down.lands!.key, "up"));
        if (!order.some(inside))
          expect(
            placedItems(openBook(back.text)).map((p) => p.key),
            name,
          ).toEqual(order);
      }
    }
  });
});

describe("the books that come with the page", () => {
  for (const { file, title, text } of [...examples, ...beginnings])
    it(`${file} has the title of its card, no fault and no check that is not met`, async () => {
      const book = openBook(await text());
      expect(book.title).toBe(title);
      expect(book.messages.filter((m) => m.severity === "fault")).toEqual([]);
      expect(book.tally.faults).toBe(0);
      expect(book.tally.unmet).toBe(0);
    });

  for (const { file, text } of beginnings)
    it(`${file} is begun with the digits that a bench can read, four at most`, async () => {
      const worked = openBook(await text()).items.flatMap((item) =>
        item.type === "value"
          ? [item.shown, ...item.parts]
          : item.type === "table"
            ? Array.from({ length: item.rowCount }, (_, row) =>
                item.columns.map((_, column) => item.cell(row, column)),
              ).flat()
            : [],
      );
      const long = worked.filter(
        ({ origin, value, number }) =>
          origin !== "typed" && value.type === "quantity" && number.replaceAll(/^-?0*|[-.]/g, "").length > 4,
      );
      expect(long.map(({ path, text }) => `${path} ${text}`)).toEqual([]);
    });

  for (const { file, text } of beginnings)
    it(`${file} asks at the bench for what is read, and tells what to expect and whether it was met`, async () => {
      const book = openBook(await text());
      const asks = benchSteps(book).flatMap((step) => step.asks);
      expect(asks.length).toBeGreaterThanOrEqual(2);
      const run = (read: (plan: number, allowed: number) => number) =>
        asks.reduce(
          (before: Run, { path, expect: plan, unit }) => {
            expect([path, plan?.state]).toEqual([path, "ok"]);
            // Every plan has room for what a reading can carry.
            expect(Number(plan!.spread)).toBeGreaterThan(0);
            const typed = `${read(Number(plan!.number), Number(plan!.spread))} ${unit}`;
            return runAfter(before, { type: "read", path, typed, at: 1 });
          },
          beginRun("id", "", 0, "2026-03-04"),
        );
      const tallyOf = (of: Run) => {
        const writes = writesOf(book, of);
        expect([writes.troubles, writes.missing]).toEqual([[], []]);
        return book.edit(writes.edit!.text).tally;
      };
      expect(tallyOf(run((plan) => plan))).toMatchObject({ faults: 0, gaps: 0, unmet: 0, unknown: 0 });
      // Far over what was planned, a check of the book says so.
      expect(tallyOf(run((plan, allowed) => plan + 20 * allowed)).unmet).toBeGreaterThan(0);
    });

  it("my-honey.vacuo has the share of the flask that may be filled as a number of its own", async () => {
    const honey = beginnings.find(({ file }) => file === "my-honey.vacuo")!;
    const text = await honey.text();
    const most = (of: string) => Number.parseFloat(openBook(of).ask("most").text);
    expect(text).toMatch(/^set fill +?= 50 %/m);
    expect(most(text.replace("= 50 %", "= 45 %"))).toBeLessThan(most(text));
  });

  for (const { file, text } of beginnings)
    it(`${file} shows large what it asks for in one unit, and has a clock that can be set`, async () => {
      const begun = await text();
      const steps = benchSteps(openBook(begun));
      const both = steps.flatMap(({ main, asks }) =>
        main === undefined ? [] : asks.map((ask) => [ask.path, main.shown.unit, ask.unit]),
      );
      expect(both.length).toBeGreaterThan(0);
      for (const [, shown, asked] of both) expect(shown).toBe(asked);
      const hours = (of: string) =>
        benchSteps(openBook(of)).map((s) => (s.wait?.milliseconds ?? 0) / 3_600_000);
      expect(hours(begun).some((h) => h > 0)).toBe(true);
      if (file !== "my-blend.vacuo")
        expect(hours(begun.replace(/^(set lasts += )\d h/m, "$145 min"))).toContain(0.75);
    });

  it("my-run.vacuo has a flask, and says when it is more than half full", async () => {
    const text = await beginnings.find(({ file }) => file === "my-run.vacuo")!.text();
    const unmet = (of: string) =>
      openBook(of).items.flatMap((item) =>
        item.type === "check" && item.state === "unmet" ? [item.text] : [],
      );
    expect(unmet(text.replace("= 1000 mL", "= 1001 mL"))).toEqual(["the flask is at most half full"]);
    expect(unmet(text.replace("= 2 L", "= 1.99 L"))).toEqual(["the flask is at most half full"]);
  });

  it("my-honey.vacuo tells at its step a pull and a bath that still boil the honey at the end", async () => {
    const text = await beginnings.find(({ file }) => file === "my-honey.vacuo")!.text();
    const book = openBook(text);
    const pull = Number.parseFloat(book.ask("pull in mbar").text);
    // Honey of 18 % water holds on to it: 27.9 mbar by its water activity at 32 °C, where its sugar alone says 32.
    expect(pull).toBe(28);
    expect(
      Number.parseFloat(book.ask("boils_at(pull, activity: honey_activity(goal)) - pot in K").text),
    ).toBeLessThan(0.2);
    expect(benchSteps(book)[1]?.text).toMatch(/Bath 40 °C; .* down to 28(\.0)? mbar, .* under 32 °C\.$/);
    const check = (of: string) =>
      openBook(of).items.flatMap((item) =>
        item.type === "check" && item.text.startsWith("the bath is warmer") ? [item.state] : [],
      );
    expect([check(text), check(text.replace("= 40 °C", "= 34 °C"))]).toEqual([["met"], ["unmet"]]);
  });

  it("my-blend.vacuo lets down what was weighed, once it was", async () => {
    const text = await beginnings.find(({ file }) => file === "my-blend.vacuo")!.text();
    const grams = (of: string, name: string) => Number.parseFloat(openBook(of).ask(name).text);
    const weighed = text.replace(/^(set weighed +=) blank in g/m, "$1 683 g");
    // Half the blend wants half the water; what was planned to be weighed stays the plan.
    expect(grams(weighed, "water")).toBe(grams(text, "water") / 2);
    expect(grams(weighed, "blend_mass")).toBe(2 * 683);
  });

  it("my-blend.vacuo tells what the distillates in one bottle cost, with two decimals, in the currency of its prices", async () => {
    const text = await beginnings.find(({ file }) => file === "my-blend.vacuo")!.text();
    const perBottle = (of: string) => openBook(of).ask("per_bottle").text;
    // 1 L at 12 and half a litre at 15 are 19.50, in 2119 mL, of which a bottle holds 500: 19.5 / 4.238 = 4.601.
    expect(perBottle(text)).toBe("4.60 GBP");
    // What is left over after the full bottles is paid as well, and not by them: four of 500 mL or one of 1.5 L.
    expect(perBottle(text.replace("= 500 mL", "= 1500 mL"))).toBe("13.80 GBP");
    const euro = text.replaceAll(/GBP(?=\/L)/g, "EUR");
    const book = openBook(euro);
    expect([book.tally.faults, book.tally.unmet, perBottle(euro)]).toEqual([0, 0, "4.60 EUR"]);
    expect(euro).not.toContain("GBP");
    // A price of its own digits gives no more of them in the bottle.
    expect(perBottle(euro.replace("12 EUR/L", "12.345 EUR/L"))).toBe("4.68 EUR");
  });

  it("my-run.vacuo tells of a bath that the pot outruns, and of one that never brings it to the boil", async () => {
    const begun = await beginnings.find(({ file }) => file === "my-run.vacuo")!.text();
    const weak = { charge: "750 mL", strength: "28.5 %vol", pull: "80 mbar", wanted: "250 mL" };
    const run = (bath: string) => {
      const book = openBook(
        Object.entries({ ...weak, bath }).reduce(
          (text, [name, value]) =>
            text.replace(new RegExp(`^(set ${name} += )-?[\\d.]+ \\S+`, "m"), `$1${value}`),
          begun,
        ),
      );
      const check = book.items.find(
        (item) => item.type === "check" && item.text.startsWith("the bath is warmer"),
      );
      // The vocabulary's own word for it, by the same gap.
      const own = book.ask("distil(charge, strength, pull, take: wanted, bath: bath, still_gap: gap).stalls");
      return [check?.type === "check" && check.state, own.raw.type === "fault" ? "fault" : own.text];
    };
    expect(run("35 °C")).toEqual(["unmet", "true"]);
    expect(run("20 °C")).toEqual(["unmet", "fault"]);
    expect(run("40 °C")).toEqual(["unmet", "true"]);
    expect(run("41 °C")).toEqual(["met", "false"]);
    expect(openBook(begun).tally).toMatchObject({ unmet: 0, faults: 0 });
    // The card tells the bath that the end wants.
    expect(
      openBook(begun.replace("= 60 mbar", "= 80 mbar"))
        .items.filter((item) => item.type === "step")
        .at(1),
    ).toMatchObject({ text: expect.stringMatching(/ wants a bath of 3\d(\.\d)? °C or more\.$/) });
  });

  it("are all the workbooks there are, each once", () => {
    expect(examples.map((e) => e.file).sort()).toEqual(books.map(([name]) => name).sort());
  });

  it("have one red mark on the rail for one fault; what comes of it has a quiet one that says from where", () => {
    const gin = books.find(([name]) => name === "harbour-gin.vacuo")![1];
    const marks = (text: string) =>
      markedOutline(openBook(text)).flatMap(({ word, mark, markSays }) =>
        mark === "fault" || mark === "follows" ? [`${word}: ${mark}, ${markSays}`] : [],
      );
    expect(marks(gin)).toEqual([]);
    const from = "follows, follows from distillates.`lemon peel`.strength";
    expect(marks(gin.replace("49.5 ± 0.4 %vol", "49.5 mL"))).toEqual([
      "Single distillates: fault, a fault",
      ...["blend", "water", "flash", "bottles", "left_over", "per_bottle"].map((name) => `${name}: ${from}`),
    ]);
    expect(marks("set a = 1 g + 1 s\nset b = a * 2\nset c = b\n")).toEqual([
      "a: fault, a fault",
      "b: follows, follows from a",
      "c: follows, follows from a",
    ]);
    // A number of another kind is refused by each that takes it: that is one mistake, and the first tells it.
    const taken =
      'set p = boils_at(60 mbar, strength: s)\nset q = pure_volume(1 L, s)\ncheck s > 5 %vol : "enough"\n';
    expect(marks(`set s = 40 g\n${taken}step "Wait {s + 1 %vol}."\nset d = 1 g + 1 L\n`)).toEqual([
      "p: fault, a fault",
      "q: follows, follows from s",
      "a check: follows, follows from s",
      "Bench card: follows, follows from s",
      "d: fault, a fault",
    ]);
    // Two mistakes on one line, one in a step alone, and a line that cannot be read.
    expect(marks('set a = 1 xyz\nset b = 1 vwx\nstep "Add {1 g + 1 L}."\nplease weigh\n')).toEqual([
      "a, b: fault, faults",
      "Bench card: fault, a fault",
      "cannot be read: fault, a fault",
    ]);
  });

  it("mark on the rail the checks that are not met, then those not yet known, then what is not filled in", () => {
    const marks = (text: string) => markedOutline(openBook(text)).map(({ markSays }) => markSays);
    const [no, open] = ['check 1 > 2 : "no"\n', 'check a > 2 g : "open"\n'];
    expect(marks(`set a = blank in g\n${no}${open}`)).toEqual(["not filled in yet", "one check not met"]);
    expect(marks(`set a = blank in g\n${open}${open}`)).toEqual([
      "not filled in yet",
      "2 checks not yet known",
    ]);
    expect(marks('set a = 3 g\ncheck a > 2 g : "yes"\n')).toEqual([undefined, undefined]);
    expect(marks("table t\n| item | mass (g) |\n| one | |\n")).toEqual(["not filled in yet"]);
  });

  it("are told on the rail in the order of the text", () => {
    const book = openBook(books.find(([name]) => name === "harbour-gin.vacuo")![1]);
    const words = outline(book).map((g) => g.word);
    expect(words.slice(0, 5)).toEqual([
      "Harbour gin, spring trial",
      "The label",
      "bottling",
      "bottle and two more",
      "What goes in",
    ]);
    expect(markedOutline(book).find((g) => g.word === "measured")).toMatchObject({
      mark: "gap",
      major: false,
    });
  });
});
