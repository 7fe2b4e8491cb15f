import { describe, expect, it } from "vitest";
import { callPhysics, callValue } from "../../src/engine/call";
import { declaredUnit, unitFor } from "../../src/engine/results";
import { exact, format, kinds, parseUnit, plainUnit, quantity, spreadBy, Trouble } from "../../src/quantity";
import type {
  Parameter,
  PhysicsDeclaration,
  ResultPart,
  ValueDeclaration,
} from "../../src/vocabulary/declaration";
import { gap, list, record, text, truth, type Value } from "../../src/vocabulary/value";

/** How a function is called, with functions that only these tests have: what it takes, refuses, and gives back. */

const CORE = { group: "x", says: "x", equation: "x", source: "x", range: "x", examples: [] };
const one = (name: string, takes: Parameter["takes"], more: Partial<Parameter> = {}): Parameter => ({
  name,
  says: "x",
  takes,
  ...more,
});
const of = (...all: (typeof kinds)[keyof typeof kinds][]) => all.map((kind) => ({ kind }));
const part = (name: string, holds: ResultPart["holds"]): ResultPart => ({ name, says: "x", holds });
const physics = (
  parameters: readonly Parameter[],
  result: readonly ResultPart[],
  compute: PhysicsDeclaration["compute"],
  more: Partial<PhysicsDeclaration> = {},
): PhysicsDeclaration => ({ ...CORE, name: "pour", parameters, result, compute, ...more });
const value = (
  parameters: readonly Parameter[],
  evaluate: ValueDeclaration["evaluate"],
  more: Partial<ValueDeclaration> = {},
): ValueDeclaration => ({ ...CORE, name: "turn", parameters, result: [part("", "any")], evaluate, ...more });

const q = (written: string): Value & { type: "quantity" } => {
  const [digits, unit] = written.split(" ");
  return quantity(exact(digits!), unit === undefined ? plainUnit : parseUnit(unit));
};
const spread = (written: string, by: string, input: string) => spreadBy(q(written), q(by), input);
const share = (digits: string, kind = kinds.moisture) => quantity(exact(digits), declaredUnit(kind, "%"));
const fault: Value = { type: "fault", code: "x", says: "wrong" };
const date: Value = { type: "date", iso: "2026-02-03", day: 20487 };
const origin = { table: "t", rows: [0, 1, 2], names: ["a", "", "c"] };

const told = (v: Value): unknown =>
  v.type === "quantity"
    ? format(v)
    : v.type === "text"
      ? `“${v.text}”`
      : v.type === "truth"
        ? v.value
        : v.type === "list"
          ? v.entries.map(told)
          : v.type === "record"
            ? Object.fromEntries([...v.parts].map(([name, p]) => [name, told(p)]))
            : v.type === "date"
              ? v.iso
              : `${v.type}: ${v.says}`;
/** What comes out, or how it is refused: for which parameter, what is said, what to do. */
const outcome = (work: () => Value): unknown => {
  try {
    return told(work());
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
    const { code, says, help } = error;
    const of = (error as { parameter?: string }).parameter;
    return [of, code, says, help].filter((s) => s !== undefined).join(" | ");
  }
};

