import { type Cell, daysInWords, type Heading, type NumberNode, type Statement } from "../../grammar";
import {
  asDifference,
  convert,
  exact,
  format,
  kinds,
  parseUnit,
  plainUnit,
  type Quantity,
  quantity,
  rateHelp,
  spreadBy,
  Trouble,
  type TroubleParts,
  type Unit,
} from "../quantity";
import { type FaultPlace, gap, text, type Value } from "../vocabulary/value";
import { dateOf } from "./dates";
import type { Draw } from "./environment";
import { describe, faultFrom, troubleParts } from "./fault";
import type { TableName } from "./names";
import { drawn } from "./operations";

/**
 * What the cells of a typed column are read as: decided by its heading, else by the first date or the first quantity
 * with a unit that stands in it.
 */
export type Nature =
  | { readonly type: "text" }
  | { readonly type: "date" }
  /** Without a unit yet: nothing but blanks and texts stand in it. */
  | { readonly type: "open" }
  | { readonly type: "quantity"; readonly unit: Unit; readonly fromHeading: boolean }
  | { readonly type: "broken"; readonly trouble: Trouble; readonly heading: Heading };

export function natureOf(table: TableName, index: number): Nature {
  const heading = table.tree.heading!.node.columns[index]!;
  if (heading.unit) {
    try {
      return { type: "quantity", unit: parseUnit(heading.unit.text), fromHeading: true };
    } catch (error) {
      if (error instanceof Trouble) return { type: "broken", trouble: headingTrouble(error), heading };
      throw error;
    }
  }
  if (heading.holds === "number") return { type: "quantity", unit: plainUnit, fromHeading: true };
  if (heading.holds === "text" || (index === 0 && heading.holds !== "date")) return { type: "text" };
  if (heading.holds === "date") return { type: "date" };
  // A number without a unit says little: among quantities with one it is the odd one, also where it stands first.
  let isBare = false;
  for (const row of table.tree.rows) {
    const content = row.node.cells[index]?.content;
    if (content?.type === "date" && !isBare) return { type: "date" };
    if (content?.type !== "quantity") continue;
    const written = content.of.unit ?? content.by?.unit;
    if (!written) isBare = true;
    else {
      try {
        return { type: "quantity", unit: parseUnit(written.text), fromHeading: false };
      } catch (error) {
        if (!(error instanceof Trouble)) throw error;
      }
    }
  }
  if (isBare) return { type: "quantity", unit: plainUnit, fromHeading: false };
  return { type: "open" };
}

/** Trouble with the unit of a heading, in the words of a heading: nothing is multiplied there. */
function headingTrouble(trouble: Trouble): Trouble {
  if (trouble.rewrite !== undefined || !trouble.help?.startsWith("To multiply")) return trouble;
  return new Trouble({
    code: trouble.code,
    says: trouble.says,
    help: "The bracket of a heading holds a unit, or `number`, `text` or `date`; a name that ends in a bracket stands in backticks.",
  });
}

/** What a typed cell comes to. `path` is that of the cell; a formula in it is worked out by `formula`. */
export function cellValue(
  row: Statement & { readonly node: { readonly type: "row" } },
  index: number,
  nature: Nature,
  pathOf: () => string,
  formula: () => Value,
  draw?: Draw,
): Value {
  // A row that was read has a cell for every column.
  const cell = row.node.cells[index]!;
  // The commonest cell by far: a bare number under a heading with a unit.
  if (
    cell.content.type === "quantity" &&
    nature.type === "quantity" &&
    !cell.content.by &&
    !cell.content.of.unit &&
    nature.fromHeading
  )
    return quantity(exact(cell.content.of.digits), nature.unit);
  const path = pathOf();
  const place: FaultPlace = { path, from: cell.span.from, to: cell.span.to };
  const { content } = cell;
  try {
    switch (content.type) {
      case "blank":
        return nature.type === "text" && index === 0 ? text("") : gap(`${path} is not filled in yet`, path);
      case "unread":
        return faultFrom({ code: "unread", says: "This cell cannot be read." }, place);
      case "formula": {
        const value = formula();
        return nature.type === "quantity" && nature.fromHeading
          ? underHeading(value, nature.unit, place)
          : value;
      }
      case "text":
        return textCell(content.text, cell, nature, index);
      case "date":
        return dateCell(content.iso, nature);
      case "quantity":
        return quantityCell(content.of, content.by, cell, nature, path, draw);
    }
  } catch (error) {
    if (error instanceof Trouble) return faultFrom(error, place);
    throw error;
  }
}

