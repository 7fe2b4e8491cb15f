import { type Grid, GridBuilder, type GridCell, newBudget, plainDecimal } from "./grid";
import { damaged, LIMITS, locked, tooLarge } from "./limits";
import { readXml } from "./xml";
import type { ZipPackage } from "./zip";

/** The sheets of an .ods package (OpenDocument 1.0 to 1.3): values only. */
export function readOds(zip: ZipPackage): Grid[] {
  const manifest = zip.text("META-INF/manifest.xml");
  if (manifest !== undefined) {
    readXml(manifest, "META-INF/manifest.xml", {
      open(name) {
        if (name === "encryption-data") throw locked();
      },
    });
  }
  const xml = zip.text("content.xml");
  if (xml === undefined) throw damaged("content.xml is missing");
  return new OdsReader().read(xml);
}

class OdsReader {
  private readonly budget = newBudget();
  private readonly grids: Grid[] = [];
  private grid: GridBuilder | undefined;
  private sheets = 0;
  private row = 0;
  private column = 0;
  /** Cells of the row being read, put down when the row is closed, as often as it is repeated. */
  private line: { column: number; cell: GridCell }[] = [];
  private rowRepeats = 1;
  private cell: ReadonlyMap<string, string> | undefined;
  private paragraphs: string[] = [];
  private text: string | undefined;
  /** Depth inside a note, a nested table or a drawing, whose text is not the cell's. */
  private aside = 0;
  private tableDepth = 0;

  read(xml: string): Grid[] {
    readXml(xml, "content.xml", {
      open: (name, a) => this.open(name, a),
      text: (t) => {
        if (this.text !== undefined && this.aside === 0) this.text += t.replace(/[ \t\r\n]+/g, " ");
      },
      close: (name) => this.close(name),
    });
    return this.grids;
  }

  private open(name: string, a: ReadonlyMap<string, string>): void {
    if (this.aside > 0) {
      if (ASIDE.has(name)) this.aside++;
      return;
    }
    if (ASIDE.has(name) && this.tableDepth > 0) {
      this.aside = 1;
    } else if (name === "table") {
      if (++this.tableDepth > 1) return;
      if (++this.sheets > LIMITS.sheets) throw tooLarge(`it has more than ${LIMITS.sheets} sheets`);
      this.grid = new GridBuilder(a.get("name") ?? `Sheet ${this.sheets}`, this.budget);
      this.row = 0;
    } else if (this.grid === undefined) {
      return;
    } else if (name === "table-row") {
      this.column = 0;
      this.line = [];
      this.rowRepeats = count(a.get("number-rows-repeated"));
    } else if (name === "table-cell" || name === "covered-table-cell") {
      this.cell = a;
      this.paragraphs = [];
    } else if (name === "p" && this.cell !== undefined) this.text = "";
    else if (this.text !== undefined) {
      if (name === "s") this.text += " ".repeat(Math.min(count(a.get("c")), 1000));
      else if (name === "tab") this.text += " ";
      else if (name === "line-break") this.text += "\n";
    }
  }

  private close(name: string): void {
    if (this.aside > 0) {
      if (ASIDE.has(name)) this.aside--;
      return;
    }
    if (name === "p" && this.text !== undefined) {
      this.paragraphs.push(this.text);
      this.text = undefined;
    } else if ((name === "table-cell" || name === "covered-table-cell") && this.cell !== undefined) {
      const repeats = count(this.cell.get("number-columns-repeated"));
      const cell = cellOf(this.cell, this.paragraphs.join("\n"));
      if (cell !== undefined) {
        for (let i = 0; i < Math.min(repeats, LIMITS.columns + 1); i++)
          this.line.push({ column: this.column + i, cell });
      }
      this.column += repeats;
      this.cell = undefined;
    } else if (name === "table-row" && this.grid !== undefined) {
      // Empty rows are repeated by the million down to the end of the sheet; filled ones are put down each time.
      if (this.line.length > 0) {
        for (let i = 0; i < Math.min(this.rowRepeats, LIMITS.rows + 1); i++) {
          for (const { column, cell } of this.line) this.grid.put(this.row + i, column, cell);
        }
      }
      this.row += this.rowRepeats;
    } else if (name === "table") {
      if (--this.tableDepth > 0 || this.grid === undefined) return;
      if (!this.grid.isEmpty) this.grids.push(this.grid.done());
      this.grid = undefined;
    }
  }
}

const ASIDE = new Set(["annotation", "shapes", "frame", "custom-shape", "named-expressions", "dde-links"]);

function count(text: string | undefined): number {
  if (text === undefined) return 1;
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1) throw damaged(`content.xml repeats a cell "${text.slice(0, 12)}" times`);
  return n;
}

function cellOf(a: ReadonlyMap<string, string>, shown: string): GridCell | undefined {
  const made = a.has("formula") ? { formula: a.get("formula")! } : {};
  const kind = a.get("value-type");
  if (kind === "float" || kind === "currency") {
    const number = Number(a.get("value"));
    if (!Number.isFinite(number)) throw damaged(`content.xml holds a number that is none`);
    const text = plainDecimal(number);
    const currency = kind === "currency" ? a.get("currency") : undefined;
    return currency === undefined
      ? { text, number: text, ...made }
      : { text: `${text} ${currency}`, ...made };
  }
  if (kind === "percentage") {
    const number = Number(a.get("value"));
    if (!Number.isFinite(number)) throw damaged(`content.xml holds a number that is none`);
    return { text: `${plainDecimal(Number((number * 100).toPrecision(15)))} %`, ...made };
  }
  if (kind === "date") {
    const day = (a.get("date-value") ?? "").slice(0, 10);
    return { text: day, day, ...made };
  }
  if (kind === "boolean") return { text: a.get("boolean-value") === "true" ? "true" : "false", ...made };
  const text = a.get("string-value") ?? shown;
  const failed = /^(#[A-Z/0!?]+[!?]?|Err:\d+)$/.test(text.trim()) && a.has("formula");
  if (text === "" && !a.has("formula")) return undefined;
  return failed ? { text, failed, ...made } : { text, ...made };
}
