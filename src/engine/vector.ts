import { APPROXIMATE, Trouble } from "../quantity";
import { BLOCK, type Block, type ColumnStore, EXACT_LIMIT, NUMBER, powerOfTen, WAITING } from "./blocks";
import type { Calculation } from "./calculation";
import { finish } from "./kernels";
import type { ComputedNode } from "./plan";
import { Register } from "./row-program";
import { NOT_HERE, type Strip, type Vector, Weaver } from "./weaver";

/**
 * The fast path of a computed column: arithmetic over columns of plain numbers, a block of rows at a time,
 * in doubles. It gives the very bits that the careful path gives: an exact result is rounded once to its
 * decimals, which is right where the weaver has proved it; rows that hold anything but a plain number, and rows
 * that come out as no number, are left to the careful path.
 * @param workFirst lays down the first row the careful way.
 */
export function vectorise(
  node: ComputedNode,
  store: ColumnStore,
  values: Calculation,
  workFirst: () => void,
): void {
  if (store.length === 0) return;
  const weaver = new Weaver(node, values);
  const result = woven(weaver, node);
  // The first row has none before it, and what it comes to decides how the rest is kept.
  if (result && weaver.above.size > 0) workFirst();
  if (
    result &&
    !(result.work instanceof Register) &&
    typeof result.work !== "number" &&
    adopt(store, result)
  ) {
    store.bound = Math.max(store.bound, result.bound);
    for (let b = 0; b < store.blocks.length; b++)
      fill(store.writable(b), b, result.work, weaver, result.dp !== APPROXIMATE);
  }
  weaver.release();
}

/** A column's formula as loops; undefined where it is for the careful path. */
export function woven(weaver: Weaver, { formula }: ComputedNode): Vector | undefined {
  try {
    return weaver.rounded(weaver.weave(formula));
  } catch (refusal) {
    // Not arithmetic over plain columns, or trouble that the careful path will tell row by row.
    if (refusal !== NOT_HERE && !(refusal instanceof Trouble)) throw refusal;
    return undefined;
  }
}

/** Makes a column hold numbers such as these, beside those that it holds already; false when it cannot hold both. */
function adopt(store: ColumnStore, { unit, dp, bound }: Vector): boolean {
  if (store.unit === undefined) {
    store.unit = unit;
    store.dp = dp;
    return true;
  }
  if (store.unit !== unit || (dp === APPROXIMATE) !== (store.dp === APPROXIMATE)) return false;
  if (dp === APPROXIMATE) return true;
  const decimals = Math.max(dp, store.dp);
  if (Math.max(bound, store.magnitude) * powerOfTen(decimals) > EXACT_LIMIT) return false;
  store.dp = decimals;
  return true;
}

function fill(block: Block, index: number, work: Strip, { beside, above }: Weaver, exact: boolean): void {
  const { values, status } = block;
  const size = values.length;
  const first = values[0]!;
  const isFirstThere = status[0] !== WAITING;
  const out = work.run(index, size, values);
  if (out !== values) values.set(out.length === size ? out : out.subarray(0, size));
  // The row that was laid down first, because there is none before it.
  if (isFirstThere) values[0] = first;
  // An exact number is below the bound that was proved, and was freed of −0 when it was rounded.
  const finite = exact || finish(values);
  if (finite && !isFirstThere && arePlain(beside, above, index, size)) {
    status.fill(NUMBER);
    block.numbers = size;
    return;
  }
  for (let i = isFirstThere ? 1 : 0; i < size; i++) {
    if (Number.isFinite(values[i]!) && isPlain(beside, above, index, i)) status[i] = NUMBER;
  }
}

/** Whether all that a formula looks at is a plain number in every row of a block. */
export function arePlain(
  beside: Iterable<ColumnStore>,
  above: Iterable<ColumnStore>,
  index: number,
  size: number,
): boolean {
  for (const { blocks } of beside) if (blocks[index]!.count !== size) return false;
  for (const { blocks } of above) {
    if (index === 0 || blocks[index]!.count !== size || blocks[index - 1]!.status[BLOCK - 1] !== NUMBER)
      return false;
  }
  return true;
}

/** The same for one row of a block. */
export function isPlain(
  beside: Iterable<ColumnStore>,
  above: Iterable<ColumnStore>,
  index: number,
  i: number,
): boolean {
  for (const { blocks } of beside) if (blocks[index]!.status[i] !== NUMBER) return false;
  for (const { blocks } of above) {
    const before = i > 0 ? blocks[index]!.status[i - 1] : blocks[index - 1]?.status[BLOCK - 1];
    if (before !== NUMBER) return false;
  }
  return true;
}