describe("a parameter of a physics function", () => {
  const give = (takes: Parameter["takes"], v: Value, more: Partial<Parameter> = {}) =>
    outcome(() =>
      callPhysics(
        physics([one("amount", takes, more)], [part("", { kind: kinds.plain, unit: "", unitOf: "" })], (n) =>
          typeof n.amount === "number"
            ? n.amount
            : typeof n.amount === "string"
              ? n.amount.length
              : (n.amount?.length ?? -1),
        ),
        [v],
        "here",
      ),
    );
  const halved = [{ kind: kinds.volume }, { kind: kinds.mass, toNumber: (si: number) => si / 2 }];
  it.each<[string, Parameter["takes"], Value, unknown, Partial<Parameter>?]>([
    ["takes its kind, in SI", of(kinds.volume), q("250 mL"), "0.00025"],
    ["takes one of two kinds, each by its own step", halved, q("3 kg"), "1.5"],
    ["and the other", halved, q("3 L"), "0.003"],
    ["takes a plain ratio as a water content", of(kinds.moisture), q("18 %"), "0.18"],
    ["takes a plain ratio as an activity", of(kinds.activity), q("0.6"), "0.6"],
    ["takes a water content as a plain ratio", of(kinds.plain), share("18"), "0.18"],
    ["takes an activity as a plain ratio", of(kinds.plain), share("60", kinds.activity), "0.6"],
    [
      "takes the kind itself before one that fits beside it",
      [{ kind: kinds.plain, toNumber: () => 7 }, { kind: kinds.moisture }],
      share("18"),
      "0.18",
    ],
    [
      "refuses a water content for an activity",
      of(kinds.activity),
      share("18"),
      /^amount \| argument-kind \| `pour` wants a water activity for `amount`, and is given a water content, 18 %\./,
    ],
    [
      "refuses an activity for a water content",
      of(kinds.moisture),
      share("60", kinds.activity),
      /^amount \| argument-kind \| `pour` wants a water content for `amount`, and is given a water activity, 60 %\./,
    ],
    [
      "refuses a strength for a plain ratio",
      of(kinds.plain),
      q("40 %vol"),
      /^amount \| argument-kind \| `pour` wants a plain number for `amount`, and is given a strength by volume, 40 %vol\./,
    ],
    [
      "names both of two kinds",
      of(kinds.volume, kinds.mass),
      q("3 min"),
      "amount | argument-kind | `pour` wants a volume or a mass for `amount`, and is given a time, 3 min.",
    ],
    [
      "tells what a strength is written in",
      of(kinds.strengthVolume),
      q("40 %"),
      "amount | argument-kind | `pour` wants a strength by volume for `amount`, and is given a plain number, 40 %. | Write the strength with its unit: `%vol` by volume, `%mas` by mass.",
    ],
    [
      "tells what a volume weighs",
      of(kinds.mass),
      q("3 L"),
      "amount | argument-kind | `pour` wants a mass for `amount`, and is given a volume, 3 L. | Weigh it, or write `mass_of(3 L, 40 %vol)` with its own strength.",
    ],
    [
      "tells what a volume of its own matter weighs",
      of(kinds.mass),
      q("3 L"),
      "amount | argument-kind | `pour` wants a mass for `amount`, and is given a volume, 3 L. | Water weighs 0.998 g a millilitre at 20 °C: write `mass_of(3 L, 0 %vol)`.",
      { matter: "water" },
    ],
    [
      "tells what a mass takes up",
      of(kinds.volume),
      q("3 kg"),
      "amount | argument-kind | `pour` wants a volume for `amount`, and is given a mass, 3 kg. | Of a spirit, `volume_of(3 kg, 40 %vol)` is the volume: put in its own strength.",
    ],
    [
      "tells what a mass takes up in a vessel",
      of(kinds.volume),
      q("3 kg"),
      "amount | argument-kind | `pour` wants a volume for `amount`, and is given a mass, 3 kg. | Give the room inside, as it stands on the glass or as water fills it, for example 2 L.",
      { matter: "vessel" },
    ],
    [
      "tells what a typed K is",
      of(kinds.temperature),
      q("300 K"),
      "amount | argument-kind | `pour` wants a temperature for `amount`, and is given a temperature difference, 300 K. | A typed K is a difference. As a temperature this is `26.85 °C`.",
    ],
    [
      "refuses what is no quantity",
      of(kinds.volume, kinds.mass),
      text("much"),
      "amount | argument-kind | `pour` wants a volume or a mass for `amount`, and is given the text “much”.",
    ],
    [
      "refuses a date",
      of(kinds.volume),
      date,
      "amount | argument-kind | `pour` wants a volume for `amount`, and is given the date 2026-02-03.",
    ],
    [
      "refuses a result with parts, and says how one of them is taken",
      of(kinds.volume),
      record([["volume", q("3 L")]]),
      /^record-as-value \| A result with parts has no value of its own\. Its parts are volume\./,
    ],
    ["takes a text", "text", text("four"), "4"],
    ["takes one of its choices", "text", text("ice"), "3", { choices: ["ice", "water"] }],
    [
      "refuses another",
      "text",
      text("snow"),
      'amount | argument-choice | `pour` knows no `amount` called “snow”. | Choose "ice" or "water".',
      { choices: ["ice", "water"] },
    ],
    [
      "refuses a number for a text",
      "text",
      q("3 L"),
      "amount | argument-kind | `pour` wants a text for `amount`, and is given a volume.",
    ],
    [
      "refuses a number for a choice, and tells what there is to choose",
      "text",
      q("3 L"),
      'amount | argument-kind | `pour` wants a text for `amount`, and is given a volume. | Choose "ice" or "water".',
      { choices: ["ice", "water"] },
    ],
    ["takes texts", "text", list([text("a"), text("b")]), "2", { list: true }],
    ["takes one text where texts are wanted", "text", text("abc"), "1", { list: true }],
    [
      "refuses a number among texts",
      "text",
      list([text("a"), q("3 L")]),
      "amount | argument-kind | `pour` wants a text for `amount`, and is given a volume.",
      { list: true },
    ],
    ["takes a list", of(kinds.volume), list([q("1 L"), q("2 mL"), q("3 L")]), "3", { list: true }],
    ["takes one value where a list is wanted", of(kinds.volume), q("1 L"), "1", { list: true }],
    ["takes an empty list", of(kinds.volume), list([]), "0", { list: true }],
    [
      "refuses a list of two kinds",
      of(kinds.volume, kinds.mass),
      list([q("1 L"), q("2 kg")]),
      "list-kinds | The entries of `amount` are of different kinds: a volume and a mass.",
      { list: true },
    ],
    [
      "refuses a list with another kind",
      of(kinds.volume),
      list([q("1 L"), q("2 min")]),
      "amount | argument-kind | `pour` wants a volume for `amount`, and is given a time, 2 min.",
      { list: true },
    ],
    [
      "refuses a text in a list",
      of(kinds.volume),
      list([q("1 L"), text("x")]),
      "amount | argument-kind | `pour` wants a volume for `amount`, and is given the text “x”.",
      { list: true },
    ],
    ["is a gap with a gap", of(kinds.volume), gap("not yet"), "gap: not yet"],
    ["is a fault with a fault", of(kinds.volume), fault, "fault: wrong"],
    [
      "is a gap with a gap in its list",
      of(kinds.volume),
      list([q("1 L"), gap("not yet")]),
      "gap: not yet",
      { list: true },
    ],
    [
      "is the first of a gap and a fault in its list",
      of(kinds.volume),
      list([gap("not yet"), fault]),
      "gap: not yet",
      { list: true },
    ],
    [
      "is a list of results with a list where one is wanted",
      of(kinds.volume),
      list([q("1 L"), gap("not yet"), q("2 L")]),
      ["0.001", "gap: not yet", "0.002"],
    ],
    ["is an empty list with an empty one", of(kinds.volume), list([]), []],
  ])("%s", (_, takes, v, says, more = {}) => {
    if (says instanceof RegExp) expect(give(takes, v, more)).toMatch(says);
    else expect(give(takes, v, more)).toEqual(says);
  });
});

