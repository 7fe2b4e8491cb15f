import { describe, expect, it } from "vitest";
import { Trouble } from "../../src/quantity";
import { ask, declared } from "./physics-calling";

const trouble = (name: string, given: Parameters<typeof ask>[1]): Trouble => {
  try {
    ask(name, given);
  } catch (error) {
    if (error instanceof Trouble) return error;
    throw error;
  }
  throw new Error(`${name} gave an answer`);
};
const celsius = (kelvin: unknown) => (kelvin as number) - 273.15;

describe("every declaration about spirit and still", () => {
  it("states equation, source, range and trust, and runs an example", () => {
    for (const d of declared) {
      for (const words of [d.equation, d.source, d.range, d.trust ?? "", d.says]) {
        expect(words.length, d.name).toBeGreaterThan(8);
      }
      expect(d.examples.length, d.name).toBeGreaterThan(0);
    }
  });
  it("has a name of its own and lists only parameters that it has as labels", () => {
    expect(new Set(declared.map((d) => d.name)).size).toBe(declared.length);
    for (const d of declared) {
      const names = d.parameters.map((p) => p.name);
      expect(new Set(names).size, d.name).toBe(names.length);
      for (const label of d.labelsOnly ?? []) expect(names, d.name).toContain(label);
      for (const p of d.parameters) {
        if (p.optional) expect(d.labelsOnly ?? [], `${d.name} ${p.name}`).toContain(p.name);
        if (p.name === "to") expect(d.labelsOnly ?? [], d.name).toContain("to");
      }
    }
  });
});

describe("the liquid of a pot", () => {
  it("takes solids or a water activity, never both", () => {
    const both = trouble("boils_at", { pressure: "50 mbar", solids: "60 °Bx", activity: "0.9" });
    expect(both.code).toBe("solids-and-activity");
  });
  it("with sugar and alcohol is an estimate and says so; a sweet spirit boils cooler than a dry one", () => {
    const sweet = ask("boils_at", { pressure: "50 mbar", strength: "25 %vol", solids: "27.7 °Bx" });
    expect(sweet.notes.join()).toContain("estimate");
    const dry = ask("boils_at", { pressure: "50 mbar", strength: "25 %vol" });
    expect(sweet.si[""] as number).toBeLessThan(dry.si[""] as number);
    expect(sweet.model[""]!).toBeGreaterThan(dry.model[""]!);
  });
  it("takes strength by mass of the whole when it is given so", () => {
    // 197.31 g ethanol, 585.202 g water, 300 g sucrose.
    const mass = 197.31 + 585.202 + 300;
    const given = {
      strength: `${(19731 / mass).toFixed(6)} %mas`,
      solids: `${(30000 / mass).toFixed(6)} °Bx`,
    };
    expect(celsius(ask("boils_at", { pressure: "50 mbar", ...given }).si[""])).toBeCloseTo(23.698, 2);
  });
  it("below 15 °C and with alcohol is carried past its data", () => {
    expect(ask("boils_at", { pressure: "25 mbar", strength: "40 %vol" }).notes.join()).toContain(
      "Below 15 °C",
    );
    expect(ask("boils_at", { pressure: "15 mbar" }).notes).toEqual([]);
  });
  it("near the azeotrope under vacuum says what nobody knows", () => {
    expect(ask("first_vapour", { pressure: "90 mbar", strength: "96 %vol" }).notes.join()).toContain(
      "not known",
    );
  });
  it("outside the range is refused with the range", () => {
    expect(trouble("boils_at", { pressure: "1.2 bar" }).says).toContain("1 to 1100 mbar");
    expect(trouble("boils_at", { pressure: "-950 mbar" }).help).toContain("absolute_pressure");
    expect(trouble("boils_at", { pressure: "5 mbar", strength: "40 %vol" }).says).toContain("below 0 °C");
    expect(trouble("pressure_for", { temperature: "120 °C" }).says).toContain("110 kPa");
    expect(trouble("boils_at", { pressure: "50 mbar", activity: "0.1" }).says).toContain("between 0.3 and 1");
    expect(
      trouble("boils_at", { pressure: "50 mbar", strength: "20 %vol", solids: "55 °Bx" }).says,
    ).toContain("mol");
    expect(
      trouble("boils_at", { pressure: "50 mbar", strength: "90 %mas", solids: "20 °Bx" }).says,
    ).toContain("no room for water");
  });
  it("boils where its pressure says", () => {
    const liquids: readonly Readonly<Record<string, string>>[] = [
      {},
      { strength: "12 %vol" },
      { solids: "65 °Bx" },
      { activity: "0.6" },
      { strength: "20 %vol", solids: "20 °Bx" },
    ];
    for (const liquid of liquids) {
      const pascal = ask("pressure_for", { temperature: "31 °C", ...liquid }).si[""] as number;
      expect(celsius(ask("boils_at", { pressure: `${pascal} Pa`, ...liquid }).si[""])).toBeCloseTo(31, 7);
    }
  });
  it("has errors of temperature and pressure that fit one another", () => {
    const at = ask("boils_at", { pressure: "60 mbar", strength: "40 %vol" });
    const pull = ask("pressure_for", { temperature: `${celsius(at.si[""])} °C`, strength: "40 %vol" });
    expect(at.model[""]).toBeCloseTo(0.3, 3);
    // About 3.25 K for 10 mbar there.
    expect(pull.model[""]! / 100).toBeCloseTo(0.3 * 3.55, 0);
  });
});

