import { Trouble } from "../quantity";

/** Most function calls in one calculation of a book. */
export const CALL_LIMIT = 5_000_000;

/**
 * Most work in one calculation, in parts of formulas that are worked out; what takes longer than a part counts
 * for more (see `spend` where it is called). A book of 20,000 rows and 20 columns spends a twentieth of it.
 */
export const WORK_LIMIT = 200_000_000;

export const TOO_MUCH = {
  code: "work-limit",
  says: "This book takes too long to work out: more than 200,000,000 steps. The calculation was stopped here.",
  help: "Look for long lists inside other lists, searches inside searches, or a total over a whole column in every row.",
};

/** Made once: behind a limit every call of the book meets them, and an error is slow to make. */
const TOO_MUCH_WORK = new Trouble(TOO_MUCH);
const TOO_MANY_CALLS = new Trouble({
  code: "call-limit",
  says: "This book needs more than 5,000,000 function calls; the calculation was stopped here.",
  help: "Take fewer rows, a narrower range, or fewer trials.",
});

/** What working something out took, or at most would take in a fresh calculation. */
export interface Cost {
  readonly calls: number;
  readonly work: number;
}

export const NO_COST: Cost = { calls: 0, work: 0 };

/** What two things took together; nothing was taken by what is not there. */
export const both = (a: Cost, b: Cost = NO_COST): Cost => ({
  calls: a.calls + b.calls,
  work: a.work + b.work,
});

/** What a calculation may take, and what it took so far: of function calls, and of work. */
export class Allowance {
  private calls = 0;
  private work = 0;
  /** Work until the last piece was done. */
  private rested = 0;
  /** Whether something was not begun for want of work. */
  private refused = false;

  /** How much work makes a piece, behind which a calculation may rest. */
  readonly piece: number;

  constructor(piece: number) {
    this.piece = piece;
  }

  /** An allowance for a question that may take so much work and no more. */
  within(work: number): Allowance {
    const within = new Allowance(this.piece);
    within.work = WORK_LIMIT - work;
    return within;
  }

  /** Counts a function call. Throws `Trouble` beyond the limit. */
  count(): void {
    if (++this.calls > CALL_LIMIT) throw TOO_MANY_CALLS;
  }

  /** Spends work. Throws `Trouble` when it is more than there was; what is asked for after that is not done, nor counted. */
  spend(work: number): void {
    if (!this.isSpent) this.work += work;
    if (this.isSpent) throw TOO_MUCH_WORK;
  }

  /** Spends work that is not to be begun without enough of it; false when there is not. */
  affords(work: number): boolean {
    if (this.take(work)) return true;
    this.refused = true;
    return false;
  }

  /** Spends work if there is enough left. */
  take(work: number): boolean {
    if (this.work + work > WORK_LIMIT) return false;
    this.work += work;
    return true;
  }

  /** Whether all work is spent. */
  get isSpent(): boolean {
    return this.work > WORK_LIMIT;
  }

  /** Calls and work since the counting began. */
  get counted(): Cost {
    return { calls: this.calls, work: this.work };
  }

  /** What was taken since something was counted. */
  since({ calls, work }: Cost): Cost {
    return { calls: this.calls - calls, work: this.work - work };
  }

  /** Counts once more what was taken and need not be done again. */
  charge({ calls, work }: Cost): void {
    this.calls += calls;
    this.work += work;
  }

  /** Counts for what was begun at `begun` what it took elsewhere, whatever it took here. */
  settle(begun: Cost, { took, stopped }: { readonly took: Cost; readonly stopped: boolean }): void {
    const work = begun.work + took.work;
    this.rested += work - this.work;
    this.calls = begun.calls + took.calls;
    this.work = work;
    this.refused ||= stopped;
  }

  /** Goes back to what was counted earlier, as if nothing had been taken since. */
  rewind({ calls, work }: Cost): void {
    this.calls = calls;
    this.work = work;
    this.rested = work;
  }

  /** Whether a limit was met since the counting began, or would have been had this been taken too. */
  isStopped(besides = NO_COST): boolean {
    return this.refused || this.calls + besides.calls > CALL_LIMIT || this.work + besides.work > WORK_LIMIT;
  }

  /** Starts counting anew, for a question asked of a finished book. */
  recount(): void {
    this.calls = 0;
    this.work = 0;
    this.rested = 0;
    this.refused = false;
  }

  // ---- pieces

  /** Whether enough was done since the last piece to make another one. */
  isPieceDone(): boolean {
    if (this.work - this.rested < this.piece) return false;
    this.rested = this.work;
    return true;
  }

  /** How much work there may be until a piece that begins now is done. */
  get untilPiece(): number {
    return this.work + this.piece;
  }

  get spent(): number {
    return this.work;
  }

  /** Does something that is a part of the piece around it. */
  withoutRest(work: () => void): void {
    const { rested } = this;
    work();
    this.rested = rested;
  }
}
