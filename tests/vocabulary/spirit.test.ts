import { describe, expect, it } from "vitest";
import { Trouble } from "../../src/quantity";
import { ask } from "./physics-calling";

const trouble = (name: string, given: Parameters<typeof ask>[1]): Trouble => {
  try {
    ask(name, given);
  } catch (error) {
    if (error instanceof Trouble) return error;
    throw error;
  }
  throw new Error(`${name} gave an answer`);
};

describe("a bench weighs: a mass does wherever a volume does", () => {
  // 948.045 g of 40 %vol is a litre.
  it.each([
    ["pure_volume", { strength: "40 %vol" }, ""],
    ["pure_mass", { strength: "40 %vol" }, ""],
    ["let_down", { strength: "40 %vol", to: "20 %vol" }, "add_mass"],
    ["let_down", { strength: "40 %vol", to: "20 %vol" }, "total"],
    ["fortify", { strength: "40 %vol", with: "96 %vol", to: "50 %vol" }, "add_mass"],
    ["sweeten", { strength: "40 %vol", sugar: "100 g" }, "strength"],
    ["distil", { strength: "40 %vol", pressure: "50 mbar", take: "300 mL" }, "left.strength"],
    ["distil_at", { strength: "40 %vol", temperature: "22 °C", take: "300 mL" }, "left.mass"],
    ["soak", { strength: "40 %vol", botanical: "100 g", moisture: "50 %" }, "strength"],
    ["alcohol_out", { strength: "40 %vol", pressure: "50 mbar", to: "5 %vol" }, "add"],
    [
      "run_time",
      { strength: "40 %vol", pressure: "50 mbar", bath: "40 °C", per_kelvin: "30 W/K", take: "300 mL" },
      "time",
    ],
  ] as const)("%s %s %s", (name, rest, part) => {
    const byVolume = ask(name, { volume: "1 L", ...rest }).si[part] as number;
    const byMass = ask(name, { volume: "948.0452 g", ...rest }).si[part] as number;
    expect(Math.abs(byMass / byVolume - 1)).toBeLessThan(1e-6);
  });
  it("marries and makes up by mass", () => {
    const volumes = ask("marry", { volumes: ["1 L", "2 L"], strengths: ["40 %vol", "0 %vol"] });
    const masses = ask("marry", { volumes: ["948.0452 g", "1996.4025 g"], strengths: ["40 %vol", "0 %vol"] });
    expect(masses.si.strength as number).toBeCloseTo(volumes.si.strength as number, 7);
    const made = ask("make_up", { total: "2 kg", volumes: ["100 g"], strengths: ["70 %vol"], to: "42 %vol" });
    expect((made.si.spirit_mass as number) + (made.si.water_mass as number) + 0.1).toBeCloseTo(2, 9);
  });
  it("takes and gives in the unit that was typed", () => {
    expect(ask("let_down", { volume: "700 mL", strength: "60 %vol", to: "40 %vol" }).shown("add")).toMatch(
      / mL$/u,
    );
    expect(
      ask("let_down", { volume: "700 g", strength: "60 %vol", to: "40 %vol" }).shown("add_mass"),
    ).toMatch(/ g$/u);
  });
});

describe("strengths in any scale", () => {
  it("mean the same liquid", () => {
    const by = (strength: string) => ask("spirit_density", { strength }).si[""] as number;
    expect(by("33.299643 %mas")).toBeCloseTo(by("40 %vol"), 4);
    expect(by("79.8633 proof")).toBeCloseTo(by("40 %vol"), 2);
  });
  it("go round", () => {
    expect(ask("by_volume", { strength: "40 %vol" }).shown()).toBe("40 %vol");
    expect(ask("by_mass", { strength: "33.3 %mas" }).shown()).toBe("33.3 %mas");
    expect(ask("by_proof", { strength: "80 proof" }).shown()).toBe("80 proof");
  });
  it("above 100 % are refused with the range", () => {
    expect(trouble("by_mass", { strength: "120 %vol" }).says).toContain("between 0 and 100 %");
    expect(trouble("spirit_density", { strength: "40 %vol", temperature: "60 °C" }).says).toContain(
      "-20 to 40 °C",
    );
  });
});

