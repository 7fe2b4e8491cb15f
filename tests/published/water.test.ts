import { spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { spiritDensity } from "../../src/matter/spirit";
import { waterLatentHeat, waterPressure } from "../../src/matter/water";
import { DENSITY_WITHIN, HEAT_FROM, HEAT_WITHIN, PRESSURE_WITHIN } from "./water-route";

// A second route: the open library iapws (Debian package python3-iapws), which carries IAPWS-95 and IAPWS-IF97 whole.
// The product uses the short supplementary equation and the spirit density formula instead.
const program = `
import json
from iapws import IAPWS95, IAPWS97
out = []
for t in (0.01, 5, 10, 20, 25, 30, 40, 50, 75, 100):
    liquid, steam = IAPWS97(T=t + 273.15, x=0), IAPWS97(T=t + 273.15, x=1)
    row = {"t": t, "pressure": liquid.P * 1e6, "heat": (steam.h - liquid.h) * 1000}
    if t <= 40:
        row["density"] = IAPWS95(T=t + 273.15, P=0.101325).rho
    out.append(row)
print(json.dumps(out))
`;
const ran = spawnSync("/usr/bin/python3", ["-c", program], { encoding: "utf8", timeout: 110_000 });
const there = ran.status === 0;
if (!there) {
  console.warn("NOT TESTED: water against the library iapws. Install the Debian package python3-iapws.");
}
interface Row {
  readonly t: number;
  readonly pressure: number;
  readonly heat: number;
  readonly density?: number;
}

describe.skipIf(!there)("water by a second route (library iapws)", () => {
  const rows = there ? (JSON.parse(ran.stdout) as readonly Row[]) : [];
  it("has the vapour pressure of IAPWS-IF97 within 0.013 %", () => {
    expect(rows.length).toBe(10);
    for (const { t, pressure } of rows) {
      expect(Math.abs(waterPressure(t + 273.15) / pressure - 1), `${t} °C`).toBeLessThan(PRESSURE_WITHIN);
    }
  });
  it("has the heat of evaporation of IAPWS-IF97 within 0.5 kJ/kg from 5 °C on", () => {
    for (const { t, heat } of rows) {
      if (t >= HEAT_FROM)
        expect(Math.abs(waterLatentHeat(t + 273.15) - heat), `${t} °C`).toBeLessThan(HEAT_WITHIN);
    }
  });
  it("has the density of IAPWS-95 within 0.0075 kg/m³", () => {
    const dense = rows.filter((r) => r.density !== undefined);
    expect(dense.length).toBe(7);
    for (const { t, density } of dense) {
      expect(Math.abs(spiritDensity(0, t + 273.15) - density!), `${t} °C`).toBeLessThan(DENSITY_WITHIN);
    }
  });
});
