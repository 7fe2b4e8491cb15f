export { type Completion, complete } from "./completion";
export type { Field } from "./field";
export { type Foretold, foretell, type Trouble } from "./foretelling";
export type { Meant } from "./found";
export { type Meaning, meaning } from "./meaning";
export type { Proposal, Thing } from "./proposal";
export { type Signature, type SignatureParameter, signatureAt } from "./signature";
