import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { absolutePressure, airPressure } from "../../src/matter/air";
import {
  activePot,
  boilingError,
  boilingPressure,
  boilingTemperature,
  cleanPot,
  sweetPot,
} from "../../src/matter/boiling";
import { chillLoad, condensedShare, latentHeat, leak, lostPast } from "../../src/matter/condenser";
import { coolantFreezing, type Glycol } from "../../src/matter/coolant";
import { ethanolLatentHeat } from "../../src/matter/ethanol";
import { flashPoint } from "../../src/matter/flammability";
import { calibrate, scaleTime, timeRun, warmingTime } from "../../src/matter/heat";
import { fractionOf, liquidOfMass, liquidOfVolume } from "../../src/matter/liquid";
import { massFractionFromIndex, spiritIndex } from "../../src/matter/refraction";
import { settle, spiritIce } from "../../src/matter/setting";
import { heldByMarc, soak } from "../../src/matter/soaking";
import { massFraction } from "../../src/matter/spirit";
import { isobaricStill, runStill } from "../../src/matter/still";
import { waterLatentHeat } from "../../src/matter/water";
import { Trouble } from "../../src/quantity";

const kelvin = (t: number) => t + 273.15;
const code = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (error instanceof Trouble) return error.code;
    throw error;
  }
  return "no trouble";
};

