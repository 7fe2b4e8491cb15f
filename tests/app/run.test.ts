import { IDBFactory } from "fake-indexeddb";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { alarmsOf, isTicking, untilNextRule, waitState } from "../../src/app/run/alarms";
import { doubtAt, wantingSteps } from "../../src/app/run/doubts";
import { begunRuns, forgetRun, keptRun, openRuns, saveRun } from "../../src/app/run/keeping-runs";
import {
  beginRun,
  clockText,
  elapsed,
  isRun,
  type Run,
  type RunAction,
  recordOf,
  runAfter,
  spanText,
} from "../../src/app/run/run";
import { benchSteps } from "../../src/app/run/steps";
import { toldSteps } from "../../src/app/run/told";
import { openBook } from "../../src/engine";

const MINUTE = 60_000;
const book = openBook(`book "Bench"
table runs "Runs"
| run | got (mL) |
| 1   | 400      |
set pull = 60 mbar
part "First"
step "Pull to {pull}." wait 30 min
step "Rinse."
part "Then"
step "Rinse." wait 45 s
step "Weigh {round_to(pull, 1 mbar)} and {runs.\`1\`.got in L}." wait pull ask runs.got in mL
`);
const steps = benchSteps(book);
const [pull, rinse, again, weigh] = steps as unknown as [
  (typeof steps)[0],
  (typeof steps)[0],
  (typeof steps)[0],
  (typeof steps)[0],
];
const start = beginRun("id", "Bench", 0, "2026-03-04");
const following = (run: Run, ...actions: RunAction[]): Run => actions.reduce(runAfter, run);
const kept = (run: Run): Run => JSON.parse(JSON.stringify(run)) as Run;

describe("the steps of a run", () => {
  it("carry their part, their amounts by name, and their wait in milliseconds", () => {
    expect(steps.map((s) => s.part)).toEqual(["First", "First", "Then", "Then"]);
    expect(pull.main?.label).toBe("pull");
    expect(pull.main?.shown.text).toBe("60 mbar");
    expect(pull.wait?.milliseconds).toBe(30 * MINUTE);
    expect(again.wait?.milliseconds).toBe(45_000);
    expect(weigh.main?.label).toBe("pull");
    expect(weigh.facts.map((f) => `${f.label} ${f.shown.text}`)).toEqual(["got 0.4 L"]);
  });

  it("tell a column by the names of its rows", () => {
    const [pour] = benchSteps(
      openBook('table t\n| item | g (g) |\n| salt | 5 |\n| sugar | 6 |\nstep "Add {t.g}, {2 g}."\n'),
    );
    expect(pour?.text).toBe("Add salt 5 g, sugar 6 g, 2 g.");
  });

  it("show large what the hand weighs one after the other, and the sum after it", () => {
    const [pour, words, all] = benchSteps(
      openBook(`table t
| item | g (g)   | note |
| salt | 5 ± 0.1 | fine |
| rye  |         | -    |
step "That is {sum(t.g)} in all: {t.g}."
step "Look for {t.note}, then wait {2 min}."
step "Add {sum(t.g)}."
`),
    );
    expect(pour?.pours).toEqual([
      { label: "salt", number: "5.00", spread: "0.10", unit: "g" },
      { label: "rye", number: "______", unit: "" },
    ]);
    expect(pour?.main).toBeUndefined();
    expect(pour?.facts.map((f) => f.shown.text)).toEqual(["5.00 ± 0.10 g"]);
    // A column of words is nothing to pour, and a sum alone is what is added.
    expect([words?.pours, words?.main?.shown.text]).toEqual([[], "2 min"]);
    expect([all?.pours, all?.main?.shown.text]).toEqual([[], "5.00 ± 0.10 g"]);
  });

  it("tell two steps of one sentence apart", () => {
    expect(rinse.key).not.toBe(again.key);
    const run = following(start, { type: "done", step: rinse, at: 5 });
    expect(recordOf(run, rinse)?.doneAt).toBe(5);
    expect(recordOf(run, again)).toBeUndefined();
  });

  it("say when a wait is no length of time, instead of counting it", () => {
    expect(weigh.wait).toEqual({
      milliseconds: undefined,
      text: "60 mbar",
      says: "A wait is a length of time, and this is 60 mbar.",
    });
  });

  it("keep their clock when a step is put in above them, and when their sentence is rewritten", () => {
    const run = following(
      start,
      { type: "timer", step: pull, do: "start", at: 10 },
      { type: "done", step: rinse, at: 20 },
    );
    const put = benchSteps(
      book.edit(book.text.replace('step "Pull', 'step "Look the glass over."\nstep "Pull')),
    );
    expect(put.map((s) => [s.number, recordOf(run, s)?.timer?.since, recordOf(run, s)?.doneAt])).toEqual([
      [1, undefined, undefined],
      [2, 10, undefined],
      [3, undefined, 20],
      [4, undefined, undefined],
      [5, undefined, undefined],
    ]);
    const reworded = benchSteps(book.edit(book.text.replace("Pull to", "Pull slowly to")));
    expect(recordOf(run, reworded[0]!)?.timer?.since).toBe(10);
    const renewed = following(run, { type: "timer", step: reworded[0]!, do: "pause", at: 30 });
    expect(renewed.steps).toHaveLength(2);
    expect(recordOf(renewed, reworded[0]!)?.timer).toEqual({ before: 20 });
  });
});

