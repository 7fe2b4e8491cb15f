import { APPROXIMATE, kinds, type Num, type Quantity, quantity, type Unit } from "../quantity";
import { type ListOrigin, type ListValue, text, type Value } from "../vocabulary/value";

/**
 * Storage of a column: blocks of 1,024 rows, each a run of doubles with a status byte beside every row.
 * A row whose value is a number in the column's unit, without uncertainty or remarks, costs nine bytes;
 * every other value (text, date, gap, fault, a number with ±) is kept whole beside its block.
 * Blocks are never changed once the column is `sealed`: an edit copies only the blocks that it touches,
 * and what was derived from a block (its total) is remembered with it.
 */
export const BLOCK = 1024;

export const WAITING = 0;
export const NUMBER = 1;
export const WHOLE = 2;

/** Largest mantissa that a double column may hold and still be exact after one rounding. */
export const EXACT_LIMIT = 2 ** 49;

/**
 * Added to a double below 2^51 and taken away again, this leaves the nearest whole number, and 0 for −0. It is
 * the same as `Math.round` for what is less than a half off a whole number, as every mantissa is here, and much
 * faster.
 */
export const WHOLES = 1.5 * 2 ** 52;

export class Block {
  readonly values: Float64Array;
  readonly status: Uint8Array;
  whole: (Value | undefined)[] | undefined;
  /** Derived figures, filled on demand; dropped when the block is copied. */
  largest: number | undefined;
  mantissas: number | undefined;
  doubles: number | undefined;
  numbers: number | undefined;

  constructor(size: number, from?: Block) {
    // One buffer for both: to make one takes longer than to fill it.
    const buffer = new ArrayBuffer(size * 9);
    this.values = new Float64Array(buffer, 0, size);
    this.status = new Uint8Array(buffer, size * 8, size);
    if (from) {
      this.values.set(from.values);
      this.status.set(from.status);
    }
    this.whole = from?.whole ? from.whole.slice() : undefined;
  }

  /** Largest magnitude of the numbers in the block. */
  get magnitude(): number {
    if (this.largest === undefined) {
      let largest = 0;
      for (let i = 0; i < this.values.length; i++) {
        if (this.status[i] === NUMBER) {
          const v = Math.abs(this.values[i]!);
          if (v > largest) largest = v;
        }
      }
      this.largest = largest;
    }
    return this.largest;
  }

  /** How many rows hold plain numbers. */
  get count(): number {
    if (this.numbers === undefined && isAll(this.status, NUMBER)) this.numbers = this.status.length;
    if (this.numbers === undefined) {
      let n = 0;
      for (let i = 0; i < this.status.length; i++) n += this.status[i] === NUMBER ? 1 : 0;
      this.numbers = n;
    }
    return this.numbers;
  }
}

/** Whether every byte is the same one, four at a time. */
function isAll(bytes: Uint8Array, byte: number): boolean {
  const words = new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length >> 2);
  const word = byte * 0x01010101;
  for (let i = 0; i < words.length; i++) if (words[i] !== word) return false;
  for (let i = words.length * 4; i < bytes.length; i++) if (bytes[i] !== byte) return false;
  return true;
}

const TENS = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));
/** 10 to a whole power from 0 on. */
export const powerOfTen = (power: number): number => TENS[power] ?? 10 ** power;

export class ColumnStore {
  readonly length: number;
  readonly blocks: Block[];
  /** Unit of every row that is stored as a number; undefined until there is one. */
  unit: Unit | undefined;
  /** Decimals of those numbers when they are exact, or APPROXIMATE. */
  dp = 0;
  /** No number of the column is larger; after edits perhaps none is as large. */
  bound = 0;
  private owned: Uint8Array;
  /** The number that was laid down last, as it would be read: the next row of a chain asks for it at once. */
  private lastRow = -1;
  private last: Value | undefined;

  constructor(length: number, from?: Pick<ColumnStore, "length" | "blocks" | "unit" | "dp" | "bound">) {
    this.length = length;
    const count = Math.ceil(length / BLOCK);
    if (from && from.length === length) {
      this.blocks = from.blocks.slice();
      this.unit = from.unit;
      this.dp = from.dp;
      this.bound = from.bound;
      this.owned = new Uint8Array(count);
    } else {
      this.blocks = [];
      for (let i = 0; i < count; i++) this.blocks.push(new Block(Math.min(BLOCK, length - i * BLOCK)));
      this.owned = new Uint8Array(count).fill(1);
    }
  }

