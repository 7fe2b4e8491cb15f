import { parseBook, parseFormula } from "../../grammar";
import { Calculation } from "../../src/engine/calculation";
import { compile } from "../../src/engine/compile";
import { makePlan } from "../../src/engine/plan";
import { boilingTemperature, cleanPot } from "../../src/matter/boiling";
import { liquidOfVolume, massOf, pureVolumeOf, volumeOf } from "../../src/matter/liquid";
import { marry, waterToLetDown } from "../../src/matter/mixing";
import { massFraction } from "../../src/matter/spirit";
import { isobaricStill, runStill } from "../../src/matter/still";
import { exact, parseUnit, quantity } from "../../src/quantity";
import type { Value } from "../../src/vocabulary/value";
import type { Line } from "./table";
import { compared } from "./timing";

/** A call with its argument `x` changing, and the same by the bare function of the physics. */
interface Case {
  readonly formula: string;
  readonly unit: string;
  /** The first and the last value of `x`, in `unit`. */
  readonly from: number;
  readonly to: number;
  /** `x` in SI units. */
  readonly bare: (x: number) => number;
  readonly scale: number;
}

const CASES: readonly Case[] = [
  {
    formula: "boils_at(x, strength: 40 %vol)",
    unit: "mbar",
    from: 20,
    to: 200,
    scale: 100,
    bare: (x) => boilingTemperature(cleanPot(massFraction(0.4)), x),
  },
  {
    formula: "distil(1 L, 40 %vol, x, take: 400 mL)",
    unit: "mbar",
    from: 30,
    to: 200,
    scale: 100,
    bare: (x) => {
      const still = isobaricStill(x);
      const run = runStill(still, liquidOfVolume(1e-3, massFraction(0.4)), { type: "volume", volume: 4e-4 });
      return volumeOf(run.taken) + still.temperature(run.endX) + still.temperature(run.startX);
    },
  },
  {
    formula: "marry([x, 500 mL, 300 mL], [96 %vol, 40 %vol, 20 %vol])",
    unit: "mL",
    from: 100,
    to: 900,
    scale: 1e-6,
    bare: (x) => {
      const { whole, contraction } = marry([
        liquidOfVolume(x, massFraction(0.96)),
        liquidOfVolume(5e-4, massFraction(0.4)),
        liquidOfVolume(3e-4, massFraction(0.2)),
      ]);
      return volumeOf(whole) + pureVolumeOf(whole) + massOf(whole) + contraction;
    },
  },
  {
    formula: "let_down(x, 96 %vol, to: 40 %vol)",
    unit: "mL",
    from: 100,
    to: 900,
    scale: 1e-6,
    bare: (x) => {
      const spirit = liquidOfVolume(x, massFraction(0.96));
      const water = waterToLetDown(spirit, massFraction(0.4));
      return water + volumeOf({ ethanol: spirit.ethanol, water: spirit.water + water });
    },
  },
];

const COUNT = 50;

export function physics(): readonly Line[] {
  const calculation = Calculation.of(makePlan(parseBook("")));
  return CASES.map(({ formula, unit, from, to, bare, scale }) => {
    const { code } = compile(parseFormula(formula).formula, {
      names: calculation.plan.names,
      place: "book",
      frames: [["x"]],
    });
    const steps = Array.from({ length: COUNT }, (_, i) => from + ((to - from) * i) / (COUNT - 1));
    const inUnit = steps.map((v): Value => quantity(exact(v.toFixed(3)), parseUnit(unit)));
    const owner = { pathOf: () => "" };
    const called = (x: Value): number => {
      const value = code({
        values: calculation,
        owner,
        row: -1,
        locals: { values: [x], outer: undefined },
        route: "",
      });
      if (value.type === "quantity") return value.n.v;
      if (value.type !== "record") throw new Error(`${formula}: ${JSON.stringify(value)}`);
      const [first] = value.parts.values();
      return first?.type === "quantity" ? first.n.v : 0;
    };
    const [alone, ours] = compared(
      [
        () => steps.reduce((sum, v) => sum + bare(v * scale), 0),
        () => {
          calculation.allowance.recount();
          return inUnit.reduce((sum, x) => sum + called(x), 0);
        },
      ],
      { warmUp: 300, rounds: 7 },
    );
    const perSecond = (micros: number): string => Math.round((COUNT * 1e6) / micros).toLocaleString("en");
    return {
      measure: `\`${formula}\`, against the bare function of the physics`,
      ratio: ours!.ratio,
      figures: `${perSecond(ours!.micros)} and ${perSecond(alone!.micros)} calls a second`,
    };
  });
}
