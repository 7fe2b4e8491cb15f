import {
  COLDEST_SURFACE,
  chillLoad,
  condensedShare,
  latentHeatError,
  leak,
  lostPast,
  WARMEST_SURFACE,
} from "../matter/condenser";
import { COOLANT_ERROR, coolantFreezing, GLYCOLS, type Glycol } from "../matter/coolant";
import { SKIN, spiritIce } from "../matter/setting";
import { spiritDensity } from "../matter/spirit";
import { kinds, Trouble } from "../quantity";
import { GLYCOL, VAPOUR } from "./cautions";
import type { Call, Declaration, NumberArguments, Parameter } from "./declaration";
import { GLASS } from "./food-cautions";
import { choice, difference, flow, optional, pressure, share, temperature, time, vessel } from "./parameters";
import { absolute, coolant, GROUP, MODEL, over, temperatureResult } from "./still-words";

/** The cold side of the still: what condenses, what it takes, and what gets past. */

const num = (args: NumberArguments, name: string): number => args[name] as number;

const inCelsius = (kelvin: number): string => `${Number((kelvin - 273.15).toFixed(2))} °C`;

/** A flow of air by volume only: stated at 1 atm and 20 °C, its mass would say nothing new. */
const airFlow = (name: string, says: string): Parameter => ({ name, says, takes: [{ kind: kinds.rate }] });

