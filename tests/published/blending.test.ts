import { describe, expect, it } from "vitest";
import { crossAdd, crossParts, plainShare, strengthByVolume } from "../../src/matter/blending";
import { massFraction as q } from "../../src/matter/spirit";

describe("the Pearson square by mass", () => {
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