describe("pots", () => {
  // Table of the reference, computed when it was made: sucrose in water, °C.
  it.each([
    [0, [99.97, 60.06, 45.81, 32.87]],
    [20, [100.37, 60.36, 46.08, 33.13]],
    [40, [101.12, 60.96, 46.63, 33.63]],
    [60, [102.91, 62.4, 47.95, 34.85]],
    [70, [104.96, 64.06, 49.48, 36.27]],
    [80, [109.44, 67.71, 52.87, 39.42]],
  ] as const)("with %d °Bx of sugar", (brix, temperatures) => {
    [101_325, 20_000, 10_000, 5000].forEach((pascal, i) => {
      const found = boilingTemperature(sweetPot(0, 100 - brix, brix), pascal) - 273.15;
      expect(Math.abs(found - temperatures[i]!)).toBeLessThan(0.011);
    });
  });
  it.each([
    [0.9, [102.95, 47.88, 34.76]],
    [0.8, [106.35, 50.24, 36.91]],
    [0.7, [110.28, 52.96, 39.38]],
    [0.6, [114.95, 56.17, 42.29]],
    [0.55, [117.63, 58.01, 43.95]],
  ] as const)("with water activity %d", (activity, temperatures) => {
    [101_325, 10_000, 5000].forEach((pascal, i) => {
      const found = boilingTemperature(activePot(0, activity), pascal) - 273.15;
      expect(Math.abs(found - temperatures[i]!)).toBeLessThan(0.011);
    });
  });
  it("invert over their whole range", () => {
    const pots = [
      cleanPot(0),
      cleanPot(0.05),
      cleanPot(massFraction(0.4)),
      cleanPot(0.9),
      cleanPot(1),
      activePot(0, 0.6),
      activePot(0.1, 0.8),
      sweetPot(0, 0.3, 0.7),
      sweetPot(0.2, 0.6, 0.2),
    ];
    fc.assert(
      fc.property(fc.constantFrom(...pots), fc.double({ min: 0, max: 78, noNaN: true }), (pot, t) => {
        const back = boilingTemperature(pot, boilingPressure(pot, kelvin(t)));
        expect(Math.abs(back - kelvin(t))).toBeLessThan(1e-8);
      }),
    );
  });
  it("boil warmer at more pressure, cooler with more alcohol up to the azeotrope, warmer with more sugar", () => {
    for (let pascal = 3000; pascal < 100_000; pascal *= 1.3) {
      expect(boilingTemperature(cleanPot(0.3), pascal * 1.01)).toBeGreaterThan(
        boilingTemperature(cleanPot(0.3), pascal),
      );
    }
    for (let i = 1; i < 90; i++) {
      expect(boilingTemperature(cleanPot(i / 100), 101_325)).toBeLessThan(
        boilingTemperature(cleanPot((i - 1) / 100), 101_325),
      );
    }
    for (let i = 1; i <= 85; i++) {
      expect(boilingTemperature(sweetPot(0, 100 - i, i), 5000)).toBeGreaterThan(
        boilingTemperature(sweetPot(0, 101 - i, i - 1), 5000),
      );
    }
  });
  it("with no sugar, or activity 1, are clean ones", () => {
    const pascal = 6000;
    expect(boilingTemperature(sweetPot(0.3, 0.7, 0), pascal)).toBe(boilingTemperature(cleanPot(0.3), pascal));
    expect(boilingTemperature(activePot(0.3, 1), pascal)).toBeCloseTo(
      boilingTemperature(cleanPot(0.3), pascal),
      10,
    );
  });
  it("are surest as water and as sure as the data with alcohol", () => {
    expect(boilingError(cleanPot(0), 5000)).toBeCloseTo(0.005, 6);
    expect(boilingError(cleanPot(0.3), 5000)).toBeCloseTo(0.3, 3);
    expect(boilingError(cleanPot(0.004), 5000)).toBeLessThan(0.15);
  });
  it.each([
    [() => boilingTemperature(cleanPot(0), 0), "out-of-range"],
    [() => boilingTemperature(cleanPot(0), -5), "out-of-range"],
    [() => boilingTemperature(cleanPot(0), 120_000), "out-of-range"],
    [() => boilingTemperature(cleanPot(0), 500), "out-of-range"],
    [() => boilingTemperature(cleanPot(0.3), Number.NaN), "out-of-range"],
    [() => boilingTemperature(activePot(0, 0.35), 105_000), "out-of-range"],
    [() => chillLoad(1e-4, 0.3, 10), "out-of-range"],
    [() => condensedShare(0, 0.3, 280), "out-of-range"],
    [() => lostPast(1e-6, -5, 0.3, 280), "out-of-range"],
    [() => boilingPressure(cleanPot(0.3), kelvin(99)), "out-of-range"],
    [() => boilingPressure(cleanPot(0.3), kelvin(-1)), "out-of-range"],
    [() => activePot(0, 0.2), "out-of-range"],
    [() => activePot(0, 1.1), "out-of-range"],
    [() => sweetPot(0, 0.1, 0.9), "out-of-range"],
    [() => sweetPot(0.1, 0.4, 0.5), "out-of-range"],
  ])("outside the range are refused: %s", (run, expected) => {
    expect(code(run)).toBe(expected);
  });
});

describe("heats of evaporation", () => {
  it.each([
    [20, 925.5],
    [30, 911.6],
    [50, 882.2],
  ])("of ethanol at %d °C is %d kJ/kg (computed when the form was chosen)", (t, heat) => {
    expect(ethanolLatentHeat(kelvin(t)) / 1000).toBeCloseTo(heat, 0);
  });
  // kJ/kg and W for a litre an hour, computed when the reference was made.
  it.each([
    [96, 25, 1012.5],
    [80, 25, 1322.6],
    [80, 82, 1221.1],
    [50, 30, 1785.8],
    [0, 30, 2430.1],
  ])("of %d %%vol at %d °C is %d kJ/kg", (q, t, heat) => {
    expect(latentHeat(massFraction(q / 100), kelvin(t)) / 1000).toBeCloseTo(heat, 0);
  });
});

