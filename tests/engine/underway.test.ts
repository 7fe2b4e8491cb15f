import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Book, openBook, openBookWith, type Searches, underwayOf } from "../../src/engine";
import { Allowance } from "../../src/engine/allowance";
import { Left, LongLists } from "../../src/engine/long-lists";
import { text as words } from "../../src/vocabulary/value";
import { mutated, mutation, randomBook } from "./random-books";

/**
 * Whoever opens a book with this waits for no more than one piece, and makes every search. Pieces are as small as they
 * can be, so that a small book can be left in many places.
 */
const impatient: Searches = {
  begin: () => ({
    piece: 1,
    goesOn: () => false,
    at: () => ({ known: undefined, goesOn: () => true, came: () => undefined }),
  }),
};

const told = (book: Book): string =>
  JSON.stringify(
    [
      book.answers(),
      book.messages,
      book.items.filter(({ type }) => type === "check" || type === "chart" || type === "step"),
      book.tally,
      book.cautions,
    ],
    (_, value) => (typeof value === "bigint" ? String(value) : Object.is(value, -0) ? "-0" : value),
  );

/** Goes on for some pieces; the book as far as it is then. */
function goneOn(book: Book, pieces: number): Book {
  let now = book;
  for (let i = 0; i < pieces; i++) {
    const underway = underwayOf(now);
    if (underway === undefined) break;
    now = underway.goOn(() => false) ?? underway.soFar();
  }
  return now;
}
const finished = (book: Book): Book => underwayOf(book)?.goOn(() => true) ?? book;

const runs = {
  numRuns: Number(process.env.INVACUO_RUNS ?? 40),
  seed: Number(process.env.INVACUO_SEED ?? 20261130),
};
const physics = `
set pull = 60.0 ± 0.5 mbar
table s
| run | charge (mL) | more (mL) |
| one | 900 | 20 |
| two | 950 | = distil(charge, 40 %vol, pull, take: 300 mL).left.volume |
| three | 1000 | 30 |
column got = distil(charge, 40 %vol, pull, take: 300 mL).taken.strength
column sum = (if before.sum is blank then 0 mL else before.sum) + charge
column other = (if before.last is blank then 1 else before.last) + 1
column last = other * 2
foot got = mean(got)
set top = largest(s.got)
set all = mean(distil(s.charge, 40 %vol, pull, take: 300 mL).taken.strength)
set warm = mean(boils_at([pull, 20 mbar, pull]))
set few = count(s.charge where largest(boils_at([pull, pull + (charge - 900 mL) / 10 mL * 1 mbar])) > 37 °C)
define both(p) = largest(boils_at([p, p + 2 mbar])) - smallest(boils_at([p, p + 3 mbar]))
set twice = both(pull) + both(pull + 1 mbar)
check s.foot.got > 50 %vol : "strong"
chart "Runs" : dots s.got by s.charge
step "Collect {s.foot.got}."
`;
const faulty = "set wrong = count(boils_at([pull, 900 bar, pull]))\nset worse = boils_at([pull, 2 g])\n";
const text = fc
  .tuple(randomBook, fc.boolean())
  .map(([book, more]) => (more ? `${book}${physics}${faulty}` : book));

