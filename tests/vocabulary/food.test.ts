import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { gap, type Value } from "../../src/vocabulary/value";
import { column } from "./calling";
import { call, numbers, part, remarks, show, si } from "./food-calling";

const cellar = `table stocks "Stocks"
| item     | have (mL) | strength  | sugar   | price (GBP/L) | acid  |
| juniper  | 600       | 61.2 %vol | 0 °Bx   | 11.20         | 0 %   |
| neutral  | 400       | 96 %vol   | 0 °Bx   | 16.00         | 0 %   |
| syrup    | 500       | 0 %vol    | 65 °Bx  | 2.00          | 0.5 % |
| water    | 5000      | 0 %vol    | 0 °Bx   | 0.00          | 0 %   |
| bay leaf |           |           |         |               |       |
`;
const book = openBook(cellar);
const ask = (formula: string) => book.ask(formula);
const text = (formula: string): string => ask(formula).text;
const fault = (formula: string): string => {
  const asked = ask(formula);
  expect(asked.state, `${formula} gives ${asked.text}`).toBe("fault");
  return `${asked.message} ${asked.help ?? ""}`;
};
const notesOf = (formula: string): string => ask(formula).notes.join(" | ");
const cautionsOf = (formula: string): string => (ask(formula).cautions ?? []).join(" | ");

describe("blending in the language", () => {
  it("answers in the unit and kind that the amount was asked in", () => {
    expect(text("cross_fill(2 L, 96 %vol, 0 %vol, to: 42 %vol).rich")).toBe("0.875 L");
    expect(text("cross_fill(2 kg, 96 %mas, 0 %mas, to: 42 %mas).rich")).toBe("0.875 kg");
    expect(text("cross_add(500 g, 12 °Bx, 65 °Bx, to: 20 °Bx).total")).toBe("588.89 g");
  });
  it("does not care for the units of the amounts and strengths", () => {
    const litres = si(
      call("cross_fill", { total: "1 L", rich: "96 %vol", lean: "0 %vol", to: "40 %vol" }),
      "rich",
    );
    expect(
      si(call("cross_fill", { total: "1000 mL", rich: "96 %vol", lean: "0 %vol", to: "40 %vol" }), "rich"),
    ).toBeCloseTo(litres, 15);
    const byMass = call("cross_fill", {
      total: "1 L",
      rich: "93.8381 %mas",
      lean: "0 %mas",
      to: "33.2996 %mas",
    });
    expect(si(byMass, "rich") / litres).toBeCloseTo(1, 4);
    const usGallon = call("cross_fill", {
      total: "1 us_gal",
      rich: "96 %vol",
      lean: "0 %vol",
      to: "40 %vol",
    });
    expect(si(usGallon, "rich") / litres).toBeCloseTo(3.785411784, 9);
  });
  it("does not blend by volume what does not add by volume, and says on what it stands", () => {
    expect(text("cross_parts(96 %vol, 0 %vol, to: 48 %vol).rich")).toBe("43.224 %");
    expect(notesOf("cross_parts(96 %vol, 0 %vol, to: 48 %vol).rich")).toMatch(/Parts by mass/u);
    expect(notesOf("cross_fill(1 L, 96 %vol, 0 %vol, to: 40 %vol).rich")).toMatch(
      /told in volumes at 20 °C/u,
    );
    expect(notesOf("cross_fill(1 L, 3.9 %, 0 %, to: 2.6 %).rich")).toMatch(/taken to add/u);
    expect(notesOf("cross_fill(1 kg, 3.9 %, 0 %, to: 2.6 %).rich")).toBe("");
  });
  it("refuses a target outside the stocks in the words of the book, and stocks of different kinds", () => {
    expect(fault("cross_parts(96 %vol, 40 %vol, to: 30 %vol)")).toMatch(
      /96 %vol and 40 %vol lies between.*water is leanest/u,
    );
    expect(fault("cross_add(1 L, 12 °Bx, 20 °Bx, to: 25 °Bx)")).toMatch(/25 °Bx does not lie between/u);
    expect(fault("cross_parts(40 %vol, 15 °Bx, to: 20 %vol)")).toMatch(
      /rich is a strength by volume and lean is solids/u,
    );
  });
});