describe("the condenser", () => {
  it("lets the share that condenses rise as the coolant falls, and stop changing below -10 °C", () => {
    let last = 0;
    for (let t = 20; t >= -30; t--) {
      const share = condensedShare(2000, massFraction(0.8), kelvin(t));
      expect(share).toBeGreaterThanOrEqual(last);
      last = share;
    }
    expect(last).toBe(1);
  });
  it("loses in proportion to the air, and more when it is warmer", () => {
    const p = massFraction(0.8);
    const once = lostPast(1e-6, 5000, p, kelvin(0));
    expect(lostPast(3e-6, 5000, p, kelvin(0)) / once).toBeCloseTo(3, 12);
    expect(lostPast(1e-6, 5000, p, kelvin(5))).toBeGreaterThan(once);
    expect(lostPast(1e-6, 5000, p, kelvin(-20))).toBe(lostPast(1e-6, 5000, p, kelvin(-10)));
  });
  it("refuses glass at which the distillate boils", () => {
    expect(code(() => lostPast(1e-6, 5000, massFraction(0.8), kelvin(19)))).toBe("too-warm");
    expect(code(() => condensedShare(5000, 0.5, kelvin(-60)))).toBe("out-of-range");
  });
  it("takes away what evaporates: twice the rate, twice the power", () => {
    expect(chillLoad(2e-4, 0.6, 5000) / chillLoad(1e-4, 0.6, 5000)).toBeCloseTo(2, 12);
    expect(chillLoad(1e-3, 0, 101_325)).toBeCloseTo(1e-3 * waterLatentHeat(kelvin(99.974)), 0);
  });
  it("takes a leak from the rise, the room and the time", () => {
    expect(leak(100, 60, 0.005) * 60e6).toBeCloseTo(4.9346, 4);
  });
});

describe("coolants", () => {
  it.each([
    ["ethylene", 10, -3.36],
    ["ethylene", 40, -23.81],
    ["propylene", 30, -12.79],
    ["propylene", 50, -32.19],
    ["ethylene", 0, 0],
  ] as const)("%s glycol at %d %% freezes at %d °C", (glycol, share, t) => {
    expect(coolantFreezing(glycol, share / 100) - 273.15).toBeCloseTo(t, 6);
  });
  // Shares that just reach a temperature on the same curve, rounded to 0.1 %, which is at most 0.12 K.
  it.each([
    ["ethylene", 30.5, -15],
    ["ethylene", 36.2, -20],
    ["ethylene", 41.1, -25],
    ["propylene", 25.4, -10],
    ["propylene", 33.2, -15],
    ["propylene", 39.4, -20],
    ["propylene", 44.3, -25],
  ] as const)("%s glycol wants %d %% to reach %d °C", (glycol, share, t) => {
    expect(Math.abs(coolantFreezing(glycol, share / 100) - 273.15 - t)).toBeLessThan(0.2);
  });
  it("freeze colder with more glycol", () => {
    for (const glycol of ["ethylene", "propylene"] as readonly Glycol[]) {
      for (let i = 1; i <= 500; i++) {
        expect(coolantFreezing(glycol, i / 1000)).toBeLessThan(coolantFreezing(glycol, (i - 1) / 1000));
      }
    }
    expect(code(() => coolantFreezing("propylene", 0.51))).toBe("out-of-range");
  });
});