describe("a physics function", () => {
  const two = [one("a", of(kinds.volume)), one("b", of(kinds.mass), { optional: true })];
  const SUM = physics(
    two,
    [part("", { kind: kinds.plain, unit: "", unitOf: "" })],
    (n) => (n.a as number) * 1000 + ((n.b as number | undefined) ?? 0),
  );
  it.each<[string, readonly (Value | undefined)[], unknown]>([
    ["without what may be left out", [q("2 L"), undefined], "2"],
    ["with it", [q("2 L"), q("3 kg")], "5"],
    ["with one list", [list([q("1 L"), q("2 L")]), q("3 kg")], ["4", "5"]],
    ["with the other list", [q("2 L"), list([q("1 kg"), q("2 kg")])], ["3", "4"]],
    ["with two", [list([q("1 L"), q("2 L")]), list([q("10 kg"), q("20 kg")])], ["11", "22"]],
    ["with a list and nothing", [list([q("1 L"), q("2 L")]), undefined], ["1", "2"]],
    [
      "with two of other lengths",
      [list([q("1 L"), q("2 L")]), list([q("10 kg")])],
      "list-lengths | These lists do not match: 2 entries and 1.",
    ],
    ["with a gap before a fault", [gap("not yet"), fault], "fault: wrong"],
    ["with a fault in one entry", [list([q("1 L"), fault]), q("3 kg")], ["4", "fault: wrong"]],
    [
      "with one entry that is wrong",
      [list([q("1 L"), q("3 min")]), q("3 kg")],
      ["4", "fault: `pour` wants a volume for `a`, and is given a time, 3 min."],
    ],
  ])("is called %s", (_, args, is) => expect(outcome(() => callPhysics(SUM, args, "here"))).toEqual(is));
  it("hands each entry over to be made, and counts what each takes: more with every ±", () => {
    const work: number[] = [];
    let made = 0;
    const lists = [list([q("1 L"), spread("2 L", "1 L", "x")]), spread("3 kg", "1 kg", "y")];
    callPhysics(
      SUM,
      lists,
      "here",
      undefined,
      (w) => work.push(w),
      (make) => {
        made++;
        return make();
      },
    );
    expect([made, work]).toEqual([2, [450, 750]]);
    work.length = 0;
    callPhysics({ ...SUM, effort: 4 }, [q("1 L"), undefined], "here", undefined, (w) => work.push(w));
    callPhysics(SUM, [q("1 L"), undefined], "here", undefined, (w) => work.push(w));
    expect(work).toEqual([600, 150]);
  });
  it("names the model's own uncertainty by the call and the entry", () => {
    const model = { ...SUM, modelUncertainty: () => 0.5 };
    const inputs = (v: Value): unknown =>
      v.type === "list"
        ? v.entries.map(inputs)
        : v.type === "quantity"
          ? [...(v.spread?.keys() ?? [])]
          : v.type;
    const some = list([spread("1 L", "0.1 L", "x"), spread("2 L", "0.1 L", "y")]);
    expect(inputs(callPhysics(model, [some, undefined], "here"))).toEqual([
      ["x", "the equation of pour @here.1"],
      ["y", "the equation of pour @here.2"],
    ]);
    expect(inputs(callPhysics(model, [spread("1 L", "0.1 L", "x"), undefined], "here"))).toEqual([
      "x",
      "the equation of pour @here",
    ]);
    // Books without ± carry none.
    expect(inputs(callPhysics(model, [q("1 L"), undefined], "here"))).toEqual([]);
    const asked: string[] = [];
    const drawn = callPhysics(model, [q("1 L"), undefined], "here", (input) => {
      asked.push(input);
      return 2;
    });
    expect([asked, told(drawn)]).toEqual([["the equation of pour @here"], "2"]);
  });
  it("keeps each remark once, and those that came with what it was given", () => {
    const says = (n: Value): unknown => n.notes?.map((m) => (m.caution ? `! ${m.text}` : m.text));
    const note = (v: Value & { type: "quantity" }, ...notes: string[]) =>
      quantity(
        v.n,
        v.unit,
        undefined,
        notes.map((words) => ({ text: words })),
      );
    const talks = physics(
      [one("a", of(kinds.volume)), one("b", of(kinds.mass), { list: true })],
      SUM.result,
      (_, call) => {
        call.note("twice");
        call.note("twice");
        call.caution("hot");
        call.caution("hot");
        call.note("hot");
        call.note("given");
        return 1;
      },
    );
    expect(
      says(
        callPhysics(
          talks,
          [note(q("1 L"), "given"), list([note(q("1 kg"), "entry"), note(q("1 kg"), "entry", "other")])],
          "here",
        ),
      ),
    ).toEqual(["given", "entry", "other", "twice", "! hot"]);
  });
  it("hears in which kind an argument was given", () => {
    const heard: unknown[] = [];
    const asks = physics(
      [
        one("a", of(kinds.volume, kinds.mass)),
        one("b", of(kinds.volume, kinds.mass), { optional: true, list: true }),
      ],
      SUM.result,
      (_, call) => {
        heard.push(call.kindOf("a"), call.kindOf("b"));
        return 1;
      },
    );
    callPhysics(asks, [q("1 kg"), list([q("1 L"), q("2 L")])], "here");
    callPhysics(asks, [q("1 L"), undefined], "here");
    expect(heard).toEqual([kinds.mass, kinds.volume, kinds.volume, undefined]);
  });
  it("that takes dates or anything is a mistake in its declaration", () => {
    for (const takes of ["date", "any"] as const)
      expect(() =>
        callPhysics(
          physics([one("a", takes)], SUM.result, () => 1),
          [date],
          "here",
        ),
      ).toThrow("pour: a physics function takes quantities and texts only");
  });
  it("that comes to no number at all says so, with the part that does", () => {
    const odd = (result: ReturnType<PhysicsDeclaration["compute"]>, name: string) =>
      outcome(() =>
        callPhysics(
          physics(two, [part(name, { kind: kinds.plain, unit: "" })], () => result),
          [q("1 L"), undefined],
          "here",
        ),
      );
    expect(odd(Number.NaN, "")).toBe(
      "not-a-number | The result came out as no number at all. | Check the inputs for extreme values.",
    );
    expect(odd({ heat: Number.POSITIVE_INFINITY }, "heat")).toBe(
      "not-a-number | The heat came out as no number at all. | Check the inputs for extreme values.",
    );
  });
});

