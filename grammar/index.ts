export {
  addColumn,
  addComputedColumn,
  addFoot,
  addStatement,
  moveColumn,
  moveStatement,
  newDefine,
  newSet,
  newTable,
  removeColumn,
  removeStatement,
  removeTick,
  rename,
  setBracket,
  setComment,
  setStepClauses,
  setStepText,
  setTick,
  setTitle,
  setTrial,
} from "./alterations";
export type { Meaning, Scope } from "./book-names";
export { addRows, moveRow, removeRow, setCell, setCells } from "./cell-edits";
export { formulaSpan, setFormula } from "./formula-edits";
export { parseFormula } from "./formulas";
export { highlight, highlightCell, highlightFormula, type Ink } from "./highlight";
export { LARGEST_FILE, LONGEST_CHAIN, LONGEST_STATEMENT, MOST_NESTED } from "./limits";
export { formulaMark } from "./marks";
export {
  canBeName,
  editDistance,
  isPlainName,
  nearName,
  writeName,
  writePart,
} from "./names";
export { nearAmong } from "./nearness";
export { daysInWords } from "./odd-numbers";
export { applyPatches, type Edited, type Patch, type Refusal } from "./patches";
export { type Token, type TokenType, tokensOf } from "./plain-tokens";
export { type PrintOptions, printFormula, quoteText } from "./printer";
export { parseBook } from "./reading";
export type { Reference } from "./references";
export type { Renamed } from "./renaming";
export { endOfUnit, isDay } from "./scanning";
export type { Place } from "./statement-edits";
export { isPlain, LANGUAGE_VERSION } from "./statements";
export type { NewColumn } from "./table-edits";
export { tidy } from "./tidy";
export type {
  Argument,
  ArithmeticNode,
  BlankNode,
  BookTree,
  CallNode,
  Cell,
  ChoiceNode,
  CompareNode,
  DateNode,
  FindNode,
  Fix,
  Formula,
  Heading,
  ListNode,
  LogicNode,
  NameNode,
  NotNode,
  NumberNode,
  PartNode,
  RangeNode,
  ShownNode,
  SignNode,
  Span,
  SpreadNode,
  Statement,
  StatementNode,
  SyntaxMessage,
  TableTree,
  TextNode,
  TruthNode,
  UnitNode,
  UnreadNode,
  WhereNode,
  WithinNode,
} from "./tree";
export { childrenOf, formulasIn, formulasOf, sourceOf } from "./walk";
export { CLAUSES, normal as normalName, RESERVED, STATEMENTS } from "./words";