describe("the time of a run", () => {
  const heating = { bath: kelvin(45), perKelvin: 30 };
  it("for water is mass times heat over power: nothing changes on the way", () => {
    const charge = liquidOfMass(1, 0);
    const still = isobaricStill(4000);
    const run = runStill(still, charge, { type: "mass", mass: 0.4 });
    const pot = still.temperature(0);
    const power = 30 * (kelvin(45) - pot);
    const timing = timeRun(still, run, heating);
    expect(timing.seconds).toBeCloseTo((0.4 * waterLatentHeat(pot)) / power, 4);
    expect(timing.limit).toBe("bath");
    expect(timing.lastRate).toBeCloseTo(power / waterLatentHeat(pot), 12);
    const chilled = timeRun(still, run, { ...heating, chill: 100 });
    expect(chilled.seconds).toBeCloseTo((0.4 * waterLatentHeat(pot)) / 100, 4);
    expect(chilled.limit).toBe("chiller");
  });
  it("undoes the calibration", () => {
    const still = isobaricStill(4000);
    const known = calibrate(0.25, 0, 1200, kelvin(45), still.temperature(0));
    const run = runStill(still, liquidOfMass(1, 0), { type: "mass", mass: 0.25 });
    expect(timeRun(still, run, { bath: kelvin(45), perKelvin: known.perKelvin }).seconds).toBeCloseTo(
      1200,
      4,
    );
  });
  it("agrees with a fine sum over the run, corner between chiller and bath included", () => {
    const charge = liquidOfVolume(8e-4, massFraction(0.4));
    const still = isobaricStill(5000);
    const run = runStill(still, charge, { type: "ethanol", left: 0.1 * charge.ethanol });
    const hot = { bath: kelvin(36), perKelvin: 31.6, chill: 320 };
    const timing = timeRun(still, run, hot);
    expect(timing.limit).toBe("both");
    let seconds = 0;
    const steps = 4000;
    let before = charge;
    for (let i = 1; i <= steps; i++) {
      const left = charge.ethanol * (1 - (0.9 * i) / steps);
      const pot = runStill(still, before, { type: "ethanol", left }).left;
      const gone = { ethanol: before.ethanol - pot.ethanol, water: before.water - pot.water };
      const middle = still.temperature((xOf(before) + xOf(pot)) / 2);
      const p = fractionOf(gone);
      const power = Math.min(31.6 * (kelvin(36) - middle), 320);
      seconds += ((gone.ethanol + gone.water) * latentHeat(p, middle)) / power;
      before = pot;
    }
    expect(Math.abs(timing.seconds / seconds - 1)).toBeLessThan(2e-6);
  });
  it("grows with a colder bath and shrinks with a better still", () => {
    const charge = liquidOfVolume(8e-4, massFraction(0.4));
    const still = isobaricStill(5000);
    const run = runStill(still, charge, { type: "volume", volume: 3e-4 });
    const time = (bath: number, perKelvin: number) =>
      timeRun(still, run, { bath: kelvin(bath), perKelvin }).seconds;
    expect(time(35, 30)).toBeGreaterThan(time(40, 30));
    expect(time(35, 60)).toBeCloseTo(time(35, 30) / 2, 6);
  });
  it("is refused when the bath cannot boil the end", () => {
    const charge = liquidOfVolume(8e-4, massFraction(0.4));
    const still = isobaricStill(5000);
    const run = runStill(still, charge, { type: "ethanol", left: 0.05 * charge.ethanol });
    expect(code(() => timeRun(still, run, { bath: kelvin(30), perKelvin: 30 }))).toBe("bath-too-cold");
    expect(code(() => timeRun(still, run, { bath: kelvin(20), perKelvin: 30 }))).toBe("bath-too-cold");
    expect(code(() => timeRun(still, run, { bath: kelvin(40), perKelvin: 0 }))).toBe("nothing-there");
    expect(code(() => calibrate(0.2, 0, 1000, kelvin(20), kelvin(25)))).toBe("bath-too-cold");
  });
  it("warms a charge as Newton's law says", () => {
    const charge = liquidOfMass(1, 0);
    const seconds = warmingTime(charge, kelvin(20), kelvin(30), heating);
    expect(seconds).toBeCloseTo((4180 / 30) * Math.log(25 / 15), 9);
    expect(warmingTime(charge, kelvin(31), kelvin(30), heating)).toBe(0);
  });
  it("scales with the flask", () => {
    expect(scaleTime(60, 2, 2, "bath")).toBe(60);
    expect(scaleTime(60, 1, 8, "bath")).toBeCloseTo(120, 12);
    expect(code(() => scaleTime(60, 0, 8, "bath"))).toBe("nothing-there");
  });
});
const xOf = (l: { ethanol: number; water: number }) =>
  l.ethanol / 46.06844 / (l.ethanol / 46.06844 + l.water / 18.015268);

