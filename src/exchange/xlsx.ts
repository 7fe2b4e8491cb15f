import type { Workbook as Package, Style } from "xlsx-populate";
import type { Book } from "../engine";
import { spreadsheetML, write } from "./expression";
import { FACE, FORMULA_FACE, LOOKS, SIZE } from "./look";
import { cleanText, escapeMarkup } from "./markup";
import { utf8, zipParts } from "./package";
import type { Sheet, SheetCell, Workbook } from "./sheet";
import { workbookOf } from "./workbook";
import { finishPackage } from "./xlsx-parts";

/** A book as an .xlsx workbook: every table, value, check, step and chart. The same book gives the same bytes. */
export async function exportXlsx(book: Book): Promise<Uint8Array> {
  return writeXlsx(workbookOf(book).workbook);
}

/**
 * SpreadsheetML workbooks (ISO/IEC 29500) through xlsx-populate. What that library leaves out is put into the
 * package afterwards (xlsx-parts.ts): the value beside each formula, notes and charts. What it lets through is
 * kept from it: numbers that are not finite, control characters, and text that looks like one of the format's
 * own escapes. No clock: the same workbook gives the same bytes.
 */
export async function writeXlsx(workbook: Workbook): Promise<Uint8Array> {
  // Loaded when first used: the library is slow to start and most calls of the command never need it.
  const { default: library } = await import("xlsx-populate");
  const target = await library.fromDataAsync(template(workbook.title));
  const styles = new StyleBook(target);
  workbook.sheets.forEach((sheet, i) => {
    const page = i === 0 ? target.sheet(0).name(sheet.name) : target.addSheet(sheet.name);
    sheet.widths.forEach((width, c) => {
      page.column(c + 1).width(width);
    });
    const { rows, columns } = sheet.frozen;
    if (rows + columns > 0) page.freezePanes(columns, rows);
    sheet.rows.forEach((row, r) => {
      row.forEach((cell, c) => {
        if (cell.value === null && cell.formula === undefined && cell.role === "plain") return;
        fill(page, sheet, cell, r, c, styles);
      });
    });
  });
  return finishPackage(await target.outputAsync({ type: "uint8array" }), workbook);
}

function fill(
  page: ReturnType<Package["sheet"]>,
  sheet: Sheet,
  cell: SheetCell,
  r: number,
  c: number,
  styles: StyleBook,
): void {
  const place = page.cell(r + 1, c + 1);
  if (cell.formula !== undefined) {
    place.formula(cleanText(write(cell.formula, spreadsheetML, sheet.name)));
  } else if (typeof cell.value === "number") {
    if (!Number.isFinite(cell.value)) throw new Error(`a number that is not finite reached ${sheet.name}`);
    place.value(cell.value);
  } else if (typeof cell.value === "string") {
    if (cell.value !== "") place.value(safeString(cell.value));
  } else if (cell.value !== null) {
    place.value(cell.value);
  }
  place.style(styles.of(cell));
}

/** Text as the format wants it: `_x0041_` would be read as an escape, so its underscore is escaped itself. */
export function safeString(text: string): string {
  return cleanText(text)
    .replace(/\r\n?/g, "\n")
    .replace(/_(?=x[0-9a-fA-F]{4}_)/g, "_x005F_")
    .slice(0, LONGEST_TEXT);
}
/** A cell of this format holds no more characters. */
const LONGEST_TEXT = 32_767;

class StyleBook {
  private readonly styles = new Map<string, Style>();
  constructor(private readonly target: Package) {}

  of(cell: SheetCell): Style {
    const key = `${cell.role} ${cell.isDate === true} ${cell.decimals ?? ""}`;
    let style = this.styles.get(key);
    if (style === undefined) {
      style = this.make(cell);
      this.styles.set(key, style);
    }
    return style;
  }

