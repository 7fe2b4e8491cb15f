import type { Formula, Span, Statement } from "../../grammar";
import {
  format,
  jointKind,
  kinds,
  parseUnit,
  plainUnit,
  Trouble,
  type TroubleParts,
  type Unit,
} from "../quantity";
import type { Value } from "../vocabulary/value";
import type { Calculation } from "./calculation";
import { compile } from "./compile";
import { describe } from "./fault";
import { cellsKey, setKey } from "./names";

/** What is wrong with a clause of a statement, and where. */
export interface ClauseTrouble {
  readonly span: Span;
  readonly trouble: TroubleParts;
}

type Node<T extends Statement["node"]["type"]> = Extract<Statement["node"], { type: T }>;
type Ask = Node<"step">["asks"][number];

/** A formula of a clause, worked out, with what is wrong with it itself. */
function worked(
  formula: Formula,
  calculation: Calculation,
): { readonly value: Value; readonly troubles: readonly ClauseTrouble[] } {
  const { code, troubles } = compile(formula, { names: calculation.plan.names, place: "book", frames: [] });
  const value = calculation.evaluate(code, { pathOf: () => "" });
  if (troubles.length > 0 || value.type !== "fault" || value.place?.path !== "") return { value, troubles };
  return { value, troubles: [{ span: value.place, trouble: value }] };
}

/**
 * A slider moves between two values of the kind that it starts from, and a choice is among texts. Without this
 * a range of another kind would be left out without a word.
 */
export function trialTroubles(node: Node<"set">, calculation: Calculation): readonly ClauseTrouble[] {
  const { trial } = node;
  if (!trial) return [];
  const given = [trial.from, trial.to, trial.step]
    .filter((f): f is Formula => f !== undefined)
    .map((formula) => ({ formula, ...worked(formula, calculation) }));
  const troubles = given.flatMap((g) => g.troubles);
  if (troubles.length > 0) return troubles;
  const value = calculation.value(setKey(node.name));
  if ([value, ...given.map((g) => g.value)].some((v) => v.type === "gap" || v.type === "fault")) return [];
  const [from, to, step] = given;
  if (value.type === "text") {
    const choices = from!.value;
    if (!to && choices.type === "list" && choices.entries.every((e) => e.type === "text")) return [];
    return [
      wrongTrial(from!.formula.span, `\`${node.name}\` is a text, and \`try\` offers ${describe(choices)}.`),
    ];
  }
  if (value.type !== "quantity") return [];
  if (!to) {
    const says = `\`${node.name}\` is ${describe(value)}, and \`try\` offers ${describe(from!.value)}.`;
    return [wrongTrial(from!.formula.span, says)];
  }
  for (const end of [from!, to]) {
    if (end.value.type === "quantity" && jointKind(value.unit.kind, end.value.unit.kind)) continue;
    const says = `\`${node.name}\` is ${describe(value)}, and \`try\` goes to ${describe(end.value)}.`;
    return [wrongTrial(end.formula.span, says)];
  }
  if (step && !stepFits(step.value, value.unit)) {
    const says = `\`${node.name}\` is ${describe(value)}, and \`try\` goes in steps of ${describe(step.value)}.`;
    return [wrongTrial(step.formula.span, says)];
  }
  if (step?.value.type === "quantity" && step.value.n.v === 0 && step.value.unit.kind !== kinds.temperature) {
    return [wrongTrial(step.formula.span, `A slider stays where it is in steps of ${format(step.value)}.`)];
  }
  return [];
}

function stepFits(step: Value, unit: Unit): boolean {
  if (step.type !== "quantity") return false;
  if (unit.kind !== kinds.temperature) return jointKind(unit.kind, step.unit.kind) !== undefined;
  return step.unit.kind === kinds.temperature || step.unit.kind === kinds.difference;
}

const wrongTrial = (span: Span, says: string): ClauseTrouble => ({
  span,
  trouble: {
    code: "try-range",
    says,
    help: 'A quantity moves between two of its kind, `try 1 L to 3 L`; a text is chosen from a list, `try ["one", "two"]`.',
  },
});

/** The unit and the plan of a reading are of the kind of what the reading is written in. */
export function readingTroubles(ask: Ask, calculation: Calculation): readonly ClauseTrouble[] {
  const own = unitOfReading(ask.path, calculation);
  let asked: Unit | undefined;
  if (ask.unit) {
    try {
      asked = parseUnit(ask.unit.text);
    } catch (error) {
      // What is no unit was told already.
      if (error instanceof Trouble) return [];
      throw error;
    }
  }
  if (own && asked && jointKind(own.kind, asked.kind) === undefined) {
    const trouble = {
      code: "ask-unit",
      says: `The reading is asked for in ${asked.text}, ${asked.kind.name}, and is written where ${own.kind.name} stands.`,
      ...(own.text !== "" && { help: `Ask for it in ${own.text}, or in another unit of that kind.` }),
    };
    return [{ span: ask.unit!.span, trouble }];
  }
  const unit = asked ?? own;
  if (!ask.expect || !unit) return [];
  const { value } = worked(ask.expect, calculation);
  if (value.type === "gap" || value.type === "fault") return [];
  if (value.type === "quantity" && jointKind(unit.kind, value.unit.kind)) return [];
  const trouble = {
    code: "ask-expect",
    says: `The plan is ${describe(value)}, and the reading ${unit.kind.name}.`,
    ...(unit.text !== "" && {
      help: `Say what is expected in ${unit.text}, or in another unit of that kind.`,
    }),
  };
  return [{ span: ask.expect.span, trouble }];
}

/** Unit of the `set` or the column that a reading is written in; undefined where none is known. */
function unitOfReading(path: Formula, calculation: Calculation): Unit | undefined {
  const { names } = calculation.plan;
  if (path.type === "name") {
    const formula = names.sets.get(path.name)?.formula;
    if (!formula) return undefined;
    const value = calculation.value(setKey(path.name));
    if (value.type === "quantity") return value.unit;
    if (formula.type !== "shown") return undefined;
    try {
      return parseUnit(formula.unit.text);
    } catch (error) {
      if (error instanceof Trouble) return undefined;
      throw error;
    }
  }
  if (path.type !== "part" || path.of.type !== "name") return undefined;
  const table = names.tables.get(path.of.name);
  const nature = table && calculation.nature(cellsKey(table.name, path.part));
  return nature?.type === "quantity" ? (nature.unit ?? plainUnit) : undefined;
}
