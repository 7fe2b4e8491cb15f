import type { Book } from "../engine";
import { openFormula, write } from "./expression";
import { FACE, FORMULA_FACE, LOOKS, SIZE } from "./look";
import { cleanText, escapeMarkup, tag } from "./markup";
import { odsChart } from "./ods-chart";
import { DECLARATION, document } from "./ods-document";
import { type PackagePart, utf8, zipParts } from "./package";
import type { CellRole, Sheet, SheetCell, Workbook } from "./sheet";
import { workbookOf } from "./workbook";

/** A book as an OpenDocument spreadsheet: every table, value, check, step and chart. The same book gives the same bytes. */
export function exportOds(book: Book): Uint8Array {
  return writeOds(workbookOf(book).workbook);
}

/**
 * OpenDocument 1.3 spreadsheets (OASIS, parts 2 to 4), written to the standard: formulas in OpenFormula with
 * their values beside them, notes as annotations, charts as embedded objects. No clock: the same workbook
 * gives the same bytes.
 */
export function writeOds(workbook: Workbook): Uint8Array {
  const styles = new StyleBook();
  const charts: { path: string; content: string }[] = [];
  const tables = workbook.sheets.map((sheet) => table(sheet, styles, charts)).join("");
  const content = document(
    "content",
    `<office:automatic-styles>${styles.written()}</office:automatic-styles>` +
      `<office:body><office:spreadsheet>${CALCULATION}${tables}</office:spreadsheet></office:body>`,
  );
  const parts: PackagePart[] = [
    { path: "mimetype", bytes: utf8(MEDIA_TYPE), stored: true },
    { path: "content.xml", bytes: utf8(content) },
    { path: "styles.xml", bytes: utf8(document("styles", DEFAULT_STYLES)) },
    { path: "meta.xml", bytes: utf8(meta(workbook.title)) },
    { path: "settings.xml", bytes: utf8(settings(workbook)) },
    ...charts.map((c) => ({ path: `${c.path}/content.xml`, bytes: utf8(c.content) })),
  ];
  const entries = [
    tag("manifest:file-entry", {
      "manifest:full-path": "/",
      "manifest:version": "1.3",
      "manifest:media-type": MEDIA_TYPE,
    }),
    ...parts.slice(1).map((p) => manifestEntry(p.path, "text/xml")),
    ...charts.map((c) => manifestEntry(c.path + "/", "application/vnd.oasis.opendocument.chart")),
  ];
  parts.push({
    path: "META-INF/manifest.xml",
    bytes: utf8(
      `${DECLARATION}<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" manifest:version="1.3">${entries.join("")}</manifest:manifest>`,
    ),
  });
  return zipParts(parts);
}

const MEDIA_TYPE = "application/vnd.oasis.opendocument.spreadsheet";
/** Text is compared without regard to capitals, as in the language, and never as a pattern. */
const CALCULATION = tag("table:calculation-settings", {
  "table:case-sensitive": "false",
  "table:search-criteria-must-apply-to-whole-cell": "true",
  "table:use-regular-expressions": "false",
  "table:use-wildcards": "false",
});

const manifestEntry = (path: string, type: string): string =>
  tag("manifest:file-entry", { "manifest:full-path": path, "manifest:media-type": type });

const meta = (title: string): string =>
  document(
    "meta",
    `<office:meta><meta:generator>Invacuo</meta:generator>${title === "" ? "" : `<dc:title>${escapeMarkup(title)}</dc:title>`}</office:meta>`,
  );

const DEFAULT_STYLES =
  "<office:styles>" +
  `<style:default-style style:family="table-cell"><style:paragraph-properties style:tab-stop-distance="1.25cm"/><style:text-properties style:font-name="${FACE}" fo:font-family="'${FACE}'" fo:font-size="${SIZE}pt" fo:language="none" fo:country="none"/></style:default-style>` +
  '<style:style style:name="Default" style:family="table-cell"/>' +
  "</office:styles>";

// ---- tables -------------------------------------------------------------------------------------------

