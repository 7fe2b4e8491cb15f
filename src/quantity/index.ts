export { adviceFor, kindName, kindsDiffer, type Side } from "./advice";
export { type Comparison, compare, gapBetween } from "./compare";
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
export { columnDecimals, decimalsNeeded, type FormatOptions, format, formatParts } from "./format";
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
  ratioDecimals,
  ratioOf,
  ratioOver,
  ratioPower,
  ratioTimes,
  ratioToNumber,
} from "./ratio";
export { combine, covariance, type Spread, scaleSpread, sigma } from "./spread";
export { largestRemainder, meanQuantities, sumQuantities } from "./total";
export { Trouble, type TroubleParts } from "./trouble";
export {
  asDifference,
  type Factor,
  kelvinPoint,
  parseUnit,
  plainUnit,
  siUnit,
  type Unit,
  unitExists,
  withKind,
} from "./unit";
export {
  type AdditionPlan,
  type Conversion,
  compatible,
  conversion,
  convertible,
  jointKind,
  planAddition,
  planProduct,
  planQuotient,
  powerUnit,
  productUnit,
  quotientUnit,
  type Refusal,
  rootUnit,
  shownIn,
  type UnitResult,
} from "./unit-algebra";
