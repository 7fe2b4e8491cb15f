import { cleanPot } from "../matter/boiling";
import { fractionOf, type Liquid, massOf, volumeOf } from "../matter/liquid";
import { volumeFraction } from "../matter/spirit";
import { type End, isobaricStill, type Run, type Still } from "../matter/still";
import { kinds, Trouble } from "../quantity";
import { LICENCE, METHANOL, VAPOUR, VENT, VOLATILE_POISONS } from "./cautions";
import type { Call, NumberArguments, ResultPart } from "./declaration";
import { GLASS, STRIPPED } from "./food-cautions";
import { amount, isMass, optional, strength, vessel } from "./parameters";
import { remarkOnBoiling } from "./pot";

/** Words, parameters and remarks that the declarations about the run share. */

export const GROUP = "the run";
export const num = (args: NumberArguments, name: string): number => args[name] as number;

export const RUN_CAUTIONS = [GLASS, VAPOUR, LICENCE, VOLATILE_POISONS, METHANOL, VENT];
export const RUN_SOURCE =
  "Rayleigh's simple distillation (one plate, everything condensed); vapour by this project's regression to published data; density OIML R 22";
export const RUN_RANGE =
  "0 to 100 %, pot boiling from 0 °C to 110 kPa; below 15 °C an estimate; sugar and extract in the charge are left out";

export const charge = amount(
  "volume",
  "Charge: volume (at 20 °C) or mass of what is in the pot at the start.",
);
export const chargeStrength = strength("strength", "Strength of the charge (the pot, not the distillate).");
export const takeParameter = optional(
  amount("take", "How much distillate to take, as a volume (at 20 °C) or a mass."),
);
export const leaveParameter = optional(strength("leave", "Or: the strength that shall be left in the pot."));

export const flaskParameter = optional(
  vessel("flask", "Volume of the flask: a charge that fills more than half of it is refused."),
);

/**
 * Refuses a flask that is over half full.
 *
 * @throws Trouble `flask-too-full`
 */
export function needRoom(args: NumberArguments, liquid: Liquid): void {
  const flask = args.flask as number | undefined;
  if (flask === undefined) return;
  const full = volumeOf(liquid) / flask;
  if (flask > 0 && full <= 0.5 + 1e-9) return;
  const litres = (v: number): string => `${Number((1000 * v).toPrecision(4))} L`;
  throw new Trouble({
    code: "flask-too-full",
    says: `A flask of ${litres(flask)} may hold ${litres(flask / 2)} at most, half of it, and the charge is ${litres(volumeOf(liquid))}.`,
    help: "Split the charge, or take a larger flask and shield it. What foams wants a flask one third full.",
  });
}

export const volumePart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.volume, unit: "mL" },
});
export const massPart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.mass, unit: "g" },
});
export const strengthPart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.strengthVolume, unit: "%vol" },
});
export const temperaturePart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.temperature, unit: "°C" },
});
/** Always in per cent: a share given as `lost: 0.05` must not make `recovered` read 0.83. */
export const sharePart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.plain, unit: "%", unitOf: "" },
});

export const takenParts: readonly ResultPart[] = [
  volumePart("taken.volume", "Distillate, at 20 °C."),
  massPart("taken.mass", "The same, to be weighed."),
  strengthPart("taken.strength", "Its strength, all of it together."),
  volumePart("taken.alcohol", "Pure alcohol in it, at 20 °C."),
];
export const leftParts: readonly ResultPart[] = [
  volumePart("left.volume", "What stays in the pot, at 20 °C."),
  massPart("left.mass", "The same, to be weighed."),
  strengthPart("left.strength", "Its strength."),
];

/** Strength by volume of a liquid, or of the vapour that would come next when there is none yet. */
export const byVolume = (liquid: Liquid): number =>
  massOf(liquid) > 0 ? volumeFraction(fractionOf(liquid)) : 0;

export const amountsOf = (prefix: "taken" | "left", liquid: Liquid): Record<string, number> => ({
  [`${prefix}.volume`]: volumeOf(liquid),
  [`${prefix}.mass`]: massOf(liquid),
  [`${prefix}.strength`]: byVolume(liquid),
});

/** How far the run goes, from `take` and `leave`; undefined when neither is given. */
export function endOf(args: NumberArguments, call: Call): End | undefined {
  const take = args.take as number | undefined;
  const leave = args.leave as number | undefined;
  if (take !== undefined && leave !== undefined) {
    throw new Trouble({
      code: "take-and-leave",
      says: "`take` and `leave` both say where the run ends; only one of them can be used.",
      help: "Give the amount to take, or the strength to leave.",
    });
  }
  if (take !== undefined) {
    if (!(take > 0)) {
      throw new Trouble({
        code: "nothing-there",
        says: "The amount to take must be greater than nothing.",
        help: "Check the amount and its sign.",
      });
    }
    return isMass(call.kindOf("take")) ? { type: "mass", mass: take } : { type: "volume", volume: take };
  }
  return leave === undefined ? undefined : { type: "strength", left: leave };
}

export function needEnd(end: End | undefined): End {
  if (end !== undefined) return end;
  throw new Trouble({
    code: "no-end",
    says: "The run has no end: say how much to take or how strong the rest shall be.",
    help: "For example take: 400 mL, or leave: 5 %vol.",
  });
}

/** Remarks on a run: data not reached, a weak rest that is fresh food, a pot nearly dry. */
export function remarkOnRun(run: Run, still: Still, p: number, call: Call): void {
  const start = still.temperature(run.startX);
  remarkOnBoiling(cleanPot(p), start, still.pressure(run.startX), call);
  if (run.startX > 0 && massOf(run.left) > 0 && byVolume(run.left) < 0.15) call.caution(STRIPPED);
  if (massOf(run.left) < 0.1 * massOf(run.charge)) {
    call.caution("The pot is nearly dry at the end: leave liquid in the flask, and never boil it dry.");
  }
  if (run.startX > 0) {
    call.note(
      "One plate, everything condensed: real heads start stronger and end weaker. Sugar and extract in the charge are left out.",
    );
  }
}

/** A plain run of the model with its vapour shifted, ended at the same place as a result: how the model's error is felt. */
export function shiftedEnd(args: NumberArguments, result: Readonly<Record<string, number>>): End {
  if (args.leave !== undefined) return { type: "strength", left: args.leave as number };
  const [volume, mass, take] = [
    result["taken.volume"]!,
    result["taken.mass"]!,
    args.take as number | undefined,
  ];
  // What was asked is what it came to, as a volume or as a mass: that one has no error.
  if (take !== undefined) {
    return Math.abs(take - mass) < Math.abs(take - volume)
      ? { type: "mass", mass }
      : { type: "volume", volume };
  }
  // Ended by the bath: the boiling point's own error moves the end.
  return { type: "temperature", kelvin: result.end_temperature! - 0.3 };
}

export const stillAt = (args: NumberArguments, shift = 0): Still =>
  isobaricStill(num(args, "pressure"), {
    reflux: (args.reflux as number | undefined) ?? 0,
    carryOver: (args.carry_over as number | undefined) ?? 0,
    shift,
  });
