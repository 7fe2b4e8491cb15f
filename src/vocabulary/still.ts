import { absolutePressure, airPressure, WEATHER_ERROR } from "../matter/air";
import { boilingPressure, boilingTemperature, firstVapour } from "../matter/boiling";
import { flashPoint, LEAST_LISTED } from "../matter/flammability";
import { settle } from "../matter/setting";
import { volumeFraction } from "../matter/spirit";
import { kinds, Trouble } from "../quantity";
import { GLYCOL, VENT } from "./cautions";
import type { Declaration, NumberArguments } from "./declaration";
import { GLASS } from "./food-cautions";
import { difference, length, optional, pressure, strength, temperature } from "./parameters";
import {
  boilingSlope,
  boilingUncertainty,
  byVolumeIn,
  potActivity,
  potOf,
  potParameters,
  potStrength,
  remarkOnBoiling,
  vapourUncertainty,
} from "./pot";
import { coldSide } from "./still-cold-side";
import {
  absolute,
  BOILING_TRUST,
  bath,
  coolant,
  differenceResult,
  GROUP,
  MODEL,
  POT_RANGE,
  pressureResult,
  temperatureResult,
} from "./still-words";

/** Setting the still: pressure, bath and coolant, and whether the cold side holds. */

const num = (args: NumberArguments, name: string): number => args[name] as number;