describe("lists that belong together", () => {
  const blend = physics(
    [
      one("volumes", of(kinds.volume), { list: true }),
      one("strengths", of(kinds.strengthVolume), { list: true }),
      one("entries", "text", { list: true, optional: true }),
    ],
    [part("", { kind: kinds.plain, unit: "", unitOf: "" })],
    (n) =>
      ((n.volumes as readonly number[] | undefined)?.length ?? 0) +
      ((n.strengths as readonly number[] | undefined)?.length ?? 0) * 10 +
      ((n.entries as unknown as readonly string[] | undefined)?.length ?? 0) * 100,
    { together: ["volumes", "strengths"] },
  );
  const [L, S, G] = [q("1 L"), q("40 %vol"), gap("blank", "t.x.y")];
  it.each<[string, readonly (Value | undefined)[], unknown]>([
    ["are as long as each other", [list([L, L]), list([S, S])], "22"],
    ["leave out a row that is blank in both", [list([L, G, L]), list([S, G, S])], "22"],
    ["may all be blank", [list([G, G]), list([G, G])], "0"],
    ["may be single values", [L, S], "11"],
    ["may be left out", [undefined, undefined], "0"],
    ["may be one alone", [list([L, G, L]), undefined], "2"],
    [
      "leave what does not belong to them as it is",
      [list([L, G]), list([S, G]), list([text("a"), text("b"), text("c")])],
      "311",
    ],
    [
      "must be of one length",
      [list([L, L]), list([S])],
      "list-lengths | These lists do not match: 2 entries and 1.",
    ],
    [
      "want both in a row: the second is missing",
      [list([L, L]), list([S, G])],
      "gap: row 2 has a volume but no strength yet",
    ],
    [
      "want both in a row: the first is missing",
      [list([G, L]), list([S, S])],
      "gap: row 1 has a strength but no volume yet",
    ],
    ["name the row", [list([L, L, L], origin), list([S, S, G])], "gap: c has a volume but no strength yet"],
    [
      "name the row also where the other list knows it",
      [list([G, L, L]), list([S, S, S], origin)],
      "gap: a has a strength but no volume yet",
    ],
    [
      "number a row without a name",
      [list([L, L, L], origin), list([S, G, S], origin)],
      "gap: row 2 has a volume but no strength yet",
    ],
    ["come to a fault before a gap in its row", [list([L, G]), list([S, fault])], "fault: wrong"],
    [
      "come to the first row that is wrong",
      [list([L, L]), list([G, fault])],
      "gap: row 1 has a volume but no strength yet",
    ],
    [
      "must be of the same rows",
      [list([L, L, L], origin), list([S, S, S], { ...origin, table: "u", names: ["a", "", "b"] })],
      /^list-rows \| These columns belong to different rows \(t and u\)/,
    ],
  ])("%s", (_, args, is) => {
    const came = outcome(() => callPhysics(blend, args, "here"));
    if (is instanceof RegExp) expect(came).toMatch(is);
    else expect(came).toEqual(is);
  });
  it("name the cell that is missing, and things in the singular", () => {
    expect(callPhysics(blend, [list([L]), list([G])], "here")).toMatchObject({ type: "gap", place: "t.x.y" });
    expect(callPhysics(blend, [list([L]), list([gap("so")])], "here")).not.toHaveProperty("place");
    const odd = physics(
      [one("dry_berries", of(kinds.volume), { list: true }), one("mass", of(kinds.mass), { list: true })],
      blend.result,
      () => 0,
      { together: ["dry_berries", "mass"] },
    );
    expect(told(callPhysics(odd, [list([L]), list([G])], "here"))).toBe(
      "gap: row 1 has a dry berry but no mas yet",
    );
  });
});

