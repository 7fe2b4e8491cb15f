/** The part of xlsx-populate 1.21 that xlsx.ts uses; the package brings no types. */
declare module "xlsx-populate" {
  export interface Style {
    style(name: string, value: unknown): Style;
  }
  export interface Cell {
    value(value: string | number | boolean): Cell;
    formula(text: string): Cell;
    style(style: Style): Cell;
  }
  export interface Sheet {
    name(name: string): Sheet;
    cell(row: number, column: number): Cell;
    column(number: number): { width(width: number): unknown };
    freezePanes(columns: number, rows: number): Sheet;
  }
  export interface Workbook {
    sheet(index: number): Sheet;
    addSheet(name: string): Sheet;
    styleSheet(): { createStyle(source: number): Style };
    outputAsync(options: { type: "uint8array" }): Promise<Uint8Array>;
  }
  const XlsxPopulate: { fromDataAsync(data: Uint8Array): Promise<Workbook> };
  export default XlsxPopulate;
}
