export { parseFormula } from "./formulas";
export { formulaMark } from "./marks";
export { isDay } from "./matchers";
export { canBeName, editDistance, isPlainName, isReserved, nearName, writeName, writePart } from "./names";
export { applyPatches, type Patch } from "./patches";
export { type PrintOptions, printFormula, quoteText } from "./printer";
export { parseBook } from "./reading";
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
export { normal as normalName } from "./words";
