import { boilingTemperature, cleanPot, VAPOUR_ERROR } from "../matter/boiling";
import { liquidOfVolume, massOf, pureVolumeOf, volumeOf } from "../matter/liquid";
import { waterVolume } from "../matter/mixing";
import { volumeFraction } from "../matter/spirit";
import { isobaricStill, runStill } from "../matter/still";
import { Trouble } from "../quantity";
import { DEGAS, LABEL, LICENCE, WARM_CLOCK } from "./cautions";
import type { Declaration, NumberArguments } from "./declaration";
import { COLD_BOILING, GLASS, PERISHABLE, STRIPPED } from "./food-cautions";
import { isMass, strength } from "./parameters";
import { remarkOnBoiling } from "./pot";
import {
  amountsOf,
  charge,
  flaskParameter,
  leftParts,
  massPart,
  needRoom,
  num,
  RUN_RANGE,
  RUN_SOURCE,
  takenParts,
  volumePart,
} from "./run-words";
import { spiritOf } from "./spirit-mixing";
import { absolute } from "./still-words";

/** Alcohol taken out of a drink, which is then given back its volume with water. */

function strip(
  args: NumberArguments,
  liquid: ReturnType<typeof spiritOf>,
  shift = 0,
): Record<string, number> {
  const to = num(args, "to");
  const whole = liquidOfVolume(volumeOf(liquid), to);
  const still = isobaricStill(num(args, "pressure"), { shift });
  const run = runStill(still, liquid, { type: "ethanol", left: whole.ethanol });
  const water = massOf(whole) - massOf(run.left);
  return {
    ...amountsOf("taken", run.taken),
    "taken.alcohol": pureVolumeOf(run.taken),
    ...amountsOf("left", run.left),
    add: waterVolume(water),
    add_mass: water,
    total: volumeOf(whole),
    end_temperature: still.temperature(run.endX),
  };
}

export const declarations: readonly Declaration[] = [
  {
    name: "alcohol_out",
    group: "alcohol out",
    effort: 60,
    says: "How much to drive off a beer, wine or cider so that, made up with water to its old volume, it has a strength.",
    parameters: [
      charge,

      strength("strength", "Strength of the drink."),
      absolute,
      strength("to", "Strength after the water is given back."),
      flaskParameter,
    ],
    labelsOnly: ["to", "flask"],
    result: [
      ...takenParts,
      ...leftParts,
      volumePart("add", "Water to give back, at 20 °C."),
      massPart("add_mass", "The same, to be weighed: give back by weight."),
      volumePart("total", "Volume then: that of the charge."),
    ],
    equation:
      "distil until the pot holds volume * to of pure alcohol; add = density(to) * volume - left.mass",
    source: RUN_SOURCE,
    range: `${RUN_RANGE}; \`to\` above 0 and below the drink's strength`,
    trust:
      "standard uncertainty of the distillate's volume 2 % where most of the alcohol stays, 7 to 11 % down to half a per cent (0.01 in the vapour's mole fraction, felt most where the pot is weak); measured vapour data under vacuum at these strengths are poor",
    cautions: [STRIPPED, COLD_BOILING, PERISHABLE, WARM_CLOCK, DEGAS, GLASS, LICENCE, LABEL],
    examples: [
      { formula: "alcohol_out(800 mL, 5.2 %vol, 40 mbar, to: 0.5 %vol).taken.volume", gives: "200.73 mL" },
      {
        formula: "alcohol_out(800 mL, 5.2 %vol, 40 mbar, to: 0.5 %vol).left.strength",
        gives: "0.66821 %vol",
      },
      { formula: "alcohol_out(800 mL, 5.2 %vol, 40 mbar, to: 0.5 %vol).total", gives: "800 mL" },
    ],
    compute: (args, call) => {
      const p = num(args, "strength");
      const to = num(args, "to");
      if (!(to > 0 && to < p)) {
        throw new Trouble({
          code: "target-outside",
          says: `The strength wanted must lie above 0 and below ${Number((100 * volumeFraction(p)).toPrecision(4))} %vol, and it is ${Number((100 * volumeFraction(to)).toPrecision(4))} %vol.`,
          help:
            to > 0
              ? "To raise a strength use fortify."
              : "A pot never comes to exactly none: give a small strength such as 0.05 %vol.",
        });
      }
      const pot = cleanPot(p);
      const pascal = num(args, "pressure");
      const kelvin = boilingTemperature(pot, pascal);
      remarkOnBoiling(pot, kelvin, pascal, call);
      call.note(
        "Extract and sugar are left out of the model; a refractometer cannot follow this run, a scale can.",
      );
      const liquid = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), p);
      needRoom(args, liquid);
      return strip(args, liquid);
    },
    modelUncertainty: (args, result) => {
      const liquid = spiritOf(result["left.mass"]! + result["taken.mass"]!, true, num(args, "strength"));
      const moved = strip(args, liquid, VAPOUR_ERROR);
      return Object.fromEntries(
        Object.entries(moved).map(([name, value]) => [name, value - (result[name] ?? value)]),
      );
    },
  },
];
