/** One line of the table: what was measured, the ratio, and what it may be at most. */
export interface Line {
  readonly measure: string;
  readonly ratio: number;
  /** Most that the ratio may be; undefined when the figure is only told. */
  readonly limit?: number;
  /** The absolute figures behind the ratio. */
  readonly figures: string;
}

export const isMet = (line: Line): boolean => line.limit === undefined || line.ratio <= line.limit;

export function printed(lines: readonly Line[]): string {
  const rows = [
    ["measure", "ratio", "limit", "met", "figures"],
    ...lines.map((line) => [
      line.measure,
      shortened(line.ratio),
      line.limit === undefined ? "" : shortened(line.limit),
      line.limit === undefined ? "" : isMet(line) ? "yes" : "NO",
      line.figures,
    ]),
  ];
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  return rows
    .map((row) =>
      row
        .map((cell, i) => (i === 1 || i === 2 ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
        .join(" | ")
        .trimEnd(),
    )
    .join("\n");
}

export function shortened(n: number): string {
  if (n === 0) return "0";
  return Math.abs(n) < 0.1 ? n.toPrecision(2) : n.toPrecision(3).replace(/\.0+$/, "");
}
