import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { isPhysics, vocabulary } from "../../src/vocabulary";

// Every function says where its number comes from and how far it holds, and refuses outside with a sentence that says
// the range. The formulas are asked through the language, as a cook would.

const book = openBook("");
const physics = [...vocabulary.values()].filter(isPhysics);

/** A formula outside the range of each function, and what the refusal must name: the range, or what is wrong with the goal. */
const OUTSIDE: ReadonlyMap<string, readonly [formula: string, says: RegExp]> = new Map<
  string,
  readonly [string, RegExp]
>([
  ["boils_at", ["boils_at(1200 mbar)", /1 to 1100 mbar/u]],
  ["pressure_for", ["pressure_for(-5 °C)", /0 to 130 °C/u]],
  ["first_vapour", ["first_vapour(5 mbar, 40 %vol)", /below 0 °C.*At 0 °C it boils at/u]],
  ["settle", ["settle(30 °C, 18 °C, strength: 40 %vol)", /no colder/u]],
  ["warm_to_cold", ["warm_to_cold(10 °C, 10 °C)", /no colder than the bath/u]],
  ["absolute_pressure", ["absolute_pressure(1100 mbar)", /0|below/u]],
  ["air_at", ["air_at(9000 m)", /5000 m/u]],
  ["stays_liquid_to", ['stays_liquid_to("ethylene", 60 %)', /50 %/u]],
  ["condensed_share", ["condensed_share(50 mbar, 80 %vol, 70 °C)", /-50 to 60 °C/u]],
  ["chill_load", ["chill_load(1 L/h, 80 %vol, 1200 mbar)", /1100 mbar/u]],
  ["tightness", ["tightness(1 mbar, 0 min, 5 L)", /greater than nothing/u]],
  ["lost_past", ["lost_past(1 L/min, 50 mbar, 80 %vol, 70 °C)", /-50 to 60 °C/u]],
  ["distil", ["distil(1 L, 40 %vol, 50 mbar, take: 1.2 L)", /1000 mL/u]],
  ["distil_at", ["distil_at(1 L, 40 %vol, 140 °C, take: 100 mL)", /0 to 130 °C/u]],
  ["cuts", ["cuts(1 L, 40 %vol, 50 mbar, [600 mL, 600 mL])", /mL/u]],
  ["know_still", ["know_still(250 g, 20 min, 20 °C, 40 mbar)", /boils at 28\.9/u]],
  ["run_time", ["run_time(800 mL, 40 %vol, 50 mbar, 25 °C, 30 W/K, leave: 5 %vol)", /cannot boil the end/u]],
  ["scale_run", ["scale_run(1 h, 0 L, to: 2 L)", /greater than nothing/u]],
  ["missing", ["missing(0 g, 0 g, 0 g)", /greater than nothing/u]],
  ["soak", ["soak(800 mL, 60 %vol, 120 g, 120 %)", /between 0 and 100 %/u]],
  ["comes_over", ['comes_over("linalool", 1 L, 40 %vol, 50 mbar, 2 L)', /1000 mL/u]],
  ["by_mass", ["by_mass(120 %vol)", /0 (?:and|to) 100/u]],
  ["by_volume", ["by_volume(-2 %mas)", /0 (?:and|to) 100/u]],
  ["by_proof", ["by_proof(210 proof)", /0 (?:and|to) (?:100|200)/u]],
  ["spirit_density", ["spirit_density(40 %vol, temperature: 60 °C)", /-20 to 40 °C/u]],
  ["volume_at_20", ["volume_at_20(1 L, 40 %vol, 50 °C)", /-20 to 40 °C/u]],
  ["mass_of", ["mass_of(1 L, 40 %vol, temperature: 45 °C)", /-20 to 40 °C/u]],
  ["volume_of", ["volume_of(1 kg, 40 %vol, temperature: -30 °C)", /-20 to 40 °C/u]],
  ["pure_volume", ["pure_volume(1 L, 101 %vol)", /0 (?:and|to) 100/u]],
  ["pure_mass", ["pure_mass(1 L, -1 %vol)", /0 (?:and|to) 100/u]],
  ["strength_from_density", ["strength_from_density(1050 kg/m^3)", /789|998/u]],
  ["strength_at_20", ["strength_at_20(40 %vol, 55 °C)", /-20 to 40 °C/u]],
  ["strength_by_flask", ["strength_by_flask(120 g, 100 g)", /789|998|density/u]],
  ["strength_by_drops", ["strength_by_drops(25 °Bx)", /40 %mas/u]],
  ["behind_sugar", ["behind_sugar(60 %vol, 100 mL, 200 mL)", /cannot be/u]],
  ["flash_point", ["flash_point(5 %vol)", /10 to 100 %vol/u]],
  ["marry", ["marry([0 L, 0 L], [40 %vol, 30 %vol])", /greater than nothing/u]],
  ["let_down", ["let_down(1 L, 40 %vol, to: 50 %vol)", /40 %vol cannot become 50 %vol/u]],
  ["fortify", ["fortify(1 L, 12 %vol, 40 %vol, to: 60 %vol)", /Between 12 %vol and 40 %vol/u]],
  ["make_up", ["make_up(0 L, [100 mL], [70 %vol], to: 42 %vol)", /greater than nothing/u]],
  ["sweeten", ["sweeten(1 L, 75 %vol, 100 g)", /up to 60 %vol/u]],
  ["cross_parts", ["cross_parts(40 %mas, 15 %mas, to: 50 %mas)", /15.*40|40.*15/u]],
  ["cross_fill", ["cross_fill(1 kg, 40 %mas, 15 %mas, to: 10 %mas)", /15.*40|40.*15/u]],
  ["cross_add", ["cross_add(1 kg, 12 °Bx, 65 °Bx, to: 70 °Bx)", /12.*65|65.*12/u]],
  ["water_in", ["water_in(110 °Bx)", /between 0 and 100 °Bx/u]],
  ["syrup_density", ["syrup_density(90 °Bx)", /0 to 85/u]],
  ["solids_from_density", ["solids_from_density(1600 kg/m3)", /85 °Bx/u]],
  ["solids_from_index", ["solids_from_index(1.6 nD)", /85 °Bx/u]],
  ["index_from_solids", ["index_from_solids(90 °Bx)", /0 to 85/u]],
  ["solids_at_20", ["solids_at_20(20 °Bx, 45 °C)", /10 to 30 °C/u]],
  ["acid_corrected", ["acid_corrected(40 °Bx, 30 %)", /0 to 20 %/u]],
  ["reduce", ["reduce(1 kg, 40 °Bx, to: 20 °Bx)", /40 °Bx already/u]],
  ["salt_activity", ["salt_activity(50 g, 100 g)", /at most 35\.9 g/u]],
  ["salt_from_activity", ["salt_from_activity(0.6)", /between 0\.752 and 1/u]],
  ["reduce_salty", ["reduce_salty(1 kg, 4 %, 8 °Bx, to_mass: 50 g)", /120|water/u]],
  ["activity_from_solids", ["activity_from_solids(90 °Bx)", /0 to 85 %/u]],
  ["moisture_from_activity", ["moisture_from_activity(0.3)", /from 0\.\d+ to 1/u]],
  ["activity", ["activity(100 g, salt: 60 g)", /at most 35\.9 g/u]],
  ["ice_point", ["ice_point(100 g, salt: 40 g)", /at most 23 %/u]],
  ["ice_share", ["ice_share(-30 °C, 100 g, sucrose: 20 g)", /down to -20 °C/u]],
  ["can_grow", ["can_grow(0.9, acidity: 15)", /0 to 14/u]],
  ["warm_time", ["warm_time([-5 min], [20 °C])", /negative/u]],
  ["honey_moisture", ["honey_moisture(1.42 nD)", /1\.4740 and 1\.5044/u]],
  ["honey_moisture_from_solids", ["honey_moisture_from_solids(60 °Bx)", /73\.5 to 85\.2 °Bx/u]],
  ["honey_density", ["honey_density(40 %)", /13 % to 25 %/u]],
  ["honey_activity", ["honey_activity(25 %)", /13 % to 21 %/u]],
  [
    "infuse_honey",
    ["infuse_honey(1 kg, 16 %, 50 g, strength: 90 %mas, to: 18 %)", /water would have to be added/u],
  ],
  ["infuse_honey_limit", ["infuse_honey_limit(1 kg, 18 %, flask: 4 L, fill: 70 %)", /at most half/u]],
  ["yeast_risk", ["yeast_risk(120 %)", /between 0 and 100 %/u]],
  ["hmf_time", ["hmf_time(20 °C)", /30 to 80 °C/u]],
  ["alcohol_out", ["alcohol_out(1 L, 5 %vol, 40 mbar, to: 6 %vol)", /above 0 and below 5 %vol/u]],
]);

