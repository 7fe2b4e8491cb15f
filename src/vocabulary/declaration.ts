import type { Kind, Note } from "../quantity";
import type { Missing, Value } from "./value";

/**
 * One declaration per function of the language. Documentation, completion, hover text, argument checks,
 * uncertainty and the example test all come from it.
 *
 * A *physics* function (`compute`) works on plain numbers in SI units: the engine converts the arguments,
 * maps over lists, handles gaps and faults, propagates uncertainty through it (by evaluating it again at
 * the inputs plus and minus their standard uncertainty, JCGM 100, 5.1.3 note 2) and gives results their
 * units. A *value* function (`evaluate`) works on values with units itself, for what must stay exact
 * (totals, rounding) or is not about quantities (look-up).
 */
export type Declaration = PhysicsDeclaration | ValueDeclaration;

export interface Parameter {
  readonly name: string;
  /** A sentence on what it means, and from where to read it at the bench. */
  readonly says: string;
  /**
   * The kinds that it takes, each with the step from SI units of that kind to the number that `compute`
   * is given. Most take one kind and the identity. Key: `Kind.id`; plain ratios (`0.18`, `18 %`) are taken
   * wherever "plain", "moisture" or "activity" is listed.
   */
  readonly takes:
    | readonly { readonly kind: Kind; readonly toNumber?: (si: number) => number }[]
    | "text"
    | "date"
    | "any";
  /** What an amount is an amount of, so that who gives a volume for a mass is told what to do. */
  readonly matter?: Matter;
  readonly optional?: boolean;
  /** The value when it is left out, in the language: `0 %vol`. Without it an optional parameter is simply absent. */
  readonly otherwise?: string;
  /** A list is wanted, one entry for each thing. Without this, a list argument maps the function over its entries. */
  readonly list?: boolean;
  /** Choices for a text parameter. */
  readonly choices?: readonly string[];
}

export type Matter = "water" | "spirit" | "alcohol" | "juice" | "honey" | "solid" | "vessel";

/** What a result, or a part of it, is. */
export interface ResultPart {
  /** Dotted name of the part (`taken.volume`); "" for a function with a single result. */
  readonly name: string;
  readonly says: string;
  readonly holds:
    | {
        readonly kind: Kind;
        /** Unit in which it is shown when no argument of the same kind lends its own. */
        readonly unit: string;
        /**
         * Name of the parameter whose unit it takes, when it is not simply the first argument of the same kind;
         * "" when none lends its unit and the declared one always stands.
         */
        readonly unitOf?: string;
        /**
         * Name of the parameter whose kind the part has, when that may be more than one: an amount answers in the
         * mass or the volume that it was asked in. `kind` and `unit` then serve when that argument is left out.
         */
        readonly kindOf?: string;
      }
    | "text"
    | "truth"
    /** A value of the sort that was given: the total of masses is a mass, the first of dates a date. Value functions only. */
    | "any";
}

interface DeclarationCore {
  readonly name: string;
  /** Group of the vocabulary: "setting the still", "spirit", "honey". */
  readonly group: string;
  /** One sentence, what it answers. */
  readonly says: string;
  readonly parameters: readonly Parameter[];
  /** Parameters after `;` in the vocabulary take labels only: true for every optional one and for the goal `to`. */
  readonly labelsOnly?: readonly string[];
  readonly result: readonly ResultPart[];
  /** True when the result is a list of records, one for each entry of the parameter named here. */
  readonly rowPer?: string;
  /** Equation, in a line. */
  readonly equation: string;
  /** Publication, table, or "common practice, no source". */
  readonly source: string;
  /** Valid range, in words with units. */
  readonly range: string;
  /** How far to trust it, in words: standard uncertainty and where that figure comes from. */
  readonly trust?: string;
  /** Cautions that travel with every result (design.md section 6). */
  readonly cautions?: readonly string[];
  /** A worked example: the formula, and what it prints (or what `.part` prints). */
  readonly examples: readonly { readonly formula: string; readonly gives: string }[];
}

export type NumberArguments = Readonly<Record<string, number | readonly number[] | string | undefined>>;
export type NumberResult =
  | number
  | Readonly<Record<string, number | string | boolean | undefined>>
  | readonly Readonly<Record<string, number | string | boolean | undefined>>[];

/** What a computation may ask about its call, and say about its result. */
export interface Call {
  /** The kind in which the argument was given (`volume` or `mass`), or undefined when it was left out. */
  kindOf(parameter: string): Kind | undefined;
  /** Adds a remark that stays with the result. Repeated texts are kept once. */
  note(text: string): void;
  /** Adds a caution that travels to page, card and exports. */
  caution(text: string): void;
  /** Tells why these parts are left out of the result this time: whoever asks for one hears it. */
  without(parts: readonly string[], why: Missing): void;
}

export interface PhysicsDeclaration extends DeclarationCore {
  /** How much longer a call takes than that of most functions, 1 when left out: limits of a calculation count by it. */
  readonly effort?: number;
  /**
   * SI numbers in, SI numbers out (part names as in `result`; a part that does not apply is left out).
   * Throws `Trouble` outside its valid range. Pure: the same arguments give the same bits.
   */
  readonly compute: (args: NumberArguments, call: Call) => NumberResult;
  /**
   * Standard uncertainty of the model itself, SI, for each part (or the single result ""): it counts as
   * one more input of this call whose changes move all parts together.
   */
  readonly modelUncertainty?: (
    args: NumberArguments,
    result: Readonly<Record<string, number>>,
  ) => Readonly<Record<string, number>> | number;
  /** Lists that belong together: an entry blank in all is skipped, one filled only in part makes the result a gap that names it. */
  readonly together?: readonly string[];
}

export interface ValueDeclaration extends DeclarationCore {
  /** Arguments by parameter name, defaults filled in, none of them a fault. Gaps are given only when `takesGaps`. */
  readonly evaluate: (args: Readonly<Record<string, Value>>, call: ValueCall) => Value;
  /** Entries that are gaps reach `evaluate` (totals skip and count them). A whole argument that is a gap still makes a gap. */
  readonly takesGaps?: boolean;
  /** Takes one entry of a list without walking through it, so that a long list costs no more than a short one. */
  readonly looksUp?: boolean;
  /** Maps over a list argument like a physics function does (`whole`, `round_to`, `abs`). */
  readonly maps?: boolean;
}

export interface ValueCall {
  note(text: string): Note;
}

export const isPhysics = (d: Declaration): d is PhysicsDeclaration => "compute" in d;