describe("soaking", () => {
  it("keeps the alcohol and adds the water", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (p, botanical, moisture) => {
          const before = liquidOfMass(1, p);
          const after = soak(before, botanical, moisture);
          expect(after.ethanol).toBe(before.ethanol);
          expect(after.water).toBeCloseTo(before.water + botanical * moisture, 12);
        },
      ),
    );
  });
  it("refuses marc that weighs less than its dry matter or more than everything", () => {
    const liquid = soak(liquidOfMass(0.7, 0.5), 0.15, 0.12);
    expect(code(() => heldByMarc(liquid, 0.15, 0.12, 0.1))).toBe("out-of-range");
    expect(code(() => heldByMarc(liquid, 0.15, 0.12, 2))).toBe("out-of-range");
    expect(code(() => soak(liquidOfMass(0.7, 0.5), 0.15, 1.2))).toBe("out-of-range");
    expect(code(() => soak(liquidOfMass(0.7, 0.5), -0.15, 0.2))).toBe("negative-amount");
  });
});

describe("settings", () => {
  it("hold together: the pot boils there, the receiver's limit is the distillate's own boiling", () => {
    const set = settle(cleanPot(massFraction(0.4)), kelvin(35), kelvin(-10), 15);
    expect(boilingTemperature(cleanPot(massFraction(0.4)), set.pascal)).toBeCloseTo(kelvin(20), 8);
    expect(boilingTemperature(cleanPot(set.first), set.pascal)).toBeCloseTo(set.receiverBelow, 9);
    expect(set.warmSide + set.coldSide).toBeCloseTo(45, 9);
    expect(set.holds).toBe(true);
  });
  it("tell that water ices and that a warm coolant holds nothing", () => {
    expect(settle(cleanPot(0), kelvin(35), kelvin(-10), 15).iceAt).toBeCloseTo(273.15, 9);
    expect(settle(cleanPot(massFraction(0.4)), kelvin(35), kelvin(16), 15).holds).toBe(false);
    expect(code(() => settle(cleanPot(0.3), kelvin(35), kelvin(20), 15))).toBe("too-warm");
    expect(code(() => settle(cleanPot(0.3), kelvin(35), kelvin(0), 0))).toBe("out-of-range");
  });
  it("know that strong distillate does not freeze here", () => {
    expect(spiritIce(0.8)).toBeUndefined();
    expect(spiritIce(massFraction(0.4))! - 273.15).toBeCloseTo(-23.3, 0);
  });
});

describe("small instruments", () => {
  it("go from strength to index and back", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 0.4, noNaN: true }), (e) => {
        expect(Math.abs(massFractionFromIndex(spiritIndex(e)) - e)).toBeLessThan(1e-10);
      }),
    );
    expect(code(() => massFractionFromIndex(1.37))).toBe("out-of-range");
    expect(code(() => massFractionFromIndex(1.33))).toBe("out-of-range");
    expect(code(() => spiritIndex(0.5))).toBe("out-of-range");
  });
  it("go from dial to pressure", () => {
    expect(absolutePressure(96_000, 101_325)).toBe(5325);
    for (const [below, air] of [
      [102_000, 101_325],
      [-100, 101_325],
      [90_000, 40_000],
    ] as const) {
      expect(code(() => absolutePressure(below, air))).toBe("out-of-range");
    }
    expect(airPressure(0)).toBe(101_325);
    expect(airPressure(1000)).toBeCloseTo(89_875, -1);
    expect(code(() => airPressure(9000))).toBe("out-of-range");
  });
  it("lower the flash point with every degree of strength, never below pure ethanol's", () => {
    let last = Number.POSITIVE_INFINITY;
    for (let q = 10; q <= 100; q++) {
      const t = flashPoint(q / 100);
      expect(t).toBeLessThanOrEqual(last);
      last = t;
    }
    expect(last).toBeCloseTo(kelvin(12), 9);
    expect(code(() => flashPoint(0.05))).toBe("out-of-range");
  });
});