describe("readings that would mislead are refused with a figure", () => {
  it.each([
    ["strength_from_density", { density: "980 kg/m^3", sugar: "20 g/L" }, "4 %vol too low"],
    ["strength_from_density", { density: "980 kg/m^3", sugar: "250 g/L" }, "nothing about the strength"],
    ["strength_at_20", { reading: "30 %vol", temperature: "20 °C", sugar: "5 g/L" }, "1 %vol too low"],
    ["strength_by_flask", { spirit: "95 g", water: "100 g", sugar: "5 g/L" }, "1 %vol too low"],
    ["strength_by_drops", { reading: "9 °Bx", sugar: "50 g/L" }, "one reading cannot tell them apart"],
  ] as const)("%s", (name, given, words) => {
    const refusal = trouble(name, given);
    expect(refusal.code).toBe("misleading-reading");
    expect(refusal.says).toContain(words);
    expect(refusal.help).toContain("behind_sugar");
  });
  it("a liquid denser than water is no clean spirit", () => {
    expect(trouble("strength_from_density", { density: "1040 kg/m^3" }).help).toContain("sugar");
  });
  it("a reading above 40 %mas must be thinned", () => {
    expect(trouble("strength_by_drops", { reading: "20 °Bx" }).help).toContain("spirit: 1, water: 1");
  });
  it("a mixture of weights and parts is no mixture", () => {
    expect(trouble("strength_by_drops", { reading: "12 °Bx", spirit: "5 g", water: "1" }).code).toBe(
      "kinds-differ",
    );
    expect(trouble("strength_by_drops", { reading: "12 °Bx", water: "5 g" }).code).toBe("kinds-differ");
    expect(trouble("strength_by_drops", { reading: "16 °Bx", spirit: "1", water: "9" }).says).toContain(
      "cannot be",
    );
  });
  it("by two readings the sugar may stay", () => {
    const sweet = ask("strength_from_density", { density: "1082.51 kg/m^3", index: "1.39025 nD" });
    expect(100 * (sweet.si[""] as number)).toBeCloseTo(25, 0);
    expect(sweet.notes.join()).toContain("estimate");
    const warm = { density: "1020 kg/m^3", index: "1.353 nD", temperature: "25 °C" };
    expect(trouble("strength_from_density", warm).says).toContain("20 °C only");
  });
});

describe("what cannot be mixed", () => {
  it("is refused with both ends named", () => {
    const up = trouble("let_down", { volume: "1 L", strength: "40 %vol", to: "45 %vol" });
    expect(up.says).toContain("40 %vol");
    expect(up.says).toContain("45 %vol");
    expect(up.help).toContain("fortify");
    const down = trouble("fortify", { volume: "1 L", strength: "40 %vol", with: "96 %vol", to: "30 %vol" });
    expect(down.help).toContain("let_down");
  });
  it("a make-up that cannot be says which way, and gives no amounts", () => {
    const strong = ask("make_up", {
      total: "1 L",
      volumes: ["900 mL"],
      strengths: ["80 %vol"],
      to: "42 %vol",
    });
    expect(strong.si.short).toMatch(/^too much alcohol: the dosed parts hold 0\.72 L .* 0\.42 L$/u);
    expect(strong.si.spirit).toBeUndefined();
    expect(strong.cautions.join()).toContain("cannot be made up");
    // 900 mL of 80 %vol hold 0.72 L of alcohol: 72 %vol in a litre, 1.714 L at 42 %vol.
    expect(strong.cautions.join()).toContain("at least 1.715 L, with water alone");
    expect(strong.cautions.join()).toContain("In 1 L the weakest that is possible is 72 %vol.");
    const weak = ask("make_up", { total: "1 L", volumes: ["980 mL"], strengths: ["10 %vol"], to: "42 %vol" });
    expect(weak.si.short).toMatch(/^too much water/u);
    expect(weak.si.water).toBeUndefined();
    const fine = ask("make_up", { total: "1 L", volumes: ["100 mL"], strengths: ["70 %vol"], to: "42 %vol" });
    expect(fine.si.short).toBe("nothing");
  });
});

describe("remarks", () => {
  it("a label word that asks for 70 %vol is mentioned when a weaker distillate goes into gin strength", () => {
    expect(ask("let_down", { volume: "1 L", strength: "65 %vol", to: "40 %vol" }).notes.join()).toContain(
      "London gin",
    );
    expect(ask("let_down", { volume: "1 L", strength: "72 %vol", to: "40 %vol" }).notes).toEqual([]);
  });
  it("sweetening is an estimate, and much sugar in strong spirit may not dissolve", () => {
    const sweet = ask("sweeten", { volume: "1 L", strength: "50 %vol", sugar: "450 g" });
    expect(sweet.notes.join()).toContain("never for a label");
    expect(sweet.notes.join()).toContain("undissolved");
  });
  it("a flash point below the room is a caution", () => {
    expect(ask("flash_point", { strength: "60 %vol" }).cautions.join()).toContain("above its flash point");
    expect(ask("flash_point", { strength: "20 %vol" }).cautions).toEqual([]);
    expect(ask("flash_point", { strength: "20 %vol", room: "38 °C" }).cautions.length).toBe(1);
  });
});

describe("how sure the answers are", () => {
  it("density's error becomes one of strength, largest where the curve is flat", () => {
    const at = (density: string) => ask("strength_from_density", { density }).model[""]!;
    expect(at("973.5 kg/m^3")).toBeGreaterThan(at("859 kg/m^3"));
    // 0.16 kg/m³ is 0.1 %vol at 40 %vol.
    expect(at("948.05 kg/m^3")).toBeCloseTo(0.06 / 0.16 / 1000, 4);
  });
  it("nothing is wrong with pure water", () => {
    expect(ask("by_mass", { strength: "0 %vol" }).model[""]).toBe(0);
    expect(ask("spirit_density", { strength: "0 %vol" }).model[""]).toBeLessThan(0.01);
  });
  it("more room for the sugar means more volume and less strength, together", () => {
    const sweet = ask("sweeten", { volume: "1 L", strength: "40 %vol", sugar: "300 g" }).model;
    expect(sweet.volume).toBeCloseTo(3e-6, 9);
    expect(100 * sweet.strength!).toBeCloseTo(-0.085, 2);
  });
});