describe("every function", () => {
  it("states equation, source and range; what it is worth, unless it is exact arithmetic", () => {
    for (const d of vocabulary.values()) {
      for (const field of [d.equation, d.source, d.range]) expect(field, d.name).toMatch(/\w/u);
      if (d.trust === undefined) {
        expect(isPhysics(d), d.name).toBe(false);
        expect(d.source, d.name).toMatch(/arithmetic|no source|balance|remainder|method/u);
      }
    }
  });
  it("has its model's uncertainty where it claims one in figures", () => {
    const claims = physics.filter((d) => /standard uncertainty/u.test(d.trust ?? ""));
    expect(claims.length).toBeGreaterThan(40);
    expect(claims.filter((d) => d.modelUncertainty === undefined).map((d) => d.name)).toEqual([]);
  });
  it("is named in docs/science.md with its equation, but for the plain ones", () => {
    const science = readFileSync(new URL("../../docs/science.md", import.meta.url), "utf8");
    const plain = [...vocabulary.values()].filter((d) => d.group === "plain");
    const rest = [...vocabulary.keys()].filter((name) => !plain.some((d) => d.name === name));
    expect(rest.filter((name) => !new RegExp(`\\b${name}\\b`, "u").test(science))).toEqual([]);
  });
});

describe("what it claims it also counts", () => {
  // The first input gets a ± that is next to nothing, so that what is left in the answer's ± is the model's own.
  const CLAIMS: readonly (readonly [formula: string, least: number, most: number])[] = [
    ["boils_at(50 ± 1e-9 mbar, strength: 40 %vol)", 0.3, 0.3001],
    ["boils_at(50 ± 1e-9 mbar)", 0.005, 0.005],
    ["boils_at(70 ± 1e-9 mbar, solids: 65 °Bx)", 0.15, 0.17],
    ["pressure_for(20 ± 1e-9 °C, strength: 40 %vol)", 0.7, 1],
    ["first_vapour(50 ± 1e-9 mbar, 40 %vol)", 0.45, 0.65],
    ["absolute_pressure(960 ± 1e-9 mbar)", 17.5, 18],
    ["chill_load(1 ± 1e-9 L/h, 60 %vol, 50 mbar) / chill_load(1 L/h, 60 %vol, 50 mbar)", 0.01, 0.015],
    ["distil(1 ± 1e-9 L, 40 %vol, 50 mbar, take: 400 mL).taken.strength", 0.55, 0.65],
    ["alcohol_out(1 ± 1e-9 L, 5 %vol, 60 mbar, to: 0.5 %vol).taken.volume / (1 mL)", 0.07 * 234, 0.11 * 234],
    ["alcohol_out(1 ± 1e-9 L, 14 %vol, 100 mbar, to: 9 %vol).taken.volume / (1 mL)", 0.015 * 86, 0.025 * 86],
    ["scale_run(84 ± 1e-9 min, 2 L, to: 10 L).time / (1 min)", 0.14 * 143.6, 0.16 * 143.6],
    ["mass_of(1 ± 1e-9 L, 40 %vol) / (1 g)", 0.06, 0.07],
    ["pure_volume(1000 ± 1e-9 g, 40 %mas) / (1 mL)", 0.02, 0.03],
    ["pure_volume(1000 ± 1e-9 mL, 40 %vol) / (1 mL)", 0, 1e-6],
    ["let_down(1 ± 1e-9 L, 70 %vol, to: 42 %vol).add / (1 mL)", 0.16, 0.17],
    ["fortify(1 ± 1e-9 L, 12 %vol, 96 %vol, to: 18 %vol).add / (1 mL)", 0.1, 0.11],
    ["sweeten(1 ± 1e-9 L, 40 %vol, 300 g).strength", 0.08, 0.09],
    ["sweeten(1 ± 1e-9 L, 60 %vol, 300 g).strength", 0.28, 0.32],
    ["strength_by_drops(9.4 ± 1e-9 °Bx)", 0.03, 0.07],
    ["salt_activity(17 ± 1e-9 g, 90 g)", 0.003, 0.003],
    ["moisture_from_activity(0.865 ± 1e-9)", 0.15, 0.3],
    ["ice_point(70 ± 1e-9 g, sucrose: 30 g)", 0.03, 0.03],
    ["honey_moisture(1.49 ± 1e-9 nD)", 0.02, 0.02],
    ["honey_activity(18 ± 1e-9 %)", 0.04, 0.04],
    ["hmf_time(50 ± 1e-9 °C) / hmf_time(50 °C)", 0.25, 0.25],
    // 0.3 K of glass either way: 39.8 and 26.6 % of the vapour.
    ["condensed_share(30 ± 1e-9 mbar, 80 %vol, 7 °C)", 6, 7],
    ["condensed_share(30 ± 1e-9 mbar, 80 %vol, -10 °C)", 0, 0],
    // 0.1 % of 426 mL of honey, in grams of infusion; with sugar and alcohol half a per cent of 552 g more.
    ["infuse_honey_limit(600 ± 1e-9 g, 18.5 %, strength: 30 %mas, flask: 2 L).infusion / (1 g)", 0.38, 0.43],
    [
      "infuse_honey_limit(600 ± 1e-9 g, 18.5 %, strength: 30 %mas, solids: 2 °Bx, flask: 2 L).infusion / (1 g)",
      2.7,
      2.9,
    ],
    ["infuse_honey_limit(600 ± 1e-9 g, 18.5 %, budget: 300 g, flask: 2 L).infusion / (1 g)", 0, 1e-6],
  ];
  it.each(CLAIMS)("%s has %d to %d", (formula, least, most) => {
    const { uncertainty, message } = book.ask(formula);
    expect(message).toBeNull();
    expect(uncertainty ?? 0).toBeGreaterThanOrEqual(least * (1 - 1e-6));
    expect(uncertainty ?? 0).toBeLessThanOrEqual(most * (1 + 1e-6));
  });
});

