export {
  type CardAmount,
  type CardDocument,
  type CardReading,
  type CardSection,
  type CardStep,
  cardDocument,
  cardText,
  STANDING_CAUTION,
} from "./card";
export { cardBody, cardHtml } from "./card-page";
export {
  type Comparison,
  compareBooks,
  comparisonText,
  type Difference,
  type WordsDifference,
} from "./comparison";
export { exportCsv } from "./csv";
export { COMFORTABLE_LINK, decodeLink, type EncodedLink, encodeLink } from "./link";
export {
  type Choice,
  CONFLICT_MARK,
  type MergeConflict,
  type Merged,
  mergeTexts,
  mergeWithoutBase,
  settleConflicts,
} from "./merge";
export { exportOds } from "./ods";
export { type ExportReport, exportReport } from "./report";
export {
  type Doubt,
  type FoundTable,
  type ProposalOptions,
  type ProposedColumn,
  proposeTable,
  readPastedTables,
  readTables,
  type TableProposal,
} from "./tables-in";
export { exportXlsx } from "./xlsx";
