export { type Completion, complete } from "./completion";
export type { Field } from "./field";
export { foretell } from "./foretelling";
export type { FieldTrouble, Foretold } from "./foretold";
export type { Meant } from "./found";
export { type Hover, hover } from "./hovering";
export { type Meaning, meaning } from "./meaning";
export type { Proposal, Thing } from "./proposal";
export type { Signature, SignatureParameter } from "./signature";
