import { columnLetters } from "./expression";
import { escapeMarkup, tag } from "./markup";
import { document } from "./ods-document";
import type { Block, SheetChart } from "./sheet";

/** A chart as an embedded OpenDocument object that draws from the cells of the spreadsheet around it. */
export function odsChart(chart: SheetChart): string {
  const kind = chart.named ? "bar" : "scatter";
  const styles =
    style(
      "ch0",
      '<style:graphic-properties draw:stroke="none" draw:fill="solid" draw:fill-color="#ffffff"/>',
    ) +
    style(
      "ch1",
      '<style:chart-properties chart:display-label="true" chart:logarithmic="false" chart:axis-position="start"/>',
    ) +
    style(
      "ch2",
      `<style:chart-properties ${
        chart.style === "dots"
          ? 'chart:symbol-type="automatic" chart:lines="false"'
          : chart.style === "line"
            ? 'chart:symbol-type="none" chart:lines="true"'
            : 'chart:symbol-type="none"'
      }/>` + (chart.style === "dots" ? '<style:graphic-properties draw:stroke="none"/>' : ""),
    ) +
    style(
      "ch3",
      '<style:chart-properties chart:auto-position="true"/><style:text-properties fo:font-size="11pt"/>',
    );
  const series = chart.series.map((s) =>
    tag(
      "chart:series",
      {
        "chart:style-name": "ch2",
        "chart:values-cell-range-address": address(s.ys),
        "chart:label-cell-address": `${quotedName(s.label.sheet)}.${columnLetters(s.label.column)}${s.label.row + 1}`,
        "chart:class": `chart:${kind}`,
      },
      chart.named
        ? tag("chart:data-point", { "chart:repeated": s.ys.toRow - s.ys.fromRow + 1 })
        : tag("chart:domain", { "table:cell-range-address": address(s.xs) }),
    ),
  );
  const xAxis = tag(
    "chart:axis",
    { "chart:dimension": "x", "chart:name": "primary-x", "chart:style-name": "ch1" },
    title(chart.xTitle) +
      (chart.named
        ? tag("chart:categories", { "table:cell-range-address": address(chart.series[0]!.xs) })
        : ""),
  );
  const yAxis = tag(
    "chart:axis",
    { "chart:dimension": "y", "chart:name": "primary-y", "chart:style-name": "ch1" },
    title(chart.yTitle) + '<chart:grid chart:class="major"/>',
  );
  const plot = tag("chart:plot-area", { "chart:style-name": "ch3" }, xAxis + yAxis + series.join(""));
  const legend = chart.series.length > 1 ? '<chart:legend chart:legend-position="end"/>' : "";
  return document(
    "content",
    `<office:automatic-styles>${styles}</office:automatic-styles><office:body><office:chart>` +
      tag(
        "chart:chart",
        {
          "chart:class": `chart:${kind}`,
          "chart:style-name": "ch0",
          "svg:width": "14cm",
          "svg:height": "8cm",
        },
        title(chart.title) + legend + plot,
      ) +
      "</office:chart></office:body>",
  );
}

const style = (name: string, inner: string): string =>
  `<style:style style:name="${name}" style:family="chart">${inner}</style:style>`;
const title = (text: string): string =>
  text === "" ? "" : `<chart:title><text:p>${escapeMarkup(text)}</text:p></chart:title>`;
const quotedName = (sheet: string): string => `'${sheet.replace(/'/g, "''")}'`;
const address = (b: Block): string => {
  const spot = (row: number): string => `${quotedName(b.sheet)}.${columnLetters(b.column)}${row + 1}`;
  return `${spot(b.fromRow)}:${spot(b.toRow)}`;
};