function table(sheet: Sheet, styles: StyleBook, charts: { path: string; content: string }[]): string {
  const columns = sheet.widths.map((width) =>
    tag("table:table-column", { "table:style-name": styles.column(width) }),
  );
  const anchored = new Map<string, string>();
  for (const chart of sheet.charts) {
    const path = `Object ${charts.length + 1}`;
    charts.push({ path, content: odsChart(chart) });
    const frame = tag(
      "draw:frame",
      {
        "draw:z-index": charts.length - 1,
        "draw:name": path,
        "svg:width": `${chart.at.columns * 2.3}cm`,
        "svg:height": `${(chart.at.rows * 0.48).toFixed(2)}cm`,
        "svg:x": "0.2cm",
        "svg:y": "0.1cm",
      },
      tag("draw:object", {
        "xlink:href": `./${path}`,
        "xlink:type": "simple",
        "xlink:show": "embed",
        "xlink:actuate": "onLoad",
      }),
    );
    anchored.set(`${chart.at.row} ${chart.at.column}`, frame);
  }
  const lastChartRow = Math.max(-1, ...sheet.charts.map((c) => c.at.row));
  const rows: string[] = [];
  for (let r = 0; r < Math.max(sheet.rows.length, lastChartRow + 1); r++) {
    const cells = sheet.rows[r] ?? [];
    const lastChart = Math.max(-1, ...sheet.charts.filter((c) => c.at.row === r).map((c) => c.at.column));
    let line = "";
    for (let c = 0; c < Math.max(cells.length, lastChart + 1, 1); c++) {
      line += cellElement(cells[c], sheet.name, styles, anchored.get(`${r} ${c}`) ?? "");
    }
    rows.push(`<table:table-row>${line}</table:table-row>`);
  }
  if (rows.length === 0) rows.push("<table:table-row><table:table-cell/></table:table-row>");
  const frozen = sheet.frozen.rows;
  const body =
    frozen > 0 && frozen < rows.length
      ? `<table:table-header-rows>${rows.slice(0, frozen).join("")}</table:table-header-rows>${rows.slice(frozen).join("")}`
      : rows.join("");
  if (columns.length === 0) columns.push("<table:table-column/>");
  return tag("table:table", { "table:name": sheet.name }, columns.join("") + body);
}

function cellElement(cell: SheetCell | undefined, home: string, styles: StyleBook, frame: string): string {
  if (cell === undefined)
    return frame === "" ? "<table:table-cell/>" : `<table:table-cell>${frame}</table:table-cell>`;
  const attributes: Record<string, string | undefined> = { "table:style-name": styles.cell(cell) };
  if (cell.formula !== undefined)
    attributes["table:formula"] = "of:=" + write(cell.formula, openFormula, home);
  let content = "";
  const value = cell.value;
  if (typeof value === "number") {
    const shown = cell.isDate
      ? isoDay(value)
      : cell.decimals === undefined
        ? String(value)
        : value.toFixed(cell.decimals);
    if (cell.isDate) {
      attributes["office:value-type"] = "date";
      attributes["office:date-value"] = isoDay(value);
    } else {
      attributes["office:value-type"] = "float";
      attributes["office:value"] = String(value);
    }
    content = paragraph(shown);
  } else if (typeof value === "boolean") {
    attributes["office:value-type"] = "boolean";
    attributes["office:boolean-value"] = String(value);
    content = paragraph(value ? "TRUE" : "FALSE");
  } else if (typeof value === "string") {
    attributes["office:value-type"] = "string";
    if (value === "") attributes["office:string-value"] = "";
    else
      content = value
        .split(/\r\n|\r|\n/)
        .map(paragraph)
        .join("");
  }
  const note =
    cell.note === undefined
      ? ""
      : `<office:annotation office:display="false"><dc:creator>Invacuo</dc:creator>${cell.note.split("\n").map(paragraph).join("")}</office:annotation>`;
  return tag("table:table-cell", attributes, note + content + frame);
}

/** A paragraph that keeps runs of blanks and tabs, which XML readers of this format would fold. */
function paragraph(text: string): string {
  const inner = escapeMarkup(cleanText(text))
    .replace(/\t/g, "<text:tab/>")
    .replace(/^ | {2,}/g, (blanks) => `<text:s text:c="${blanks.length}"/>`);
  return inner === "" ? "<text:p/>" : `<text:p>${inner}</text:p>`;
}

/** The day of a count from 1899-12-30. */
export function isoDay(serial: number): string {
  return new Date((Math.round(serial) - 25_569) * 86_400_000).toISOString().slice(0, 10);
}

// ---- styles -------------------------------------------------------------------------------------------

interface CellStyle {
  readonly name: string;
  readonly role: CellRole;
  readonly holds: "date" | "truth" | "any";
  decimals?: number;
}

class StyleBook {
  private readonly columns = new Map<number, string>();
  private readonly cells = new Map<string, CellStyle>();
  private readonly numbers = new Set<number>();

  column(width: number): string {
    let name = this.columns.get(width);
    if (name === undefined) {
      name = `co${this.columns.size + 1}`;
      this.columns.set(width, name);
    }
    return name;
  }

