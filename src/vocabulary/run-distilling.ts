import { boilingPressure, boilingTemperature, cleanPot, VAPOUR_ERROR } from "../matter/boiling";
import { pureVolumeOf, volumeOf } from "../matter/liquid";
import { massFraction, volumeFraction } from "../matter/spirit";
import {
  type End,
  isothermalStill,
  type Run,
  runCuts,
  runStill,
  type Still,
  stallFraction,
} from "../matter/still";
import { massFractionOfMoles, moleFraction } from "../matter/vapour";
import { kinds, Trouble } from "../quantity";
import type { Call, Declaration, NumberArguments, NumberResult, ResultPart } from "./declaration";
import { COLD_BOILING, PERISHABLE } from "./food-cautions";
import { amount, difference, isMass, listed, optional, share, temperature } from "./parameters";
import { vapourUncertainty } from "./pot";
import {
  amountsOf,
  byVolume,
  charge,
  chargeStrength,
  endOf,
  flaskParameter,
  GROUP,
  leaveParameter,
  leftParts,
  needEnd,
  needRoom,
  num,
  RUN_CAUTIONS,
  RUN_RANGE,
  RUN_SOURCE,
  remarkOnRun,
  sharePart,
  shiftedEnd,
  stillAt,
  strengthPart,
  takenParts,
  takeParameter,
  temperaturePart,
  volumePart,
} from "./run-words";
import { spiritOf } from "./spirit-mixing";
import { absolute } from "./still-words";

/** What comes over and what stays: at one pressure, at one temperature, and jar by jar. */

const RUN_TRUST =
  "standard uncertainty 0.3 K and 0.01 in the vapour's mole fraction, carried through the run: about 0.6 %vol of the whole distillate at first, less the further it is taken; no measured vacuum run was found to check it";

const pressurePart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.pressure, unit: "mbar" },
});

const needShare = (value: number, name: string, most: number): void => {
  if (value >= 0 && value <= most) return;
  throw new Trouble({
    code: "out-of-range",
    says: `\`${name}\` is a share from 0 to ${100 * most} %, and this is ${Number((100 * value).toPrecision(4))} %.`,
    help: "Leave it out unless the still was measured.",
  });
};

/** Parts that only a charge with alcohol has, and why water has none. */
const OF_ALCOHOL = ["recovered", "first_drops"];
const NO_ALCOHOL = {
  says: "The charge holds no alcohol, so there is none to recover and the first drops are water.",
  help: "`taken.volume` and `taken.mass` tell what comes over.",
};

function resultOf(run: Run, still: Still): Record<string, number> {
  const alcohol = pureVolumeOf(run.charge);
  return {
    ...amountsOf("taken", run.taken),
    "taken.alcohol": pureVolumeOf(run.taken),
    ...amountsOf("left", run.left),
    ...(alcohol > 0 && { recovered: pureVolumeOf(run.taken) / alcohol }),
    start_temperature: still.temperature(run.startX),
    end_temperature: still.temperature(run.endX),
    ...(alcohol > 0 && { first_drops: volumeFraction(massFractionOfMoles(still.goesOver(run.startX))) }),
  };
}

/** The temperature at which the bath gives no more, and where that is in the run. */
interface Stall {
  readonly kelvin: number;
  /** Mole fraction of the pot; undefined when this bath boils it to the last. */
  readonly x: number | undefined;
}

function stallOf(args: NumberArguments, still: Still, startX: number): Stall | undefined {
  if (args.bath === undefined) return undefined;
  const gap = num(args, "still_gap");
  if (!(gap >= 0)) {
    throw new Trouble({
      code: "out-of-range",
      says: "The gap between bath and pot at which boiling stops cannot be less than 0 K.",
      help: "3 K is usual (common practice, no source).",
    });
  }
  const kelvin = num(args, "bath") - gap;
  return { kelvin, x: stallFraction(still, startX, kelvin) };
}

const celsius = (kelvin: number): string => `${Number((kelvin - 273.15).toFixed(2))} °C`;

/** Where a run ends for which only the bath was given: by itself. */
function endByBath(stall: Stall): End {
  if (stall.x === undefined) {
    throw new Trouble({
      code: "no-end",
      says: "This bath boils the pot down to the last: the run does not end by itself.",
      help: "Say how much to take or how strong the rest shall be: take: 400 mL, or leave: 5 %vol.",
    });
  }
  return { type: "temperature", kelvin: stall.kelvin };
}

