/** Cautions of the food side that several declarations carry, each in one wording so that a card shows it once. */

export const PERISHABLE =
  "Juices, infusions and water distillates are perishable: water activity, acidity and cold decide, and a model is no safety test. Local food rules come first.";

export const COLD_BOILING =
  "Cold boiling is not cooking: hours at 20 to 35 °C are where bacteria grow. Heat it before or after, make it acid, or split the charge.";

export const CONCENTRATES =
  "Thickening also concentrates salt, acid, nitrate, oxalate, patulin and residues of spraying.";

export const NOT_HONEY =
  "Honey with anything added is no longer honey in law: ask what the label may say. Not for infants under 12 months.";

export const FERMENTS = "Thinned honey ferments while it waits: bring it back the same day.";

export const STRIPPED = "Driving alcohol off takes away what kept the liquid: from then on it is fresh food.";

export const GLASS = "Glass under vacuum can implode: inspect it, shield it, fill it at most half.";

export const SUGAR_ONLY =
  "°Bx means sugar in water. Alcohol and salt read as sugar, acid as less; a juice's reading is near its solids, not equal to them.";

export const NO_VERDICT =
  "A water activity is no verdict on safety: acidity, cold, airlessness and time decide with it. Measure it, and follow the local food code.";
