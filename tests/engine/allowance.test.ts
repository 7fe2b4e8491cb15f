import { describe, expect, it } from "vitest";
import { Allowance, CALL_LIMIT, WORK_LIMIT } from "../../src/engine/allowance";
import { Trouble } from "../../src/quantity";

/** What a calculation may take: both sides of each limit, and where one piece ends. */

const code = (work: () => void): string => {
  try {
    work();
    return "";
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
    return error.code;
  }
};

describe("an allowance", () => {
  it("of work is spent at its limit and not before", () => {
    const allowance = new Allowance(10);
    expect(code(() => allowance.spend(WORK_LIMIT))).toBe("");
    expect([allowance.isSpent, allowance.isStopped()]).toEqual([false, false]);
    expect(code(() => allowance.spend(0))).toBe("");
    expect(code(() => allowance.spend(1))).toBe("work-limit");
    expect([allowance.isSpent, allowance.isStopped()]).toEqual([true, true]);
    // What is not done any more is not counted either.
    for (const work of [0, 1, 1e9]) expect(code(() => allowance.spend(work))).toBe("work-limit");
    expect(allowance.spent).toBe(WORK_LIMIT + 1);
    allowance.recount();
    expect([allowance.isSpent, allowance.isStopped(), allowance.spent]).toEqual([false, false, 0]);
  });
  it("of calls is spent at its limit and not before", () => {
    const allowance = new Allowance(10);
    allowance.charge({ calls: CALL_LIMIT - 1, work: 5 });
    expect(code(() => allowance.count())).toBe("");
    expect(allowance.isStopped()).toBe(false);
    expect(code(() => allowance.count())).toBe("call-limit");
    expect(allowance.isStopped()).toBe(true);
    expect(allowance.isSpent).toBe(false);
    expect(allowance.counted).toEqual({ calls: CALL_LIMIT + 1, work: 5 });
  });
  it("takes what there is, and nothing of what there is not", () => {
    const allowance = new Allowance(10);
    expect(allowance.take(WORK_LIMIT - 5)).toBe(true);
    expect(allowance.take(6)).toBe(false);
    expect(allowance.spent).toBe(WORK_LIMIT - 5);
    expect(allowance.isStopped()).toBe(false);
    expect(allowance.take(5)).toBe(true);
    expect(allowance.take(1)).toBe(false);
    expect(allowance.isStopped()).toBe(false);
  });
  it("remembers what it could not afford", () => {
    const allowance = new Allowance(10);
    expect(allowance.affords(WORK_LIMIT)).toBe(true);
    expect(allowance.isStopped()).toBe(false);
    expect(allowance.affords(1)).toBe(false);
    expect([allowance.isStopped(), allowance.spent]).toEqual([true, WORK_LIMIT]);
    allowance.recount();
    expect(allowance.isStopped()).toBe(false);
  });
  it.each([
    [{ calls: 0, work: WORK_LIMIT - 7 }, false],
    [{ calls: 0, work: WORK_LIMIT - 6 }, true],
    [{ calls: CALL_LIMIT - 2, work: 0 }, false],
    [{ calls: CALL_LIMIT - 1, work: 0 }, true],
  ])("would be stopped with %j besides: %s", (besides, is) => {
    const allowance = new Allowance(10);
    allowance.charge({ calls: 2, work: 7 });
    expect(allowance.isStopped(besides)).toBe(is);
  });
  it("for a question may take so much and no more", () => {
    const within = new Allowance(10).within(100);
    expect(within.piece).toBe(10);
    expect(code(() => within.spend(100))).toBe("");
    expect(within.isStopped()).toBe(false);
    expect(code(() => within.spend(1))).toBe("work-limit");
  });
  it("counts what was taken since, and goes back", () => {
    const allowance = new Allowance(10);
    allowance.charge({ calls: 2, work: 30 });
    const { counted } = allowance;
    allowance.count();
    allowance.spend(12);
    expect(allowance.since(counted)).toEqual({ calls: 1, work: 12 });
    allowance.rewind(counted);
    expect(allowance.counted).toEqual({ calls: 2, work: 30 });
    // It has rested there too.
    allowance.spend(9);
    expect(allowance.isPieceDone()).toBe(false);
    allowance.spend(1);
    expect(allowance.isPieceDone()).toBe(true);
  });
  it("makes a piece of so much work, counted from the last one", () => {
    const allowance = new Allowance(10);
    const done = (work: number): boolean => {
      allowance.spend(work);
      return allowance.isPieceDone();
    };
    expect([done(9), done(1), done(9), done(0), done(2), done(9), done(10)]).toEqual([
      false,
      true,
      false,
      false,
      true,
      false,
      true,
    ]);
    expect(allowance.untilPiece).toBe(allowance.spent + 10);
    // What is a part of the piece around it ends none of its own.
    allowance.withoutRest(() => expect(done(10)).toBe(true));
    expect(done(0)).toBe(true);
    allowance.recount();
    expect(done(9)).toBe(false);
  });
});