/** A bath that does not even begin the run: whatever is asked of it, nothing comes over. */
const neverBegins = (stall: Stall, still: Still, startX: number): Trouble =>
  new Trouble({
    code: "bath-too-cold",
    says: `The pot boils at ${celsius(still.temperature(startX))} at this pressure, and this bath, less the gap, brings it to ${celsius(stall.kelvin)} only: nothing comes over.`,
    help: "Use a warmer bath or a lower pressure.",
  });

/** Whether the run as asked goes past the place where the bath gives no more. */
const runsPast = (run: Run, stall: Stall): boolean =>
  stall.x !== undefined && run.endX < stall.x * (1 - 1e-9) && run.endX <= run.startX;

const checkPot = (args: NumberArguments): void => {
  // Refuses pressures and pots outside the model before anything is followed.
  boilingTemperature(cleanPot(num(args, "strength")), num(args, "pressure"));
};

export const distilling: readonly Declaration[] = [
  {
    name: "distil",
    group: GROUP,
    effort: 60,
    says: "A run at one pressure: what comes over, what stays, at which pot temperatures, and whether the bath can finish it.",
    parameters: [
      charge,
      chargeStrength,
      absolute,
      takeParameter,
      leaveParameter,
      optional(
        temperature(
          "bath",
          "Temperature of the bath: then it says where the run stops by itself. Alone, without take or leave, the run goes to there.",
        ),
      ),
      optional(
        difference("still_gap", "Difference between bath and pot at which boiling has stopped."),
        "3 K",
      ),
      optional(share("lost", "Share of what leaves the pot that never reaches the receiver."), "0 %"),
      optional(
        share(
          "reflux",
          "Share of the vapour that condenses on the way and runs back: an assumption about this still.",
        ),
        "0 %",
      ),
      optional(
        share(
          "carry_over",
          "Share of the distillate (by mass) that is pot liquid, from bumping or foam: an assumption about this still.",
        ),
        "0 %",
      ),
      flaskParameter,
    ],
    labelsOnly: ["take", "leave", "bath", "still_gap", "lost", "reflux", "carry_over", "flask"],
    result: [
      ...takenParts,
      ...leftParts,
      sharePart("recovered", "Share of the charge's alcohol that is in the distillate."),
      temperaturePart("start_temperature", "Pot when it begins to boil."),
      temperaturePart("end_temperature", "Pot at the end."),
      strengthPart("first_drops", "Strength of the first drops: stronger than the whole."),
      {
        name: "stalls",
        says: "With `bath`: whether it gives no more before the run is over.",
        holds: "truth",
      },
      strengthPart("stalls_at", "With `bath`: strength left in the pot where it gives no more."),
    ],
    equation:
      "d(W x)/dW = y(x, pressure): dx/dt = -(y - x), t = -ln(W/W0) in moles; Dormand-Prince 5(4), relative step error 1e-10",
    source: RUN_SOURCE,
    range: RUN_RANGE,
    trust: RUN_TRUST,
    cautions: [...RUN_CAUTIONS],
    examples: [
      { formula: "distil(1 L, 40 %vol, 50 mbar, take: 500 mL).taken.strength", gives: "71.64 %vol" },
      { formula: "distil(800 mL, 40 %vol, 50 mbar, leave: 7.8 %vol).taken.volume", gives: "403.56 mL" },
      { formula: "distil(1 L, 40 %vol, 50 mbar, leave: 5 %vol, bath: 30 °C).stalls", gives: "true" },
      { formula: "distil(1 L, 40 %vol, 50 mbar, bath: 30 °C).left.strength", gives: "15.437 %vol" },
    ],
    compute: (args, call) => distil(args, call),
    modelUncertainty: (args, result) => {
      const p = num(args, "strength");
      const moved = runStill(
        stillAt(args, VAPOUR_ERROR),
        spiritOf(result["left.mass"]! + result["taken.mass"]! / (1 - num(args, "lost")), true, p),
        shiftedEnd(args, result),
        num(args, "lost"),
      );
      const parts = differences(resultOf(moved, stillAt(args, VAPOUR_ERROR)), result, p);
      if (result.stalls_at !== undefined && args.bath !== undefined) {
        const warmer = stallFraction(
          stillAt(args),
          moleFraction(p),
          num(args, "bath") - num(args, "still_gap") - 0.3,
        );
        if (warmer !== undefined)
          parts.stalls_at = volumeFraction(massFractionOfMoles(warmer)) - result.stalls_at;
      }
      return parts;
    },
  },
  {
    name: "distil_at",
    group: GROUP,
    effort: 60,
    says: "A run with the pot held at one temperature, the pressure lowered as it weakens: the ladder of pulls that it needs.",
    parameters: [
      charge,
      chargeStrength,
      temperature("temperature", "Temperature at which the pot is kept."),
      takeParameter,
      leaveParameter,
      flaskParameter,
    ],
    labelsOnly: ["take", "leave", "flask"],
    result: [
      ...takenParts,
      ...leftParts,
      sharePart("recovered", "Share of the charge's alcohol that is in the distillate."),
      temperaturePart("start_temperature", "Pot at the start: the temperature that was asked."),
      temperaturePart("end_temperature", "Pot at the end: the same."),
      strengthPart("first_drops", "Strength of the first drops."),
      pressurePart("first_pressure", "Absolute pressure at the start."),
      pressurePart("last_pressure", "Absolute pressure at the end."),
    ],
    equation:
      "dx/dt = -(y(x, temperature) - x), t = -ln(W/W0) in moles; pressure = that at which the pot boils",
    source: RUN_SOURCE,
    range: RUN_RANGE,
    trust: RUN_TRUST,
    cautions: [...RUN_CAUTIONS],
    examples: [
      { formula: "distil_at(1 L, 40 %vol, 22 °C, leave: 7.8 %vol).last_pressure", gives: "31.618 mbar" },
      { formula: "distil_at(1 L, 40 %vol, 22 °C, leave: 7.8 %vol).first_pressure", gives: "50.128 mbar" },
    ],
    compute: (args, call) => {
      const p = num(args, "strength");
      const kelvin = num(args, "temperature");
      boilingPressure(cleanPot(p), kelvin);
      const end = needEnd(endOf(args, call));
      const still = isothermalStill(kelvin);
      const liquid = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), p);
      needRoom(args, liquid);
      const run = runStill(still, liquid, end);
      remarkOnRun(run, still, p, call);
      if (p === 0) call.without(OF_ALCOHOL, NO_ALCOHOL);
      return {
        ...resultOf(run, still),
        first_pressure: still.pressure(run.startX),
        last_pressure: still.pressure(run.endX),
      };
    },
    modelUncertainty: (args, result) => {
      const p = num(args, "strength");
      const kelvin = num(args, "temperature");
      const moved = runStill(
        isothermalStill(kelvin, { shift: VAPOUR_ERROR }),
        spiritOf(result["left.mass"]! + result["taken.mass"]!, true, p),
        shiftedEnd(args, result),
      );
      const parts = differences(resultOf(moved, isothermalStill(kelvin)), result, p);
      // 0.3 K of boiling is about 1.7 % of the pressure.
      const relative = p > 0 && p < 1 ? 0.017 : 0.001;
      return {
        ...parts,
        start_temperature: 0,
        end_temperature: 0,
        first_pressure: relative * result.first_pressure!,
        last_pressure: relative * result.last_pressure!,
      };
    },
  },
  {
    name: "cuts",
    group: GROUP,
    effort: 60,
    says: "The run jar by jar: strength of each, the pot when it is full, and what is left.",
    parameters: [
      charge,
      chargeStrength,
      absolute,
      listed(amount("jars", "Volume (at 20 °C) or mass of each jar, in the order they are filled.")),
      flaskParameter,
    ],
    labelsOnly: ["flask"],
    rowPer: "jars",
    result: [
      strengthPart("strength", "Strength in this jar."),
      volumePart("pure_volume", "Pure alcohol in this jar, at 20 °C."),
      temperaturePart("pot_temperature", "Pot when this jar is full."),
      strengthPart("left.strength", "Strength in the pot then."),
      volumePart("left.volume", "Volume in the pot then, at 20 °C."),
    ],
    equation: "distil from the rest of the jar before, jar by jar",
    source: RUN_SOURCE,
    range: `${RUN_RANGE}; all jars together hold less than the charge`,
    trust: RUN_TRUST,
    cautions: [...RUN_CAUTIONS],
    examples: [
      {
        formula: "cuts(800 mL, 45 %vol, 60 mbar, [50 mL, 50 mL, 100 mL, 100 mL]).strength",
        gives: "82.578 %vol, 81.739 %vol, 79.948 %vol, 75.913 %vol",
      },
    ],
    compute: (args, call) => {
      checkPot(args);
      const p = num(args, "strength");
      const still = stillAt(args);
      const byMass = isMass(call.kindOf("jars"));
      const jars = (args.jars as readonly number[]).map((jar) => {
        if (!(jar > 0)) {
          throw new Trouble({
            code: "nothing-there",
            says: "Every jar must hold something.",
            help: "Leave empty jars out.",
          });
        }
        return byMass ? { mass: jar } : { volume: jar };
      });
      const liquid = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), p);
      needRoom(args, liquid);
      const runs = runCuts(still, liquid, jars);
      const last = runs.at(-1);
      if (last !== undefined)
        remarkOnRun({ ...last, startX: runs[0]!.startX, charge: runs[0]!.charge }, still, p, call);
      return runs.map((run) => ({
        strength: byVolume(run.taken),
        pure_volume: pureVolumeOf(run.taken),
        pot_temperature: still.temperature(run.endX),
        "left.strength": byVolume(run.left),
        "left.volume": volumeOf(run.left),
      }));
    },
    modelUncertainty: (args, result): Readonly<Record<string, number>> => {
      const p = num(args, "strength");
      if (p === 0 || p === 1) return { pot_temperature: 0.005 };
      const strength = vapourUncertainty(massFraction(result.strength!));
      return {
        strength,
        pure_volume: (result.pure_volume! * strength) / result.strength!,
        pot_temperature: 0.3,
        "left.strength": (-strength * result.pure_volume!) / result.strength! / result["left.volume"]!,
      };
    },
  },
];

