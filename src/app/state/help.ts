import "../../../grammar/explaining-here";
import "../../vocabulary/prose-here";

export { definitionAt, hover, nameAt, referencesTo, renameAt } from "../../engine/editing";
export { foretold } from "./foretell";
export { litBy, meaningAt } from "./lit";
export { markedOutline } from "./marks";
export { firstChoice, offeredFor, taken } from "./offers";
export { offeredInText } from "./text-offers";
