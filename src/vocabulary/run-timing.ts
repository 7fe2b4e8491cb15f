import { activePot, boilingTemperature, cleanPot, firstVapour } from "../matter/boiling";
import { latentHeatError } from "../matter/condenser";
import { calibrate, type Limit, scaleTime, timeRun, warmingTime } from "../matter/heat";
import { volumeOf } from "../matter/liquid";
import { spiritDensity } from "../matter/spirit";
import { isobaricStill, runStill } from "../matter/still";
import { kinds } from "../quantity";
import { WARM_CLOCK } from "./cautions";
import type { Declaration, NumberArguments, ResultPart } from "./declaration";
import { GLASS } from "./food-cautions";
import {
  activity,
  amount,
  choice,
  heatTransfer,
  isMass,
  optional,
  power,
  strength,
  temperature,
  time,
  vessel,
} from "./parameters";
import { remarkOnBoiling } from "./pot";
import {
  charge,
  chargeStrength,
  endOf,
  flaskParameter,
  GROUP,
  leaveParameter,
  needEnd,
  needRoom,
  num,
  RUN_CAUTIONS,
  takeParameter,
  volumePart,
} from "./run-words";
import { spiritOf } from "./spirit-mixing";
import { absolute, bath } from "./still-words";

/** How long a run takes: calibrated by the bench's own timed run of water. */

const HEAT =
  "heat balance (textbook, from memory); heats of evaporation: water fit to IAPWS-IF97, ethanol Watson form through CRC values";
const timePart = (name: string, says: string): ResultPart => ({
  name,
  says,
  holds: { kind: kinds.time, unit: "min" },
});

/** How well one calibration serves another run, relative: level, speed and thickness change what passes. A judgement, no source. */
const TRANSFER_ERROR = 0.1;

/** Difference between bath and pot under which a bench's thermometers (1 K) leave a calibration unsure by a fifth and more, K. */
const SURE_GAP = 5;

const stillFor = (args: NumberArguments) =>
  isobaricStill(num(args, "pressure"), { hindrance: { water: num(args, "activity"), ethanol: 1 } });

/** Heat that a volume of distillate carries, J/m³, between weak and strong; within a third. */
const HEAT_OF_VOLUME = 1.7e9;

/**
 * Relative change of a run's time for a kelvin of boiling point, when the difference between bath and pot falls evenly
 * from `first` to `last`: the time goes as ln(first/last)/(first - last).
 */
function felt(first: number, last: number): number {
  if (last >= first) return 0;
  const low = Math.max(0.1, last);
  return low > 0.99 * first ? 1 / low : (1 / low - 1 / first) / Math.log(first / low);
}

const limits: Readonly<Record<Limit, string>> = {
  bath: "bath",
  chiller: "chiller",
  both: "chiller first, then bath",
};

