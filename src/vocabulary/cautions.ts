/**
 * Cautions of the still and the spirit that several declarations carry, each in one wording so that a page or a card
 * shows it once. None is a verdict of safety; local codes and licensed practice come first. Those of the food side
 * are in food-cautions.ts.
 */

export const VAPOUR =
  "Ethanol vapour ignites: ventilate, keep flames and sparks away, and lead the pump's exhaust out. From about 40 %vol up a spirit can be above its flash point in a warm room.";

export const LICENCE =
  "Distilling spirits needs a licence in most countries, and re-distilling bought spirit usually counts as distilling: ask the local authority, and keep account of the alcohol made, used and lost.";

export const GLYCOL =
  "Glycol coolant is poisonous, ethylene glycol most of all: keep it out of food, use propylene glycol in a kitchen, and watch for a falling level.";

export const VENT = "Vent slowly, and never vent hot onto spirit.";

export const LABEL = "The strength on a label must be measured, not calculated.";

export const SUGAR_HIDES =
  "For clean spirit only: sugar, honey, juice or extract makes the reading too low, near 40 %vol by about 0.2 %vol for each gram in a litre. Then use behind_sugar.";

export const VOLATILE_POISONS =
  "Volatile poisons come over with the aroma (prussic acid of stone kernels, thujone, pulegone, safrole, estragole, methyleugenol, coumarin): food law limits them, and vacuum is no exemption.";

export const METHANOL =
  "A still makes no methanol and a cut removes none: it follows the ethanol. Fruit mashes need analysis. Never use denatured alcohol.";

export const GIN_STRENGTH =
  "Some names on a label ask for a distillate of a least strength (London gin: 70 %vol): a gentle run taken far may fall below it.";

export const WARM_CLOCK =
  "Warm clock, for a pot with little alcohol that is not sour: after less than 2 h between 5 and 60 °C it may go back to the fridge, from 2 to 4 h use it at once, after 4 h discard it. The local food code decides.";

export const DEGAS = "Beer and cider: drive the gas off first and fill the flask one third: they foam.";

export const ALLERGENS =
  "Allergens (nut, sesame, celery, mustard) travel as scent and as carry-over: record what was in the still before.";
