/**
 * A problem that a cook must hear about, as a designed object. Thrown by quantity, matter and vocabulary;
 * the engine catches it, adds the place, and turns it into a fault that travels with the value.
 */
export interface TroubleParts {
  /** Short stable word for tests and help: `kinds-differ`, `out-of-range`. */
  readonly code: string;
  /** What was met and what was expected, one or two plain sentences. */
  readonly says: string;
  /** What to do about it. */
  readonly help?: string;
  /** A replacement for the whole formula part that caused it, when that is certain. */
  readonly rewrite?: string;
}

export class Trouble extends Error implements TroubleParts {
  readonly code: string;
  readonly says: string;
  readonly help?: string;
  readonly rewrite?: string;

  constructor(parts: TroubleParts) {
    super(parts.says);
    this.name = "Trouble";
    this.code = parts.code;
    this.says = parts.says;
    if (parts.help !== undefined) this.help = parts.help;
    if (parts.rewrite !== undefined) this.rewrite = parts.rewrite;
  }
}