  cell(cell: SheetCell): string {
    const numeric = typeof cell.value === "number" && !cell.isDate;
    const decimals = numeric ? cell.decimals : undefined;
    const holds = cell.isDate === true ? "date" : typeof cell.value === "boolean" ? "truth" : "any";
    const key = `${cell.role} ${holds} ${decimals ?? ""}`;
    let style = this.cells.get(key);
    if (style === undefined) {
      style = { name: `ce${this.cells.size + 1}`, role: cell.role, holds };
      if (decimals !== undefined) {
        style.decimals = decimals;
        this.numbers.add(decimals);
      }
      this.cells.set(key, style);
    }
    return style.name;
  }

  written(): string {
    const out: string[] = [];
    for (const [width, name] of this.columns) {
      out.push(
        `<style:style style:name="${name}" style:family="table-column"><style:table-column-properties style:column-width="${(width * 0.21 + 0.3).toFixed(2)}cm"/></style:style>`,
      );
    }
    for (const decimals of this.numbers) {
      out.push(
        `<number:number-style style:name="N${decimals}"><number:number number:decimal-places="${decimals}" number:min-decimal-places="${decimals}" number:min-integer-digits="1"/></number:number-style>`,
      );
    }
    out.push(
      '<number:date-style style:name="ND"><number:year number:style="long"/><number:text>-</number:text><number:month number:style="long"/><number:text>-</number:text><number:day number:style="long"/></number:date-style>',
      '<number:boolean-style style:name="NT"><number:boolean/></number:boolean-style>',
    );
    for (const style of this.cells.values()) out.push(cellStyle(style));
    return out.join("");
  }
}

function cellStyle(style: CellStyle): string {
  const look = LOOKS[style.role];
  const data =
    style.holds === "date"
      ? "ND"
      : style.holds === "truth"
        ? "NT"
        : style.decimals === undefined
          ? undefined
          : `N${style.decimals}`;
  const cellProperties = tag("style:table-cell-properties", {
    "fo:background-color": look.ground === undefined ? undefined : `#${look.ground}`,
    "fo:border-bottom": look.lineBelow === undefined ? undefined : `0.5pt solid #${look.lineBelow}`,
    "fo:border-top": look.lineAbove === undefined ? undefined : `0.5pt solid #${look.lineAbove}`,
    "fo:wrap-option": look.wrapped ? "wrap" : undefined,
    "style:vertical-align": "top",
  });
  const face = look.fixedPitch ? FORMULA_FACE : undefined;
  const textProperties = tag("style:text-properties", {
    "fo:color": `#${look.ink}`,
    "fo:font-weight": look.bold ? "bold" : undefined,
    "fo:font-style": look.slanted ? "italic" : undefined,
    "fo:font-size": look.size === undefined ? undefined : `${look.size}pt`,
    "fo:font-family": face === undefined ? undefined : `'${face}'`,
  });
  return tag(
    "style:style",
    {
      "style:name": style.name,
      "style:family": "table-cell",
      "style:parent-style-name": "Default",
      "style:data-style-name": data,
    },
    cellProperties + textProperties,
  );
}

/** Frozen headings. The names of these settings are the readers' own; the standard only gives them a place. */
function settings(workbook: Workbook): string {
  const item = (name: string, type: string, value: string | number): string =>
    tag("config:config-item", { "config:name": name, "config:type": type }, String(value));
  const sheets = workbook.sheets
    .filter((s) => s.frozen.rows + s.frozen.columns > 0)
    .map((s) => {
      const { rows, columns } = s.frozen;
      return tag(
        "config:config-item-map-entry",
        { "config:name": s.name },
        item("HorizontalSplitMode", "short", columns > 0 ? 2 : 0) +
          item("VerticalSplitMode", "short", rows > 0 ? 2 : 0) +
          item("HorizontalSplitPosition", "int", columns) +
          item("VerticalSplitPosition", "int", rows) +
          item("ActiveSplitRange", "short", rows > 0 && columns > 0 ? 3 : rows > 0 ? 2 : 1) +
          item("PositionRight", "int", columns) +
          item("PositionBottom", "int", rows),
      );
    })
    .join("");
  const tables =
    sheets === "" ? "" : tag("config:config-item-map-named", { "config:name": "Tables" }, sheets);
  const view = tag("config:config-item-map-entry", {}, item("ViewId", "string", "view1") + tables);
  const views = tag("config:config-item-map-indexed", { "config:name": "Views" }, view);
  return document(
    "settings",
    `<office:settings>${tag("config:config-item-set", { "config:name": "ooo:view-settings" }, views)}</office:settings>`,
  );
}
