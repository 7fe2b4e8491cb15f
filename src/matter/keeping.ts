import { Trouble } from "../quantity/trouble";

/**
 * What published tables say about growth in a food, told in sentences. Nothing here is a verdict: the figures
 * are marks to talk to a food authority with, and never come from a water activity alone.
 */

const ZERO_CELSIUS = 273.15;

/**
 * Groups of microbes by the lowest water activity at which they grow.
 * Source: table adapted from Beuchat 1981.
 */
const GROWTH: readonly { readonly above: number; readonly says: string }[] = [
  { above: 0.95, says: "nearly every microbe can grow" },
  {
    above: 0.91,
    says: "Salmonella, the bacterium of botulism, most other bacteria, yeasts and moulds can grow",
  },
  { above: 0.87, says: "Staphylococcus aureus, many yeasts and moulds can grow" },
  { above: 0.8, says: "Staphylococcus aureus and most moulds can grow, and some yeasts" },
  { above: 0.75, says: "salt-loving bacteria and moulds that make toxins can grow" },
  { above: 0.65, says: "dry-loving moulds can grow" },
  { above: 0.6, says: "sugar-loving yeasts and a few moulds can grow" },
  { above: -1, says: "no microbe is known to grow, though those present may survive" },
];

/** pH and water activity above which a food counts as low in acid: 21 CFR 114.3. */
const LOW_ACID_PH = 4.6;
const LOW_ACID_ACTIVITY = 0.85;

/** Ethanol by mass below which it is no hurdle to lean on, by what J. Food Prot. 66 (2003) 610 and J. Jpn Soc. Food Sci. 31 (1984) 531 found. */
const STOPPED_BOTULISM = 0.06;
const STOPPED_SPOILERS = 0.11;
/** Warm clock of practice: below this share of ethanol by mass, and above pH 4.6, hours of warmth are to be counted. */
export const WARM_CLOCK_ETHANOL = 0.12;

export interface KeepingState {
  readonly activity: number;
  readonly ph?: number | undefined;
  /** Mass fraction of ethanol. */
  readonly ethanol?: number | undefined;
  /** Temperature at which it is kept, K. */
  readonly kelvin?: number | undefined;
}

/**
 * Sentences on what can grow in a food with this water activity and what else is known of it.
 *
 * @throws Trouble `out-of-range` for an activity outside 0 to 1 or a pH outside 0 to 14
 */
export function canGrow(state: KeepingState): string {
  const { activity, ph, ethanol } = state;
  if (!(activity >= 0 && activity <= 1)) {
    throw new Trouble({
      code: "out-of-range",
      says: `A water activity lies between 0 and 1, and this is ${activity}.`,
    });
  }
  if (ph !== undefined && !(ph >= 0 && ph <= 14)) {
    throw new Trouble({
      code: "out-of-range",
      says: `Acidity is given as a pH from 0 to 14, and this is ${ph}.`,
      help: "Read it from a pH meter or strip: acidity: 3.8.",
    });
  }
  const group = GROWTH.find((g) => activity > g.above)!;
  const sentences = [`At a water activity of ${Number(activity.toFixed(3))} ${group.says}.`];
  if (activity > 0.6) sentences.push(...acidity(activity, ph), ...alcohol(ethanol), ...cold(state));
  if (ph === undefined && activity > 0.6)
    sentences.unshift("Not to be judged from the water activity alone.");
  return sentences.join(" ");
}

function acidity(activity: number, ph: number | undefined): string[] {
  if (ph === undefined)
    return ["Measure the pH: without it nothing can be said about the bacteria that poison."];
  if (ph > LOW_ACID_PH) {
    return activity > LOW_ACID_ACTIVITY
      ? [
          `With pH ${ph} and a water activity over 0.85 it counts as low in acid: treat it as fresh food, or have the heat treatment tested.`,
        ]
      : [`pH ${ph} is no hurdle; at a water activity of 0.85 or less it does not count as low in acid.`];
  }
  return [
    `pH ${ph} is acid (4.6 or less): the bacterium of botulism does not grow, but yeasts, moulds and acid-loving bacteria can spoil it.`,
  ];
}

function alcohol(ethanol: number | undefined): string[] {
  if (ethanol === undefined || ethanol <= 0) return [];
  const shown = `${Number((100 * ethanol).toFixed(1))} % alcohol by mass`;
  if (ethanol < STOPPED_BOTULISM) {
    return [
      `${shown} only slows: 6 % stopped the bacterium of botulism in one study, 4 % delayed it, and spores survived.`,
    ];
  }
  if (ethanol < STOPPED_SPOILERS) {
    return [`${shown} stopped the bacterium of botulism in one study (6 %), but spoilers needed 9 to 11 %.`];
  }
  return [
    `${shown} stopped spoilers too in one study (9 to 11 %); spores survive, and driving it off brings them back.`,
  ];
}

function cold(state: KeepingState): string[] {
  const { kelvin, ph, activity } = state;
  if (kelvin === undefined) return [];
  const t = kelvin - ZERO_CELSIUS;
  const shown = `${Number(t.toFixed(1))} °C`;
  if (t > 60) return [`At ${shown} it is held hot; the time on the way down counts.`];
  if (t > 5) return [`At ${shown} it is warm: count the hours with warm_time.`];
  if (t <= -10) return [`At ${shown} nothing grows, and what is there comes back on thawing.`];
  const safer = (ph !== undefined && ph < 5) || activity < 0.97;
  return [
    safer
      ? `At ${shown} growth is slow, not stopped: keep it short and go by the local code.`
      : `At ${shown} a fridge is not enough in a closed jar or bag: toxin was made at 3 °C in 5 weeks and at 5 °C in 2 to 3.`,
  ];
}

/** Limits of the warm range, K, ends included. */
const WARM_FROM = ZERO_CELSIUS + 5;
const WARM_TO = ZERO_CELSIUS + 60;

/**
 * Seconds spent between 5 and 60 °C, ends included.
 *
 * @throws Trouble `lists-differ`, `out-of-range` for a negative time
 */
export function warmTime(seconds: readonly number[], kelvins: readonly number[]): number {
  if (seconds.length !== kelvins.length) {
    throw new Trouble({
      code: "lists-differ",
      says: `There are ${seconds.length} times and ${kelvins.length} temperatures; each time needs its temperature.`,
    });
  }
  let sum = 0;
  seconds.forEach((s, i) => {
    if (!(s >= 0)) throw new Trouble({ code: "out-of-range", says: "A time cannot be negative." });
    // A hair's breadth of slack: 60 °C typed in is 333.15 K only to the last bit of a double.
    if (kelvins[i]! >= WARM_FROM - 1e-9 && kelvins[i]! <= WARM_TO + 1e-9) sum += s;
  });
  return sum;
}

/** What the usual time rule says of a warm time (seconds). Local code decides. */
export function warmRule(seconds: number): string {
  const hours = seconds / 3600;
  if (hours < 2) return "Under 2 h between 5 and 60 °C: by the usual rule it may go back to the fridge.";
  if (hours <= 4)
    return "2 to 4 h between 5 and 60 °C: by the usual rule use it at once, do not chill it again.";
  return "Over 4 h between 5 and 60 °C: by the usual rule discard it, unless acid or alcohol keep it.";
}
