import {
  behindShown,
  bracketLeftOpen,
  equalsInFormula,
  misplacedClause,
  misplacedLabel,
  reservedAsName,
  secondComparison,
  secondTime,
  sideBySide,
  strayClosing,
} from "./misplaced";
import type { Stop } from "./stops";
import type { SyntaxMessage } from "./tree";
import { partWanted, searchWanted, statementShape, unitWanted, valueWanted, wordWanted } from "./wanted";

/** What the parser met and what it expected where it stopped: the first explanation that fits. */
export function explain(stop: Stop): SyntaxMessage {
  return (
    statementShape(stop) ??
    bracketLeftOpen(stop) ??
    strayClosing(stop) ??
    misplacedLabel(stop) ??
    searchWanted(stop) ??
    reservedAsName(stop) ??
    secondComparison(stop) ??
    behindShown(stop) ??
    secondTime(stop) ??
    equalsInFormula(stop) ??
    sideBySide(stop) ??
    misplacedClause(stop) ??
    unitWanted(stop) ??
    partWanted(stop) ??
    wordWanted(stop) ??
    valueWanted(stop)
  );
}