const setting: readonly Declaration[] = [
  {
    name: "boils_at",
    group: GROUP,
    says: "The temperature at which a liquid forms its first bubble under a low pressure.",
    parameters: [absolute, ...potParameters],
    labelsOnly: ["strength", "solids", "activity"],
    result: [
      temperatureResult("", "Boiling temperature at the surface; 5 cm deeper the liquid bears 5 mbar more."),
    ],
    equation:
      "x g1(x, T) p1(T) + (1 - x) g2(x, T) a_w p2(T) = pressure, solved for T; 1 ethanol, 2 water, a_w of what is dissolved",
    source: MODEL,
    range: POT_RANGE,
    trust: BOILING_TRUST,
    cautions: [GLASS],
    examples: [
      { formula: "boils_at(60 mbar, strength: 40 %vol)", gives: "24.955 °C" },
      { formula: "boils_at(50 mbar)", gives: "32.874 °C" },
      { formula: "boils_at(100 mbar, solids: 60 °Bx)", gives: "47.948 °C" },
    ],
    compute: (args, call) => {
      const pascal = num(args, "pressure");
      const pot = potOf(args, byVolumeIn(call));
      const kelvin = boilingTemperature(pot, pascal);
      remarkOnBoiling(pot, kelvin, pascal, call);
      return kelvin;
    },
    modelUncertainty: (args) => boilingUncertainty(args, num(args, "pressure")),
  },
  {
    name: "pressure_for",
    group: GROUP,
    says: "The pressure to pull so that a liquid boils at a temperature.",
    parameters: [temperature("temperature", "Temperature at which the pot shall boil."), ...potParameters],
    labelsOnly: ["strength", "solids", "activity"],
    result: [pressureResult("", "Absolute pressure.")],
    equation: "pressure = x g1(x, T) p1(T) + (1 - x) g2(x, T) a_w p2(T)",
    source: MODEL,
    range: POT_RANGE,
    trust: "standard uncertainty that of boils_at (0.3 K with alcohol), near 20 °C 1 mbar",
    cautions: [GLASS],
    examples: [
      { formula: "pressure_for(25 °C, strength: 40 %vol)", gives: "60.162 mbar" },
      { formula: "pressure_for(32 °C, activity: 0.586)", gives: "27.891 mbar" },
    ],
    compute: (args, call) => {
      const kelvin = num(args, "temperature");
      const pot = potOf(args, byVolumeIn(call));
      const pascal = boilingPressure(pot, kelvin);
      remarkOnBoiling(pot, kelvin, pascal, call);
      return pascal;
    },
    modelUncertainty: (args, result) => {
      const pascal = result[""]!;
      return boilingUncertainty(args, pascal) * boilingSlope(pascal, num(args, "temperature"));
    },
  },
  {
    name: "first_vapour",
    group: GROUP,
    says: "The strength of the first drops. They are stronger than the bottle: for the whole distillate use distil.",
    parameters: [absolute, strength("strength", "Strength of the liquid in the pot.")],
    result: [
      {
        name: "",
        says: "Strength of the first vapour, condensed.",
        holds: { kind: kinds.strengthVolume, unit: "%vol" },
      },
    ],
    equation: "y = x g1(x, T) p1(T) / pressure at the boiling temperature; then as strength by volume",
    source: MODEL,
    range: "0 to 100 %; boiling from 0 °C to 110 kPa (absolute); below 15 °C an estimate",
    trust:
      "standard uncertainty 0.01 in mole fraction: 0.6 %vol near 80 %vol, 1.4 near 54, 2.5 below 30; above 5 %vol of the pot the vapour is more often too rich than too weak",
    cautions: [GLASS],
    examples: [{ formula: "first_vapour(50 mbar, 40 %vol)", gives: "81.429 %vol" }],
    compute: (args, call) => {
      const pascal = num(args, "pressure");
      const pot = potOf(args, true);
      const p = firstVapour(pot, pascal);
      remarkOnBoiling(pot, boilingTemperature(pot, pascal), pascal, call);
      if (p > 0 && p < 1)
        call.note("First drops only: everything that comes over together is weaker (distil tells how much).");
      return volumeFraction(p);
    },
    modelUncertainty: (args) => {
      const p = firstVapour(potOf(args, true), num(args, "pressure"));
      return vapourUncertainty(p);
    },
  },
  {
    name: "settle",
    group: GROUP,
    says: "One setting from what the bench has: the pressure for a bath and a coolant, and whether the cold side can hold it.",
    parameters: [
      bath,
      coolant,
      potStrength,
      potActivity,
      optional(
        difference("warm_side", "Difference kept between bath and pot: it drives the boiling."),
        "15 K",
      ),
      optional(temperature("room", "Temperature of the room, for the receiver."), "20 °C"),
    ],
    labelsOnly: ["strength", "activity", "warm_side", "room"],
    result: [
      pressureResult("pressure", "Pressure to pull, absolute."),
      temperatureResult("boils_at", "Temperature at which the pot then begins to boil."),
      differenceResult("warm_side", "From bath to pot."),
      differenceResult("cold_side", "From vapour to coolant."),
      {
        name: "holds",
        says: "Whether all of the first vapour can condense on glass 5 K above the coolant.",
        holds: "truth",
      },
      { name: "ices", says: "Whether the first distillate would freeze on the coil.", holds: "truth" },
      temperatureResult(
        "receiver_below",
        "The receiver must stay colder than this, or the distillate boils again.",
      ),
    ],
    equation:
      "boils_at = bath - warm_side; pressure = pressure_for(boils_at); cold_side = boils_at - coolant; receiver_below = boils_at(pressure, first vapour)",
    source: `${MODEL}; half the difference on each side: common practice of laboratory evaporators`,
    range: POT_RANGE,
    trust:
      "pressure as pressure_for; holds and ices are ideal bounds, real glass is several kelvin warmer than its coolant",
    cautions: [GLASS, GLYCOL, VENT],
    examples: [
      { formula: "settle(35 °C, -10 °C, strength: 40 %vol).pressure", gives: "44.274 mbar" },
      { formula: "settle(35 °C, -10 °C, strength: 40 %vol).receiver_below", gives: "16.752 °C" },
      { formula: "settle(35 °C, -10 °C).ices", gives: "true" },
    ],
    compute: (args, call) => {
      const pot = potOf(args, byVolumeIn(call));
      const cold = num(args, "coolant");
      const set = settle(pot, num(args, "bath"), cold, num(args, "warm_side"));
      remarkOnBoiling(pot, set.boilsAt, set.pascal, call);
      if (!set.holds) {
        call.caution(
          "The condenser is too warm for this pressure: part of the vapour would go to the pump. Use a colder coolant, or a warmer bath and a higher pressure.",
        );
      }
      const ices = set.iceAt !== undefined && cold < set.iceAt;
      if (ices) {
        call.caution("The distillate can freeze on the coil: for water +2 to +5 °C is cold enough.");
      } else if (pot.x > 0 && cold < 273.15) {
        call.note("The distillate gets weaker as the run goes on, and a weak one can freeze on the coil.");
      }
      if (cold < 273.15) call.note("A coolant below 0 °C needs glycol: stays_liquid_to tells how much.");
      const first = volumeFraction(set.first);
      const room = num(args, "room");
      if (first >= LEAST_LISTED && flashPoint(first) <= room) {
        call.caution(
          `The first distillate, about ${Math.round(100 * first)} %vol, can be lit from about ${Math.round(flashPoint(first) - 273.15)} °C on, and the room is no colder: no flame or spark near receiver and pump.`,
        );
      }
      if (room >= set.receiverBelow) {
        call.caution(
          "A receiver at room temperature is too warm: the distillate would boil again and go to the pump. Set it in ice.",
        );
      }
      return {
        pressure: set.pascal,
        boils_at: set.boilsAt,
        warm_side: set.warmSide,
        cold_side: set.coldSide,
        holds: set.holds,
        ices,
        receiver_below: set.receiverBelow,
      };
    },
    modelUncertainty: (args, result) => {
      const pascal = result.pressure!;
      return {
        pressure: boilingUncertainty(args, pascal) * boilingSlope(pascal, result.boils_at!),
        receiver_below: num(args, "strength") > 0 ? 0.4 : 0.01,
      };
    },
  },
  {
    name: "warm_to_cold",
    group: GROUP,
    says: "The difference between bath and coolant, with a note when it is small.",
    parameters: [bath, coolant],
    result: [differenceResult("", "From bath to coolant.")],
    equation: "bath - coolant",
    source: "about 40 K, half of it on each side: common practice of laboratory evaporators; no law",
    range: "bath warmer than coolant",
    trust: "exact; what it is good for is practice, so ask settle too",
    examples: [{ formula: "warm_to_cold(30 °C, -10 °C)", gives: "40 K" }],
    compute: (args, call) => {
      const across = num(args, "bath") - num(args, "coolant");
      if (!(across > 0)) {
        throw new Trouble({
          code: "too-warm",
          says: "The coolant is no colder than the bath: nothing would come over.",
          help: "Give the bath first, then the coolant.",
        });
      }
      if (across < 40 - 1e-9) {
        call.note(
          "Less than the usual 40 K (common practice, no source): slow, or the cold side is weak. settle shows both sides.",
        );
      }
      return across;
    },
  },
  {
    name: "absolute_pressure",
    group: GROUP,
    says: "The absolute pressure behind a dial that reads how far it is below the room.",
    parameters: [
      pressure("below", "What the dial shows, as a positive number."),
      optional(
        pressure(
          "air",
          "Pressure of the air outside, from a barometer that is not corrected to sea level, or air_at(height).",
        ),
        "1013.25 mbar",
      ),
    ],
    labelsOnly: ["air"],
    result: [pressureResult("", "Absolute pressure.")],
    equation: "air - below",
    source: "definition",
    range: "a reading from 0 to below the air's pressure; air 500 to 1100 mbar",
    trust: "exact for a measured air pressure; with the standard one 18 mbar (weather: 3 % either way)",
    examples: [
      { formula: "absolute_pressure(960 mbar)", gives: "53.25 mbar" },
      { formula: "absolute_pressure(960 mbar, air: 985 mbar)", gives: "25 mbar" },
    ],
    compute: (args, call) => {
      const air = num(args, "air");
      if (air === 101_325) {
        call.note(
          "With the standard air pressure: weather moves it by 30 mbar and height by 12 mbar for 100 m, which is many kelvin of boiling. Read a barometer.",
        );
      }
      return absolutePressure(num(args, "below"), air);
    },
    modelUncertainty: (args) => (num(args, "air") === 101_325 ? WEATHER_ERROR * 101_325 : 0),
  },
  {
    name: "air_at",
    group: GROUP,
    says: "The usual pressure of the air at a height above the sea.",
    parameters: [length("height", "Height above the sea.")],
    result: [pressureResult("", "Pressure of the air.")],
    equation: "1013.25 mbar * (1 - 2.25577e-5 * height / 1 m)^5.25588",
    source: "standard atmosphere (ICAO), from memory",
    range: "-430 to 5000 m",
    trust: "standard uncertainty 1.7 % (weather: 3 % either way)",
    examples: [{ formula: "air_at(500 m)", gives: "954.61 mbar" }],
    compute: (args, call) => {
      call.note("An estimate: weather moves it by 3 % either way. A barometer knows better.");
      return airPressure(num(args, "height"));
    },
    modelUncertainty: (_args, result) => WEATHER_ERROR * result[""]!,
  },
];

export const declarations: readonly Declaration[] = [...setting, ...coldSide];
