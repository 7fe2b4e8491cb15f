import { describe, expect, it } from "vitest";
import { crossAdd, crossFill, crossParts, plainShare, strengthByVolume } from "../../src/matter/blending";
import { massFraction as q } from "../../src/matter/spirit";

const L = 1e-3;

describe("the Pearson square by mass", () => {
  // Computed outside this project with OIML R 22, all at 20 °C.
  it("lets 1 L of 96 %vol down to 40 %vol with 1.4705 L of water to 2.400 L", () => {
    const made = crossAdd(L, "volume", q(0.96), 0, q(0.4), strengthByVolume);
    expect(made.add / L).toBeCloseTo(1.4705, 4);
    expect(made.total / L).toBeCloseTo(2.4, 9);
  });
  it("brings 100 L of 60 %vol to 40 %vol with 51.388 L of water to 150.000 L", () => {
    const made = crossAdd(0.1, "volume", q(0.6), 0, q(0.4), strengthByVolume);
    expect(made.add / L).toBeCloseTo(51.388, 2);
    expect(made.total / L).toBeCloseTo(150, 9);
  });

  // Pharmacopoeia table for 1000 mL at 20 °C, seen: 729.2 mL of 96.0 % + 297.2 mL water; 418.4 mL of 95.6 % + 610.6 mL.
  it("makes 1000 mL of 70 and of 40 %vol as the pharmacopoeia does, within 0.16 mL", () => {
    const seventy = crossFill(L, "volume", q(0.96), 0, q(0.7), strengthByVolume);
    expect(Math.abs(seventy.rich / 1e-6 - 729.2)).toBeLessThan(0.16);
    expect(Math.abs(seventy.lean / 1e-6 - 297.2)).toBeLessThan(0.16);
    const forty = crossFill(L, "volume", q(0.956), 0, q(0.4), strengthByVolume);
    expect(Math.abs(forty.rich / 1e-6 - 418.4)).toBeLessThan(0.16);
    expect(Math.abs(forty.lean / 1e-6 - 610.6)).toBeLessThan(0.16);
  });

  // defalcos.com, seen: 640 oz of 15 % wine with 40 % spirit to 20 % needs 160 oz, volumes taken to add.
  it("agrees with a tutorial that leaves contraction out", () => {
    expect(crossAdd(640, "volume", 0.15, 0.4, 0.2, plainShare).add).toBeCloseTo(160, 9);
    expect(crossParts(0.4, 0.15, 0.2).rich).toBeCloseTo(0.2, 12);
  });

  // Computed here: with contraction the mix is smaller, so less spirit reaches the strength.
  it("is 0.4 % above what is needed when the mixing is done by mass", () => {
    const byMass = crossAdd(640, "volume", q(0.15), q(0.4), q(0.2), strengthByVolume).add;
    expect(160 / byMass).toBeCloseTo(1.0039, 4);
  });
});