describe("compose in the language", () => {
  const from = "compose(1 L, stocks.have, strength: stocks.strength, solids: stocks.sugar";
  it("names the rows, skips the blank one and keeps their order", () => {
    const formula = `${from}, price: stocks.price, to_strength: 30 %vol, to_solids: 15 °Bx)`;
    const asked = ask(formula);
    expect(asked.state).toBe("ok");
    const parts = new Map((asked.parts ?? []).map((p) => [p.name, p.text]));
    // Neutral spirit is the cheaper alcohol: 16.67 against 18.30 GBP for a litre of it.
    expect(parts.get("amounts.juniper")).toBe("0 mL");
    const neutral = Number(parts.get("amounts.neutral")!.replace(" mL", ""));
    expect(neutral).toBeCloseTo((0.3 / 0.96) * 1000, 1);
    const syrup = Number(parts.get("amounts.syrup")!.replace(" mL", ""));
    expect(Number(parts.get("cost")!.replace(" GBP", ""))).toBeCloseTo((16 * neutral + 2 * syrup) / 1000, 1);
    expect([...parts.keys()].some((name) => name.includes("bay leaf"))).toBe(true);
  });
  it("says which limit binds, and what stands in the way", () => {
    expect(text(`${from}, price: stocks.price, to_strength: 50 %vol).limited_by`)).toMatch(
      /all 400 mL of neutral/u,
    );
    expect(fault(`${from}, to_strength: 90 %vol)`)).toMatch(
      /to_strength stands in the way.*nearest that is possible is 75\.119 %vol/u,
    );
    expect(fault("compose(20 L, stocks.have, strength: stocks.strength)")).toMatch(
      /come to 6\.\d+ L in all, and 20 L is wanted/u,
    );
  });
  it("offers a nearest that can be asked for as it is printed", () => {
    const said = fault(`${from}, to_strength: 90 %vol)`);
    const offer = /possible is ([\d.]+ %vol)/u.exec(said)![1]!;
    expect(ask(`${from}, to_strength: ${offer})`).state).toBe("ok");
    const both = fault(`${from}, to_strength: 68 %vol, to_solids: 20 °Bx)`);
    const [, strength, sugar] = /to_strength ([\d.]+ %vol), or to_solids ([\d.]+ °Bx)/u.exec(both)!;
    expect(ask(`${from}, to_strength: ${strength}, to_solids: 20 °Bx)`).state).toBe("ok");
    expect(ask(`${from}, to_strength: 68 %vol, to_solids: ${sugar})`).state).toBe("ok");
  });
  it("takes ranges, a cap on the price and any content that adds by mass", () => {
    expect(text(`${from}, price: stocks.price, to_strength: [30 %vol, 40 %vol]).limited_by`)).toBe(
      "to_strength at its least, 30 %vol",
    );
    const capped = ask(
      `${from}, price: stocks.price, wish: [80 %, 20 %, 0 %, 0 %, blank], to_price: 9 GBP/L)`,
    );
    expect(capped.state).toBe("ok");
    expect(capped.parts?.find((p) => p.name === "cost")?.text).toBe("9.00 GBP");
    expect(text(`compose(1 kg, [5 kg, 5 kg], content: [6 %, 0 %], to_content: 1.5 %).amounts`)).toBeDefined();
    const sour = call("compose", {
      total: "1 kg",
      have: ["5 kg", "5 kg"],
      content: ["6 %", "0 %"],
      to_content: "1.5 %",
    });
    expect(numbers(sour, "amounts")[0]).toBeCloseTo(0.25, 9);
  });
  it("is told where an entry is missing, and what a target is for", () => {
    const partly = column("t", ["a", "b"], "1 L", gap("blank", "t.b.have") as Value);
    const strengths = column("t", ["a", "b"], "96 %vol", "0 %vol");
    expect(show(call("compose", { total: "1 L", have: partly, strength: strengths }))).toBe(
      "gap: b has no amount yet",
    );
    expect(fault("compose(1 L, stocks.have, to_strength: 40 %vol)")).toMatch(/strength: stocks\.strength/u);
    expect(fault("compose(1 L, [1 L, 2 L], strength: [40 %vol])")).toMatch(/2 entries and `strength` has 1/u);
    expect(fault("compose(1 L, [1 kg, 2 kg])")).toMatch(/density is not known/u);
    expect(
      fault("compose(1 L, [1 L, 2 L], strength: [40 %vol, 0 %vol], to_strength: [40 %vol, 30 %vol])"),
    ).toMatch(/least and the most/u);
    expect(fault("compose(1 L, [1 L, 2 L], price: [1 kg, 2 kg])")).toMatch(/GBP\/L/u);
    expect(fault("compose(1 L, [1 L, 2 L], price: [1 GBP/L, 2 EUR/L])")).toMatch(/one kind|GBP|EUR/u);
  });
  it("carries the uncertainty of two stocks by the closed form of the Pearson square", () => {
    const parts = ask(
      "compose(1 kg, [5 kg, 5 kg], strength: [40 ± 0.4 %mas, 10 ± 0.2 %mas], to_strength: 20 %mas)",
    ).parts!;
    const of = (name: string) => parts.find((p) => p.name === name)!;
    // x = (20 - 10) / (40 - 10); dx/drich = -x/30, dx/dlean = -(1 - x)/30.
    const wanted = Math.hypot((1 / 3) * 0.4, (2 / 3) * 0.2) / 30;
    expect(of("amounts.1").uncertainty!).toBeCloseTo(wanted, 5);
    expect(of("amounts.2").uncertainty!).toBeCloseTo(wanted, 5);
    expect(of("shares.1").uncertainty!).toBeCloseTo(100 * wanted, 3);
  });
  it("carries that of the total, the target and the price", () => {
    const parts = ask(
      "compose(1 ± 0.01 kg, [5 kg, 5 kg], content: [6 %, 0 %], price: [4 ± 0.2 GBP/kg, 0 GBP/kg], to_content: 1.5 ± 0.1 %)",
    ).parts!;
    const of = (name: string) => parts.find((p) => p.name === name)!.uncertainty!;
    expect(of("amounts.1")).toBeCloseTo(Math.hypot(0.25 * 0.01, 0.1 / 6), 6);
    expect(of("cost")).toBeCloseTo(Math.hypot(0.25 * 0.2, 4 * Math.hypot(0.25 * 0.01, 0.1 / 6)), 6);
  });
  it("agrees with what the blend becomes when a strength is typed a little higher and lower", () => {
    const at = (strong: string, middle: string) =>
      ask(
        `compose(1 L, [300 mL, 800 mL, 2 L], strength: [${strong} %vol, ${middle} %vol, 0 %vol], price: [8 GBP/L, 9 GBP/L, 0 GBP/L], to_strength: 42 %vol)`,
      ).parts!;
    const value = (parts: ReturnType<typeof at>, i: number) => parts[i]!.value as number;
    for (const [given, high, low] of [
      [at("96 ± 0.3", "40"), at("96.3", "40"), at("95.7", "40")],
      [at("96", "40 ± 0.5"), at("96", "40.5"), at("96", "39.5")],
    ] as const) {
      for (const i of [1, 2]) {
        const half = Math.abs(value(high, i) - value(low, i)) / 2;
        expect(Math.abs(given[i]!.uncertainty! / half - 1)).toBeLessThan(1e-6);
      }
      // All of the strongest is used up either way: it does not move.
      expect(given[0]!.uncertainty ?? 0).toBe(0);
    }
  });
  it("says when another choice of stocks lies within the uncertainty", () => {
    const near =
      "compose(1 kg, [5 kg, 5 kg, 5 kg], strength: [40 %mas, 40 ± 0.4 %mas, 0 %mas], price: [4 GBP/kg, 4.01 GBP/kg, 0 GBP/kg], to_strength: 20 %mas)";
    expect(notesOf(`${near}.cost`)).toMatch(
      /Within the ± of the strength of stock 2 other stocks would be chosen/u,
    );
    expect(ask(near).parts!.find((p) => p.name === "amounts.1")!.uncertainty ?? 0).toBe(0);
    const far = near.replace("4.01", "6");
    expect(notesOf(`${far}.cost`)).not.toMatch(/other stocks/u);
  });
  it("keeps near to what there is when nobody wishes anything, and says so", () => {
    expect(notesOf(`${from}).limited_by`)).toMatch(/proportions of what there is/u);
    expect(notesOf(`${from}).limited_by`)).toMatch(/volume of sugar in spirit is an estimate/u);
  });
});