  private make(cell: SheetCell): Style {
    const look = LOOKS[cell.role];
    const style = this.target.styleSheet().createStyle(0);
    style.style("fontFamily", look.fixedPitch ? FORMULA_FACE : FACE);
    style.style("fontSize", look.size ?? SIZE);
    style.style("fontColor", look.ink);
    if (look.bold) style.style("bold", true);
    if (look.slanted) style.style("italic", true);
    if (look.wrapped) style.style("wrapText", true);
    style.style("verticalAlignment", "top");
    if (look.ground) style.style("fill", look.ground);
    if (look.lineBelow) style.style("border", { bottom: { style: "thin", color: look.lineBelow } });
    if (look.lineAbove) style.style("border", { top: { style: "thin", color: look.lineAbove } });
    if (cell.isDate) style.style("numberFormat", "yyyy-mm-dd");
    else if (cell.decimals !== undefined && typeof cell.value === "number") {
      style.style("numberFormat", cell.decimals === 0 ? "0" : "0." + "0".repeat(cell.decimals));
    }
    return style;
  }
}

/**
 * The package that the library starts from, written here because its own blank one carries a foreign path and
 * a theme, and because it cannot open one without a styles part.
 */
function template(title: string): Uint8Array {
  const head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
  const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
  const office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
  const packaged = "http://schemas.openxmlformats.org/package/2006";
  const type = (name: string, kind: string): string =>
    `<Override PartName="${name}" ContentType="application/vnd.openxmlformats-${kind}+xml"/>`;
  const relation = (id: number, kind: string, target: string): string =>
    `<Relationship Id="rId${id}" Type="${kind}" Target="${target}"/>`;
  const relations = (inner: string): string =>
    `${head}<Relationships xmlns="${packaged}/relationships">${inner}</Relationships>`;
  const font = `<font><sz val="${SIZE}"/><name val="${FACE}"/></font>`;
  const parts: [string, string][] = [
    [
      "[Content_Types].xml",
      `${head}<Types xmlns="${packaged}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Default Extension="vml" ContentType="application/vnd.openxmlformats-officedocument.vmlDrawing"/>` +
        type("/xl/workbook.xml", "officedocument.spreadsheetml.sheet.main") +
        type("/xl/worksheets/sheet1.xml", "officedocument.spreadsheetml.worksheet") +
        type("/xl/styles.xml", "officedocument.spreadsheetml.styles") +
        type("/docProps/core.xml", "package.core-properties") +
        type("/docProps/app.xml", "officedocument.extended-properties") +
        "</Types>",
    ],
    [
      "_rels/.rels",
      relations(
        relation(1, `${office}/officeDocument`, "xl/workbook.xml") +
          relation(2, `${packaged}/relationships/metadata/core-properties`, "docProps/core.xml") +
          relation(3, `${office}/extended-properties`, "docProps/app.xml"),
      ),
    ],
    [
      "docProps/app.xml",
      `${head}<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"><Application>Invacuo</Application></Properties>`,
    ],
    [
      "docProps/core.xml",
      `${head}<cp:coreProperties xmlns:cp="${packaged}/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>${escapeMarkup(title)}</dc:title></cp:coreProperties>`,
    ],
    [
      "xl/workbook.xml",
      `${head}<workbook xmlns="${main}" xmlns:r="${office}"><sheets><sheet name="Sheet1" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    ],
    [
      "xl/_rels/workbook.xml.rels",
      relations(
        relation(1, `${office}/worksheet`, "worksheets/sheet1.xml") +
          relation(2, `${office}/styles`, "styles.xml"),
      ),
    ],
    [
      "xl/styles.xml",
      `${head}<styleSheet xmlns="${main}"><fonts>${font}</fonts><fills><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders><border><left/><right/><top/><bottom/><diagonal/></border></borders><cellStyleXfs><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyFont="1" applyFill="1" applyBorder="1"/></cellXfs><cellStyles><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`,
    ],
    [
      "xl/worksheets/sheet1.xml",
      `${head}<worksheet xmlns="${main}" xmlns:r="${office}"><sheetData/></worksheet>`,
    ],
  ];
  return zipParts(parts.map(([path, text]) => ({ path, bytes: utf8(text) })));
}