describe("the unit of a result", () => {
  const L = { kind: kinds.volume, unit: "L" } as const;
  const declaration = physics(
    [
      one("a", of(kinds.volume)),
      one("b", of(kinds.volume, kinds.mass), { optional: true }),
      one("c", of(kinds.volume), { optional: true, list: true }),
    ],
    [part("", L)],
    () => 0.003,
  );
  it.each<[string, ResultPart["holds"], readonly (Value | undefined)[], string]>([
    ["is that of the first argument of its kind", L, [q("5 mL"), q("3 cL")], "mL"],
    ["is that of the second where the first is of another kind", L, [q("5 kg"), q("3 cL")], "cL"],
    [
      "is that of the first entry of a list",
      L,
      [undefined, undefined, list([gap("x"), q("3 cL"), q("1 L")])],
      "cL",
    ],
    [
      "is that of a list without entries, where it has one",
      L,
      [undefined, undefined, { ...list([]), unit: parseUnit("cL") }],
      "cL",
    ],
    ["is the declared one where nothing lends one", L, [text("x"), q("3 kg"), list([])], "L"],
    ["is the declared one where none is to lend", { ...L, unitOf: "" }, [q("5 mL"), q("3 cL")], "L"],
    ["is that of the argument named", { ...L, unitOf: "b" }, [q("5 mL"), q("3 cL")], "cL"],
    ["is the declared one where that is of another kind", { ...L, unitOf: "b" }, [q("5 mL"), q("3 kg")], "L"],
    ["is in the kind of the argument named", { ...L, kindOf: "b" }, [q("5 mL"), q("3 g")], "g"],
    [
      "is declared where the argument of its kind is left out",
      { ...L, kindOf: "c" },
      [undefined, q("3 g"), undefined],
      "L",
    ],
  ])("%s", (_, holds, args, unit) => expect(unitFor(part("", holds), declaration, args).text).toBe(unit));
  it("is one that is declared once, of its kind", () => {
    expect(declaredUnit(kinds.plain, "")).toBe(plainUnit);
    expect(declaredUnit(kinds.volume, "mL")).toBe(parseUnit("mL"));
    expect(declaredUnit(kinds.volume, "L")).not.toBe(declaredUnit(kinds.volume, "mL"));
    expect(declaredUnit(kinds.moisture, "%")).toBe(declaredUnit(kinds.moisture, "%"));
    expect(declaredUnit(kinds.moisture, "%").kind).toBe(kinds.moisture);
    expect(declaredUnit(kinds.activity, "%").kind).toBe(kinds.activity);
    // A difference of temperatures has no zero that is off.
    const difference = declaredUnit(kinds.difference, "°C");
    expect([difference.kind, difference.offset]).toEqual([kinds.difference, parseUnit("K").offset]);
    expect(() => unitFor(part("x", "text"), declaration, [])).toThrow("pour: the part x has no unit");
  });
});