describe("sugar and juice in the language", () => {
  it("refuses a reading that alcohol or salt falsifies, with how far", () => {
    expect(fault("water_in(18 °Bx, strength: 5 %vol)")).toMatch(/alone reads 1\.7 °Bx/u);
    expect(fault("solids_from_index(1.36 nD, salt: 5 %)")).toMatch(/alone reads 6 °Bx.*reduce_salty/u);
    expect(fault("solids_from_density(1080 kg/m3, strength: 12 %vol)")).toMatch(/hides sugar/u);
    expect(fault("solids_at_20(12 °Bx, 25 °C, strength: 12 %vol)")).toMatch(/Drive the alcohol off/u);
    expect(fault("reduce(2000 g, 14.4 °Bx, salt: 4.5 %, to: 45 °Bx)")).toMatch(
      /alone reads 5\.4 °Bx.*reduce_salty/u,
    );
    expect(text("water_in(18 °Bx, strength: 0 %vol, salt: 0 %)")).toBe("82 %");
  });
  it("maps over a list and takes any unit of temperature and density", () => {
    expect(text("water_in([18 °Bx, 20 °Bx]).2")).toBe("80 %");
    expect(text("syrup_density(50 °Bx, temperature: 68 °F)")).toBe(text("syrup_density(50 °Bx)"));
    expect(text("solids_from_density(1.08098 g/mL)")).toBe(text("solids_from_density(1080.98 kg/m3)"));
  });
  it("says what a correction is worth, where it is carried further, and what juice is", () => {
    expect(notesOf("solids_at_20(3 °Bx, 25 °C)")).toMatch(/fitted from 5 to 75 °Bx/u);
    expect(notesOf("solids_at_20(20 °Bx, 20 °C)")).toBe("");
    expect(notesOf("reduce(1000 g, 12 °Bx, to: 45 °Bx).factor")).toMatch(/not kept by its sugar/u);
    expect(notesOf("reduce(1000 g, 12 °Bx, to: 65 °Bx).factor")).toMatch(/heat passes slowly/u);
    expect(notesOf("water_in(80 °Bx)")).toMatch(/honey_moisture_from_solids/u);
    expect(cautionsOf("reduce(1000 g, 12 °Bx, to: 45 °Bx).factor")).toMatch(
      /perishable.*not cooking.*patulin/su,
    );
    expect(cautionsOf("water_in(18 °Bx)")).toMatch(/Alcohol and salt read as sugar/u);
  });
  it("carries the acid of a juice along", () => {
    const parts = ask("reduce(1000 g, 12 °Bx, acid: 0.9 %, to: 48 °Bx)").parts!;
    expect(parts.map((p) => `${p.name} ${p.text}`)).toEqual([
      "left.mass 250 g",
      "taken.mass 750 g",
      "factor 4",
      "acid 3.6 %",
    ]);
    expect(ask("reduce(1000 g, 12 °Bx, to: 48 °Bx)").parts!.map((p) => p.name)).not.toContain("acid");
    expect(fault("reduce(1000 g, 12 °Bx, acid: 90 %, to: 48 °Bx)")).toMatch(/no juice holds/u);
  });
  it("carries the uncertainty of readings and of its own model", () => {
    expect(text("water_in(18 ± 0.2 °Bx)")).toBe("82.00 ± 0.20 %");
    expect(text("syrup_density(20 ± 0.2 °Bx)")).toBe("1080.98 ± 0.89 kg/m3");
    // One kg/m3 is worth 0.23 °Bx near 20 °Bx: the model's 0.04 kg/m3 hardly shows beside it.
    expect(text("solids_from_density(1081 ± 1 kg/m3)")).toBe("20.01 ± 0.23 °Bx");
  });
});

