import { strToU8, type Zippable, zipSync } from "fflate";

/** Small files of other programs, made by hand so that a test can hold any detail of them. */
export type ForeignCell = number | string | boolean | null | { readonly xml: string };

const escaped = (text: string): string =>
  text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;");
const letters = (column: number): string =>
  (column >= 26 ? letters(Math.floor(column / 26) - 1) : "") + String.fromCharCode(65 + (column % 26));

export interface XlsxOptions {
  readonly sheets?: Readonly<Record<string, readonly (readonly ForeignCell[])[]>>;
  /** Format codes: style number n shows a cell by the n-th of them. */
  readonly formats?: readonly string[];
  readonly from1904?: boolean;
  readonly parts?: Readonly<Record<string, string>>;
}

/** An .xlsx package. A cell `{ xml }` is put down as it is, without its place. */
export function xlsxOf(
  rows: readonly (readonly ForeignCell[])[],
  options: XlsxOptions = {},
): Uint8Array<ArrayBuffer> {
  const sheets = Object.entries(options.sheets ?? { Sheet1: rows });
  const cell = (value: ForeignCell, r: number, c: number): string => {
    const place = `r="${letters(c)}${r + 1}"`;
    if (value === null) return "";
    if (typeof value === "object") return value.xml.replace("<c", `<c ${place}`);
    if (typeof value === "number") return `<c ${place}><v>${value}</v></c>`;
    if (typeof value === "boolean") return `<c ${place} t="b"><v>${value ? 1 : 0}</v></c>`;
    return `<c ${place} t="inlineStr"><is><t xml:space="preserve">${escaped(value)}</t></is></c>`;
  };
  const parts: Record<string, string> = {
    "[Content_Types].xml": '<?xml version="1.0"?><Types xmlns="x"/>',
    "xl/workbook.xml": `<?xml version="1.0"?><workbook xmlns:r="r"><workbookPr${options.from1904 ? ' date1904="1"' : ""}/><sheets>${sheets
      .map(([name], i) => `<sheet name="${escaped(name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`)
      .join("")}</sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `<Relationships>${sheets
      .map((_, i) => `<Relationship Id="rId${i + 1}" Target="worksheets/sheet${i + 1}.xml"/>`)
      .join("")}</Relationships>`,
    "xl/styles.xml": `<styleSheet><numFmts>${(options.formats ?? [])
      .map((code, i) => `<numFmt numFmtId="${170 + i}" formatCode="${escaped(code)}"/>`)
      .join("")}</numFmts><cellXfs><xf numFmtId="0"/>${(options.formats ?? [])
      .map((_, i) => `<xf numFmtId="${170 + i}"/>`)
      .join("")}</cellXfs></styleSheet>`,
    ...Object.fromEntries(
      sheets.map(([, body], i) => [
        `xl/worksheets/sheet${i + 1}.xml`,
        `<worksheet><sheetData>${body
          .map((row, r) => `<row r="${r + 1}">${row.map((v, c) => cell(v, r, c)).join("")}</row>`)
          .join("")}</sheetData></worksheet>`,
      ]),
    ),
    ...options.parts,
  };
  return zipped(parts);
}

export const zipped = (parts: Readonly<Record<string, string>>): Uint8Array<ArrayBuffer> => {
  const files: Zippable = {};
  for (const [path, text] of Object.entries(parts)) files[path] = [strToU8(text), { mtime: "1990-01-01" }];
  return zipSync(files) as Uint8Array<ArrayBuffer>;
};

/** An .ods package of one sheet; `body` is what stands inside `table:table`. */
export const odsOf = (body: string, extra = ""): Uint8Array<ArrayBuffer> =>
  zipped({
    mimetype: "application/vnd.oasis.opendocument.spreadsheet",
    "content.xml": `<?xml version="1.0"?>${extra}<office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x"><office:body><office:spreadsheet><table:table table:name="Sheet1">${body}</table:table></office:spreadsheet></office:body></office:document-content>`,
  });
export const odsRow = (...cells: string[]): string => `<table:table-row>${cells.join("")}</table:table-row>`;
export const odsText = (text: string): string =>
  `<table:table-cell office:value-type="string"><text:p>${escaped(text)}</text:p></table:table-cell>`;
export const odsNumber = (value: number): string =>
  `<table:table-cell office:value-type="float" office:value="${value}"><text:p>${value}</text:p></table:table-cell>`;

/** Numbers that look random and are the same every time (mulberry32). */
export function dice(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