function distil(args: NumberArguments, call: Call): NumberResult {
  const p = num(args, "strength");
  const lost = num(args, "lost");
  const reflux = num(args, "reflux");
  const carryOver = num(args, "carry_over");
  needShare(lost, "lost", 0.9);
  needShare(reflux, "reflux", 0.9);
  needShare(carryOver, "carry_over", 0.5);
  checkPot(args);
  const still = stillAt(args);
  const liquid = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), p);
  needRoom(args, liquid);
  const startX = moleFraction(p);
  const stall = stallOf(args, still, startX);
  const asked = endOf(args, call);
  if (stall?.x !== undefined && stall.x >= startX) throw neverBegins(stall, still, startX);
  const end = asked ?? (stall === undefined ? needEnd(undefined) : endByBath(stall));
  const run = runStill(still, liquid, end, lost);
  remarkOnRun(run, still, p, call);
  if (p === 0) {
    call.caution(PERISHABLE);
    call.without(OF_ALCOHOL, NO_ALCOHOL);
  }
  if (stall === undefined) {
    call.without(["stalls", "stalls_at"], {
      says: "Whether the run stalls is told only when `bath` is given.",
      help: "Add the bath's temperature, for example bath: 35 °C.",
    });
  } else if (stall.x === undefined) {
    call.without(["stalls_at"], {
      says: "The run stalls nowhere: this bath boils the pot down to the last.",
      help: "`stalls` says so: it is false.",
    });
  }
  if (still.temperature(run.endX) < 318.15 && p < 0.12) call.caution(COLD_BOILING);
  if (lost > 0)
    call.note(`Assumed: ${Number((100 * lost).toPrecision(3))} % of what leaves the pot is lost on the way.`);
  if (reflux > 0)
    call.note(
      `Assumed: ${Number((100 * reflux).toPrecision(3))} % of the vapour condenses on the way and runs back.`,
    );
  if (carryOver > 0)
    call.note(
      `Assumed: ${Number((100 * carryOver).toPrecision(3))} % of the distillate's mass is pot liquid.`,
    );
  const stalls = stall !== undefined && asked !== undefined && runsPast(run, stall);
  if (stalls) {
    const left = volumeFraction(massFractionOfMoles(stall.x!));
    call.caution(
      `The bath cannot finish this run: it stops by itself with ${Number((100 * left).toPrecision(3))} %vol in the pot. Lower the pressure then, or warm the bath.`,
    );
  }
  return {
    ...resultOf(run, still),
    ...(stall !== undefined && { stalls: asked === undefined || stalls }),
    ...(stall?.x !== undefined && { stalls_at: volumeFraction(massFractionOfMoles(stall.x)) }),
  };
}

/** Part by part, how a shifted run differs: the model's standard uncertainty with its signs. Temperatures add 0.3 K. */
function differences(
  moved: Readonly<Record<string, number>>,
  result: Readonly<Record<string, number>>,
  p: number,
): Record<string, number> {
  const parts: Record<string, number> = {};
  const mixture = p > 0 && p < 1 ? 0.3 : 0.005;
  for (const [name, value] of Object.entries(moved)) {
    const change = value - (result[name] ?? value);
    parts[name] = name.endsWith("_temperature") ? Math.hypot(change, mixture) : change;
  }
  return parts;
}
