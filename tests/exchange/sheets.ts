import { expect } from "vitest";
import {
  call,
  cell,
  type Expression,
  minus,
  number,
  over,
  plus,
  range,
  text,
  times,
} from "../../src/exchange/expression";
import type { Sheet, SheetCell, Workbook } from "../../src/exchange/sheet";
import type { SeenBook } from "./readers";

/** A workbook made by hand, with every kind of cell and a chart, to try the writers on without a book. */
const at = (sheet: string, row: number, column: number) => ({ sheet, row, column });
const S = "Single distillates";
const V = "Values";
const c = (row: number, column: number): Expression => cell(at(S, row, column));

const heading = (value: string, note?: string): SheetCell =>
  note === undefined ? { value, role: "heading" } : { value, role: "heading", note };
const typed = (value: number | string | null, decimals?: number): SheetCell =>
  decimals === undefined ? { value, role: "typed" } : { value, role: "typed", decimals };

const row = (r: number, name: string, volume: number, price: number): SheetCell[] => [
  typed(name),
  typed(volume, 0),
  typed(price, 2),
  {
    value: (volume * price) / 1000,
    role: "computed",
    decimals: 3,
    formula: over(times(c(r, 1), c(r, 2)), number(1000)),
  },
];

export const HOSTILE = `=1+1 & <b>"two"</b>  spaces\tand \u0001 ' \ud800 _x0041_\nline two`;

const distillates: Sheet = {
  name: S,
  widths: [18, 12, 12, 12],
  frozen: { rows: 1, columns: 1 },
  charts: [
    {
      title: "Where the cost comes from",
      style: "bars",
      named: true,
      series: [
        {
          label: at(S, 0, 3),
          xs: { sheet: S, column: 0, fromRow: 1, toRow: 2 },
          ys: { sheet: S, column: 3, fromRow: 1, toRow: 2 },
        },
      ],
      xTitle: "item",
      yTitle: "cost (GBP)",
      at: { row: 6, column: 0, rows: 16, columns: 5 },
    },
    {
      title: "Price against volume",
      style: "dots",
      named: false,
      series: [
        {
          label: at(S, 0, 2),
          xs: { sheet: S, column: 1, fromRow: 1, toRow: 2 },
          ys: { sheet: S, column: 2, fromRow: 1, toRow: 2 },
        },
      ],
      xTitle: "volume (mL)",
      yTitle: "price (GBP/L)",
      at: { row: 24, column: 0, rows: 16, columns: 5 },
    },
  ],
  rows: [
    [
      heading("item"),
      heading("volume (mL)"),
      heading("price (GBP/L)"),
      heading("cost (GBP)", "cost = volume * price\nplain arithmetic"),
    ],
    row(1, "juniper", 2400, 11.2),
    row(2, "lemon peel", 350, 21.5),
    [
      { value: "foot", role: "foot" },
      { value: null, role: "foot" },
      { value: null, role: "foot" },
      { value: 34.405, role: "foot", decimals: 3, formula: call("SUM", range(at(S, 1, 3), at(S, 2, 3))) },
    ],
  ],
};

const values: Sheet = {
  name: V,
  widths: [20, 14, 40],
  frozen: { rows: 0, columns: 0 },
  charts: [],
  rows: [
    [{ value: "Harbour gin", role: "title" }],
    [{ value: HOSTILE, role: "remark", note: HOSTILE }],
    [typed("first day"), { value: 46056, isDate: true, role: "typed" }],
    [typed("last day"), { value: 46077, isDate: true, role: "typed" }],
    [typed("days"), { value: 21, role: "computed", formula: minus(cell(at(V, 3, 1)), cell(at(V, 2, 1))) }],
    [typed("a third"), { value: 1 / 3, role: "computed", formula: over(number(1), number(3)) }],
    [
      typed("dear"),
      {
        value: true,
        role: "computed",
        formula: { type: "operation", operator: ">", left: cell(at(S, 3, 3)), right: number(30) },
      },
    ],
    [
      typed("sentence"),
      {
        value: "It costs 34.4 GBP",
        role: "computed",
        formula: {
          type: "operation",
          operator: "&",
          left: text("It costs "),
          right: {
            type: "operation",
            operator: "&",
            left: call("FIXED", cell(at(S, 3, 3)), number(1), { type: "truth", value: true }),
            right: text(" GBP"),
          },
        },
      },
    ],
    [typed("got"), { value: null, role: "gap", note: "needs got" }],
    [
      typed("late"),
      {
        value: "",
        role: "gap",
        formula: call(
          "IF",
          { type: "operation", operator: "=", left: cell(at(V, 8, 1)), right: text("") },
          text(""),
          plus(cell(at(V, 8, 1)), number(1)),
        ),
      },
    ],
    [typed("strength"), { value: 24.955, role: "kept", note: "boils_at(…) does not recalculate here" }],
    [typed("wrong"), { value: "a volume and a mass do not add", role: "fault" }],
    [
      typed("minus"),
      {
        value: -4,
        role: "computed",
        formula: {
          type: "negate",
          of: { type: "operation", operator: "^", left: number(2), right: number(2) },
        },
      },
    ],
  ],
};

export const WORKBOOK: Workbook = { title: "Harbour gin <spring>", sheets: [values, distillates] };

/** Every computed cell that a reader sees must be what was sent. */
export function agree(seen: SeenBook): void {
  for (const sheet of WORKBOOK.sheets) {
    const rows = seen.get(sheet.name)!;
    sheet.rows.forEach((row, r) => {
      row.forEach((cell, c) => {
        const got = rows[r]?.[c]?.value ?? null;
        const where = `${sheet.name} ${r} ${c}`;
        if (cell.isDate) expect(String(got), where).toMatch(/^2026-02-(03|24)$/);
        else if (typeof cell.value === "number") expect(got, where).toBeCloseTo(cell.value, 9);
        else if (typeof cell.value === "boolean") expect(Boolean(got), where).toBe(cell.value);
        else if (cell.role === "computed" || cell.role === "fault") expect(got, where).toBe(cell.value);
      });
    });
  }
}

/** The control characters of a text that XML 1.0 refuses. */
export const controls = (content: string): string =>
  [...content].filter((c) => c < " " && c !== "\n" && c !== "\t" && c !== "\r").join("");
