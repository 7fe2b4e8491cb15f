import { type Grid, GridBuilder, newBudget, plainDecimal } from "./grid";
import { damaged, LIMITS, tooLarge } from "./limits";
import { readXml } from "./xml";
import type { ZipPackage } from "./zip";

/** The sheets of an .xlsx package (ISO/IEC 29500): values only, read by our own reader under our own limits. */
export function readXlsx(zip: ZipPackage): Grid[] {
  const book = need(zip, "xl/workbook.xml");
  const sheets: { name: string; relation: string; hidden: boolean }[] = [];
  let from1904 = false;
  readXml(book, "xl/workbook.xml", {
    open(name, a) {
      if (name === "sheet") {
        const hidden = a.get("state") === "hidden" || a.get("state") === "veryHidden";
        sheets.push({
          name: a.get("name") ?? `Sheet ${sheets.length + 1}`,
          relation: a.get("id") ?? "",
          hidden,
        });
      }
      if (name === "workbookPr" && /^(1|true)$/.test(a.get("date1904") ?? "")) from1904 = true;
    },
  });
  if (sheets.length > LIMITS.sheets) throw tooLarge(`it has ${sheets.length} sheets`);
  const targets = new Map<string, string>();
  readXml(need(zip, "xl/_rels/workbook.xml.rels"), "xl/_rels/workbook.xml.rels", {
    open(name, a) {
      if (name === "Relationship") targets.set(a.get("Id") ?? "", a.get("Target") ?? "");
    },
  });
  const strings = sharedStrings(zip.text("xl/sharedStrings.xml"));
  const looks = numberLooks(zip.text("xl/styles.xml"));
  const budget = newBudget();
  const grids: Grid[] = [];
  for (const sheet of sheets) {
    const target = targets.get(sheet.relation) ?? "";
    const path = target.startsWith("/") ? target.slice(1) : `xl/${target}`;
    const xml = zip.text(path);
    if (xml === undefined) {
      if (path.includes("chartsheets")) continue;
      throw damaged(`the sheet ${sheet.name} is missing`);
    }
    const grid = new GridBuilder(sheet.name, budget);
    if (sheet.hidden) grid.notes.push("This sheet is hidden in the other program.");
    readSheet(xml, path, grid, strings, looks, from1904);
    if (!grid.isEmpty) grids.push(grid.done());
  }
  return grids;
}

function need(zip: ZipPackage, path: string): string {
  const text = zip.text(path);
  if (text === undefined) throw damaged(`${path} is missing`);
  return text;
}

function sharedStrings(xml: string | undefined): string[] {
  const strings: string[] = [];
  if (xml === undefined) return strings;
  let current: string | undefined;
  let inText = false;
  let inPhonetic = false;
  readXml(xml, "xl/sharedStrings.xml", {
    open(name) {
      if (name === "si") current = "";
      else if (name === "rPh") inPhonetic = true;
      else if (name === "t") inText = true;
    },
    text(t) {
      if (inText && !inPhonetic && current !== undefined) current += t;
    },
    close(name) {
      if (name === "t") inText = false;
      else if (name === "rPh") inPhonetic = false;
      else if (name === "si") {
        strings.push(unescapeUnits(current ?? ""));
        current = undefined;
      }
    },
  });
  return strings;
}

/** `_x0041_` stands for one UTF-16 unit in this format. */
const unescapeUnits = (text: string): string =>
  text.replace(/_x([0-9a-fA-F]{4})_/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));

type Look = "number" | "date" | "percent";

/** Which cell styles show a number as a day or as per cent. */
function numberLooks(xml: string | undefined): Look[] {
  const looks: Look[] = [];
  if (xml === undefined) return looks;
  const codes = new Map<number, string>();
  let inCells = false;
  readXml(xml, "xl/styles.xml", {
    open(name, a) {
      if (name === "numFmt") codes.set(Number(a.get("numFmtId")), a.get("formatCode") ?? "");
      else if (name === "cellXfs") inCells = true;
      else if (name === "xf" && inCells) {
        const id = Number(a.get("numFmtId") ?? 0);
        looks.push(codes.has(id) ? lookOfCode(codes.get(id)!) : lookOfId(id));
      }
    },
    close(name) {
      if (name === "cellXfs") inCells = false;
    },
  });
  return looks;
}
const lookOfId = (id: number): Look =>
  (id >= 14 && id <= 17) || id === 22 ? "date" : id === 9 || id === 10 ? "percent" : "number";