describe("honey in the language", () => {
  it("tells what the law, yeasts and perishability say, on every result", () => {
    const formula = "infuse_honey(1000 g, 18 %, 300 g, strength: 20 %vol)";
    expect(cautionsOf(formula)).toMatch(/no longer honey in law.*12 months/su);
    expect(cautionsOf(formula)).toMatch(/ferments while it waits/u);
    expect(cautionsOf(formula)).toMatch(/implode/u);
    expect(notesOf(formula)).toMatch(/fresh food/u);
    expect(notesOf(formula)).toMatch(/believe the nose/u);
    expect(notesOf(formula)).toMatch(/honey_activity\(18 %\)/u);
    // The pull at the end is told for the water that was asked for, and where no activity is known that is said.
    expect(notesOf("infuse_honey(1000 g, 18 %, 300 g, to: 16.5 %)")).toMatch(/honey_activity\(16\.5 %\)/u);
    expect(notesOf("infuse_honey_limit(1000 g, 17.25 %, budget: 300 g, to: 17.25 %)")).toMatch(
      /honey_activity\(17\.25 %\)/u,
    );
    const wet = notesOf("infuse_honey(1000 g, 18 %, 300 g, to: 22 %)");
    expect(wet).toMatch(/at 22 % water no activity of honey is known/u);
    expect(wet).not.toMatch(/honey_activity/u);
    expect(notesOf("infuse_honey(1000 g, 18 %, 300 g, to: 21 %)")).toMatch(/no honey by Directive/u);
    expect(notesOf("infuse_honey(1000 g, 18 %, 300 g, to: 19 %)")).toMatch(/yeast_risk/u);
  });
  it("takes a strength by volume as it is meant, with and without sugar", () => {
    const clean = si(
      call("infuse_honey", { honey: "1 kg", moisture: "18 %", infusion: "500 g", strength: "40 %vol" }),
      "taken.alcohol",
    );
    expect(clean).toBeCloseTo(0.5 * 0.332996, 5);
    const sweet = call("infuse_honey", {
      honey: "1 kg",
      moisture: "18 %",
      infusion: "500 g",
      strength: "40 %vol",
      solids: "10 °Bx",
    });
    expect(si(sweet, "taken.alcohol")).toBeLessThan(clean);
    expect(remarks(sweet).join()).toMatch(/0\.62 mL\/g/u);
    const byMass = call("infuse_honey", {
      honey: "1 kg",
      moisture: "18 %",
      infusion: "500 g",
      strength: "30 %mas",
      solids: "10 °Bx",
    });
    expect(si(byMass, "taken.alcohol")).toBeCloseTo(0.15, 12);
    expect(remarks(byMass).join()).not.toMatch(/0\.62 mL\/g/u);
  });
  it("limits by water or flask, refuses to fill over half, and names the limit", () => {
    const limit = "infuse_honey_limit(600 g, 18.5 %, strength: 30 %mas, solids: 1 °Bx, budget: 420 g";
    expect(text(`${limit}).limited_by`)).toBe("the budget of water");
    expect(text(`${limit}, flask: 2 L).limited_by`)).toBe("the flask");
    expect(fault(`${limit}, flask: 2 L, fill: 60 %)`)).toMatch(/at most half, and the fill is 60 %/u);
    expect(fault("infuse_honey_limit(600 g, 18.5 %)")).toMatch(/budget: 400 g/u);
    expect(notesOf(`${limit}, flask: 2 L).infusion`)).toMatch(/foams/u);
  });
  it("marks what is an estimate, and its width once something was measured", () => {
    expect(notesOf("honey_activity(18 %)")).toMatch(/estimate on the high side/u);
    expect(text("honey_activity(18.0 ± 0.2 %)")).toBe("0.586 ± 0.040");
    expect(text("hmf_time(50 ± 0.5 °C)")).toMatch(/^5\.5 ± 1\.5 d$/u);
    expect(cautionsOf("hmf_time(50 °C)")).toMatch(/factor of 1\.5/u);
    expect(notesOf("honey_density(22 %)")).toMatch(/estimate/u);
    expect(notesOf("honey_density(18 %)")).toBe("");
    expect(fault("honey_activity(25 %)")).toMatch(/13 % to 21 %/u);
  });
  it("has temperatures in the unit of the bench", () => {
    expect(text("honey_moisture(1.4900 nD, temperature: 77 °F)")).toBe(
      text("honey_moisture(1.4900 nD, temperature: 25 °C)"),
    );
  });
});