export const timing: readonly Declaration[] = [
  {
    name: "know_still",
    group: GROUP,
    says: "What a bench passes from bath to pot, from one timed run of water. Measure it anew for each flask, level and speed.",
    parameters: [
      amount("driven_off", "What came over in the time, weighed or measured, from the first steady drop on."),
      time("time", "The time it took."),
      bath,
      absolute,
      optional(
        strength("strength", "Strength of the pot when it was not water; take little, for it weakens."),
        "0 %vol",
      ),
    ],
    labelsOnly: ["strength"],
    result: [
      { name: "power", says: "Heat that went into the vapour.", holds: { kind: kinds.power, unit: "W" } },
      {
        name: "per_kelvin",
        says: "The same for each kelvin between bath and pot.",
        holds: { kind: kinds.heatTransfer, unit: "W/K" },
      },
    ],
    equation: "power = driven_off * L / time; per_kelvin = power / (bath - boils_at(pressure))",
    source: HEAT,
    range: "a bath warmer than the pot; pot boiling from 0 °C to 110 kPa",
    trust:
      "as good as the weighing and the two temperatures; heat of evaporation 0.02 % for water, 1.5 % with alcohol",
    cautions: [GLASS],
    examples: [
      { formula: "know_still(250 g, 20 min, 45 °C, 40 mbar).per_kelvin", gives: "31.596 W/K" },
      { formula: "know_still(250 g, 20 min, 45 °C, 40 mbar).power", gives: "506.79 W" },
    ],
    compute: (args, call) => {
      const p = num(args, "strength");
      const pot = cleanPot(p);
      const kelvin = boilingTemperature(pot, num(args, "pressure"));
      const vapour = firstVapour(pot, num(args, "pressure"));
      const driven =
        num(args, "driven_off") * (isMass(call.kindOf("driven_off")) ? 1 : spiritDensity(vapour));
      const known = calibrate(driven, vapour, num(args, "time"), num(args, "bath"), kelvin);
      remarkOnBoiling(pot, kelvin, num(args, "pressure"), call);
      const gap = num(args, "bath") - kelvin;
      if (gap < SURE_GAP) {
        call.note(
          `Bath and pot differ by ${Number(gap.toPrecision(2))} K only: a bath thermometer that is off by 1 K puts per_kelvin off by ${gap > 1 ? `about ${Number((100 / gap).toPrecision(2))} %` : "any amount"}. Time it again with 10 K or more between them.`,
        );
      }
      if (p > 0)
        call.note("With alcohol an estimate: the pot weakens and warms while it is timed. Water is better.");
      return { power: known.power, per_kelvin: known.perKelvin };
    },
    modelUncertainty: (args, result) => {
      const p = num(args, "strength");
      const pot = cleanPot(p);
      const kelvin = boilingTemperature(pot, num(args, "pressure"));
      const heat = latentHeatError(firstVapour(pot, num(args, "pressure")));
      const gap = (p > 0 ? 0.3 : 0.005) / (num(args, "bath") - kelvin);
      return { power: heat * result.power!, per_kelvin: Math.hypot(heat, gap) * result.per_kelvin! };
    },
  },
  {
    name: "run_time",
    group: GROUP,
    effort: 60,
    says: "How long a run takes on this bench, and how long its first half: the tail costs most of the day.",
    parameters: [
      charge,
      chargeStrength,
      absolute,
      bath,
      heatTransfer(
        "per_kelvin",
        "What this still passes from bath to pot, from know_still with the same flask, level and speed.",
      ),
      takeParameter,
      leaveParameter,
      optional(
        power(
          "chill",
          "Power of the chiller at the coolant's temperature. Without it the condenser never limits.",
        ),
      ),
      optional(
        activity(
          "activity",
          "Water activity that sugar, honey or salt gives the pot's water; taken as the same all along.",
        ),
        "1",
      ),
      optional(
        temperature(
          "charge_temperature",
          "Temperature of the charge when it goes in: then `warm_up` tells how long it takes to boil.",
        ),
      ),
      flaskParameter,
    ],
    labelsOnly: ["take", "leave", "chill", "activity", "charge_temperature", "flask"],
    result: [
      timePart("time", "From the first drop to the end."),
      timePart("half_time", "From the first drop until half of that distillate (by volume) is over."),
      timePart("warm_up", "With `charge_temperature`: from then to the first drop."),
      {
        name: "last_rate",
        says: "Distillate for a time at the end.",
        holds: { kind: kinds.rate, unit: "mL/min" },
      },
      {
        name: "limited_by",
        says: "What holds it back: bath, chiller, or one and then the other.",
        holds: "text",
      },
    ],
    equation: "dt = L dm / Q, Q = per_kelvin * (bath - pot), at most chill, along distil",
    source: HEAT,
    range: "a bath warmer than the pot to the end of the run; pot boiling from 0 °C to 110 kPa",
    trust:
      "relative standard uncertainty 10 % for the same flask, level and speed (judgement, no source); syrups pass several times less, foam and bumping are not in it",
    cautions: [...RUN_CAUTIONS],
    examples: [
      {
        formula: "run_time(800 mL, 40 %vol, 50 mbar, 30 °C, 31.6 W/K, leave: 7.84 %vol).time",
        gives: "84.21 min",
      },
      {
        formula: "run_time(800 mL, 40 %vol, 50 mbar, 40 °C, 31.6 W/K, leave: 7.84 %vol, chill: 150 W).time",
        gives: "57.999 min",
      },
      {
        formula:
          "run_time(800 mL, 40 %vol, 50 mbar, 40 °C, 31.6 W/K, leave: 7.84 %vol, chill: 150 W).limited_by",
        gives: "chiller",
      },
    ],
    compute: (args, call) => {
      const p = num(args, "strength");
      const activityGiven = num(args, "activity");
      const pot = activityGiven === 1 ? cleanPot(p) : activePot(p, activityGiven);
      const boils = boilingTemperature(pot, num(args, "pressure"));
      const end = needEnd(endOf(args, call));
      const still = stillFor(args);
      const liquid = spiritOf(num(args, "volume"), isMass(call.kindOf("volume")), p);
      needRoom(args, liquid);
      const run = runStill(still, liquid, end);
      const heating = {
        bath: num(args, "bath"),
        perKelvin: num(args, "per_kelvin"),
        chill: args.chill as number | undefined,
      };
      const whole = timeRun(still, run, heating);
      const half = runStill(still, liquid, { type: "volume", volume: volumeOf(run.taken) / 2 });
      const first = timeRun(still, run, heating, half.t);
      remarkOnBoiling(pot, boils, num(args, "pressure"), call);
      if (p < 0.12 && boils < 333.15) call.caution(WARM_CLOCK);
      call.note("From the first drop on; the pot's own warming during the run (a few per cent) is left out.");
      const from = args.charge_temperature as number | undefined;
      if (from === undefined) {
        call.without(["warm_up"], {
          says: "How long the pot warms up is told only when `charge_temperature` is given.",
          help: "Add what the charge has when it goes in, for example charge_temperature: 15 °C.",
        });
      }
      return {
        time: whole.seconds,
        half_time: first.seconds,
        ...(from !== undefined && { warm_up: warmingTime(liquid, from, boils, heating) }),
        last_rate: whole.lastRate / spiritDensity(whole.lastFraction),
        limited_by: limits[whole.limit],
      };
    },
    modelUncertainty: (args, result) => {
      const p = num(args, "strength");
      const shift = p > 0 ? 0.3 : 0.005;
      const perKelvin = num(args, "per_kelvin");
      const pot = num(args, "activity") === 1 ? cleanPot(p) : activePot(p, num(args, "activity"));
      const first = num(args, "bath") - boilingTemperature(pot, num(args, "pressure"));
      const last = Math.min(first, (result.last_rate! * HEAT_OF_VOLUME) / perKelvin);
      // Where the chiller limits, a warmer or cooler pot changes nothing.
      const most = args.chill === undefined ? first : Math.min(first, num(args, "chill") / perKelvin);
      // The end is known within a third only; near the chiller's share it counts as held by the chiller.
      const chilled = args.chill !== undefined && last > 0.7 * most;
      const whole = Math.hypot(TRANSFER_ERROR, chilled ? 0 : shift * felt(most, last));
      const half = Math.hypot(TRANSFER_ERROR, chilled ? 0 : shift * felt(most, (first + last) / 2));
      return {
        time: whole * result.time!,
        half_time: half * result.half_time!,
        ...(result.warm_up !== undefined && { warm_up: TRANSFER_ERROR * result.warm_up }),
        last_rate: -Math.hypot(TRANSFER_ERROR, chilled ? 0 : shift / Math.max(0.1, last)) * result.last_rate!,
      };
    },
  },
  {
    name: "scale_run",
    group: GROUP,
    says: "A run's time in another flask filled to the same share.",
    parameters: [
      time("time", "Time of the run in the flask that was used."),
      vessel("flask", "Volume of that flask."),
      vessel("to", "Volume of the other flask."),
      optional(choice("limited_by", "What held the run back.", ["bath", "chiller"]), '"bath"'),
    ],
    labelsOnly: ["to", "limited_by"],
    result: [
      timePart("time", "Time in the other flask."),
      volumePart("charge", "Most that the other flask may hold: half of it."),
    ],
    equation:
      "time * (to / flask)^(1/3) when the bath limits (area against volume), * (to / flask) when the chiller does",
    source: "geometry of like flasks",
    range: "flasks of one shape, filled to the same share",
    trust: "relative standard uncertainty 15 % (judgement, no source)",
    cautions: ["Larger glass stores more force under vacuum: shield it.", GLASS],
    examples: [
      { formula: "scale_run(84 min, 2 L, to: 10 L).time", gives: "143.64 min" },
      { formula: 'scale_run(84 min, 2 L, to: 10 L, limited_by: "chiller").time', gives: "420 min" },
    ],
    compute: (args) => ({
      time: scaleTime(
        num(args, "time"),
        num(args, "flask"),
        num(args, "to"),
        args.limited_by as "bath" | "chiller",
      ),
      charge: num(args, "to") / 2,
    }),
    modelUncertainty: (_args, result) => ({ time: 0.15 * result.time! }),
  },
];