describe("what speaks against taking a step for done", () => {
  const kettle = openBook(`book "Kettle"
set t = blank in °C
set g = blank in g
set unknown = blank in min
step "Steep." wait 30 min
step "Rest." wait unknown
step "Nothing to wait for." wait 0 min
step "Read." ask t in °C ask g in g
step "Both." wait 2 h ask t in °C
`);
  type Step = (typeof steps)[0];
  const [steep, rest, none, read, both] = benchSteps(kettle) as readonly Step[] as readonly [
    Step,
    Step,
    Step,
    Step,
    Step,
  ];
  const says = (run: Run, step: Step) => doubtAt(kettle, run, step)?.says;

  it("is a wait that never began, until its clock goes or it was passed over once", () => {
    expect(says(start, steep)).toBe("The wait of 30 min never began.");
    expect(says(start, rest)).toBe("The wait never began.");
    expect(says(start, none)).toBeUndefined();
    const going = following(start, { type: "timer", step: steep, do: "start", at: 5 });
    expect(says(going, steep)).toBeUndefined();
    expect(says(following(going, { type: "timer", step: steep, do: "pause", at: 9 }), steep)).toBeUndefined();
    expect(says(following(going, { type: "timer", step: steep, do: "again", at: 9 }), steep)).toBe(
      "The wait of 30 min never began.",
    );
    expect(says(following(start, { type: "done", step: steep, at: 9 }), steep)).toBeUndefined();
  });

  it("is a reading that was typed and cannot be read, never one that was not typed", () => {
    const typed = (path: string, what: string, run = start) =>
      following(run, { type: "read", path, typed: what, at: 1 });
    expect(says(start, read)).toBeUndefined();
    expect(says(typed("t", "24,5"), read)).toBeUndefined();
    expect(says(typed("t", "warm"), read)).toBe("“warm” is no reading of t.");
    expect(says(typed("g", "1,234", typed("t", "5 g")), read)).toBe(
      "“5 g” is no reading of t, and “1,234” at g may mean two numbers.",
    );
    // Passed over once, a reading that is none is asked about again: it would not be written.
    expect(says(following(typed("t", "warm"), { type: "done", step: read, at: 2 }), read)).toBe(
      "“warm” is no reading of t.",
    );
    expect(doubtAt(kettle, typed("t", "warm"), both)).toEqual({
      says: "The wait of 2 h never began, and “warm” is no reading of t.",
      wait: true,
      unread: 1,
      far: 0,
      again: 0,
    });
  });

  it("is a reading far from its plan, until it was gone on with as it stands", () => {
    const scale = openBook(`book "Scale"
set a = blank in g
set b = blank in g
set c = blank in °C
set d = blank in g
set e = blank in °F
step "Read." ask a in g expect 1836 g ± 2 g ask b in g expect 200 g ask c in °C expect 80 °C ask d in g expect 0 g ask e in °F expect 176 °F
`);
    const [weigh] = benchSteps(scale) as unknown as [Step];
    const typed = (what: Record<string, string>, run = start, at = 1) =>
      following(
        run,
        ...Object.entries(what).map(([path, text]) => ({ type: "read", path, typed: text, at }) as const),
      );
    const told = (what: Record<string, string>) => doubtAt(scale, typed(what), weigh)?.says;
    // Twice its ±, where the plan has one.
    expect(told({ a: "1340.5" })).toBe("a is 495.5 g under the plan.");
    expect(told({ a: "1840" })).toBeUndefined();
    expect(told({ a: "1840.1" })).toBe("a is 4.1 g over the plan.");
    // A tenth of the plan without one; nothing where the plan is nought.
    expect([told({ b: "180" }), told({ b: "220" }), told({ d: "9" })]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(told({ b: "179.9", a: "1 kg" })).toBe(
      "a is 836 g under the plan, and b is 20.1 g under the plan.",
    );
    // For a temperature 10 K, in whichever unit.
    expect([told({ c: "70" }), told({ e: "194" })]).toEqual([undefined, undefined]);
    expect(told({ c: "69.5" })).toBe("c is 10.5 K under the plan.");
    expect(told({ e: "194.9" })).toBe("e is 10.5 K over the plan.");
    expect(doubtAt(scale, typed({ b: "50", c: "hot" }), weigh)).toEqual({
      says: "b is 150 g under the plan, and “hot” is no reading of c.",
      wait: false,
      unread: 1,
      far: 1,
      again: 1,
    });
    const gone = following(typed({ b: "50" }), { type: "done", step: weigh, at: 2 });
    expect(doubtAt(scale, gone, weigh)).toBeUndefined();
    expect(doubtAt(scale, typed({ b: "51" }, gone, 3), weigh)?.says).toBe("b is 149 g under the plan.");
  });

  it("leaves the plan as it was, while what comes after is told from what was read", () => {
    const dilute = openBook(`book "Dilute"
table runs "Runs"
| run | got (mL) |
| 1   | 400      |
set blend = 1000 g
set weighed = blank in g
set vessel = if weighed is blank then blend else weighed
step "Weigh {blend}." ask weighed in g expect vessel ± 2 g ask runs.got in mL
step "Add {vessel / 2} of water to {vessel}." wait vessel / 1 g * 1 min
`);
    const told = (...typed: (readonly [string, string])[]) =>
      toldSteps(
        dilute,
        following(
          start,
          ...typed.map(([path, text]) => ({ type: "read", path, typed: text, at: 1 }) as const),
        ),
      );
    const planned = benchSteps(dilute);
    expect(told()).toBe(planned);
    // What cannot be read and what makes a row of its own change nothing.
    expect(told(["weighed", "l2"], ["runs.got", "5"])).toBe(planned);
    const [weigh, add] = told(["weighed", "940,5"], ["runs.got", "5"]);
    expect(weigh?.text).toBe("Weigh 1000 g.");
    expect(weigh?.asks[0]?.expect?.number).toBe("1000.0");
    expect(add?.text).toBe("Add 470.25 g of water to 940.5 g.");
    expect(add?.main?.shown.text).toBe("470.25 g");
    expect(add?.wait?.milliseconds).toBe(1000 * MINUTE);
    expect([add?.key, add?.number]).toEqual([planned[1]?.key, 2]);
  });

  it("leads from the end to every step that still wants a reading", () => {
    const wanting = (run: Run) =>
      wantingSteps(kettle, run, benchSteps(kettle)).map(({ step, labels }) => [step.number, ...labels]);
    expect(wanting(start)).toEqual([
      [4, "t", "g"],
      [5, "t"],
    ]);
    const half = following(start, { type: "read", path: "t", typed: "24", at: 1 });
    expect(wanting(half)).toEqual([[4, "g"]]);
    expect(wanting(following(half, { type: "read", path: "g", typed: "some", at: 2 }))).toEqual([[4, "g"]]);
    expect(wanting(following(half, { type: "read", path: "g", typed: "7", at: 2 }))).toEqual([]);
  });
});

describe("a run", () => {
  it("goes to the next step when one is done, and back, and never before the first", () => {
    const run = following(start, { type: "done", step: pull, at: 7 }, { type: "done", step: rinse, at: 8 });
    expect(run.at).toBe(3);
    expect(following(run, { type: "go", to: 1 }).at).toBe(1);
    expect(following(run, { type: "go", to: 0 }).at).toBe(1);
    expect(recordOf(following(run, { type: "undone", step: pull }), pull)?.doneAt).toBeUndefined();
  });

  it("keeps one reading for a path, in its place, and none when it is emptied", () => {
    const run = following(
      start,
      { type: "read", path: "runs.got", typed: "4", at: 1 },
      { type: "read", path: "b", typed: "x", at: 2 },
      { type: "read", path: "runs.got", typed: "403,5", at: 3 },
    );
    expect(run.readings).toEqual([
      { path: "runs.got", typed: "403,5", at: 3 },
      { path: "b", typed: "x", at: 2 },
    ]);
    expect(following(run, { type: "read", path: "runs.got", typed: " ", at: 4 }).readings).toHaveLength(1);
  });

  it("changes nothing of the run it was given", () => {
    const frozen = JSON.stringify(start);
    following(start, { type: "read", path: "a", typed: "1", at: 1 }, { type: "warm", do: "start", at: 2 });
    expect(JSON.stringify(start)).toBe(frozen);
  });
});

describe("clocks", () => {
  it("count every spell between start and pause, through any number of reloads", () => {
    const spells = fc.array(fc.tuple(fc.integer({ min: 0, max: 9e6 }), fc.integer({ min: 0, max: 9e6 })), {
      maxLength: 12,
    });
    fc.assert(
      fc.property(spells, fc.integer({ min: 0, max: 9e6 }), (gone, open) => {
        let now = 1_700_000_000_000;
        let run = start;
        let total = 0;
        for (const [going, held] of gone) {
          run = kept(runAfter(run, { type: "timer", step: pull, do: "start", at: now }));
          now += going;
          total += going;
          run = kept(runAfter(run, { type: "timer", step: pull, do: "pause", at: now }));
          now += held;
        }
        run = kept(runAfter(run, { type: "timer", step: pull, do: "start", at: now }));
        expect(elapsed(recordOf(run, pull)?.timer, now + open)).toBe(total + open);
      }),
    );
  });

  it("hold nothing but moments: the run is the same object while time goes by", () => {
    const run = following(start, { type: "timer", step: pull, do: "start", at: 1000 });
    expect(run.steps[0]!.timer).toEqual({ before: 0, since: 1000 });
    expect(runAfter(run, { type: "timer", step: pull, do: "start", at: 9000 }).steps[0]!.timer).toEqual({
      before: 0,
      since: 1000,
    });
  });

  it("lose nothing when the machine's clock is set back", () => {
    const run = following(
      start,
      { type: "timer", step: pull, do: "start", at: 5000 },
      { type: "timer", step: pull, do: "pause", at: 9000 },
      { type: "timer", step: pull, do: "start", at: 9000 },
    );
    expect(elapsed(recordOf(run, pull)?.timer, 2000)).toBe(4000);
  });

  it("count down to nought, then tell by how much they are over", () => {
    const timer = { before: 0, since: 0 };
    expect(waitState(undefined, 30 * MINUTE, 0)).toEqual({ state: "not begun", shown: 30 * MINUTE });
    expect(waitState(timer, 30 * MINUTE, 1)).toEqual({ state: "going", shown: 30 * MINUTE });
    expect(waitState(timer, 30 * MINUTE, 30 * MINUTE - 1).shown).toBe(1000);
    expect(waitState(timer, 30 * MINUTE, 31 * MINUTE)).toEqual({ state: "over", shown: MINUTE });
    expect(waitState({ before: MINUTE }, 30 * MINUTE, 0)).toEqual({ state: "held", shown: 29 * MINUTE });
    expect(waitState(timer, undefined, 5000)).toEqual({ state: "going", shown: 5000 });
  });

  it("are written for a cook", () => {
    expect(clockText(2_538_000)).toBe("0:42:18");
    expect(clockText(86_400_000)).toBe("24:00:00");
    expect(clockText(-5)).toBe("0:00:00");
    expect([20_000, 40 * MINUTE, 120 * MINUTE, 125 * MINUTE].map(spanText)).toEqual([
      "20 s",
      "40 min",
      "2 h",
      "2 h 5 min",
    ]);
  });
});

describe("alarms", () => {
  const going = following(start, { type: "timer", step: pull, do: "start", at: 0 });

  it("come when a wait is over, at whatever step the run stands, and stay until they are heard", () => {
    expect(alarmsOf(going, steps, 30 * MINUTE - 1)).toEqual([]);
    const elsewhere = following(going, { type: "go", to: 3 });
    expect(alarmsOf(kept(elsewhere), steps, 30 * MINUTE).map((a) => a.says)).toEqual([
      "Step 1: 30 min are over.",
    ]);
    const heard = following(elsewhere, { type: "timer", step: pull, do: "heard", at: 31 * MINUTE });
    expect(alarmsOf(heard, steps, 40 * MINUTE)).toEqual([]);
  });

  it("do not come from a clock that is held, nor after the run", () => {
    const held = following(going, { type: "timer", step: pull, do: "pause", at: 31 * MINUTE });
    expect(alarmsOf(held, steps, 40 * MINUTE)).toEqual([]);
    const over = following(going, { type: "finish", at: 1 });
    expect(alarmsOf(over, steps, 40 * MINUTE)).toEqual([]);
    expect(isTicking(over)).toBe(false);
    expect(isTicking(held)).toBe(false);
    expect(isTicking(going)).toBe(true);
  });

  it("count the warm hours over all spells and come at 2 h, then at 4 h", () => {
    let run = following(
      start,
      { type: "warm", do: "start", at: 0 },
      { type: "warm", do: "pause", at: 90 * MINUTE },
      { type: "warm", do: "start", at: 500 * MINUTE },
    );
    expect(alarmsOf(run, steps, 529 * MINUTE)).toEqual([]);
    expect(untilNextRule(run.warm, 529 * MINUTE)).toBe("1 min until 2 h are reached");
    expect(alarmsOf(run, steps, 530 * MINUTE).map((a) => a.says)).toEqual([
      "Warm clock: 2 h between 5 and 60 °C are reached.",
    ]);
    run = following(run, { type: "warm-heard", hours: 2 });
    expect(alarmsOf(run, steps, 640 * MINUTE)).toEqual([]);
    expect(alarmsOf(run, steps, 650 * MINUTE).map((a) => a.id)).toEqual(["warm 4"]);
    expect(untilNextRule(run.warm, 650 * MINUTE)).toBeUndefined();
  });

  it("take what was warm before, and never count below nought", () => {
    const run = following(start, { type: "warm", do: "start", at: 0 });
    const more = following(run, { type: "warm-add", minutes: 15, at: 5 * MINUTE });
    expect(elapsed(more.warm, 6 * MINUTE)).toBe(21 * MINUTE);
    const less = following(more, { type: "warm-add", minutes: -60, at: 6 * MINUTE });
    expect(elapsed(less.warm, 7 * MINUTE)).toBe(MINUTE);
    expect(following(start, { type: "warm-add", minutes: 15, at: 3 }).warm).toEqual({
      before: 15 * MINUTE,
      heardHours: 0,
    });
  });
});

describe("runs in the browser's store", () => {
  it("are written whole, found again, offered until they are finished, and taken out", async () => {
    const db = await openRuns(new IDBFactory());
    const run = following(start, { type: "read", path: "runs.got", typed: "403,5", at: 9 });
    expect(await saveRun(db, run, 0, 100)).toEqual({ saved: true, revision: 1 });
    expect((await keptRun(db, "id"))?.run).toEqual(run);
    expect((await begunRuns(db)).map((r) => r.run.book)).toEqual(["id"]);
    await saveRun(db, following(run, { type: "finish", at: 200 }), 1, 200);
    expect(await begunRuns(db)).toEqual([]);
    await forgetRun(db, "id");
    expect(await keptRun(db, "id")).toBeUndefined();
  });

  it("are never overwritten by a tab that started from an older state", async () => {
    const db = await openRuns(new IDBFactory());
    await saveRun(db, start, 0, 1);
    const mine = following(start, { type: "go", to: 2 });
    const theirs = following(start, { type: "go", to: 3 });
    await saveRun(db, theirs, 1, 2);
    const late = await saveRun(db, mine, 1, 3);
    expect(late.saved).toBe(false);
    expect(late.saved ? undefined : late.theirs?.run.at).toBe(3);
    expect((await keptRun(db, "id"))?.run.at).toBe(3);
  });

  it("of another layout are left alone", () => {
    expect(isRun(start)).toBe(true);
    for (const other of [
      undefined,
      null,
      5,
      "run",
      {},
      { ...start, layout: 2 },
      { ...start, readings: "none" },
    ])
      expect(isRun(other)).toBe(false);
  });
});
