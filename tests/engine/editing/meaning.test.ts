import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { BookNames } from "../../../grammar/book-names";
import { referencesIn } from "../../../grammar/references";
import { openBook } from "../../../src/engine";
import { meaning } from "../../../src/engine/editing";
import { CORDIAL, cordial, field, marked } from "./writing";

const under = (where: string, written: string) => {
  const { text, caret } = marked(written);
  return meaning(cordial, field(where, text), caret);
};

describe("the name under the caret", () => {
  it("is a column of the table around, in the row that is looked at", () => {
    expect(under("column stock.cost 1", "vol¦ume * price")).toMatchObject({
      from: 0,
      to: 6,
      means: { type: "cell", table: "stock", column: "volume", row: 1 },
      path: "stock.`bay leaf`.volume",
      is: "a volume",
      shown: { text: "350 mL" },
    });
    expect(under("column stock.cost", "volume * pri¦ce")).toMatchObject({
      means: { type: "cell", column: "price", row: -1 },
      path: "stock.price",
      shown: { text: "3 entries" },
    });
  });
  it("is found from either end of the word and from its middle, and not beside it", () => {
    for (const written of ["¦pull + 1 mbar", "pu¦ll + 1 mbar", "pull¦ + 1 mbar"])
      expect(under("set x", written)?.path, written).toBe("pull");
    expect(under("set x", "pull ¦+ 1 mbar")).toBeUndefined();
    expect(under("set x", "pull + ¦1 mbar")).toBeUndefined();
  });
  it("of a path is all up to the part under the caret", () => {
    expect(under("set x", "blend.stre¦ngth * 2")).toMatchObject({
      from: 0,
      to: 14,
      path: "blend.strength",
      means: { type: "part", name: "strength", of: { type: "value", name: "blend" } },
    });
    expect(under("set x", "ble¦nd.strength")).toMatchObject({
      from: 0,
      to: 5,
      path: "blend",
      means: { type: "value", name: "blend" },
    });
    expect(under("set x", "stock.`bay ¦leaf`.price")).toMatchObject({
      path: "stock.`bay leaf`",
      means: { type: "row", row: 1 },
    });
    expect(under("set x", "stock.`bay leaf`.pr¦ice")).toMatchObject({
      path: "stock.`bay leaf`.price",
      shown: { text: "21.5 GBP/L" },
    });
    expect(under("set x", "stock.foot.co¦st")).toMatchObject({
      path: "stock.foot.cost",
      means: { type: "foot", column: "cost" },
    });
    expect(under("set x", "1 + stock.vol¦ume")).toMatchObject({
      from: 4,
      means: { type: "column", table: "stock", column: "volume" },
      is: "a list, each a volume",
    });
    expect(under("set x", "runs.¦2a.mass")).toMatchObject({
      path: "runs.2a",
      means: { type: "row", row: 1 },
    });
  });
  it("follows before, foot, book, where, find and definitions", () => {
    expect(under("column stock.cost 1", "before.pr¦ice")).toMatchObject({
      path: "stock.quince.price",
      shown: { text: "9.4 GBP/L" },
    });
    expect(under("column stock.cost", "foot.co¦st")).toMatchObject({ path: "stock.foot.cost" });
    expect(under("column stock.cost", "book.pu¦ll")).toMatchObject({ path: "pull" });
    expect(under("set x", "sum(stock.volume where stre¦ngth > 40 %vol)")).toMatchObject({
      means: { type: "cell", table: "stock", column: "strength" },
    });
    expect(under("set x", "find t from 1 K to 9 K so that t¦ is 3 K")).toMatchObject({
      means: { type: "local", name: "t" },
      is: "a temperature difference",
    });
    expect(under("define kept", "x * (1 - sh¦are)")).toMatchObject({
      means: { type: "local", name: "share" },
    });
  });
  it("before a bracket is a function, before a colon a label, behind a number a unit", () => {
    expect(under("set x", "boi¦ls_at(pull)")).toMatchObject({
      means: { type: "function", name: "boils_at", own: false },
    });
    expect(under("set x", "ke¦pt(1, 2)")).toMatchObject({ means: { type: "function", own: true } });
    expect(under("set x", "boils_at(pull, stre¦ngth: goal)")).toMatchObject({
      means: { type: "label", function: "boils_at", parameter: "strength" },
    });
    expect(under("set x", "3 mb¦ar")).toMatchObject({
      from: 2,
      to: 6,
      means: { type: "unit", unit: "mbar" },
    });
    expect(under("set x", "9.4 GBP¦/L * 2 L")).toMatchObject({
      from: 4,
      to: 9,
      means: { type: "unit", unit: "GBP/L" },
    });
    expect(under("set x", "pull in P¦a")).toMatchObject({ means: { type: "unit", unit: "Pa" } });
    expect(under("set x", "3 %v¦ol")).toMatchObject({ means: { type: "unit", unit: "%vol" } });
    expect(under("set x", "20 °¦C")).toMatchObject({ means: { type: "unit", unit: "°C" } });
  });
  it("is nothing where there is no such thing", () => {
    for (const written of [
      "nobo¦dy",
      "blend.nobo¦dy",
      '"pu¦ll"',
      "nobody(pu¦ll: 3)",
      "i¦f pull > 1 mbar then 1 else 2",
      "boils_at(pull, nobo¦dy: 3)",
    ])
      expect(under("set x", written), written).toBeUndefined();
    expect(under("set x", "¦")).toBeUndefined();
  });
  it("counts in the field's text also where the field is cut out of a statement", () => {
    expect(under("chart", "bars stock.alc¦ohol by stock.item")).toMatchObject({ from: 5, to: 18 });
    expect(under("clauses", "wait 3 min ask go¦t in mL")).toMatchObject({ from: 15, to: 18 });
    expect(under("sentence", "Stir {blend.vol¦ume in mL} in.")).toMatchObject({
      from: 6,
      to: 18,
      path: "blend.volume",
    });
    expect(under("cell stock.volume 0", "= pri¦ce")).toMatchObject({ from: 2, to: 7 });
    const at = CORDIAL.indexOf("thinned.add in");
    expect(meaning(cordial, { in: "book" }, at + 9)).toMatchObject({
      from: at,
      to: at + 11,
      path: "thinned.add",
    });
  });
});