  /** A finished column with one value in every row; its blocks are one and the same. */
  static filled(length: number, value: Value): ColumnStore {
    const block = (size: number): Block => {
      const made = new Block(size);
      made.status.fill(WHOLE);
      made.whole = new Array<Value | undefined>(size).fill(value);
      return made;
    };
    const shared = length >= BLOCK ? block(BLOCK) : undefined;
    const rest = length % BLOCK;
    const blocks = new Array<Block>((length - rest) / BLOCK).fill(shared!);
    if (rest > 0) blocks.push(block(rest));
    return new ColumnStore(length, { length, blocks, unit: undefined, dp: 0, bound: 0 });
  }

  /** A block that may be written: copied first when an earlier book still reads it. */
  writable(index: number): Block {
    let block = this.blocks[index]!;
    if (this.owned[index] === 0) {
      block = new Block(block.values.length, block);
      this.blocks[index] = block;
      this.owned[index] = 1;
    }
    return block;
  }

  /** The first row from `from` on that has not been worked out, or -1. */
  firstWaiting(from = 0): number {
    let within = from % BLOCK;
    for (let b = (from / BLOCK) | 0; b < this.blocks.length; b++) {
      const { status, numbers } = this.blocks[b]!;
      const i = numbers === status.length ? -1 : status.indexOf(WAITING, within);
      if (i >= 0) return b * BLOCK + i;
      within = 0;
    }
    return -1;
  }

  /** Declares the column finished: from now on its blocks are shared. */
  seal(): this {
    this.owned.fill(0);
    return this;
  }

  isReady(row: number): boolean {
    return this.blocks[(row / BLOCK) | 0]!.status[row % BLOCK] !== WAITING;
  }

  get(row: number): Value {
    if (row === this.lastRow) return this.last!;
    const block = this.blocks[(row / BLOCK) | 0]!;
    const i = row % BLOCK;
    if (block.status[i] === NUMBER) {
      const n: Num = { v: block.values[i]!, dp: this.dp };
      return quantity(n, this.unit!);
    }
    const whole = block.whole?.[i];
    return whole ?? text("");
  }

  /** Forgets a row, so that it is worked out again. */
  clear(row: number): void {
    this.lastRow = -1;
    const block = this.writable((row / BLOCK) | 0);
    const i = row % BLOCK;
    block.status[i] = WAITING;
    if (block.whole) block.whole[i] = undefined;
    forget(block);
  }

  set(row: number, value: Value): void {
    const block = this.writable((row / BLOCK) | 0);
    const i = row % BLOCK;
    forget(block);
    this.lastRow = -1;
    if (value.type === "quantity" && this.fits(value)) {
      // With fewer decimals it would be read as one of as many as the column has.
      if (value.n.dp === this.dp) {
        this.lastRow = row;
        this.last = value;
      }
      block.values[i] = value.n.v;
      block.status[i] = NUMBER;
      this.bound = Math.max(this.bound, Math.abs(value.n.v));
      if (block.whole) block.whole[i] = undefined;
      return;
    }
    block.status[i] = WHOLE;
    block.whole ??= new Array<Value | undefined>(block.values.length);
    block.whole[i] = value;
  }

  /** Tells that plain numbers were written into rows of a block. */
  wrote(index: number, from: number, until: number): void {
    const block = this.blocks[index]!;
    forget(block);
    for (let i = from; i < until; i++) {
      const size = Math.abs(block.values[i]!);
      if (size > this.bound) this.bound = size;
    }
  }

  /** Whether a number can be kept as a bare double here; adopts its unit and decimals when it is the first. */
  private fits(q: Quantity): boolean {
    if (q.spread || q.notes || q.n.big) return false;
    if (this.unit === undefined) {
      this.unit = q.unit;
      this.dp = q.n.dp;
    }
    if (q.unit !== this.unit) return false;
    if (q.n.dp === APPROXIMATE || this.dp === APPROXIMATE) return q.n.dp === this.dp;
    if (q.n.dp > this.dp) {
      if (this.magnitude * powerOfTen(q.n.dp) > EXACT_LIMIT) return false;
      if (Math.abs(q.n.v) * powerOfTen(q.n.dp) > EXACT_LIMIT) return false;
      this.dp = q.n.dp;
      // Totals of mantissas were counted in the old decimals.
      for (const block of this.blocks) block.mantissas = undefined;
      return true;
    }
    return Math.abs(q.n.v) * powerOfTen(this.dp) <= EXACT_LIMIT;
  }

