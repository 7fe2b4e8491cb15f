export {
  type Declaration,
  isPhysics,
  type Parameter,
  type PhysicsDeclaration,
  type ResultPart,
  type ValueDeclaration,
} from "./declaration";
export type {
  DateValue,
  Fault,
  FaultPlace,
  Gap,
  ListOrigin,
  ListValue,
  RecordValue,
  TextValue,
  TruthValue,
  Value,
} from "./value";
export { vocabulary } from "./vocabulary";