describe("a book that is worked out in pieces", () => {
  it("comes to what it comes to in one go, wherever it was left, and while it was edited", () => {
    let left = 0;
    fc.assert(
      fc.property(text, fc.array(fc.tuple(fc.nat(40), mutation), { maxLength: 3 }), (first, edits) => {
        let now = first;
        let book = openBookWith(impatient, now);
        for (const [pieces, change] of edits) {
          book = goneOn(book, pieces);
          if (underwayOf(book)) left++;
          now = mutated(now, change);
          book = book.edit(now);
        }
        expect(told(finished(book))).toBe(told(openBook(now)));
      }),
      runs,
    );
    expect(left).toBeGreaterThan(10);
  });

  it("tells as far as it has come only what it comes to in the end, and that the rest is on its way", () => {
    const whole = openBook(physics);
    const values = new Map(whole.answers().map((a) => [a.name, a]));
    let book = openBookWith(impatient, physics);
    let waited = 0;
    let stops = 0;
    for (; underwayOf(book) && stops < 10_000; stops++) {
      for (const answer of book.answers()) {
        if (answer.state === "ok") expect(answer).toEqual(values.get(answer.name));
        else {
          expect(answer.message).toMatch(/ is still being worked out$/);
          waited++;
        }
      }
      // Nobody has to fill anything in, and nothing is wrong.
      expect(book.tally).toMatchObject({ faults: whole.tally.faults, gaps: whole.tally.gaps });
      const check = book.items.find((i) => i.type === "check");
      expect(check).toMatchObject({ state: "unknown", says: "this is still being worked out" });
      // What was typed is there from the first.
      expect(book.value("s.two.charge")).toMatchObject({ type: "quantity" });
      expect(book.value("s.one.more")).toMatchObject({ type: "quantity" });
      const underway = underwayOf(book)!;
      expect(underway.done).toBeLessThanOrEqual(underway.of);
      book = goneOn(book, 1);
    }
    expect(waited).toBeGreaterThan(10);
    expect(stops).toBeGreaterThan(20);
    expect(told(book)).toBe(told(whole));
  });

  it("says when it was stopped what was not worked out, and can be gone on with from there", () => {
    const underway = underwayOf(goneOn(openBookWith(impatient, physics), 2))!;
    const { done } = underway;
    const stopped = underway.stopped();
    expect(stopped.answers().find((a) => a.name === "s.foot.got")?.message).toBe(
      "s.foot.got was not worked out: the work was stopped",
    );
    expect(stopped.items.find((i) => i.type === "step")).toMatchObject({
      text: "Collect (not worked out yet).",
    });
    expect(underwayOf(stopped)).toBe(underway);
    expect(underway.done).toBe(done);
    expect(told(finished(stopped))).toBe(told(openBook(physics)));
    // A question is answered from what there is.
    expect(stopped.ask("pull * 2").text).toBe(openBook(physics).ask("pull * 2").text);
    expect(stopped.ask("s.foot.got").state).toBe("gap");
  });

  it("keeps after an edit what the edit does not reach, also where it was stopped", () => {
    const slow = "set pull = 60 mbar\nset other = 2 g\n" + physics.replace(/^.*± 0.5 mbar$/m, "");
    const whole = finished(openBookWith(impatient, slow));
    const edited = whole.edit(slow.replace("60 mbar", "70 mbar"));
    expect(underwayOf(edited)).toBeDefined();
    expect(edited.value("other")).toMatchObject({ type: "quantity" });
    expect(edited.value("s.one.sum")).toMatchObject({ type: "quantity" });
    // What is on its way tells what it was, from change to change.
    const was = whole.value("s.one.got");
    expect(was).toMatchObject({ type: "quantity" });
    expect(edited.value("s.one.got")).toMatchObject({ type: "gap", waits: true, was });
    expect(edited.answers().find((a) => a.name === "s.one.got")).toMatchObject({ value: null, text: "" });
    expect(edited.value("s.foot.got")).toMatchObject({ was: whole.value("s.foot.got") });
    const again = edited.edit(slow.replace("60 mbar", "70 mbar").replace("2 g", "3 g"));
    expect(again.value("s.one.got")).toMatchObject({ type: "gap", waits: true, was });
    const fewer = edited.edit(edited.text.replace(/^\| three .*\n/m, ""));
    expect(fewer.value("s.one.got")).toEqual({
      type: "gap",
      waits: true,
      says: "s.got is still being worked out",
    });
    const text = slow.replace("60 mbar", "70 mbar").replace("2 g", "3 g");
    expect(told(finished(again))).toBe(told(openBook(text)));
  });
});

describe("a formula that is left in the middle of a list", () => {
  it("counts what each entry took once, faults too, and tells lists at one place apart", () => {
    const allowance = new Allowance(1);
    allowance.charge({ calls: 3, work: 100 });
    const start = allowance.counted;
    const lists = new LongLists(allowance);
    const refusal = new Error("not this one");
    let made = 0;
    const run = () => {
      const told: unknown[] = [];
      for (const turn of [1, 2]) {
        const once = lists.entries("here");
        for (const entry of [1, 2, 3]) {
          try {
            const value = once(() => {
              made++;
              allowance.count();
              allowance.spend(7 * entry);
              if (entry === 2) throw refusal;
              return words(`${turn}.${entry}`);
            });
            told.push(value);
          } catch (error) {
            if (error instanceof Left) return undefined;
            told.push(error);
          }
        }
      }
      return told;
    };
    let told = run();
    let turns = 1;
    for (; told === undefined && turns < 100; turns++) {
      lists.begin();
      allowance.rewind(start);
      told = run();
    }
    expect(told).toEqual([words("1.1"), refusal, words("1.3"), words("2.1"), refusal, words("2.3")]);
    expect(turns).toBeGreaterThan(2);
    expect(made).toBe(6);
    expect(allowance.counted).toEqual({ calls: 9, work: 184 });
  });
});
