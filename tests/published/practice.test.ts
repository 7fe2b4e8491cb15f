import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { vocabulary } from "../../src/vocabulary";

// Facts of the trade. Every one is marked: common practice, no source. They are asked through the language.

const book = openBook("");
const ask = (formula: string) => {
  const { value, unit, message, notes, parts } = book.ask(formula);
  expect(message, formula).toBeNull();
  const part = (name: string) => parts?.find((p) => p.name === name)?.value ?? undefined;
  return { value, unit, notes, part };
};

describe("a bath of 30 to 35 °C with a coolant at -10 °C is a workable setting for dilute spirit", () => {
  const settings = [30, 32, 35].flatMap((bath) =>
    [10, 20, 30, 40].map((strength) => [bath, strength] as const),
  );
  it.each(settings)(
    "bath %d °C, %d %%vol: the coil holds, nothing freezes, and the pot boils near room temperature",
    (bath, strength) => {
      const { part } = ask(`settle(${bath} °C, -10 °C, strength: ${strength} %vol)`);
      expect(part("holds")).toBe(true);
      expect(part("ices")).toBe(false);
      expect(part("boils_at")).toBeGreaterThanOrEqual(15);
      expect(part("boils_at")).toBeLessThanOrEqual(25);
      // Neither side is less than the other function needs: together they are the difference from bath to coolant.
      const across = ask(`warm_to_cold(${bath} °C, -10 °C)`);
      expect((part("warm_side") as number) + (part("cold_side") as number)).toBeCloseTo(
        across.value as number,
        9,
      );
      expect(across.value).toBeGreaterThanOrEqual(40);
      expect(across.notes).toEqual([]);
    },
  );
  it("and less than about 40 K in all is remarked", () => {
    expect(ask("warm_to_cold(30 °C, -5 °C)").notes.join()).toMatch(/40 K \(common practice, no source\)/u);
  });
  it("but water ices on a coil so cold", () => {
    expect(ask("settle(35 °C, -10 °C)").part("ices")).toBe(true);
    expect(ask("settle(35 °C, 3 °C)").part("ices")).toBe(false);
  });
});

describe("resinous botanicals run nearer 55 °C, citrus and herbs lower", () => {
  it("the warmer bath is a setting of the same still at a weaker pull", () => {
    const warm = ask("settle(55 °C, -10 °C, strength: 50 %vol)");
    const mild = ask("settle(32 °C, -10 °C, strength: 50 %vol)");
    expect(warm.part("holds")).toBe(true);
    expect(warm.part("pressure")).toBeGreaterThan(3 * (mild.part("pressure") as number));
  });
  // Warmth gains compounds whose Henry constant rises faster than the boiling pressure; what is light comes over anyway.
  it.each(["eugenol", "cinnamaldehyde", "thymol", "carvone"])(
    "more of the %s comes over in the warmer run",
    (compound) => {
      const share = (bath: number) =>
        ask(
          `comes_over("${compound}", 1 L, 50 %vol, settle(${bath} °C, -10 °C, strength: 50 %vol).pressure, 450 mL)`,
        ).part("taken") as number;
      expect(share(55)).toBeGreaterThan(1.1 * share(32));
    },
  );
  it.each(["limonene", "alpha-pinene"])(
    "nearly all of the %s comes over in the milder one too",
    (compound) => {
      const { part } = ask(
        `comes_over("${compound}", 1 L, 50 %vol, settle(32 °C, -10 °C, strength: 50 %vol).pressure, 450 mL)`,
      );
      expect(part("taken_low")).toBeGreaterThan(90);
    },
  );
});

describe("18 % water is a honey's keeping moisture", () => {
  it("is what a honey is brought back to unless told otherwise", () => {
    expect(vocabulary.get("infuse_honey")!.parameters.find((p) => p.name === "to")!.otherwise).toBe("18 %");
    const told = ask("infuse_honey(1 kg, 17 %, 200 g, to: 18 %).left.mass").value;
    expect(ask("infuse_honey(1 kg, 17 %, 200 g).left.mass").value).toBe(told);
  });
  it("is where the risk takes its step", () => {
    expect(ask("yeast_risk(18 %)").value).toMatch(/under 1000 yeasts/u);
    expect(ask("yeast_risk(18.1 %)").value).toMatch(/only if it holds under 10 yeasts/u);
  });
});

describe("an ethylene glycol coolant is liquid at -10 °C", () => {
  it("at a third of glycol, with several kelvin to spare", () => {
    expect(ask('stays_liquid_to("ethylene", 33 %, coolant: -10 °C)').value).toBeLessThan(-15);
  });
  it("and one that would freeze is refused", () => {
    expect(book.ask('stays_liquid_to("ethylene", 15 %, coolant: -10 °C)').message).toMatch(/slush/u);
  });
});

describe("sugars, pungent and bitter substances of high boiling point do not come over", () => {
  it.each([
    "glucose",
    "sucrose",
    "fructose",
    "salt",
    "mannitol",
    "capsaicin",
    "piperine",
    "caffeine",
    "quinine",
    "citric acid",
    "tannic acid",
  ])("%s stays in the pot", (compound) => {
    for (const run of ["1 L, 40 %vol, 50 mbar, 400 mL", "1 L, 0 %vol, 30 mbar, 300 mL"]) {
      const { part } = ask(`comes_over("${compound}", ${run})`);
      expect(part("taken")).toBe(0);
      expect(part("taken_high")).toBeLessThanOrEqual(0.01);
      expect(part("how")).toBe("stays in the pot");
    }
  });
});
