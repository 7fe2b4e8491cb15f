import { columnLetters } from "./expression";
import { escapeMarkup, tag } from "./markup";
import type { Block, SheetChart, Workbook } from "./sheet";

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const DRAWING = "http://schemas.openxmlformats.org/drawingml/2006";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/** A chart part (ISO/IEC 29500-1, chapter 21), with the points stored beside the references to their cells. */
export function chartPart(chart: SheetChart, workbook: Workbook): string {
  const series = chart.series.map((s, i) => {
    const label = `<c:tx><c:strRef>${reference({ sheet: s.label.sheet, column: s.label.column, fromRow: s.label.row, toRow: s.label.row })}${cache(workbook, { sheet: s.label.sheet, column: s.label.column, fromRow: s.label.row, toRow: s.label.row }, "str")}</c:strRef></c:tx>`;
    const head = `<c:idx val="${i}"/><c:order val="${i}"/>${label}`;
    if (chart.named) {
      return `<c:ser>${head}<c:cat><c:strRef>${reference(s.xs)}${cache(workbook, s.xs, "str")}</c:strRef></c:cat><c:val><c:numRef>${reference(s.ys)}${cache(workbook, s.ys, "num")}</c:numRef></c:val></c:ser>`;
    }
    const look =
      chart.style === "dots"
        ? '<c:spPr><a:ln w="19050"><a:noFill/></a:ln></c:spPr><c:marker><c:symbol val="circle"/><c:size val="6"/></c:marker>'
        : '<c:marker><c:symbol val="none"/></c:marker>';
    return `<c:ser>${head}${look}<c:xVal><c:numRef>${reference(s.xs)}${cache(workbook, s.xs, "num")}</c:numRef></c:xVal><c:yVal><c:numRef>${reference(s.ys)}${cache(workbook, s.ys, "num")}</c:numRef></c:yVal><c:smooth val="0"/></c:ser>`;
  });
  const kind = chart.named
    ? `<c:barChart><c:barDir val="col"/><c:grouping val="clustered"/><c:varyColors val="0"/>${series.join("")}<c:axId val="1"/><c:axId val="2"/></c:barChart>`
    : `<c:scatterChart><c:scatterStyle val="lineMarker"/><c:varyColors val="0"/>${series.join("")}<c:axId val="1"/><c:axId val="2"/></c:scatterChart>`;
  const axis = (name: string, id: number, other: number, place: string, text: string): string =>
    `<c:${name}><c:axId val="${id}"/><c:scaling><c:orientation val="minMax"/></c:scaling><c:delete val="0"/><c:axPos val="${place}"/>${title(text, 900)}<c:crossAx val="${other}"/></c:${name}>`;
  const axes =
    axis(chart.named ? "catAx" : "valAx", 1, 2, "b", chart.xTitle) + axis("valAx", 2, 1, "l", chart.yTitle);
  const legend = chart.series.length > 1 ? '<c:legend><c:legendPos val="r"/></c:legend>' : "";
  return `${HEAD}<c:chartSpace xmlns:c="${DRAWING}/chart" xmlns:a="${DRAWING}/main" xmlns:r="${OFFICE}"><c:chart>${title(chart.title, 1100)}<c:autoTitleDeleted val="0"/><c:plotArea><c:layout/>${kind}${axes}</c:plotArea>${legend}<c:plotVisOnly val="1"/><c:dispBlanksAs val="gap"/></c:chart></c:chartSpace>`;
}

function title(text: string, size: number): string {
  if (text === "") return "";
  return `<c:title><c:tx><c:rich><a:bodyPr/><a:p><a:pPr><a:defRPr sz="${size}" b="0"/></a:pPr><a:r><a:rPr lang="en" sz="${size}" b="0"/><a:t>${escapeMarkup(text)}</a:t></a:r></a:p></c:rich></c:tx><c:overlay val="0"/></c:title>`;
}

function reference(b: Block): string {
  const spot = (row: number): string => `$${columnLetters(b.column)}$${row + 1}`;
  const cells = b.fromRow === b.toRow ? spot(b.fromRow) : `${spot(b.fromRow)}:${spot(b.toRow)}`;
  return `<c:f>${escapeMarkup(`'${b.sheet.replace(/'/g, "''")}'!${cells}`)}</c:f>`;
}

function cache(workbook: Workbook, b: Block, kind: "str" | "num"): string {
  const sheet = workbook.sheets.find((s) => s.name === b.sheet)!;
  const points: string[] = [];
  for (let row = b.fromRow; row <= b.toRow; row++) {
    const value = sheet.rows[row]?.[b.column]?.value ?? null;
    if (value === null || (kind === "num" && typeof value !== "number")) continue;
    points.push(tag("c:pt", { idx: row - b.fromRow }, `<c:v>${escapeMarkup(String(value))}</c:v>`));
  }
  return `<c:${kind}Cache><c:ptCount val="${b.toRow - b.fromRow + 1}"/>${points.join("")}</c:${kind}Cache>`;
}

/** Where the charts of a sheet stand. */
export function drawingPart(charts: readonly SheetChart[], ids: readonly string[]): string {
  const anchors = charts.map((chart, i) => {
    const { row, column, rows, columns } = chart.at;
    const corner = (r: number, c: number): string =>
      `<xdr:col>${c}</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>${r}</xdr:row><xdr:rowOff>0</xdr:rowOff>`;
    return `<xdr:twoCellAnchor><xdr:from>${corner(row, column)}</xdr:from><xdr:to>${corner(row + rows, column + columns)}</xdr:to><xdr:graphicFrame macro=""><xdr:nvGraphicFramePr><xdr:cNvPr id="${i + 2}" name="Chart ${i + 1}" descr="${escapeMarkup(chart.title)}"/><xdr:cNvGraphicFramePr/></xdr:nvGraphicFramePr><xdr:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/></xdr:xfrm><a:graphic><a:graphicData uri="${DRAWING}/chart"><c:chart xmlns:c="${DRAWING}/chart" r:id="${ids[i]}"/></a:graphicData></a:graphic></xdr:graphicFrame><xdr:clientData/></xdr:twoCellAnchor>`;
  });
  return `${HEAD}<xdr:wsDr xmlns:xdr="${DRAWING}/spreadsheetDrawing" xmlns:a="${DRAWING}/main" xmlns:r="${OFFICE}">${anchors.join("")}</xdr:wsDr>`;
}
