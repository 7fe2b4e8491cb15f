import {
  call,
  cell,
  depth,
  type Expression,
  type Place,
  range,
  spreadsheetML,
  text,
  write,
} from "../expression";
import { type Content, FailedCell, type ReadCell, workOut } from "../recalculation";
import type { SheetCell } from "../sheet";
import { anyOf, keyOf, NotLive } from "./term";

/** A formula of this format may not be longer than 8,192 characters; half of that leaves room to read it. */
export const LONGEST_FORMULA = 4_000;
/** Brackets nested deeper than this are no longer read by anyone, nor by some programs. */
const DEEPEST = 52;
/** So many helper cells may one workbook have before the rest goes out as values. */
const MOST_CELLS = 60_000;

export interface WorkingLine {
  /** The value of the book that this line serves. */
  readonly of: string;
  readonly what: string;
  readonly formula: Expression;
  readonly value: Content;
}

/**
 * The sheet of helper cells: steps of a calculation that are used more than once, or that would make a formula
 * too long to read. A line each: what it serves, what it is, its value.
 */
export class Working {
  readonly lines: WorkingLine[] = [];
  private readonly known = new Map<string, Place>();
  private readonly values = new Map<number, Content>();

  constructor(
    readonly sheet: string,
    private readonly readBook: ReadCell,
  ) {}

  /** Reads a cell of the book or of this sheet. */
  readonly read: ReadCell = (at) =>
    at.sheet === this.sheet ? (this.values.get(at.row) ?? null) : this.readBook(at);

  /** Works an expression out on what stands in the cells now. */
  evaluate(e: Expression): Content | FailedCell {
    return workOut(e, this.read);
  }

  /** Where the lines below may be taken back to, when a translation fails half-way. */
  get mark(): number {
    return this.lines.length;
  }
  takeBack(mark: number): void {
    for (const [key, place] of [...this.known]) if (place.row > mark) this.known.delete(key);
    for (let i = mark; i < this.lines.length; i++) this.values.delete(i + HEAD_ROWS);
    this.lines.length = mark;
  }

  /** Puts an expression into a cell of its own and gives the reference. The same one twice shares the cell. */
  step(of: string, what: string, e: Expression, missing: readonly Expression[]): Expression {
    if (isPlain(e)) return e;
    const guarded = missing.length === 0 ? e : call("IF", anyOf(missing), text(""), e);
    const key = keyOf(guarded);
    const known = this.known.get(key);
    if (known !== undefined) return cell(known);
    return cell(this.put(of, what, guarded, key));
  }

  /** Puts expressions into cells below each other and gives the block. */
  block(of: string, what: readonly string[], entries: readonly Expression[]): Expression & { type: "range" } {
    const places = entries.map((e, i) => this.put(of, what[i]!, e, undefined));
    return range(places[0]!, places[places.length - 1]!) as Expression & { type: "range" };
  }

  private put(of: string, what: string, e: Expression, key: string | undefined): Place {
    if (this.lines.length >= MOST_CELLS) throw new NotLive("the workbook would need too many helper cells");
    checkSize(e);
    const value = this.evaluate(e);
    if (value instanceof FailedCell)
      throw new NotLive(`its working fails in a spreadsheet (${what}: ${value.says})`);
    const place = { sheet: this.sheet, row: this.lines.length + HEAD_ROWS, column: VALUE_COLUMN };
    this.lines.push({ of, what, formula: e, value });
    this.values.set(place.row, value);
    if (key !== undefined) this.known.set(key, place);
    return place;
  }

  /** The rows of the sheet. */
  rows(): SheetCell[][] {
    let last = "";
    return [
      [
        { value: "for", role: "heading" },
        { value: "step", role: "heading" },
        { value: "value (SI units)", role: "heading" },
      ],
      ...this.lines.map((line): SheetCell[] => {
        const of = line.of === last ? "" : line.of;
        last = line.of;
        return [
          { value: of === "" ? null : of, role: "plain" },
          { value: line.what, role: "remark" },
          { value: line.value, role: "computed", formula: line.formula },
        ];
      }),
    ];
  }
}

const HEAD_ROWS = 1;
const VALUE_COLUMN = 2;

const isPlain = (e: Expression): boolean =>
  e.type === "number" || e.type === "cell" || e.type === "truth" || e.type === "text";

/** Throws when an expression is too long or too deep for the formats. */
export function checkSize(e: Expression): void {
  if (depth(e) > DEEPEST) throw new NotLive("the formula would nest too deep for a spreadsheet");
  // Writing it out takes long for what most formulas are far from.
  if (parts(e) * LONGEST_PART > LONGEST_FORMULA && write(e, spreadsheetML, "").length > LONGEST_FORMULA)
    throw new NotLive("the formula would be too long for a spreadsheet");
}

/** Sheet names have at most 31 characters and are quoted, and a place is a range at most; texts are counted by themselves. */
const LONGEST_PART = 60;

/** How many parts an expression has, long texts counting for as many as they fill. */
function parts(e: Expression): number {
  switch (e.type) {
    case "negate":
      return 1 + parts(e.of);
    case "operation":
      return 1 + parts(e.left) + parts(e.right);
    case "call":
      return e.arguments.reduce((n, a) => n + parts(a), 1);
    case "text":
      return 1 + Math.ceil((2 * e.text.length) / LONGEST_PART);
    default:
      return 1;
  }
}