function lookOfCode(code: string): Look {
  // Quoted words, escaped letters and colours are decoration: "d" in "dB" is no day.
  const bare = code.replace(/"[^"]*"|\\.|\[[^\]]*\]|_.|\*./g, "").split(";")[0]!;
  if (/[yd]/i.test(bare)) return "date";
  return bare.includes("%") ? "percent" : "number";
}

function readSheet(
  xml: string,
  path: string,
  grid: GridBuilder,
  strings: readonly string[],
  looks: readonly Look[],
  from1904: boolean,
): void {
  let row = -1;
  let column = -1;
  let type = "n";
  let look: Look = "number";
  let value: string | undefined;
  let formula: string | undefined;
  let taking: "value" | "formula" | "inline" | undefined;
  readXml(xml, path, {
    open(name, a) {
      if (name === "row") {
        row = a.has("r") ? Number(a.get("r")) - 1 : row + 1;
        if (!(Number.isInteger(row) && row >= 0)) throw damaged(`${path} has a row without a place`);
        column = -1;
      } else if (name === "c") {
        const place = a.get("r");
        column = place === undefined ? column + 1 : columnOf(place, path);
        type = a.get("t") ?? "n";
        look = looks[Number(a.get("s") ?? 0)] ?? "number";
        value = undefined;
        formula = undefined;
      } else if (name === "v") taking = "value";
      else if (name === "f") {
        taking = "formula";
        formula = "";
      } else if (name === "t") taking = "inline";
    },
    text(t) {
      if (taking === "formula") formula += t;
      else if (taking !== undefined) value = (value ?? "") + t;
    },
    close(name) {
      if (name === "v" || name === "f" || name === "t") taking = undefined;
      else if (name === "c") place();
    },
  });
  function place(): void {
    const made = formula === undefined ? {} : { formula };
    if (value === undefined) {
      if (formula !== undefined) grid.put(row, column, { text: "", ...made });
      return;
    }
    if (type === "s") {
      const text = strings[Number(value)];
      if (text === undefined) throw damaged(`${path} points to a text that is missing`);
      grid.put(row, column, { text, ...made });
    } else if (type === "str" || type === "inlineStr")
      grid.put(row, column, { text: unescapeUnits(value), ...made });
    else if (type === "b") grid.put(row, column, { text: value.trim() === "1" ? "true" : "false", ...made });
    else if (type === "e") grid.put(row, column, { text: value, failed: true, ...made });
    else if (type === "d")
      grid.put(row, column, { text: value.slice(0, 10), day: value.slice(0, 10), ...made });
    else {
      const number = Number(value);
      if (!Number.isFinite(number))
        throw damaged(`${path} holds a number that is none: ${value.slice(0, 20)}`);
      if (look === "date" && number >= 1 && number < 2_958_466) {
        const day = dayOf(number, from1904);
        grid.put(row, column, { text: day, day, ...made });
      } else if (look === "percent") {
        const percent = plainDecimal(Number((number * 100).toPrecision(15)));
        grid.put(row, column, { text: `${percent} %`, ...made });
      } else {
        const text = plainDecimal(number);
        grid.put(row, column, { text, number: text, ...made });
      }
    }
  }
}

function columnOf(place: string, path: string): number {
  const letters = /^([A-Z]{1,3})\d+$/.exec(place)?.[1];
  if (letters === undefined) throw damaged(`${path} has a cell at "${place.slice(0, 12)}"`);
  return [...letters].reduce((n, c) => n * 26 + c.charCodeAt(0) - 64, 0) - 1;
}

/** The day of a serial number. The format counts a 29 February 1900 that never was, so days before it are one later. */
function dayOf(serial: number, from1904: boolean): string {
  const days = Math.floor(serial) + (from1904 ? 1462 : serial < 60 ? 1 : 0);
  return new Date((days - 25_569) * 86_400_000).toISOString().slice(0, 10);
}
