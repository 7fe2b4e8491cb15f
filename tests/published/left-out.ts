/** What stands without a comparison, and why. */

/** Quantities of the files in points/ that no function answers. */
export const leftOut: ReadonlyMap<string, string> = new Map([
  ["spirit.json label_tolerance", "a rule of law; no function judges a label"],
  ["spirit.json minimum_strength", "a rule of law; no function judges a label"],
  ["sugar-honey.json water_activity_raoult", "propylene glycol in water: no function takes glycol as food"],
  [
    "mixtures.json sucrose_saturation",
    "nodes behind the remark that crystals may fall; the remark is tested in keeping.test.ts",
  ],
  [
    "mixtures.json ice_point_salt_eutectic",
    "where salt and ice come down together: `ice_point` stops short of it, tested in freezing.test.ts",
  ],
  ["mixtures.json ethanol_salting_out_constant", "no function takes salt together with alcohol in a pot"],
  [
    "aroma.json oil_per_100mL_of_water_distilled",
    "an oil phase of its own: `comes_over` is for what is dissolved",
  ],
  [
    "solutions.json glucose density and index",
    "the density and index of °Bx are those of sucrose; no function tells them of other sugars",
  ],
  ["solutions.json fructose density and index", "as for glucose"],
  ["solutions.json maltose density and index", "as for glucose"],
  ["solutions.json lactose density and index", "as for glucose"],
  [
    "solutions.json glycerol density and index",
    "no function takes glycerol but for water activity and freezing",
  ],
  ["solutions.json mannitol density and index", "no function takes mannitol but for water activity"],
  ["solutions.json mannitol freezing", "`ice_point` takes no mannitol"],
  [
    "solutions.json salt density and index",
    "a reading with salt in it is refused, never turned into a number",
  ],
  [
    "solutions.json ethanol index above 40 %",
    "the index turns near 80 %; `strength_by_drops` refuses above 40 %",
  ],
  ["solutions.json freezing beyond the range of `ice_point`", "the function stops where its curves do"],
]);

/** Functions of the language without a published point. */
export const withoutPoint: ReadonlyMap<string, string> = new Map([
  ["absolute_pressure", "a difference of two readings"],
  ["missing", "a difference of weighings"],
  ["behind_sugar", "a ratio of volumes"],
  ["pure_volume", "the definition of strength by volume; for masses it rests on `by_volume`"],
  ["water_in", "the definition of °Bx"],
  ["can_grow", "an answer in sentences; the steps of its sources are tested in keeping.test.ts"],
  ["warm_time", "a sum of times"],
  ["yeast_risk", "an answer in sentences; the steps of its source are tested in honey.test.ts"],
  ["relative_deviation", "standard_deviation over mean, which have points"],
  ["sum", "addition"],
  ["smallest", "a choice"],
  ["largest", "a choice"],
  ["count", "counting"],
  ["median", "a choice"],
  ["day_plan", "addition of times"],
  ["spirit_book", "addition of volumes"],
  ["whole", "rounding"],
  ["whole_up", "rounding"],
  ["round_to", "rounding"],
  ["abs", "elementary"],
  ["sqrt", "elementary"],
  ["exp", "elementary"],
  ["ln", "elementary"],
  ["log10", "elementary"],
  ["first", "a choice"],
  ["last", "a choice"],
  ["nearest", "a choice"],
  ["pick", "a look-up by name"],
  ["share_out", "the largest remainder: integer arithmetic"],
]);