function textCell(words: string, cell: Cell, nature: Nature, index: number): Value {
  if (nature.type === "text" || nature.type === "open") return text(words);
  if (nature.type === "broken") throw nature.trouble;
  if (words === "" && index > 0) return text("");
  const [day] = nature.type === "date" ? (daysInWords(words.trim()) ?? []) : [];
  if (day !== undefined) {
    throw new Trouble({
      code: "date-form",
      says: `“${cell.raw}” is no way to write a date here.`,
      help: `A date is year-month-day: ${day}.`,
      rewrite: day,
    });
  }
  throw new Trouble({
    code: "text-among-numbers",
    says: `“${cell.raw}” is text in a column of ${nature.type === "date" ? "dates" : "numbers"}.`,
    help: "Leave the cell empty when it is not known yet; a remark belongs in a column of its own.",
  });
}

function dateCell(iso: string, nature: Nature): Value {
  if (nature.type === "date") return dateOf(iso);
  if (nature.type === "broken") throw nature.trouble;
  throw new Trouble({
    code: "date-among-numbers",
    says: `${iso} is a date in a column of numbers.`,
    help: "Head the column `(date)`, or write a number.",
  });
}

/** A unit that is written in a cell. What mends it is told as the whole cell, for that is what a fix writes. */
function unitIn({ raw }: Cell, text: string): Unit {
  try {
    return parseUnit(text);
  } catch (error) {
    if (!(error instanceof Trouble) || error.rewrite === undefined) throw error;
    const { rewrite, ...told } = troubleParts(error);
    const at = raw.lastIndexOf(text);
    throw new Trouble(
      at < 0 ? told : { ...told, rewrite: raw.slice(0, at) + rewrite + raw.slice(at + text.length) },
    );
  }
}

function quantityCell(
  of: NumberNode,
  by: NumberNode | undefined,
  cell: Cell,
  nature: Nature,
  path: string,
  draw: Draw | undefined,
): Value {
  if (nature.type === "broken") throw nature.trouble;
  if (nature.type === "date") {
    throw new Trouble({
      code: "number-among-dates",
      says: `“${cell.raw}” is a number in a column of dates.`,
      help: "Write the day as year-month-day: `2026-02-03`.",
    });
  }
  const written = of.unit ?? by?.unit;
  const ownUnit = written && unitIn(cell, written.text);
  // Cells under `text` are read as texts, and where the unit of this one can be read the column has one.
  const { unit, fromHeading } = nature as Nature & { type: "quantity" };
  // A bare number takes the heading's unit; among quantities with a unit it has none.
  if (!ownUnit && !fromHeading && unit !== plainUnit) {
    throw new Trouble({
      code: "unit-missing",
      says: `${cell.raw} has no unit, and the others in this column have.`,
      help: `Write \`${cell.raw} ${unit.text}\`, or give the heading a unit: \`(${unit.text})\`.`,
      rewrite: `${cell.raw} ${unit.text}`,
    });
  }
  let value = quantity(exact(of.digits), ownUnit ?? unit);
  if (by) {
    const byUnit = by.unit ? unitIn(cell, by.unit.text) : written ? undefined : unit;
    if (!byUnit) {
      throw new Trouble({
        code: "spread-unit",
        says: `The ± in “${cell.raw}” has no unit.`,
        help: `Write \`${of.digits} ± ${by.digits} ${value.unit.text}\`.`,
        rewrite: `${of.digits} ± ${by.digits} ${value.unit.text}`,
      });
    }
    const amount = quantity(
      exact(by.digits),
      byUnit.kind === kinds.temperature ? asDifference(byUnit) : byUnit,
    );
    value = spreadBy(value, amount, path);
    if (draw) value = drawn(value, draw);
  }
  return value.unit === unit ? value : underHeading(value, unit, undefined, fromHeading, cell.raw);
}

