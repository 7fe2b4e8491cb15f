import { writeName, writePart } from "../../grammar";
import { APPROXIMATE, decimalsNeeded } from "../quantity";
import { type Block, type ColumnStore, NUMBER, WHOLE } from "./blocks";
import { originOf, remark, type Sources, sourceOf } from "./items";
import { cellsKey, footKey, type TableName } from "./names";
import { rowLabel } from "./plan";
import type { FootCell, Origin, TableColumn, TableItem } from "./report";
import { show } from "./show";

interface ColumnLook {
  readonly unit: TableColumn["unitOf"];
  readonly holds: TableColumn["holds"];
  readonly decimals: number | undefined;
  readonly fault: string | undefined;
}
const looks = new WeakMap<ColumnStore, ColumnLook>();
const blockDecimals = new WeakMap<Block, { dp: number; decimals: number }>();

/** What a column holds, its unit and its decimals; remembered with the column, the decimals with each block. */
function lookAt(store: ColumnStore): ColumnLook {
  const known = looks.get(store);
  if (known) return known;
  let unit = store.unit;
  let mixedUnits = false;
  let fault: string | undefined;
  const kindsSeen = new Set<string>();
  let decimals: number | undefined;
  for (const block of store.blocks) {
    if (block.count > 0) {
      kindsSeen.add("quantity");
      const most = decimalsOf(block, store);
      if (decimals === undefined || most > decimals) decimals = most;
    }
    for (let i = 0; i < block.status.length; i++) {
      if (block.status[i] !== WHOLE) continue;
      const value = block.whole![i]!;
      if (value.type === "fault") fault ??= value.says;
      else if (value.type === "quantity") {
        kindsSeen.add("quantity");
        unit ??= value.unit;
        if (value.unit !== unit) mixedUnits = true;
        if (!value.spread) decimals = Math.max(decimals ?? 0, decimalsNeeded(value));
      } else if (value.type !== "gap" && !(value.type === "text" && value.text === ""))
        kindsSeen.add(value.type);
    }
  }
  if (decimals !== undefined && store.dp === APPROXIMATE) decimals = approximateDecimals(store, decimals);
  const holds: TableColumn["holds"] =
    kindsSeen.size === 0
      ? "empty"
      : kindsSeen.size > 1
        ? "mixed"
        : ([...kindsSeen][0] as "quantity" | "text" | "date" | "truth");
  const look: ColumnLook = {
    unit: mixedUnits || holds !== "quantity" ? undefined : unit,
    holds,
    decimals,
    fault: kindsSeen.size === 0 ? fault : undefined,
  };
  looks.set(store, look);
  return look;
}

function decimalsOf(block: Block, store: ColumnStore): number {
  const known = blockDecimals.get(block);
  if (known && known.dp === store.dp) return known.decimals;
  let most = 0;
  const { values, status } = block;
  for (let i = 0; i < values.length; i++) {
    if (status[i] !== NUMBER) continue;
    const needed = decimalsNeeded({
      type: "quantity",
      n: { v: values[i]!, dp: store.dp },
      unit: store.unit!,
    });
    if (needed > most) most = needed;
  }
  blockDecimals.set(block, { dp: store.dp, decimals: most });
  return most;
}

/**
 * Decimals of a column of approximate numbers: five digits for the largest, so that 10.045 and -1.159 stand
 * under each other, but never so few that the smallest would show less than two.
 */
function approximateDecimals(store: ColumnStore, most: number): number {
  let largest = 0;
  let smallest = Number.POSITIVE_INFINITY;
  for (const block of store.blocks) {
    for (let i = 0; i < block.values.length; i++) {
      const v = Math.abs(block.values[i]!);
      if (block.status[i] !== NUMBER || v === 0) continue;
      if (v > largest) largest = v;
      if (v < smallest) smallest = v;
    }
  }
  if (largest === 0) return most;
  const place = (v: number): number => Math.floor(Math.log10(v)) + 1;
  const forLargest = 5 - place(largest);
  const forSmallest = 2 - place(smallest);
  return Math.max(0, Math.min(most, Math.max(forLargest, forSmallest)));
}

export function tableItem(sources: Sources, table: TableName): TableItem {
  const { calculation, text } = sources;
  const rows = calculation.rows(table.name);
  const stores = table.columns.map((c) => calculation.store(cellsKey(table.name, c.name))!);
  const path = writeName(table.name);
  const columns = table.columns.map((column, index): TableColumn => {
    const look = lookAt(stores[index]!);
    const nature = calculation.nature(cellsKey(table.name, column.name));
    const unitOf = nature?.type === "quantity" ? nature.unit : look.unit;
    return {
      name: column.name,
      typed: column.typed !== undefined,
      ...(column.formula && {
        formula: sourceOf(text, column.statement!, column.formula.span),
        statement: column.statement!,
      }),
      unit: unitOf?.text ?? "",
      ...(unitOf && { unitOf }),
      holds:
        look.holds === "empty" && nature?.type === "quantity"
          ? "quantity"
          : look.holds === "empty" && nature?.type === "text"
            ? "text"
            : look.holds,
      ...(look.decimals !== undefined && { decimals: look.decimals }),
      ...(look.fault !== undefined && { fault: look.fault }),
    };
  });
  const feet = new Map<string, FootCell>();
  for (const foot of table.feet.values()) {
    const footPath = `${path}.foot.${writePart(foot.name)}`;
    feet.set(foot.name, {
      statement: foot.statement,
      formula: sourceOf(text, foot.statement, foot.formula.span),
      shown: show(calculation.value(footKey(table.name, foot.name)), footPath, foot.name, "computed"),
    });
  }
  return {
    type: "table",
    statement: table.tree.statement,
    ...remark(table.tree.statement),
    name: table.name,
    title: table.tree.title ?? "",
    tree: table.tree,
    columns,
    rowCount: rows.count,
    rowName: (row) => rows.names[row] ?? "",
    cell(row, column) {
      const named = table.columns[column]!;
      const cellPath = `${path}.${rowLabel(rows, row)}.${writePart(named.name)}`;
      const value = stores[column]!.get(row);
      if (named.typed === undefined) {
        const decimals = columns[column]!.decimals;
        return show(value, cellPath, named.name, "computed", decimals === undefined ? {} : { decimals });
      }
      const content = table.tree.rows[row]?.node.cells[named.typed]?.content;
      const origin: Origin = content?.type === "formula" ? originOf(content.formula) : "typed";
      const shown = show(value, cellPath, named.name, origin);
      if (content?.type !== "quantity" || shown.state !== "ok" || value.type !== "quantity") return shown;
      const written = content.of.unit ?? content.by?.unit;
      return {
        ...shown,
        number: content.of.digits,
        ...(content.by && { spread: content.by.digits }),
        unit: written ? written.text : value.unit.text,
      };
    },
    feet,
  };
}
