export { kindName, kindsDiffer, rateHelp, type Side } from "./advice";
export { adviceFor } from "./argument";
export { type Comparison, compare } from "./compare";
export { describeUnit, unitNames, unitsOfKind, unitTrouble } from "./completion";
export { currencies, currencySign } from "./currency";
export {
  currencyOf,
  type Dimension,
  dimension,
  dimensionPower,
  dimensionTimes,
  type Kind,
  kindOfDimension,
  kinds,
  takesPlain,
} from "./dimension";
export { decimalsNeeded, type FormatOptions, format, formatParts } from "./format";
export { mergeNotes, type Note, notesOf } from "./note";
export {
  APPROXIMATE,
  addNum,
  affineNum,
  approximate,
  compareNum,
  divideNum,
  divideScaled,
  exact,
  exactInteger,
  fractionOf,
  fromBig,
  isExact,
  multiplyNum,
  multiplyScaled,
  type Num,
  negateNum,
  powerNum,
  powerOfTen,
  raise,
  scaleNum,
  shiftNum,
  subtractNum,
  sumNum,
  toBig,
  wholeNum,
} from "./number";
export {
  add,
  convert,
  divide,
  fromSI,
  multiply,
  negate,
  plain,
  power,
  type Quantity,
  quantity,
  spreadBy,
  subtract,
  toSI,
} from "./quantity";
export {
  applyRatio,
  type Ratio,
  ratio,
  ratioOf,
  ratioOver,
  ratioPower,
  ratioTimes,
} from "./ratio";
export { combine, covariance, type Spread, scaleSpread, sigma } from "./spread";
export { largestRemainder, meanQuantities, sumQuantities } from "./total";
export { Trouble, type TroubleParts } from "./trouble";
export {
  asDifference,
  kelvinPoint,
  parseUnit,
  plainUnit,
  siUnit,
  type Unit,
  unitExists,
  withKind,
} from "./unit";
export {
  isRefusal,
  type PowerPlan,
  planPower,
  planProduct,
  planQuotient,
  productUnit,
  quotientUnit,
  type Refusal,
  rootUnit,
  type UnitResult,
} from "./unit-algebra";
export {
  type AdditionPlan,
  type Conversion,
  compatible,
  conversion,
  convertible,
  jointKind,
  type NoSum,
  planAddition,
  shownIn,
} from "./unit-sum";
export type { Factor } from "./unit-text";
