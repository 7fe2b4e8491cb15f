import { massFraction, massFractionFromProof, volumeFraction } from "../matter/spirit";
import { type Kind, kinds } from "../quantity";
import type { Matter, Parameter } from "./declaration";

/**
 * Parameters that many declarations share, so that one word means one thing everywhere. Each builder takes the
 * parameter's name and its sentence; `optional(…)` and `listed(…)` change a parameter into one that may be left out
 * (with its value in the language, if it has one) or that wants a list.
 */

const of =
  (...takes: readonly { readonly kind: Kind; readonly toNumber?: (si: number) => number }[]) =>
  (name: string, says: string): Parameter => ({ name, says, takes });

const same = (kind: Kind) => ({ kind });

/**
 * A strength in `%vol` (20 °C), `%mas` or US `proof`. `compute` is given the **mass fraction** of ethanol, 0 to 1,
 * in every case. A strength outside 0 to 100 % is refused here.
 */
export const strength = of(
  { kind: kinds.strengthMass },
  { kind: kinds.strengthVolume, toNumber: massFraction },
  { kind: kinds.proof, toNumber: massFractionFromProof },
);

/** The same strengths, but `compute` is given the **volume fraction** at 20 °C (0.42 for 42 %vol): for what adds by volume of alcohol. */
export const strengthByVolume = of(
  { kind: kinds.strengthVolume },
  { kind: kinds.strengthMass, toNumber: volumeFraction },
  { kind: kinds.proof, toNumber: (q60) => volumeFraction(massFractionFromProof(q60)) },
);

/** Dissolved solids in `°Bx`: mass fraction, 0.18 for 18 °Bx. */
export const solids = of(same(kinds.solids));

/** A water content by mass, `18 %`: mass fraction. Plain ratios are taken too. */
export const moisture = of(same(kinds.moisture), same(kinds.plain));

/** A water activity, 0 to 1. Plain ratios are taken too. */
export const activity = of(same(kinds.activity), same(kinds.plain));

/** A share or any plain ratio: `5 %`, `0.05`. */
export const share = of(same(kinds.plain));

/** A plain number. */
export const plainNumber = of(same(kinds.plain));

/** An **absolute** pressure, Pa: a perfect vacuum is 0. */
export const pressure = of(same(kinds.pressure));

/** A temperature (a reading), K. */
export const temperature = of(same(kinds.temperature));

/** A temperature difference, K. */
export const difference = of(same(kinds.difference));

/** A mass, kg, of something that is poured: {@link amountHelp} tells what its volume weighs. */
export const poured =
  (matter: Matter) =>
  (name: string, says: string): Parameter => ({ ...of(same(kinds.mass))(name, says), matter });

/** A mass, kg, of something that is weighed because nobody pours it. */
export const mass = poured("solid");

/** A volume, m³. */
export const volume = of(same(kinds.volume));

/** The volume of a flask or of the room in a still, m³. */
export const vessel = (name: string, says: string): Parameter => ({
  ...volume(name, says),
  matter: "vessel",
});

/** What to do when an amount was given as a volume (`given`, in its words) and a mass is wanted, or the other way round. */
export function amountHelp(matter: Matter, wanted: "mass" | "volume", given: string): string {
  if (wanted === "volume") {
    return matter === "vessel"
      ? "Give the room inside, as it stands on the glass or as water fills it, for example 2 L."
      : `Of a spirit, \`volume_of(${given}, 40 %vol)\` is the volume: put in its own strength.`;
  }
  switch (matter) {
    case "water":
      return `Water weighs 0.998 g a millilitre at 20 °C: write \`mass_of(${given}, 0 %vol)\`.`;
    case "alcohol":
      return `Of pure alcohol write \`mass_of(${given}, 100 %vol)\`; of a spirit \`pure_mass(${given}, 40 %vol)\` with its own strength.`;
    case "spirit":
      return `Weigh it, or write \`mass_of(${given}, 40 %vol)\` with its own strength.`;
    case "juice":
      return `Weigh it, or write \`${given} * syrup_density(15 °Bx)\` with its own solids.`;
    case "honey":
      return `Weigh it, or write \`${given} * honey_density(18 %)\` with its own moisture.`;
    default:
      return "Weigh it: what a volume of it weighs is not known here.";
  }
}

/**
 * A volume (m³) or a mass (kg): a bench weighs. `compute` must ask `call.kindOf(name)` which of the two it was given,
 * or use {@link isMass}.
 */
export const amount = of(same(kinds.volume), same(kinds.mass));

/** A time, s. */
export const time = of(same(kinds.time));

/** A power, W. */
export const power = of(same(kinds.power));

/** A density, kg/m³. */
export const density = of(same(kinds.density));

/** A refractive index. */
export const index = of(same(kinds.index));

/** A flow by volume (m³/s) or by mass (kg/s). */
export const flow = of(same(kinds.rate), same(kinds.massRate));

/** Heat that passes for each kelvin of difference, W/K. */
export const heatTransfer = of(same(kinds.heatTransfer));

/** A height or length, m. */
export const length = of(same(kinds.length));

/** Words to choose from. */
export const choice = (name: string, says: string, choices: readonly string[]): Parameter => ({
  name,
  says,
  takes: "text",
  choices,
});

/** The parameter may be left out; `otherwise` is its value then, in the language (`0 %vol`), or nothing when it is simply absent. */
export const optional = (parameter: Parameter, otherwise?: string): Parameter =>
  otherwise === undefined ? { ...parameter, optional: true } : { ...parameter, optional: true, otherwise };

/** The parameter wants a list, one entry for each thing. */
export const listed = (parameter: Parameter): Parameter => ({ ...parameter, list: true });

/** Whether the argument of an {@link amount} parameter is a mass. */
export const isMass = (kind: Kind | undefined): boolean => kind?.id === kinds.mass.id;