describe("salt, keeping and freezing in the language", () => {
  it("answers a salty liquor by weight and warns of what it cannot know", () => {
    const formula = "reduce_salty(2000 g, 4.5 %, 9 °Bx, to_mass: 600 g)";
    const parts = new Map((ask(formula).parts ?? []).map((p) => [p.name, p.text]));
    expect(parts.get("salt_in_water")).toBe("21.429 %");
    expect(parts.get("activity_low")).toBe("0.77482");
    expect(parts.get("crystals")).toBe("0 g");
    expect(notesOf(formula)).toMatch(/amino acids/u);
    expect(notesOf("reduce_salty(2000 g, 4.5 %, 9 °Bx, to_mass: 500 g).crystals")).toMatch(/falls out/u);
    expect(fault("reduce_salty(2000 g, 4.5 %, 9 °Bx)")).toMatch(/to_mass: 600 g/u);
    expect(cautionsOf(formula)).toMatch(/no verdict on safety/u);
  });
  it("says on which water salt is counted", () => {
    expect(notesOf("salt_from_activity(0.85)")).toMatch(/water alone/u);
    expect(fault("salt_activity(40 g, 100 g)")).toMatch(/at most 35\.9 g/u);
    expect(fault("salt_activity(40 g, 0 g)")).toMatch(/needs some water/u);
  });
  it("notes where water activity is an estimate", () => {
    expect(notesOf("activity(100 g, ethanol: 20 g)")).toMatch(/high by about 0\.012 in wines/u);
    expect(notesOf("activity(18 g, glucose: 35 g, fructose: 39 g)")).toMatch(/0\.03 at honey/u);
    expect(notesOf("activity(100 g, sucrose: 20 g)")).toBe("");
    expect(notesOf("activity_from_solids(72 °Bx)")).toMatch(/crystals/u);
    expect(notesOf('activity_from_solids(70 °Bx, solute: "fructose")')).toMatch(/estimate/u);
    expect(fault('activity_from_solids(70 °Bx, solute: "honey")')).toMatch(/sucrose/u);
    expect(text("activity(100 ± 1 g, ethanol: 20 g)")).toMatch(/± 0\.015$/u);
  });
  it("never judges growth from the water activity alone, nor calls anything safe", () => {
    expect(text("can_grow(0.93)")).toMatch(/^Not to be judged from the water activity alone\./u);
    expect(notesOf("can_grow(0.93)")).toMatch(/give the acidity too/u);
    expect(text("can_grow(0.93, acidity: 3.6, strength: 8 %vol, kept_at: 4 °C)")).toMatch(
      /pH 3\.6 is acid.*6\.4 % alcohol by mass.*slow, not stopped/u,
    );
    expect(cautionsOf("can_grow(0.93, acidity: 3.6)")).toMatch(/no shelf date/u);
  });
  it("counts warm stages and tells the rule", () => {
    const formula = "warm_time([40 min, 3 h], [20 °C, 32 °C]).between_5_and_60";
    expect(text(formula)).toBe("220 min");
    expect(notesOf(formula)).toMatch(/2 to 4 h/u);
    expect(cautionsOf(formula)).toMatch(/local code decides/u);
  });
  it("freezes a base to its serving temperature, with the doubts it has", () => {
    const base = "640 g, sucrose: 180 g, glucose: 60 g";
    expect(text(`ice_share(-14 °C, ${base})`)).toBe("77.286 %");
    expect(notesOf(`ice_point(${base}, ethanol: 30 g)`)).toMatch(/together with alcohol/u);
    expect(notesOf(`ice_share(-14 °C, ${base})`)).toMatch(/At equilibrium/u);
    expect(fault(`ice_share(-25 °C, ${base})`)).toMatch(/down to -20 °C/u);
    expect(text("ice_point(640 g, sucrose: 180 ± 1 g)")).toMatch(/± 0\.03\d °C$/u);
    expect(text("ice_share(5 °F, 640 g, sucrose: 180 g)")).toBe(
      text("ice_share(-15 °C, 640 g, sucrose: 180 g)"),
    );
    expect(part(call("ice_point", { water: "100 g" }), "").type).toBe("quantity");
  });
});
