import { writeName, writePart } from "./names";
import type { Argument, Formula, NumberNode, TextNode } from "./tree";

/**
 * A formula's tree to its text, with the fewest brackets that read back to the same tree. What has been printed and
 * read prints the same again.
 */

/** How tight a construct binds, from `where` to a single value: the layers of the grammar. */
const Level = {
  where: 0,
  choice: 1,
  either: 2,
  both: 3,
  negation: 4,
  comparison: 5,
  shown: 6,
  sum: 7,
  product: 8,
  signed: 9,
  spread: 10,
  power: 11,
  path: 12,
  atom: 13,
} as const;

export interface PrintOptions {
  /** The formula stands in a cell, where a bar is written `\|`. */
  readonly inCell?: boolean;
}

/** Prints a formula. A part that could not be read has no writing of its own and prints as `…`. */
export function printFormula(formula: Formula, { inCell = false }: PrintOptions = {}): string {
  return new Printer(inCell).print(formula, Level.where);
}

/** A plain text as it is written, in quotes. */
export function quoteText(text: string, { inCell = false }: PrintOptions = {}): string {
  return `"${escaped(text, inCell)}"`;
}

function escaped(text: string, inCell: boolean): string {
  return text.replace(inCell ? /[\\"{}|]/g : /[\\"{}]/g, "\\$&");
}

function levelOf(formula: Formula): number {
  switch (formula.type) {
    case "where":
      return Level.where;
    case "choice":
    case "find":
    case "range":
      return Level.choice;
    case "logic":
      return formula.operator === "or" ? Level.either : Level.both;
    case "not":
      return Level.negation;
    case "compare":
    case "within":
      return Level.comparison;
    case "shown":
      return Level.shown;
    case "arithmetic":
      if (formula.operator === "^") return Level.power;
      return formula.operator === "+" || formula.operator === "-" ? Level.sum : Level.product;
    case "negate":
      return Level.signed;
    case "spread":
      return isNegative(formula.of) ? Level.signed : Level.spread;
    case "number":
      return isNegative(formula) ? Level.signed : Level.atom;
    case "part":
      return Level.path;
    default:
      return Level.atom;
  }
}

function isNegative(formula: Formula): formula is NumberNode {
  return formula.type === "number" && formula.digits.startsWith("-");
}

class Printer {
  constructor(private readonly inCell: boolean) {}

  /** Prints a formula, in brackets when it binds looser than the place asks for. */
  print(formula: Formula, level: number): string {
    const text = this.bare(formula);
    return levelOf(formula) < level ? `(${text})` : text;
  }

  private bare(formula: Formula): string {
    switch (formula.type) {
      case "number":
        return formula.unit === undefined ? formula.digits : `${formula.digits} ${formula.unit.text}`;
      case "date":
        return formula.iso;
      case "text":
        return this.text(formula);
      case "truth":
        return String(formula.value);
      case "blank":
        return "blank";
      case "list":
        return `[${formula.entries.map((entry) => this.print(entry, Level.where)).join(", ")}]`;
      case "name":
        return writeName(formula.name, this.inCell);
      case "call":
        return `${writeName(formula.name, this.inCell)}(${formula.arguments.map((one) => this.argument(one)).join(", ")})`;
      case "part":
        return this.path(formula);
      case "negate":
        return `-${this.behindMinus(formula.of, Level.signed)}`;
      case "not":
        return `not ${this.print(formula.of, Level.negation)}`;
      case "spread":
        return `${isNegative(formula.of) ? this.bare(formula.of) : this.print(formula.of, Level.power)} ± ${this.print(formula.by, Level.power)}`;
      case "arithmetic":
        return formula.operator === "^" ? this.power(formula.left, formula.right) : this.chain(formula);
      case "logic":
        return this.chain(formula);
      case "compare":
        return `${this.print(formula.left, Level.shown)} ${formula.operator} ${this.print(formula.right, Level.shown)}`;
      case "within":
        return `${this.print(formula.of, Level.shown)} within ${this.print(formula.low, Level.shown)} to ${this.print(formula.high, Level.shown)}`;
      case "shown":
        return `${this.print(formula.of, Level.sum)} in ${formula.unit.text}`;
      case "range": {
        const range = `${this.print(formula.from, Level.either)} to ${this.print(formula.to, Level.either)}`;
        return formula.step === undefined ? range : `${range} step ${this.print(formula.step, Level.either)}`;
      }
      case "choice":
        return `if ${this.print(formula.condition, Level.choice)} then ${this.print(formula.yes, Level.choice)} else ${this.print(formula.no, Level.choice)}`;
      case "find":
        return `find ${writeName(formula.name, this.inCell)} from ${this.print(formula.from, Level.sum)} to ${this.print(formula.to, Level.sum)} so that ${this.print(formula.goal, Level.comparison)}`;
      case "where":
        return `${this.print(formula.of, Level.choice)} where ${this.print(formula.condition, Level.choice)}`;
      case "unread":
        return "…";
    }
  }

  /** `a + b - c`, however long: operators of one side after the other, without recursion on the left. */
  private chain(formula: Formula): string {
    const right: string[] = [];
    let left = formula;
    while ((left.type === "arithmetic" && left.operator !== "^") || left.type === "logic") {
      const level = levelOf(left);
      right.push(` ${left.operator} ${this.print(left.right, level + 1)}`);
      if (levelOf(left.left) < level) {
        right.push(`(${this.bare(left.left)})`);
        return right.reverse().join("");
      }
      left = left.left;
    }
    right.push(this.bare(left));
    return right.reverse().join("");
  }

  private path(formula: Formula): string {
    const parts: string[] = [];
    let of = formula;
    while (of.type === "part") {
      parts.push(`.${writePart(of.part, this.inCell)}`);
      of = of.of;
    }
    const head = of.type === "number" ? `(${this.bare(of)})` : this.print(of, Level.path);
    return head + parts.reverse().join("");
  }

  /** A reading with a unit stands in brackets before `^`, for `2 m^3` is a volume. */
  private power(left: Formula, right: Formula): string {
    const bracketed = left.type === "number" && left.unit !== undefined;
    const base = bracketed ? `(${this.bare(left)})` : this.print(left, Level.path);
    if (right.type === "negate") return `${base}^-${this.behindMinus(right.of, Level.power)}`;
    return `${base}^${isNegative(right) ? this.bare(right) : this.print(right, Level.power)}`;
  }

  /** A minus before a lone reading would become part of its number. */
  private behindMinus(of: Formula, level: number): string {
    const lone = of.type === "number" || (of.type === "spread" && of.of.type === "number");
    return lone ? `(${this.bare(of)})` : this.print(of, level);
  }

  private argument({ label, value }: Argument): string {
    const text = this.print(value, Level.where);
    return label === undefined ? text : `${writePart(label, this.inCell)}: ${text}`;
  }

  private text(node: TextNode): string {
    const pieces = node.pieces.map((piece) =>
      typeof piece === "string" ? escaped(piece, this.inCell) : `{${this.print(piece, Level.where)}}`,
    );
    return `"${pieces.join("")}"`;
  }
}
