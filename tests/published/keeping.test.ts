import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { activityFromSolids, mixtureActivity } from "../../src/matter/activity";
import { canGrow, warmRule, warmTime } from "../../src/matter/keeping";
import { mixturePoints } from "./food-comparisons";

describe("water activity of sugar", () => {
  // Norrish with K 6.47 (from memory), computed outside this project: a different equation for the same thing.
  it("is within 0.0016 of Norrish's from 10 to 70 % sucrose", () => {
    for (const [w, activity] of [
      [10, 0.994],
      [20, 0.9859],
      [30, 0.9749],
      [40, 0.9589],
      [50, 0.9348],
      [60, 0.8953],
      [65, 0.8654],
      [67, 0.8506],
      [70, 0.8243],
    ] as const) {
      expect(Math.abs(activityFromSolids(w / 100) - activity)).toBeLessThan(0.0016);
    }
  });

  // Norrish again, by hand: at 80.3 °Bx, thicker than either was made for, it gives 0.673 where ours gives 0.687.
  it("parts from Norrish's past 70 °Bx, by 0.014 at 80.3", () => {
    const moles = 0.803 / 342.3;
    const x = moles / (moles + 0.197 / 18.015);
    const norrish = (1 - x) * Math.exp(-6.47 * x * x);
    expect(norrish).toBeCloseTo(0.673, 3);
    expect(activityFromSolids(0.803) - norrish).toBeCloseTo(0.0144, 3);
  });

  // Computed outside this project: fruit at 40 to 50 °Bx is at 0.96 to 0.93, where sugar alone keeps nothing.
  it("is 0.96 at 40 °Bx and 0.93 at 50 °Bx", () => {
    expect(activityFromSolids(0.4)).toBeCloseTo(0.96, 2);
    expect(activityFromSolids(0.5)).toBeCloseTo(0.93, 2);
  });

  // Robinson & Stokes' osmotic coefficients of sucrose (from memory): an equation from isopiestic measurements.
  it("is within 0.001 of Robinson and Stokes up to 6 mol/kg", () => {
    for (let m = 0.25; m <= 6; m += 0.25) {
      const phi = 1 + m * (0.07028 + m * (0.01847 + m * (-0.004045 + m * 0.000228)));
      const measured = Math.exp(-phi * m * 0.01801528);
      const w = (m * 0.342296) / (1 + m * 0.342296);
      expect(Math.abs(activityFromSolids(w) - measured)).toBeLessThan(0.00105);
    }
  });
});

// Nodes of the solubility of sucrose (seen): 64.4 % at 0 °C, 70.2 % at 40 °C, on a line between them 68 % at 25 °C.
it("remarks on crystals where sucrose at 25 °C is full by the table", () => {
  const nodes = mixturePoints
    .filter((p) => p.quantity === "sucrose_saturation")
    .map((p) => [p.inputs.t_C as number, p.value] as const);
  const [[cold, least], [warm, most]] = nodes as [(typeof nodes)[0], (typeof nodes)[0]];
  const full = least + ((most - least) * (25 - cold)) / (warm - cold);
  const notes = (brix: number) => openBook("").ask(`activity_from_solids(${brix} °Bx)`).notes.join();
  expect(notes(full - 0.5)).toBe("");
  expect(notes(full + 0.5)).toMatch(/crystals/u);
});

describe("water activity of spirits and wines", () => {
  // Typical honey at 18 % water (from memory): the product of all solutes was computed as 0.611, too high for honey.
  it("reads high for honey, as it says", () => {
    const honey = { glucose: 0.345, fructose: 0.385, maltose: 0.075, sucrose: 0.015 };
    const activity = mixtureActivity(0.18, honey);
    expect(activity).toBeGreaterThan(0.56);
    expect(activity).toBeLessThan(0.64);
  });
});

describe("growth", () => {
  // Table adapted from Beuchat 1981 (docslib.org/doc/9382927): seen. 21 CFR 114.3 (law.cornell.edu): seen.
  it("names the groups of the table", () => {
    expect(canGrow({ activity: 0.55, ph: 4 })).toMatch(/no microbe is known to grow/u);
    expect(canGrow({ activity: 0.62, ph: 4 })).toMatch(/sugar-loving yeasts/u);
    expect(canGrow({ activity: 0.7, ph: 4 })).toMatch(/dry-loving moulds/u);
    expect(canGrow({ activity: 0.78, ph: 4 })).toMatch(/toxins/u);
    expect(canGrow({ activity: 0.85, ph: 4 })).toMatch(/most moulds/u);
    expect(canGrow({ activity: 0.89, ph: 4 })).toMatch(/many yeasts/u);
    expect(canGrow({ activity: 0.93, ph: 4 })).toMatch(/Salmonella/u);
    expect(canGrow({ activity: 0.98, ph: 4 })).toMatch(/nearly every microbe/u);
  });
  it("calls low in acid only what has pH over 4.6 and a water activity over 0.85", () => {
    expect(canGrow({ activity: 0.9, ph: 4.7 })).toMatch(/counts as low in acid/u);
    expect(canGrow({ activity: 0.85, ph: 4.7 })).toMatch(/does not count as low in acid/u);
    expect(canGrow({ activity: 0.9, ph: 4.6 })).toMatch(/is acid/u);
  });
  it("never judges from the water activity alone", () => {
    expect(canGrow({ activity: 0.9 })).toMatch(/^Not to be judged from the water activity alone\./u);
    expect(canGrow({ activity: 0.9 })).toMatch(/Measure the pH/u);
  });
  // Lett. Appl. Microbiol. 24 (1997) 95 (abstract seen): toxin at 3 °C in 5 weeks, at 5 °C in 2 to 3.
  it("does not let a fridge stand for safety", () => {
    expect(canGrow({ activity: 0.98, ph: 5.5, kelvin: 277.15 })).toMatch(/a fridge is not enough/u);
    expect(canGrow({ activity: 0.98, ph: 4.0, kelvin: 277.15 })).toMatch(/slow, not stopped/u);
  });
  // J. Food Prot. 66 (2003) 610 (abstract seen): 6 % by mass stopped, 4 % delayed, spores survived.
  it("tells what alcohol did in the studies", () => {
    expect(canGrow({ activity: 0.97, ph: 5, ethanol: 0.04 })).toMatch(/only slows/u);
    expect(canGrow({ activity: 0.97, ph: 5, ethanol: 0.07 })).toMatch(/spoilers needed/u);
    expect(canGrow({ activity: 0.9, ph: 5, ethanol: 0.15 })).toMatch(/spores survive/u);
  });
  // A city food safety kit after the Australian code (issuu.com/cityofcharlessturt): seen. Ends are counted as warm.
  it("counts the time from 5 to 60 °C and tells the 2 and 4 hour rule", () => {
    const c = (t: number): number => 273.15 + t;
    expect(warmTime([60, 60, 60, 60], [c(5), c(60), c(4.9), c(60.1)])).toBe(120);
    expect(warmRule(7199)).toMatch(/Under 2 h/u);
    expect(warmRule(7200)).toMatch(/2 to 4 h/u);
    expect(warmRule(14_401)).toMatch(/Over 4 h/u);
  });
});