describe("outside its range", () => {
  it("a formula stands here for every function of physics", () => {
    expect(physics.map((d) => d.name).filter((name) => !OUTSIDE.has(name))).toEqual([]);
    expect([...OUTSIDE.keys()].filter((name) => !vocabulary.has(name))).toEqual([]);
  });
  it.each([...OUTSIDE])("%s refuses and says the range", (name, [formula, says]) => {
    expect(formula.startsWith(`${name}(`)).toBe(true);
    const { raw } = book.ask(formula);
    expect(raw.type, formula).toBe("fault");
    if (raw.type !== "fault") return;
    expect(raw.says).toMatch(says);
    expect(raw.says).not.toMatch(/NaN|undefined|did not converge|Infinity/u);
    expect(raw.says).toMatch(/\.$/u);
  });
});

describe("the ends that it states", () => {
  // An end that is told rounded must be taken as it is told.
  it.each([
    "honey_moisture(1.5044 nD)",
    "honey_moisture(1.4740 nD)",
    "honey_moisture_from_solids(73.5 °Bx)",
    "honey_moisture_from_solids(85.2 °Bx)",
    "honey_density(13 %)",
    "honey_density(25 %)",
    "honey_activity(13 %)",
    "honey_activity(21 %)",
    "hmf_time(30 °C)",
    "hmf_time(176 °F)",
    "solids_from_index(1.33299 nD)",
    "solids_from_index(1.50398 nD)",
    "solids_at_20(20 °Bx, 50 °F)",
    "solids_at_20(20 °Bx, 86 °F)",
    "acid_corrected(40 °Bx, 20 %)",
    "syrup_density(85 °Bx, temperature: 100 °C)",
    "spirit_density(40 %vol, temperature: -20 °C)",
    "spirit_density(100 %vol, temperature: 104 °F)",
    "strength_by_drops(16.6 °Bx)",
    "flash_point(10 %vol)",
    "flash_point(100 %vol)",
    "sweeten(1 L, 60 %vol, 500 g).volume",
    "salt_activity(35.9 g, 100 g)",
    "salt_from_activity(0.752)",
    "activity(73.6 g, salt: 26.4 g)",
    "activity(20 g, glucose: 80 g)",
    "activity_from_solids(85 °Bx)",
    "ice_point(56 g, maltose: 44 g)",
    "ice_point(60 g, glycerol: 40 g)",
    "ice_point(77 g, salt: 23 g)",
    "ice_point(28.1 g, ethanol: 71.9 g)",
    "ice_share(-4 °F, 100 g, sucrose: 20 g)",
    "air_at(-430 m)",
    "air_at(5000 m)",
    'stays_liquid_to("propylene", 50 %)',
    "boils_at(110 kPa)",
    "boils_at(1.1 bar)",
    "boils_at(6.113 mbar)",
    "solids_from_density(998.2 kg/m3)",
    "solids_from_density(1445.94 kg/m3)",
    "strength_from_density(998.2 kg/m3)",
    "strength_from_density(789.24 kg/m3)",
    "pressure_for(32 °F)",
    "boils_at(50 mbar, activity: 0.3)",
    "condensed_share(50 mbar, 80 %vol, -50 °C, skin: 0 K)",
    "by_mass(100 %vol)",
    "let_down(1 L, 40 %vol, to: 40 %vol).add",
  ])("%s is answered", (formula) => {
    const { raw, message } = book.ask(formula);
    expect(message).toBeNull();
    expect(raw.type).toBe("quantity");
  });
  it("letting down to the strength it has takes no water at all", () => {
    expect(book.ask("let_down(1 L, 40 %vol, to: 40 %vol).add").value).toBe(0);
  });
});