describe("what a physics function gives back", () => {
  const parts = [
    part("volume", { kind: kinds.volume, unit: "L" }),
    part("left.volume", { kind: kinds.volume, unit: "L" }),
    part("left.says", "text"),
    part("dry", "truth"),
    part("rest", { kind: kinds.mass, unit: "g" }),
  ];
  const given = [one("a", of(kinds.volume), { list: true })];
  const gives = (
    result: ReturnType<PhysicsDeclaration["compute"]>,
    more: Partial<PhysicsDeclaration> = {},
    args: readonly Value[] = [q("5 mL")],
  ) =>
    callPhysics(
      physics(given, parts, () => result, more),
      args,
      "here",
    );
  it("is a record of its parts, dotted ones within, without those that do not apply", () => {
    expect(told(gives({ volume: 0.001, "left.volume": 0.002, "left.says": "so", dry: true }))).toEqual({
      volume: "1000 mL",
      left: { volume: "2000 mL", says: "“so”" },
      dry: true,
    });
  });
  it("is a list of records, with the rows of the list that it stands for", () => {
    const rows = [{ volume: 0.001 }, { volume: 0.002 }, { dry: false }];
    const volumes = list([q("1 L"), q("2 L"), q("3 L")], origin);
    expect(told(gives(rows, {}, [volumes]))).toEqual([{ volume: "1 L" }, { volume: "2 L" }, { dry: false }]);
    const named = (more: Partial<PhysicsDeclaration>, v: Value, result = rows): unknown => {
      const came = gives(result, more, [v]);
      return came.type === "list" && came.origin;
    };
    expect(named({}, volumes)).toBeUndefined();
    expect(named({ rowPer: "a" }, volumes)).toBe(origin);
    expect(named({ rowPer: "b" }, volumes)).toBeUndefined();
    expect(named({ rowPer: "a" }, volumes, rows.slice(1))).toBeUndefined();
    expect(named({ rowPer: "a" }, list(volumes.entries))).toBeUndefined();
  });
  it("may be one part without a name, of a text, a truth or a number, or nothing", () => {
    const single = (holds: ResultPart["holds"], v: string | number | boolean | undefined) =>
      told(
        callPhysics(
          physics(given, [part("", holds)], () => ({ "": v })),
          [q("5 mL")],
          "here",
        ),
      );
    expect(single("text", "so")).toBe("“so”");
    expect(single("truth", false)).toBe(false);
    expect(single({ kind: kinds.volume, unit: "L" }, 0.001)).toBe("1000 mL");
    expect(single("text", undefined)).toBe("“”");
  });
  it("tells of parts that are left out this time", () => {
    const without = (left: readonly string[]) => {
      const came = callPhysics(
        physics(given, parts, (_, call) => {
          if (left.length > 0) call.without(left, { says: "none today" });
          return { volume: 0.001 };
        }),
        [q("1 L")],
        "here",
      );
      return came.type === "record" ? came.without : came.type;
    };
    expect(without(["rest", "dry"])).toEqual(
      new Map([
        ["rest", { says: "none today" }],
        ["dry", { says: "none today" }],
      ]),
    );
    expect(without([])).toBeUndefined();
  });
  it("carries ± in the unit in which it is shown", () => {
    const doubled = physics(
      [one("a", of(kinds.volume))],
      [part("", { kind: kinds.volume, unit: "L" })],
      (n) => (n.a as number) * 2,
    );
    expect(told(callPhysics(doubled, [spread("250 mL", "2 mL", "x")], "here"))).toBe("500.0 ± 4.0 mL");
  });
});