/**
 * A value under a heading with a unit: other units of its dimension are converted, another kind is refused.
 * `typed` is how it was written, when it was not worked out.
 */
function underHeading(
  value: Value,
  unit: Unit,
  place: FaultPlace | undefined,
  fromHeading = true,
  typed?: string,
): Value {
  if (value.type === "gap" || value.type === "fault") return value;
  if (value.type !== "quantity") {
    return faultFrom(
      {
        code: "cell-kind",
        says: `This cell comes to ${describe(value)}, under a heading in ${unit.text || "plain numbers"}.`,
        help: "Head the column `(text)` or `(date)` if that is what stands in it.",
      },
      place,
    );
  }
  if (value.unit.kind === unit.kind) return convert(value, unit);
  const share = value.unit.kind === kinds.plain && value.unit.text === "%";
  if (share && OF_STRENGTH.has(unit.kind)) {
    const trouble = shareUnderStrength(value, unit, typed);
    if (place) return faultFrom(trouble, place);
    throw new Trouble(trouble);
  }
  const bare = value.unit.kind === kinds.plain && value.unit.text === "";
  const rate = rateHelp(unit.kind, value.unit.kind);
  const where = `${fromHeading ? "under a heading in" : "in a column that begins in"} ${unit.text || "plain numbers"}`;
  const trouble = {
    code: "cell-kind",
    says:
      rate === undefined
        ? `${format(value)} is ${value.unit.kind.name}, ${where}${unit.text ? `, ${unit.kind.name}` : ""}.`
        : `${format(value)} is in another currency, ${where}.`,
    help: rate
      ? `Write all in one currency. ${rate}`
      : bare && unit.text !== ""
        ? `Give it the unit: \`* 1 ${unit.text}\`.`
        : "A column holds one kind; another kind stands in a column of its own.",
  };
  if (place) return faultFrom(trouble, place);
  throw new Trouble(trouble);
}

/** Kinds that people write with a bare `%`, each with the other one that may be meant and what turns that into it. */
const OF_STRENGTH: ReadonlyMap<Unit["kind"], { readonly other: string; readonly turned: string }> = new Map([
  [kinds.strengthVolume, { other: "%mas", turned: "by_volume" }],
  [kinds.strengthMass, { other: "%vol", turned: "by_mass" }],
]);

/** `61.2 %` under `(%vol)`: a percentage of what, the reader has to say. */
function shareUnderStrength(value: Quantity, unit: Unit, typed: string | undefined): TroubleParts {
  const { other, turned } = OF_STRENGTH.get(unit.kind)!;
  const core = {
    code: "percent-of-what",
    says: `${typed ?? format(value)} does not say of what it is a percentage; the heading is in ${unit.text}, ${unit.kind.name}.`,
  };
  if (typed === undefined) {
    return {
      ...core,
      help: `Let the formula come to a strength: write \`${unit.text}\` where it has \`%\`; what is meant in \`${other}\` becomes one with \`${turned}\`.`,
    };
  }
  const amount = typed.replace(/\s*%$/u, "");
  return {
    ...core,
    help: `Write \`${amount} ${unit.text}\`, or the number alone; if \`${other}\` is meant, \`= ${turned}(${amount} ${other})\`.`,
    rewrite: `${amount} ${unit.text}`,
  };
}
