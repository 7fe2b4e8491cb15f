import type { Formula, Statement, StatementNode } from "./tree";

/** Ways through a tree. A sum may be a chain of thousands, so nothing here recurses. */

/** The formulas directly inside one, in the order of the text. */
export function childrenOf(formula: Formula): readonly Formula[] {
  switch (formula.type) {
    case "text":
      return formula.pieces.filter((piece) => typeof piece !== "string");
    case "list":
      return formula.entries;
    case "call":
      return formula.arguments.map((argument) => argument.value);
    case "part":
    case "negate":
    case "not":
    case "shown":
      return [formula.of];
    case "spread":
      return [formula.of, formula.by];
    case "arithmetic":
    case "compare":
    case "logic":
      return [formula.left, formula.right];
    case "within":
      return [formula.of, formula.low, formula.high];
    case "range":
      return formula.step === undefined
        ? [formula.from, formula.to]
        : [formula.from, formula.to, formula.step];
    case "choice":
      return [formula.condition, formula.yes, formula.no];
    case "find":
      return [formula.from, formula.to, formula.goal];
    case "where":
      return [formula.of, formula.condition];
    default:
      return [];
  }
}

/** A formula and all formulas in it, each before what is inside it, in the order of the text. */
export function* formulasIn(formula: Formula): Generator<Formula> {
  const waiting: Formula[] = [formula];
  while (waiting.length > 0) {
    const next = waiting.pop()!;
    yield next;
    const children = childrenOf(next);
    for (let i = children.length - 1; i >= 0; i--) waiting.push(children[i]!);
  }
}

/** The formulas that stand directly in a statement, in the order of the text. */
export function formulasOf(node: StatementNode): readonly Formula[] {
  const present = (formulas: readonly (Formula | undefined)[]): readonly Formula[] =>
    formulas.filter((formula) => formula !== undefined);
  switch (node.type) {
    case "set":
      return present([node.formula, node.trial?.from, node.trial?.to, node.trial?.step]);
    case "define":
    case "column":
    case "foot":
    case "check":
      return [node.formula];
    case "row":
      return node.cells.flatMap(({ content }) => {
        if (content.type === "formula") return [content.formula];
        return content.type === "quantity" ? present([content.of, content.by]) : [];
      });
    case "chart":
      return node.style === "curve"
        ? present([...node.what, node.from, node.to, node.mark])
        : [...node.what, node.by];
    case "step":
      return present([node.text, node.wait, ...node.asks.flatMap((ask) => [ask.path, ask.expect])]);
    case "seen":
      return [node.path];
    default:
      return [];
  }
}

/** The text of a statement, as it stands in the book. */
export function sourceOf(text: string, statement: Statement): string {
  return text.slice(statement.at, statement.at + statement.length);
}
