import { type CallNode, type Formula, nearName, type Span, writePart } from "../../grammar";
import { Trouble, type TroubleParts } from "../quantity";
import type { Declaration } from "../vocabulary/declaration";

/** What a call may be given: the vocabulary's parameters, or those of the writer's own function. */
export interface Callable {
  readonly name: string;
  readonly parameters: readonly {
    readonly name: string;
    readonly optional: boolean;
    readonly labelOnly: boolean;
  }[];
}

/** Trouble with one argument, with its place in the formula. */
export class Misplaced extends Trouble {
  readonly span: Span;
  constructor(parts: TroubleParts, span: Span) {
    super(parts);
    this.span = span;
  }
}

export function callableOf(declaration: Declaration): Callable {
  return {
    name: declaration.name,
    parameters: declaration.parameters.map((p) => ({
      name: p.name,
      optional: p.optional === true,
      labelOnly: p.optional === true || declaration.labelsOnly?.includes(p.name) === true,
    })),
  };
}

/**
 * Puts the arguments of a call in the order of the parameters: required ones by place or label, optional
 * ones by label only, places before labels. Throws `Trouble` naming what is missing, unknown or doubled.
 */
export function bind(callable: Callable, call: CallNode): (Formula | undefined)[] {
  const { name, parameters } = callable;
  const bound = new Array<Formula | undefined>(parameters.length).fill(undefined);
  const byPlace = parameters.flatMap((p, i) => (p.labelOnly ? [] : [i]));
  let place = 0;
  let labelled: string | undefined;
  for (const argument of call.arguments) {
    if (argument.label === undefined) {
      if (labelled !== undefined) {
        throw new Misplaced(
          {
            code: "place-after-label",
            says: `In \`${name}(…)\` an argument without a label stands behind \`${labelled}:\`.`,
            help: "Arguments by place come first, labelled ones after them.",
          },
          argument.value.span,
        );
      }
      const target = byPlace[place++];
      if (target === undefined) {
        const next = parameters.find((p, i) => p.labelOnly && bound[i] === undefined);
        throw new Misplaced(
          {
            code: "argument-extra",
            says: `\`${name}\` takes ${count(byPlace.length)} by place; this is one more.`,
            help: next
              ? `If it is meant as \`${next.name}\`, write \`${next.name}: …\`.`
              : `It is written ${signature(callable)}.`,
          },
          argument.value.span,
        );
      }
      bound[target] = argument.value;
    } else {
      labelled = argument.label;
      const target = parameters.findIndex((p) => p.name === argument.label);
      if (target < 0) {
        const near = nearName(
          argument.label,
          parameters.map((p) => p.name),
        );
        throw new Misplaced(
          {
            code: "label-unknown",
            says: `\`${name}\` has no argument called \`${argument.label}\`.`,
            help: near ? `\`${near}\` is near.` : `It is written ${signature(callable)}.`,
            ...(near !== undefined && { rewrite: writePart(near) }),
          },
          argument.labelSpan!,
        );
      }
      if (bound[target] !== undefined) {
        throw new Misplaced(
          {
            code: "argument-twice",
            says: `\`${name}\` is given \`${argument.label}\` twice.`,
            help: "Leave one of them out; an argument by place counts too.",
          },
          argument.labelSpan!,
        );
      }
      bound[target] = argument.value;
    }
  }
  const missing = parameters.filter((p, i) => !p.optional && bound[i] === undefined);
  if (missing.length > 0) {
    const first = missing[0]!;
    throw new Trouble({
      code: "argument-missing",
      says: `\`${name}\` is missing ${missing.map((p) => `\`${p.name}\``).join(" and ")}.`,
      help: first.labelOnly
        ? `Add \`${first.name}: …\`. It is written ${signature(callable)}.`
        : `It is written ${signature(callable)}.`,
    });
  }
  return bound;
}

function signature({ name, parameters }: Callable): string {
  const required = parameters.filter((p) => !p.optional && !p.labelOnly).map((p) => p.name);
  const labelled = parameters
    .filter((p) => p.labelOnly)
    .map((p) => (p.optional ? `${p.name}: …` : `${p.name}: (needed)`));
  return `\`${name}(${required.join(", ")}${labelled.length > 0 ? `; ${labelled.join(", ")}` : ""})\``;
}

const count = (n: number): string => (n === 0 ? "no argument" : n === 1 ? "one argument" : `${n} arguments`);