  get magnitude(): number {
    let largest = 0;
    for (const block of this.blocks) if (block.magnitude > largest) largest = block.magnitude;
    return largest;
  }

  /** Whether the unit of its numbers, and whether they are exact, is that of the first plain number, as when rows are laid down from the top. */
  get isInOwnUnit(): boolean {
    for (const { status, whole } of this.blocks) {
      for (let i = 0; i < status.length; i++) {
        if (status[i] === NUMBER) return true;
        const value = whole?.[i];
        if (value?.type !== "quantity" || value.spread || value.notes || value.n.big) continue;
        return value.unit === this.unit && (value.n.dp === APPROXIMATE) === (this.dp === APPROXIMATE);
      }
    }
    return this.unit === undefined;
  }

  /** Whether every row is a plain number. */
  get allNumbers(): boolean {
    for (const block of this.blocks) if (block.count !== block.status.length) return false;
    return this.length > 0;
  }
}

function forget(block: Block): void {
  block.largest = undefined;
  block.mantissas = undefined;
  block.doubles = undefined;
  block.numbers = undefined;
}

/** A whole column as a list. Its entries are made only when something walks them one by one. */
export class ColumnList implements ListValue {
  readonly type = "list" as const;
  readonly store: ColumnStore;
  readonly origin: ListOrigin;
  private made: readonly Value[] | undefined;

  constructor(store: ColumnStore, origin: ListOrigin) {
    this.store = store;
    this.origin = origin;
  }

  get unit(): Unit | undefined {
    return this.store.unit;
  }

  get entries(): readonly Value[] {
    if (!this.made) {
      const made = new Array<Value>(this.store.length);
      for (let row = 0; row < made.length; row++) made[row] = this.store.get(row);
      this.made = made;
    }
    return this.made;
  }
}

/**
 * Total of a column of plain numbers, block by block: exact when its decimals are and the sum of the
 * mantissas stays a safe integer. Undefined when the column is not of plain numbers only, or too large, or of
 * temperatures, which do not add.
 */
export function columnTotal(store: ColumnStore): Quantity | undefined {
  if (!store.allNumbers || !store.unit || store.unit.kind === kinds.temperature) return undefined;
  if (store.dp === APPROXIMATE) {
    let total = 0;
    for (const block of store.blocks) total += blockDoubles(block);
    return Number.isFinite(total) ? quantity({ v: total, dp: APPROXIMATE }, store.unit) : undefined;
  }
  const scale = powerOfTen(store.dp);
  const room = Number.MAX_SAFE_INTEGER / scale / store.length;
  if (store.bound > room && store.magnitude > room) return undefined;
  let mantissa = 0;
  for (const block of store.blocks) {
    block.mantissas ??= sumOfMantissas(block, scale, store.bound);
    mantissa += block.mantissas;
  }
  if (Math.abs(mantissa) > EXACT_LIMIT) return undefined;
  return quantity({ v: mantissa / scale, dp: store.dp }, store.unit);
}

/**
 * Largest mantissa with which the numbers of a block may be summed as they are: a sum of 1,024 doubles is off by
 * no more than 2^20 halves of the last bit of the largest, which is here less than a quarter of the last decimal.
 */
const SHORT = 2 ** 31;

/** Sum of the mantissas of a block of plain numbers, none of them larger than `bound`. */
function sumOfMantissas(block: Block, scale: number, bound: number): number {
  if (bound * scale < SHORT) return Math.round(sumOf(block) * scale);
  let sum = 0;
  for (const v of block.values) sum += v * scale + WHOLES - WHOLES;
  return sum;
}

/** Four sums side by side, so that an addition need not wait for the one before it. */
function sumOf({ values }: Block): number {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  const whole = values.length - (values.length % 4);
  for (let i = 0; i < whole; i += 4) {
    a += values[i]!;
    b += values[i + 1]!;
    c += values[i + 2]!;
    d += values[i + 3]!;
  }
  for (let i = whole; i < values.length; i++) a += values[i]!;
  return a + b + c + d;
}

function blockDoubles(block: Block): number {
  if (block.doubles === undefined) {
    let sum = 0;
    const { values } = block;
    for (let i = 0; i < values.length; i++) sum += values[i]!;
    block.doubles = sum;
  }
  return block.doubles;
}
