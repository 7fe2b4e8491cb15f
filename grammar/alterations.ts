/**
 * Edits of anything but cells and formulas: names, titles, rows and columns, whole statements. The page opens a book
 * without them and fetches them behind (src/build/later.ts); until they come they are refused there. Code of the page
 * that comes later itself and makes such edits imports ./alterations-here.
 */
export { rename } from "./renaming";
export {
  addStatement,
  moveStatement,
  newDefine,
  newSet,
  newTable,
  removeStatement,
  removeTick,
  setComment,
  setStepClauses,
  setStepText,
  setTick,
  setTitle,
  setTrial,
} from "./statement-edits";
export {
  addColumn,
  addComputedColumn,
  addFoot,
  moveColumn,
  removeColumn,
  setBracket,
} from "./table-edits";
