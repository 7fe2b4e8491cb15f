import { strFromU8, unzipSync } from "fflate";
import { columnLetters } from "./expression";
import { escapeMarkup, tag } from "./markup";
import { utf8, zipParts } from "./package";
import type { Sheet, Workbook } from "./sheet";
import { safeString } from "./xlsx";
import { chartPart, drawingPart } from "./xlsx-chart";

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships";

/**
 * Puts into a package what the library does not write: the value beside each formula (a reader that does not
 * recalculate, such as a preview, shows nothing without it), notes and charts; then packs it without the clock.
 */
export function finishPackage(packed: Uint8Array, workbook: Workbook): Uint8Array {
  const parts = new Map<string, string>();
  for (const [path, bytes] of Object.entries(unzipSync(packed))) {
    if (!path.endsWith("/")) parts.set(path, strFromU8(bytes));
  }
  const types: string[] = [];
  let charts = 0;
  workbook.sheets.forEach((sheet, i) => {
    const path = `xl/worksheets/sheet${i + 1}.xml`;
    // The library lists no type for the sheets that it adds.
    if (i > 0) types.push(override(`/${path}`, "officedocument.spreadsheetml.worksheet"));
    let xml = storedValues(parts.get(path)!, sheet);
    const relations: string[] = [];
    let tail = "";
    const relate = (kind: string, target: string): string => {
      const id = `rId${relations.length + 1}`;
      relations.push(tag("Relationship", { Id: id, Type: `${OFFICE}/${kind}`, Target: target }));
      return id;
    };
    if (sheet.charts.length > 0) {
      const ids: string[] = [];
      const chartRelations = sheet.charts.map((chart, k) => {
        const number = ++charts;
        parts.set(`xl/charts/chart${number}.xml`, chartPart(chart, workbook));
        types.push(override(`/xl/charts/chart${number}.xml`, "officedocument.drawingml.chart"));
        ids.push(`rId${k + 1}`);
        return tag("Relationship", {
          Id: `rId${k + 1}`,
          Type: `${OFFICE}/chart`,
          Target: `../charts/chart${number}.xml`,
        });
      });
      parts.set(`xl/drawings/drawing${i + 1}.xml`, drawingPart(sheet.charts, ids));
      parts.set(`xl/drawings/_rels/drawing${i + 1}.xml.rels`, relationsPart(chartRelations));
      types.push(override(`/xl/drawings/drawing${i + 1}.xml`, "officedocument.drawing"));
      tail += tag("drawing", { "r:id": relate("drawing", `../drawings/drawing${i + 1}.xml`) });
    }
    const notes = notesOf(sheet);
    if (notes.length > 0) {
      parts.set(`xl/comments${i + 1}.xml`, commentsPart(notes));
      parts.set(`xl/drawings/vmlDrawing${i + 1}.vml`, notesDrawing(notes, i + 1));
      types.push(override(`/xl/comments${i + 1}.xml`, "officedocument.spreadsheetml.comments"));
      const drawing = relate("vmlDrawing", `../drawings/vmlDrawing${i + 1}.vml`);
      relate("comments", `../comments${i + 1}.xml`);
      tail += tag("legacyDrawing", { "r:id": drawing });
    }
    if (tail !== "") xml = xml.replace(/<\/worksheet>\s*$/, `${tail}</worksheet>`);
    if (relations.length > 0)
      parts.set(`xl/worksheets/_rels/sheet${i + 1}.xml.rels`, relationsPart(relations));
    parts.set(path, xml);
  });
  const contents = "[Content_Types].xml";
  parts.set(contents, parts.get(contents)!.replace("</Types>", `${types.join("")}</Types>`));
  // Readers look for the list of contents first; the rest stands in the order of its names.
  const paths = [...parts.keys()].filter((p) => p !== contents).sort();
  return zipParts([contents, ...paths].map((path) => ({ path, bytes: utf8(parts.get(path)!) })));
}

const override = (part: string, kind: string): string =>
  tag("Override", { PartName: part, ContentType: `application/vnd.openxmlformats-${kind}+xml` });
const relationsPart = (relations: readonly string[]): string =>
  `${HEAD}<Relationships xmlns="${RELATIONS}">${relations.join("")}</Relationships>`;

/** Adds `<v>` behind each `<f>`. Every formula of the sheet must be met, or the package is not what we sent. */
function storedValues(xml: string, sheet: Sheet): string {
  let met = 0;
  const done = xml.replace(
    /<c r="([A-Z]+)(\d+)"((?: s="\d+")?)><f>([^<]*)<\/f><\/c>/g,
    (_, letters: string, row: string, style: string, formula: string) => {
      const column = [...letters].reduce((n, c) => n * 26 + c.charCodeAt(0) - 64, 0) - 1;
      const value = sheet.rows[Number(row) - 1]![column]!.value;
      met++;
      const [type, text] =
        typeof value === "string"
          ? [' t="str"', escapeMarkup(safeString(value))]
          : typeof value === "boolean"
            ? [' t="b"', value ? "1" : "0"]
            : ["", stored(value)];
      return `<c r="${letters}${row}"${style}${type}><f>${formula}</f><v>${text}</v></c>`;
    },
  );
  const sent = sheet.rows.reduce((n, row) => n + row.filter((c) => c.formula !== undefined).length, 0);
  if (met !== sent) throw new Error(`${sent} formulas were sent to ${sheet.name}, ${met} came back`);
  return done;
}

function stored(value: number | null): string {
  if (value === null || !Number.isFinite(value))
    throw new Error("a formula without a value reached the package");
  return String(value);
}

// ---- notes --------------------------------------------------------------------------------------------

interface CellNote {
  readonly row: number;
  readonly column: number;
  readonly text: string;
}
function notesOf(sheet: Sheet): CellNote[] {
  return sheet.rows.flatMap((cells, row) =>
    cells.flatMap((cell, column) => (cell.note === undefined ? [] : [{ row, column, text: cell.note }])),
  );
}

function commentsPart(notes: readonly CellNote[]): string {
  const list = notes.map((n) =>
    tag(
      "comment",
      { ref: `${columnLetters(n.column)}${n.row + 1}`, authorId: 0 },
      `<text><t xml:space="preserve">${escapeMarkup(safeString(n.text))}</t></text>`,
    ),
  );
  return `${HEAD}<comments xmlns="${MAIN}"><authors><author>Invacuo</author></authors><commentList>${list.join("")}</commentList></comments>`;
}

/** The boxes in which notes open; the format still asks for them in its old drawing language. */
function notesDrawing(notes: readonly CellNote[], sheet: number): string {
  const shapes = notes.map(
    (n, i) =>
      `<v:shape id="_x0000_s${sheet * 1024 + i + 1}" type="#note" style="position:absolute;visibility:hidden" fillcolor="#faf9f6" o:insetmode="auto"><v:fill color2="#faf9f6"/><v:path o:connecttype="none"/><v:textbox style="mso-direction-alt:auto"/><x:ClientData ObjectType="Note"><x:MoveWithCells/><x:SizeWithCells/><x:Anchor>${n.column + 1},10,${n.row},4,${n.column + 5},10,${n.row + 6},4</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>${n.row}</x:Row><x:Column>${n.column}</x:Column></x:ClientData></v:shape>`,
  );
  return `<xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel"><v:shapetype id="note" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>${shapes.join("")}</xml>`;
}