describe("a value function", () => {
  const echo = value([one("a", "any"), one("b", "any", { optional: true })], ({ a, b }) =>
    list([a!, ...(b ? [b] : [])].flatMap((v) => (v.type === "list" ? v.entries : [v]))),
  );
  const takes = (
    t: Parameter["takes"],
    more: Partial<Parameter> = {},
    extra: Partial<ValueDeclaration> = {},
  ) =>
    value(
      [one("a", t, more)],
      ({ a }) => (a!.type === "list" ? text(`list of ${a!.entries.length}`) : text(a!.type)),
      extra,
    );
  const call = (d: ValueDeclaration, ...args: (Value | undefined)[]) => outcome(() => callValue(d, args));
  const L = of(kinds.volume);
  it.each<[string, ValueDeclaration, readonly (Value | undefined)[], unknown]>([
    ["is given what is there", echo, [q("1 L"), undefined], ["1 L"]],
    ["comes to a fault before a gap", echo, [gap("not yet"), fault], "fault: wrong"],
    ["comes to the first gap", echo, [gap("not yet"), gap("nor yet")], "gap: not yet"],
    ["takes a quantity", takes(L), [q("1 L")], "“quantity”"],
    ["takes a ratio as what it may be", takes(of(kinds.moisture)), [q("18 %")], "“quantity”"],
    [
      "refuses another kind",
      takes(L),
      [q("1 min")],
      "a | argument-kind | `turn` wants a volume for `a`, and is given a time, 1 min.",
    ],
    [
      "refuses a text",
      takes(L),
      [text("x")],
      "a | argument-kind | `turn` wants a volume for `a`, and is given the text “x”.",
    ],
    [
      "refuses a list for one value",
      takes(L),
      [list([q("1 L"), q("2 L")])],
      "a | argument-kind | `turn` wants one value for `a`, and is given a list of 2.",
    ],
    ["takes anything, a list too", takes("any"), [list([q("1 L"), text("x")])], "“list of 2”"],
    ["takes anything, a record too", takes("any"), [record([["x", q("1 L")]])], "“record”"],
    [
      "refuses a record else",
      takes(L),
      [record([["x", q("1 L")]])],
      /^record-as-value \| A result with parts/,
    ],
    [
      "refuses a record for a text",
      takes("text"),
      [record([["x", q("1 L")]])],
      /^record-as-value \| A result with parts/,
    ],
    ["takes a list where one is wanted", takes(L, { list: true }), [list([q("1 L")])], "“list of 1”"],
    ["makes a list of one value", takes(L, { list: true }), [q("1 L")], "“list of 1”"],
    ["makes none of a record", takes("any", { list: true }), [record([["x", q("1 L")]])], "“record”"],
    ["makes none where one value is wanted", takes(L), [q("1 L")], "“quantity”"],
    [
      "refuses another kind in a list",
      takes(L, { list: true }),
      [list([q("1 L"), q("1 min")])],
      "a | argument-kind | `turn` wants a volume for `a`, and is given a time, 1 min.",
    ],
    [
      "comes to a gap in its list",
      takes(L, { list: true }),
      [list([q("1 L"), gap("not yet")])],
      "gap: not yet",
    ],
    [
      "comes to a fault in its list",
      takes(L, { list: true }),
      [list([gap("not yet"), fault])],
      "fault: wrong",
    ],
    [
      "is given gaps where it takes them",
      takes(L, { list: true }, { takesGaps: true }),
      [list([q("1 L"), gap("not yet")])],
      "“list of 2”",
    ],
    [
      "comes to a gap that is no entry all the same",
      takes(L, { list: true }, { takesGaps: true }),
      [gap("not yet")],
      "gap: not yet",
    ],
    ["takes a text", takes("text"), [text("x")], "“text”"],
    [
      "refuses a number for a text",
      takes("text"),
      [q("1 L")],
      "a | argument-kind | `turn` wants a text for `a`, and is given a volume.",
    ],
    ["takes a choice", takes("text", { choices: ["ice"] }), [text("ice")], "“text”"],
    [
      "refuses what is no choice",
      takes("text", { choices: ["ice"] }),
      [text("x")],
      'a | argument-choice | `turn` knows no `a` called “x”. | Choose "ice".',
    ],
    ["takes a date", takes("date"), [date], "“date”"],
    [
      "refuses a text for a date",
      takes("date"),
      [text("x")],
      "a | argument-kind | `turn` wants a date for `a`, and is given the text “x”.",
    ],
    [
      "refuses a list for a date",
      takes("date"),
      [list([date])],
      "a | argument-kind | `turn` wants one value for `a`, and is given a list of 1.",
    ],
    ["takes dates", takes("date", { list: true }), [list([date, date])], "“list of 2”"],
    [
      "goes entry by entry where it maps",
      takes(L, {}, { maps: true }),
      [list([q("1 L"), gap("not yet"), q("2 L")])],
      ["“quantity”", "gap: not yet", "“quantity”"],
    ],
    [
      "goes entry by entry through one of two",
      value([one("a", L), one("b", L, { optional: true })], ({ a, b }) => list([a!, b ?? truth(false)]), {
        maps: true,
      }),
      [list([q("1 L"), q("2 L")]), undefined],
      [
        ["1 L", false],
        ["2 L", false],
      ],
    ],
    [
      "repeats the other",
      value([one("a", L), one("b", L)], ({ b }) => b!, { maps: true }),
      [list([q("1 L"), q("2 L")]), q("5 L")],
      ["5 L", "5 L"],
    ],
    [
      "does not map over a list that it wants",
      takes(L, { list: true }, { maps: true }),
      [list([q("1 L"), q("2 L")])],
      "“list of 2”",
    ],
  ])("%s", (_, d, args, is) => {
    if (is instanceof RegExp) expect(call(d, ...args)).toMatch(is);
    else expect(call(d, ...args)).toEqual(is);
  });
  it("keeps each remark once", () => {
    const talks = value([one("a", "any")], ({ a }, heard) => {
      expect([heard.note("so").text, heard.note("so").text, heard.note("or so").text]).toEqual([
        "so",
        "so",
        "or so",
      ]);
      return a!;
    });
    expect(callValue(talks, [q("1 L")]).notes).toEqual([{ text: "so" }, { text: "or so" }]);
  });
});
