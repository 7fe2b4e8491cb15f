import type { ISerializedGast } from "chevrotain";
import { Expectations } from "./expectations";
import { LineParser } from "./parser";
import { VOCABULARY } from "./tokens";

/**
 * The grammar as data: the parser's own rules, told by chevrotain, and the few that are read by hand (the book, rows
 * and headings). The grammar documents are drawn from it, so they cannot differ from what is parsed.
 */

export type Shape =
  | { readonly type: "sequence"; readonly of: readonly Shape[] }
  | { readonly type: "choice"; readonly of: readonly Shape[] }
  | { readonly type: "option"; readonly of: Shape }
  /** Once or more, with a separator or without. */
  | { readonly type: "repeat"; readonly of: Shape; readonly separator?: Shape }
  /** Letters as they stand in the text. */
  | { readonly type: "literal"; readonly text: string }
  /** A class of tokens, such as NUMBER. */
  | { readonly type: "token"; readonly name: string }
  | { readonly type: "rule"; readonly name: string };

export interface Rule {
  readonly name: string;
  readonly shape: Shape;
}

/** A class of tokens in words. */
export interface TokenClass {
  readonly name: string;
  readonly says: string;
}

const CLASSES = new Map([
  ["Number", "NUMBER"],
  ["Name", "NAME"],
  ["Part", "PART"],
  ["Label", "LABEL"],
  ["Unit", "UNIT"],
  ["Date", "DATE"],
  ["Text", "TEXT"],
  ["Mark", "MARK"],
]);

export const tokenClasses: readonly TokenClass[] = [
  { name: "NUMBER", says: "digits, then perhaps a point and digits, then perhaps e, a sign and digits" },
  {
    name: "NAME",
    says: "a letter or _, then letters, marks, digits and _; or anything in backticks on one line",
  },
  { name: "PART", says: "behind a dot: any word, a name in backticks, digits with letters, or a date" },
  { name: "LABEL", says: "a PART directly behind ( or , of a call, with a colon behind it" },
  {
    name: "UNIT",
    says: "behind a NUMBER or `in`: letters, %, %vol, %mas, ‰, or ° and letters, each with a whole exponent if need be; joined by / * · without blanks",
  },
  { name: "DATE", says: "four digits, two and two, with hyphens: 2026-02-03" },
  {
    name: "TEXT",
    says: 'between " and ", with { formula } anywhere inside; \\" \\\\ \\{ \\} \\| stand for the character itself',
  },
  { name: "MARK", says: "@ and eight hexadecimal digits" },
  { name: "PLAIN", says: "the plain text of a cell; \\| stands for a bar" },
  { name: "COMMENT", says: "# and the rest of the line" },
  { name: "LINE-END", says: "a line feed, or carriage return and line feed" },
];

const sequence = (...of: readonly Shape[]): Shape => ({ type: "sequence", of });
const choice = (...of: readonly Shape[]): Shape => ({ type: "choice", of });
const option = (of: Shape): Shape => ({ type: "option", of });
const repeat = (of: Shape): Shape => ({ type: "repeat", of });
const literal = (text: string): Shape => ({ type: "literal", text });
const token = (name: string): Shape => ({ type: "token", name });
const rule = (name: string): Shape => ({ type: "rule", name });

/** What is cut and read by hand, in reading.ts and rows.ts. */
const BY_HAND: readonly Rule[] = [
  {
    name: "book",
    shape: option(
      repeat(
        sequence(
          option(choice(rule("line"), rule("heading"), rule("ruler"), rule("row"))),
          option(token("COMMENT")),
          token("LINE-END"),
        ),
      ),
    ),
  },
  {
    name: "heading",
    shape: sequence(literal("|"), repeat(sequence(rule("headingCell"), literal("|")))),
  },
  {
    name: "headingCell",
    shape: choice(
      sequence(
        token("PLAIN"),
        option(
          sequence(
            literal("("),
            choice(token("UNIT"), literal("number"), literal("text"), literal("date")),
            literal(")"),
          ),
        ),
      ),
      sequence(literal("`"), token("PLAIN"), literal("`")),
    ),
  },
  { name: "ruler", shape: sequence(literal("|"), repeat(sequence(repeat(literal("-")), literal("|")))) },
  {
    name: "row",
    shape: sequence(
      literal("|"),
      repeat(sequence(option(choice(rule("cell"), token("TEXT"), token("PLAIN"))), literal("|"))),
    ),
  },
];

/** Every rule: the book and its tables first, then statements, cells and formulas. */
export function grammarRules(): readonly Rule[] {
  const parser = new LineParser(new Expectations(), false);
  const told = parser.getSerializedGastProductions().map((one) => {
    const { name, definition } = one as ISerializedRule;
    return { name, shape: simpler(sequence(...definition.map(shapeOf))) };
  });
  const firstStatement = told.findIndex(({ name }) => name === "line");
  const formulas = told.slice(0, firstStatement);
  return [...BY_HAND, ...told.slice(firstStatement), ...formulas];
}

interface ISerializedRule extends ISerializedGast {
  readonly name: string;
  readonly definition: ISerializedGast[];
}

/** The parts of chevrotain's serialized grammar that are read here. */
interface Serialized extends ISerializedGast {
  readonly name?: string;
  readonly separator?: ISerializedGast;
}

function shapeOf(node: ISerializedGast): Shape {
  const { type, definition = [], name = "", separator } = node as Serialized;
  const inner = (): Shape => simpler(sequence(...definition.map(shapeOf)));
  switch (type) {
    case "NonTerminal":
      return rule(name);
    case "Terminal":
      return terminal(name);
    case "Alternation":
      return choice(...definition.map(shapeOf).map(simpler));
    case "Option":
      return option(inner());
    case "RepetitionMandatory":
      return repeat(inner());
    case "Repetition":
      return option(repeat(inner()));
    case "RepetitionMandatoryWithSeparator":
      return { type: "repeat", of: inner(), separator: shapeOf(separator!) };
    case "RepetitionWithSeparator":
      return option({ type: "repeat", of: inner(), separator: shapeOf(separator!) });
    default:
      return inner();
  }
}

const TOKENS = new Map(VOCABULARY.map((type) => [type.name, type]));

/** A token as a reader sees it: its letters, where those are fixed. */
function terminal(name: string): Shape {
  const className = CLASSES.get(name);
  if (className !== undefined) return token(className);
  const label = TOKENS.get(name)!.LABEL!;
  if (name === "Unequal") return literal("≠");
  const letters = [...label.matchAll(/`([^`]+)`/g)].map((match) => literal(match[1]!));
  return letters.length === 1 ? letters[0]! : choice(...letters);
}

/** Sequences of one and sequences in sequences are opened up. */
function simpler(shape: Shape): Shape {
  if (shape.type !== "sequence") return shape;
  const of = shape.of.flatMap((one) => (one.type === "sequence" ? one.of : [one]));
  return of.length === 1 ? of[0]! : sequence(...of);
}
