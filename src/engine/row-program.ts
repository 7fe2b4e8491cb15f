import { type Block, NUMBER } from "./blocks";
import type { Run } from "./kernels";

/** What is done with two registers: kept as small whole numbers, for a loop over them. */
export const ADD = 0;
export const SUBTRACT = 1;
export const MULTIPLY = 2;
export const DIVIDE = 3;
/** The double nearest to a decimal; the second register is the power of ten of its decimals. −0 becomes 0. */
export const ROUND = 4;
type Operation = typeof ADD | typeof SUBTRACT | typeof MULTIPLY | typeof DIVIDE | typeof ROUND;

/** Values of a column, a block of rows at a time. */
export interface Source {
  run(block: number, n: number): Run;
}

/** A place for one number, which hangs on the row before. */
export class Register {
  readonly index: number;
  constructor(index: number) {
    this.index = index;
  }
}

/**
 * Arithmetic that is done row by row because each row hangs on the one before: a run of steps over registers,
 * the first of which holds what came out of the row before. What does not hang on it is worked out a block at
 * a time, and handed in.
 */
export class RowProgram {
  readonly before = new Register(0);
  /** What every register holds as a row begins; `before` and the columns change from row to row. */
  private readonly registers: number[] = [0];
  private readonly sources: { source: Source; register: number }[] = [];
  private readonly steps: number[] = [];

  step(operation: Operation, left: Register | Source | number, right: Register | Source | number): Register {
    const [a, b] = [this.register(left), this.register(right)];
    const out = this.next(0);
    this.steps.push(operation, out.index, a.index, b.index);
    return out;
  }

  /** The register that holds an operand. */
  register(operand: Register | Source | number): Register {
    if (operand instanceof Register) return operand;
    if (typeof operand === "number") return this.next(operand);
    const register = this.next(0);
    this.sources.push({ source: operand, register: register.index });
    return register;
  }

  private next(value: number): Register {
    this.registers.push(value);
    return new Register(this.registers.length - 1);
  }

  /** Ready to run; `result` holds what a row comes to. */
  runner(result: Register): Runner {
    return new Runner(
      Float64Array.from(this.registers),
      Uint16Array.from(this.steps),
      this.sources,
      result.index,
    );
  }
}

export class Runner {
  private readonly registers: Float64Array;
  private readonly steps: Uint16Array;
  private readonly sources: readonly { source: Source; register: number }[];
  private readonly result: number;
  private readonly runs: Run[] = [];
  private prepared = -1;

  constructor(
    registers: Float64Array,
    steps: Uint16Array,
    sources: readonly { source: Source; register: number }[],
    result: number,
  ) {
    this.registers = registers;
    this.steps = steps;
    this.sources = sources;
    this.result = result;
  }

  /**
   * Works out rows of a block from `from` up to `until`, all within the block, and marks them as numbers. Stops
   * before a row whose row before is larger than `most`, or which comes out as no number.
   * @returns the first row of the block that was not worked out.
   */
  run(block: Block, index: number, from: number, until: number, before: number, most: number): number {
    const { registers, steps, sources, runs, result } = this;
    const { values, status } = block;
    if (this.prepared !== index) {
      sources.forEach(({ source }, k) => {
        runs[k] = source.run(index, values.length);
      });
      this.prepared = index;
    }
    let last = before;
    for (let i = from; i < until; i++) {
      if (Math.abs(last) > most) return i;
      registers[0] = last;
      for (let k = 0; k < sources.length; k++) registers[sources[k]!.register] = runs[k]![i]!;
      for (let s = 0; s < steps.length; s += 4) {
        const left = registers[steps[s + 2]!]!;
        const right = registers[steps[s + 3]!]!;
        let out: number;
        switch (steps[s]) {
          case ADD:
            out = left + right;
            break;
          case SUBTRACT:
            out = left - right;
            break;
          case MULTIPLY:
            out = left * right;
            break;
          case DIVIDE:
            out = left / right;
            break;
          default:
            out = Math.round(left * right) / right + 0;
        }
        registers[steps[s + 1]!] = out;
      }
      const value = registers[result]! + 0;
      if (!Number.isFinite(value)) return i;
      values[i] = value;
      status[i] = NUMBER;
      last = value;
    }
    return until;
  }
}
