import { recalculation, tableText } from "./columns";
import { rowFormulas } from "./formulas";
import type { Line } from "./table";
import { shortened } from "./table";
import { compared } from "./timing";

/** What ± costs: in a book that has none of it, beside columns that have it, and in those themselves. */
export function uncertainty(): readonly Line[] {
  const formulas = rowFormulas(30, true).map((f) => f.written);
  const rows = 1000;
  const plainText = tableText(rows, formulas);
  const without = recalculation(plainText, formulas.length);
  // The same book with a column beside it whose every cell has an uncertainty.
  const beside = recalculation(
    `${plainText}\ncolumn unsure = a ± 0.1\nfoot unsure = mean(unsure)`,
    formulas.length,
  );
  const used = recalculation(
    tableText(rows, formulas).replace(/^(\| r\d+ \| [\d.]+)/gmu, "$1 ± 0.05"),
    formulas.length,
  );
  const [none, unused] = compared([without.run, beside.run], { warmUp: 400, rounds: 11 });
  const [, spread] = compared([without.run, used.run], { rounds: 7 });
  const cells = rows * formulas.length;
  return [
    {
      measure: "columns without ± in a book that uses it elsewhere, against a book without any",
      ratio: unused!.ratio,
      limit: 1.1,
      figures: `${shortened((unused!.micros / cells) * 1000)} ns and ${shortened((none!.micros / cells) * 1000)} ns a cell`,
    },
    {
      measure: "columns whose every row has a ± of its own, against the same without",
      ratio: spread!.ratio,
      figures: `${shortened(spread!.micros / cells)} µs a cell`,
    },
  ];
}
