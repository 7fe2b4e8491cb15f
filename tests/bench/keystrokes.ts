import { openBook } from "../../src/engine";
import { complete, type Field, foretell, hover, meaning } from "../../src/engine/editing";
import { type Line, shortened } from "./table";
import { compared } from "./timing";

/** A book of 300 names, with two tables of 200 rows and one of 5,000. */
function large(): string {
  const lines: string[] = [];
  for (let i = 0; i < 300; i++)
    lines.push(
      i % 5 === 4
        ? `set blend_${i} = marry([${i + 1} L, 2 L], [40 %vol, 50 %vol])`
        : `set value_${i} = ${i} mL`,
    );
  for (const [t, rows] of [200, 200, 5000].entries()) {
    lines.push("", `table table_${t}`, "| item | volume (mL) | strength (%vol) | price (GBP/L) | sort |");
    for (let r = 0; r < rows; r++) lines.push(`| row ${r} | ${r + 1} | 40 | 9.4 | sort ${r % 7} |`);
    lines.push(
      "column cost = volume * price",
      "column alcohol = pure_volume(volume, strength)",
      "foot cost = sum(cost)",
    );
  }
  return `${lines.join("\n")}\n`;
}

/** A plain loop that takes 5 ms on the machine on which it was written: what a keystroke may cost. */
function yardstick(): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < 4_500_000; i++) hash = Math.imul(hash ^ (i & 0xff), 0x01000193);
  return hash;
}

/** What one keystroke in a large book sets going: proposals, meaning, hover, what would come of it. */
export function keystrokes(): readonly Line[] {
  const text = large();
  const book = openBook(text);
  const value: Field = { in: "value", name: "x", text: "" };
  const column: Field = { in: "column", table: "table_2", column: "cost", row: 7, text: "" };
  const proposed = (field: Field, written: string) => (): number => {
    const caret = written.indexOf("¦");
    return complete(book, { ...field, text: written.replace("¦", "") } as Field, caret).proposals.length;
  };
  const at = text.indexOf("set value_30 = ") + 15;
  const works: readonly (readonly [string, () => number])[] = [
    ["an empty field", proposed(value, "¦")],
    ["a letter", proposed(value, "v¦")],
    ["inside a call", proposed(value, "pure_volume(¦)")],
    ["the second argument of a call", proposed(value, "marry(table_0.volume, ¦")],
    ["a second operand", proposed({ ...value, name: "value_3" } as Field, "value_6 + ¦")],
    ["a column's formula", proposed(column, "volume * ¦")],
    ["behind a table's name", proposed(value, "table_2.¦")],
    ["one of 5,000 rows", proposed(value, "table_2.`row 19¦")],
    ["a text of a column", proposed(value, "table_2.volume where sort is ¦")],
    ["a unit", proposed(value, "value_3 + 3 ¦")],
    [
      "a formula in a cell",
      proposed({ in: "cell", table: "table_2", column: "volume", row: 9, text: "" }, "= vo¦"),
    ],
    ["in the text of the book", () => complete(book, { in: "book" }, at).proposals.length],
    ["meaning", () => Number(meaning(book, { in: "book" }, at) !== undefined)],
    ["hover", () => Number(hover(book, { in: "book" }, at) !== undefined)],
    [
      "what would come of a column",
      () => Number(foretell(book, { ...column, text: "volume * price * 2" } as Field) !== undefined),
    ],
  ];
  const times = compared([yardstick, ...works.map(([, work]) => work)], {
    warmUp: 60,
    sample: 20,
    rounds: 7,
  });
  return works.map(([name], i) => ({
    measure: `a keystroke in a large book: ${name}, against a loop of 5 ms`,
    ratio: times[i + 1]!.ratio,
    limit: 1,
    figures: `${shortened(times[i + 1]!.micros / 1000)} ms and ${shortened(times[0]!.micros / 1000)} ms`,
  }));
}
