import { parseFormula } from "../../../grammar";
import { cellsKey } from "../names";
import { originTable } from "../syntax";
import { pathFound, startOfPath } from "./path";
import type { Place } from "./place";
import { type Candidate, matchOf } from "./proposal";
import { type Expected, fitOf } from "./sort";
import type { Spot } from "./spot";

/** Most different texts of a column that are proposed. */
const MOST_TEXTS = 50;
/** Rows that are read for them. */
const MOST_READ = 2000;

/** Texts that can stand at the caret: the choices of a parameter, or those of the column that it is compared with. */
export function textCandidates(
  spot: Spot,
  expected: Expected | undefined,
  inQuotes: boolean,
): readonly Candidate[] {
  if (expected === undefined || (expected.wants.is !== "text" && expected.wants.is !== "anything")) return [];
  const texts = ("choices" in expected.wants && expected.wants.choices) || comparedTexts(spot);
  return [...texts].flatMap((text): readonly Candidate[] => {
    const label = `"${text.replace(/["\\{}]/g, "\\$&")}"`;
    const match = inQuotes
      ? matchOf(text, spot.typed)
      : (matchOf(text, spot.typed) ?? matchOf(label, spot.typed));
    if (match === undefined) return [];
    const insert = spot.source.escapes ? label.replaceAll("|", "\\|") : label;
    return [
      {
        label,
        thing: "text",
        fit: { fits: true, rank: 0 },
        match,
        near: -1,
        make: () => ({ insert, is: "a text" }),
      },
    ];
  });
}

/** Texts in the column that stands before `is`, and names of rows behind `pick(column, `. */
function comparedTexts({ written, tokens, source }: Spot): ReadonlySet<string> {
  const { place } = written;
  const frame = written.frames.at(-1)!;
  const last = tokens.at(-1);
  if (last === undefined) {
    const list = frame.call?.name === "pick" ? frame.stretches[0]!.tokens : [];
    if (list.length === 0 || frame.stretches.length < 2) return new Set();
    const { formula } = parseFormula(source.text.slice(list[0]!.from, list.at(-1)!.to));
    const table = originTable(formula, place.scope);
    return new Set(
      table
        ? place.calculation
            .rows(table.name)
            .names.filter((n) => n !== "")
            .slice(0, MOST_TEXTS)
        : [],
    );
  }
  const is = last.text === "not" ? tokens.length - 2 : tokens.length - 1;
  const start = startOfPath([...tokens.slice(0, is), last]);
  const path = tokens.slice(start, is);
  const found = pathFound(path, place);
  if (found?.meant.type !== "cell" && found?.meant.type !== "column") return new Set();
  return textsIn(found.meant.table, found.meant.column, place.calculation);
}

function textsIn(table: string, column: string, calculation: Place["calculation"]): ReadonlySet<string> {
  const texts = new Set<string>();
  const key = cellsKey(table, column);
  const { count } = calculation.rows(table);
  for (let row = 0; row < Math.min(count, MOST_READ) && texts.size < MOST_TEXTS; row++) {
    const value = calculation.cell(key, row);
    if (value.type === "text" && value.text !== "") texts.add(value.text);
  }
  return texts;
}

/** A typed cell that holds no number: texts that its column holds already. The first column only names rows. */
export function cellCandidates(spot: Spot): readonly Candidate[] {
  const { column, place } = spot.source;
  if (column === undefined || column.table.byName.get(column.name)?.typed === 0) return [];
  const nature = place.calculation.nature(cellsKey(column.table.name, column.name));
  if (nature?.type !== "text" && nature?.type !== "open") return [];
  const own = spot.source.text.trim();
  return [...textsIn(column.table.name, column.name, place.calculation)].flatMap(
    (text): readonly Candidate[] => {
      const match = matchOf(text, spot.typed);
      if (match === undefined || (text === own && spot.typed === own)) return [];
      const insert = spot.source.escapes ? text.replaceAll("|", "\\|") : text;
      return [
        {
          label: text,
          thing: "text",
          fit: fitOf({ is: "text" }, undefined),
          match,
          near: 0,
          make: () => ({ insert, is: "a text" }),
        },
      ];
    },
  );
}