describe("settle", () => {
  const trade = { bath: "32 °C", coolant: "-10 °C", strength: "40 %vol" } as const;
  it("agrees with warm_to_cold on the setting of the trade (common practice, no source)", () => {
    const set = ask("settle", trade);
    const across = ask("warm_to_cold", { bath: "32 °C", coolant: "-10 °C" });
    expect(across.notes).toEqual([]);
    expect((set.si.warm_side as number) + (set.si.cold_side as number)).toBeCloseTo(
      across.si[""] as number,
      9,
    );
    expect(set.si.holds).toBe(true);
    expect(set.si.ices).toBe(false);
    expect(celsius(set.si.boils_at)).toBeCloseTo(17, 9);
    expect(set.si.pressure).toBeCloseTo(
      ask("pressure_for", { temperature: "17 °C", strength: "40 %vol" }).si[""] as number,
      6,
    );
  });
  it("warns of ice on the coil for water and of a receiver in a warm room", () => {
    const water = ask("settle", { bath: "40 °C", coolant: "-10 °C" });
    expect(water.si.ices).toBe(true);
    expect(water.cautions.join()).toContain("freeze on the coil");
    expect(ask("settle", { bath: "40 °C", coolant: "3 °C" }).si.ices).toBe(false);
    expect(ask("settle", trade).cautions.join()).toContain("receiver");
    expect(ask("settle", { ...trade, room: "10 °C" }).cautions.join()).not.toContain("receiver");
  });
  it("warns when the cold side cannot hold", () => {
    const warm = ask("settle", { bath: "32 °C", coolant: "12 °C", strength: "40 %vol" });
    expect(warm.si.holds).toBe(false);
    expect(warm.cautions.join()).toContain("too warm for this pressure");
    expect(trouble("settle", { bath: "32 °C", coolant: "20 °C", strength: "40 %vol" }).code).toBe("too-warm");
  });
  it("takes a honey by its activity and gives a receiver for its water", () => {
    const honey = ask("settle", { bath: "45 °C", coolant: "3 °C", activity: "0.586" });
    expect(honey.si.receiver_below as number).toBeLessThan(honey.si.boils_at as number);
  });
});

describe("the cold side", () => {
  it("says when nothing or only a part condenses", () => {
    const hot = ask("condensed_share", { pressure: "20 mbar", over: "80 %vol", coolant: "15 °C" });
    expect(hot.si[""]).toBe(0);
    expect(hot.cautions.join()).toContain("Nothing condenses");
    const part = ask("condensed_share", { pressure: "30 mbar", over: "80 %vol", coolant: "7 °C" });
    expect(part.cautions.join()).toContain("Part of the vapour");
    expect(part.shown()).toMatch(/ %$/u);
    expect(
      ask("condensed_share", { pressure: "50 mbar", over: "80 %vol", coolant: "-10 °C" }).cautions,
    ).toEqual([]);
  });
  it("refuses a condenser at which the distillate itself boils", () => {
    const air = { air: "5 mL/min", pressure: "40 mbar", over: "80 %vol" };
    expect(trouble("lost_past", { ...air, coolant: "16 °C" }).says).toContain("holds nothing back");
    expect(() =>
      ask("lost_past", { air: "5 g/h", pressure: "40 mbar", over: "80 %vol", coolant: "0 °C" }),
    ).toThrow();
  });
  it("takes a rate by mass or by volume", () => {
    const byVolume = ask("chill_load", { rate: "1 L/h", over: "80 %vol", pressure: "50 mbar" }).si[
      ""
    ] as number;
    const byMass = ask("chill_load", { rate: "859.2699 g/h", over: "80 %vol", pressure: "50 mbar" }).si[
      ""
    ] as number;
    expect(byMass / byVolume).toBeCloseTo(1, 5);
    // Table of the reference: 316 W for a litre an hour of 80 %vol at 25 °C.
    expect(byVolume).toBeCloseTo(316, -1);
  });
  it("names thick coolant and keeps glycol out of food", () => {
    const cold = ask("stays_liquid_to", { glycol: "propylene", share: "40 %" });
    expect(cold.notes.join()).toContain("thick");
    expect(declared.find((d) => d.name === "stays_liquid_to")!.cautions!.join()).toContain("poisonous");
  });
  it("notes a small difference between bath and coolant, and refuses none", () => {
    expect(ask("warm_to_cold", { bath: "30 °C", coolant: "0 °C" }).notes.join()).toContain("40 K");
    expect(trouble("warm_to_cold", { bath: "10 °C", coolant: "10 °C" }).code).toBe("too-warm");
  });
  it("knows that the weather moves a dial's answer unless the air was read", () => {
    expect(ask("absolute_pressure", { below: "960 mbar" }).model[""]! / 100).toBeCloseTo(17.5, 0);
    const read = ask("absolute_pressure", { below: "960 mbar", air: "985 mbar" });
    expect(read.model[""]).toBe(0);
    expect(read.notes).toEqual([]);
  });
});

it("a coolant that would freeze in the chiller is refused", () => {
  const glycol = { glycol: "ethylene", share: "20 %" } as const;
  expect(trouble("stays_liquid_to", { ...glycol, coolant: "-10 °C" }).says).toContain("-7.95 °C");
  expect(
    celsius(ask("stays_liquid_to", { ...glycol, share: "30 %", coolant: "-10 °C" }).si[""]),
  ).toBeLessThan(-10);
});
