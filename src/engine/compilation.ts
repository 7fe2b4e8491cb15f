import type { Formula, Span } from "../../grammar";
import type { TroubleParts } from "../quantity";
import type { Code } from "./environment";
import { faultFrom } from "./fault";
import { layoutOf, type Names, type TableName } from "./names";
import { placeIn } from "./places";
import type { Given } from "./syntax";

/** How a formula looks at something: one value, this row's cell, the row before, or a whole column. */
export type Look = "value" | "row" | "before" | "whole";
export type References = Map<string, Set<Look>>;

/** Where a formula stands, which decides what its bare names mean. */
export interface Scope {
  readonly names: Names;
  /** Name of the value around it, which is never what a wrong name in it should have been. */
  readonly own?: string;
  readonly table?: TableName;
  /** In a table: a bare column name is this row's cell (`row`) or the whole column (`foot`). */
  readonly place: "book" | "row" | "foot";
  /** Names of the arguments around it, outermost first. */
  readonly frames: readonly (readonly string[])[];
  /** What the arguments of the definition around it hand on, by parameter. */
  readonly given?: ReadonlyMap<string, Given>;
  /** Frames that stand outside the condition of a `where`, whose columns come before them. */
  readonly outside?: number;
}

export interface Compiled {
  readonly code: Code;
  readonly references: References;
  /** Functions of the vocabulary that it calls, also through definitions. */
  readonly functions: ReadonlySet<string>;
  /** Bodies of the definitions that are written out in it. */
  readonly definitions: ReadonlySet<Formula>;
  /** How many parts it has once its definitions are written out: what it takes to work it out once. */
  readonly parts: number;
  /** Values that a `find` in it turns; the same formula may search for a new variable in another book. */
  readonly turned: ReadonlySet<string>;
  /** Values whose formulas told from which table a list comes, with the formula that told it. */
  readonly followed: ReadonlyMap<string, Formula>;
  /** Tables that it hands on as a whole, each with its columns and feet in their order. */
  readonly layouts: ReadonlySet<string>;
  /** How many of its parts are those of definitions: they count against the limit of a book. */
  readonly written: number;
  /** Whether a definition was left out of it because the rest of the book has too many parts. */
  readonly limited: boolean;
  /** Trouble that can be told before anything is worked out, with its place. */
  readonly troubles: readonly { readonly span: Span; readonly trouble: TroubleParts }[];
}

/**
 * What becomes known of a formula while it is turned into code: what it looks at, what it calls, how large it is
 * and what is wrong with it however the values are.
 */
export abstract class Compilation {
  readonly references: References = new Map();
  readonly functions = new Set<string>();
  readonly definitions = new Set<Formula>();
  readonly turned = new Set<string>();
  readonly followed = new Map<string, Formula>();
  readonly layouts = new Set<string>();
  limited = false;
  readonly troubles: { span: Span; trouble: TroubleParts }[] = [];
  readonly names: Names;
  /** Uncertainties written out so far: each is an input of its own. */
  spreads = 0;
  size = 0;
  /** Searches around what is being compiled. */
  searches = 0;
  /** Definitions that are being written out, outermost first. */
  readonly defining: string[] = [];
  /** How deep the definitions are nested that are being written out, all levels of their formulas counted. */
  depth = 0;
  /** Parts that definitions came to in the whole book so far. */
  readonly expansion: { parts: number };

  constructor(names: Names, expansion: { parts: number }) {
    this.names = names;
    this.expansion = expansion;
  }

  abstract formula(node: Formula, scope: Scope): Code;
  /** A compilation of a part that is judged by itself; see `absorb`. */
  protected abstract fresh(): Compilation;

  refer(key: string, look: Look): void {
    const looks = this.references.get(key);
    if (looks) looks.add(look);
    else this.references.set(key, new Set([look]));
  }

  handOn(table: TableName): void {
    this.layouts.add(layoutOf(table));
  }

  /** Code that comes to a fault: for what is wrong however the values are. */
  trouble(span: Span, trouble: TroubleParts): Code {
    if (this.defining.length === 0) this.troubles.push({ span, trouble });
    return (env) => faultFrom(trouble, placeIn(env, span));
  }

  /** A compilation of the goal of a search within this one. */
  withinSearch(): Compilation {
    const inner = this.fresh();
    inner.defining.push(...this.defining);
    inner.depth = this.depth;
    inner.searches = this.searches + 1;
    // Each ± is an input of its own, inside a search as outside of it.
    inner.spreads = this.spreads;
    return inner;
  }

  /** Takes over what became known of a part, but for what it looks at under one key. */
  absorb(inner: Compilation, except?: string): void {
    for (const [key, looks] of inner.references) {
      if (key === except) continue;
      for (const look of looks) this.refer(key, look);
    }
    for (const name of inner.functions) this.functions.add(name);
    for (const body of inner.definitions) this.definitions.add(body);
    for (const name of inner.turned) this.turned.add(name);
    for (const [name, formula] of inner.followed) this.followed.set(name, formula);
    for (const layout of inner.layouts) this.layouts.add(layout);
    if (inner.limited) this.limited = true;
    this.troubles.push(...inner.troubles);
    this.size += inner.size;
    this.spreads = inner.spreads;
  }
}