describe("in whole books", () => {
  const folder = new URL("../../../workbooks/", import.meta.url);
  const books = readdirSync(folder).filter((f) => f.endsWith(".vacuo"));
  it.each(["the cordial", ...books])(
    "%s: every use of a name means what the references of the text say",
    (file) => {
      const book = file === "the cordial" ? cordial : openBook(readFileSync(new URL(file, folder), "utf8"));
      const names = new BookNames(book.tree);
      let compared = 0;
      for (const reference of referencesIn(book.tree, names)) {
        const { statement, span, meaning: wanted, as } = reference;
        if (wanted.kind === "open" || as === "variable") continue;
        const found = meaning(book, { in: "book" }, statement.at + span.to);
        const where = `${reference.name} in line ${statement.line}`;
        const type = found?.means.type;
        compared++;
        switch (wanted.kind) {
          case "set":
            expect(type, where).toBe("value");
            break;
          case "define":
            expect(type, where).toBe("function");
            break;
          case "local":
            expect(type, where).toBe("local");
            break;
          case "table":
            expect(found?.means, where).toMatchObject({ type: "table", table: wanted.table.name });
            break;
          case "row":
            expect(found?.means, where).toMatchObject({ type: "row", table: wanted.table.name });
            break;
          case "column":
            expect(["column", "cell", "foot"], where).toContain(type);
            expect(found?.means, where).toMatchObject({ table: wanted.table.name, column: wanted.name });
        }
      }
      expect(compared).toBeGreaterThan(5);
    },
  );
});