export const coldSide: readonly Declaration[] = [
  {
    name: "stays_liquid_to",
    group: GROUP,
    says: "The temperature at which a coolant of glycol and water begins to freeze.",
    parameters: [
      choice("glycol", "Which glycol it is.", GLYCOLS),
      share("share", "Glycol, by mass."),
      optional(
        temperature("coolant", "Coldest that the coolant gets: one that would freeze there is refused."),
      ),
    ],
    labelsOnly: ["coolant"],
    result: [temperatureResult("", "Freezing temperature.")],
    equation: "straight lines between the nodes of a table",
    source:
      "curves of CoolProp 8.0 (attributed there to Melinder 2010; the book was not seen), cross-checked with Lange's Handbook and a chiller's manual",
    range: "0 to 50 % by mass",
    trust: "standard uncertainty 0.5 K (the other curve in use is up to 1.5 K colder)",
    cautions: [GLYCOL],
    examples: [{ formula: 'stays_liquid_to("propylene", 35 %)', gives: "-16.32 °C" }],
    compute: (args, call) => {
      call.note(
        "Choose a freezing point several kelvin below the coldest surface in the chiller (5 K is habit, no source).",
      );
      const glycol = args.glycol as Glycol;
      const kelvin = coolantFreezing(glycol, num(args, "share"));
      if (glycol === "propylene" && kelvin < 258.15)
        call.note("Below -15 °C propylene glycol gets thick and its flow drops.");
      const coldest = args.coolant as number | undefined;
      if (coldest !== undefined && coldest <= kelvin) {
        throw new Trouble({
          code: "freezes",
          says: `This coolant begins to freeze at ${inCelsius(kelvin)}, and it shall go to ${inCelsius(coldest)}: it would turn to slush in the chiller.`,
          help: "Take more glycol, or a warmer coolant.",
        });
      }
      return kelvin;
    },
    modelUncertainty: (args) => (num(args, "share") > 0 ? COOLANT_ERROR : 0),
  },
  {
    name: "condensed_share",
    group: GROUP,
    says: "The share of the vapour that the condenser can hold: an ideal bound, and a cliff.",
    parameters: [
      absolute,
      over,
      coolant,
      optional(difference("skin", "How much warmer the glass is than the coolant."), `${SKIN} K`),
    ],
    labelsOnly: ["skin"],
    result: [
      { name: "", says: "Share of the vapour, by amount (moles).", holds: { kind: kinds.plain, unit: "%" } },
    ],
    equation:
      "all above the bubble pressure, nothing below the dew pressure of `over` at the glass; between them an isothermal flash, 1 - (z - x)/(y - x)",
    source: MODEL,
    range:
      "glass from -50 to 60 °C (below -10 °C the answer for -10 °C stands); below 15 °C the vapour model is an estimate",
    trust:
      "an ideal bound; two kelvin decide between all and little; standard uncertainty that of 0.3 K of boiling with alcohol, 0.005 K for water",
    cautions: [GLYCOL],
    examples: [
      { formula: "condensed_share(30 mbar, 80 %vol, 7 °C)", gives: "32.2 %" },
      { formula: "condensed_share(30 mbar, 80 %vol, 5 °C)", gives: "100 %" },
    ],
    compute: (args, call) => {
      const glass = num(args, "coolant") + num(args, "skin");
      const held = condensedShare(num(args, "pressure"), num(args, "over"), glass);
      remarkOnGlass(glass, num(args, "over"), call);
      if (held === 0)
        call.caution(
          "Nothing condenses: the condenser is too warm for this pressure, and everything goes to the pump.",
        );
      else if (held < 1)
        call.caution("Part of the vapour goes to the pump: use a colder coolant or a higher pressure.");
      return held;
    },
    modelUncertainty: (args) => {
      const p = num(args, "over");
      const glass = num(args, "coolant") + num(args, "skin");
      const error = p > 0 && p < 1 ? 0.3 : 0.005;
      const at = (kelvin: number): number =>
        condensedShare(
          num(args, "pressure"),
          p,
          Math.min(WARMEST_SURFACE, Math.max(COLDEST_SURFACE, kelvin)),
        );
      return (at(glass + error) - at(glass - error)) / 2;
    },
  },
  {
    name: "chill_load",
    group: GROUP,
    says: "The power that the condenser must take away for a rate of distillate.",
    parameters: [flow("rate", "Distillate for a time, by volume (at 20 °C) or by mass."), over, absolute],
    result: [
      {
        name: "",
        says: "Power at the condenser; the bath must give as much and more.",
        holds: { kind: kinds.power, unit: "W" },
      },
    ],
    equation: "mass rate * (p L_ethanol(T) + (1 - p) L_water(T)), T the dew point of the vapour",
    source:
      "heats of evaporation: water fit to IAPWS-IF97, ethanol Watson form through CRC values; heat of mixing left out",
    range: "dew points 0 to 120 °C, pressure to 110 kPa",
    trust:
      "relative standard uncertainty 1 to 1.5 % with alcohol (ethanol 1.5 %, heat of mixing 1 %), water 0.02 %",
    cautions: [GLYCOL],
    examples: [
      { formula: "chill_load(450 mL/h, 0 %vol, 30 mbar)", gives: "304.96 W" },
      { formula: "chill_load(1 L/h, 80 %vol, 50 mbar)", gives: "316.67 W" },
    ],
    compute: (args, call) => {
      const p = num(args, "over");
      const rate = num(args, "rate");
      const massRate = call.kindOf("rate")?.id === kinds.massRate.id ? rate : rate * spiritDensity(p);
      call.note(
        "Take the chiller's power at the coolant's temperature, never the nameplate at +20 °C, and keep a reserve for warmth that leaks in.",
      );
      return chillLoad(massRate, p, num(args, "pressure"));
    },
    modelUncertainty: (args, result) => latentHeatError(num(args, "over")) * result[""]!,
  },
  {
    name: "tightness",
    group: GROUP,
    says: "The air that leaks into a closed still, from how fast the pressure rises.",
    parameters: [
      pressure(
        "rise",
        "Rise of the pressure: close the tap, wait, and read again (cold and dry, or vapour fools the gauge).",
      ),
      time("time", "Time it took."),
      vessel("inside", "Room inside the still."),
    ],
    result: [
      {
        name: "",
        says: "Air, as a volume at 1 atm and 20 °C for a time.",
        holds: { kind: kinds.rate, unit: "mL/min" },
      },
    ],
    equation: "inside * rise / (time * 1 atm)",
    source: "ideal gas",
    range: "a rise and a time above 0, at room temperature",
    trust: "as good as the gauge and the volume; vapour from a wet still counts as air",
    cautions: [GLASS],
    examples: [{ formula: "tightness(1 mbar, 1 min, 5 L)", gives: "4.9346 mL/min" }],
    compute: (args) => {
      const seconds = num(args, "time");
      const inside = num(args, "inside");
      const rise = num(args, "rise");
      if (!(seconds > 0 && inside > 0 && rise >= 0)) {
        throw new Trouble({
          code: "nothing-there",
          says: "A rise of 0 or more, in a time and a room greater than nothing, tells the leak.",
          help: "Read the gauge, wait some minutes, and read it again.",
        });
      }
      return leak(rise, seconds, inside);
    },
  },
  {
    name: "lost_past",
    group: GROUP,
    says: "The distillate that leaves through the pump with the air, saturated over the condensate.",
    parameters: [
      airFlow(
        "air",
        "Air that passes: a leak (tightness), a bleed, gas ballast; as a volume at 1 atm and 20 °C for a time.",
      ),
      absolute,
      over,
      coolant,
      optional(
        difference("skin", "How much warmer the glass is than the coolant; real glass is several kelvin."),
        "0 K",
      ),
    ],
    labelsOnly: ["skin"],
    result: [{ name: "", says: "Loss.", holds: { kind: kinds.massRate, unit: "g/h" } }],
    equation:
      "air (mol) * p / (pressure - p) * molar mass of the vapour; p the pressure at which the distillate boils at the glass",
    source: `${MODEL}; ideal gas`,
    range:
      "glass from -50 to 60 °C (below -10 °C the answer for -10 °C stands, an upper bound); the distillate must not boil at the glass",
    trust:
      "relative standard uncertainty 5 % for the vapour pressures below 15 °C (not validated there); the flow of air decides",
    cautions: [VAPOUR],
    examples: [{ formula: "lost_past(0.5 L/min, 50 mbar, 80 %vol, 10 °C)", gives: "62.038 g/h" }],
    compute: (args, call) => {
      const glass = num(args, "coolant") + num(args, "skin");
      remarkOnGlass(glass, num(args, "over"), call);
      return lostPast(num(args, "air"), num(args, "pressure"), num(args, "over"), glass);
    },
    modelUncertainty: (_args, result) => 0.05 * result[""]!,
  },
];

function remarkOnGlass(kelvin: number, p: number, call: Call): void {
  const ice = spiritIce(p);
  if (ice !== undefined && kelvin < ice) {
    call.caution(
      `At ${inCelsius(kelvin)} the glass is colder than ${inCelsius(ice)}, where this distillate begins to freeze: ice on the coil keeps the cold from the vapour and can block the way. For water +2 to +5 °C is cold enough.`,
    );
  }
  if (kelvin < COLDEST_SURFACE) {
    call.note(
      "Below -10 °C nothing is vouched for; this is the answer for -10 °C, and colder glass holds at least as much.",
    );
  } else if (kelvin < 288.15 && p > 0 && p < 1) {
    call.note("Below 15 °C the vapour model is carried past its data (25 to 100 °C): an estimate.");
  }
}
