import { type Formula, nearName, parseFormula, writeName } from "../../grammar";
import { Trouble } from "../quantity";
import type { Value } from "../vocabulary/value";
import type { Calculation } from "./calculation";
import type { Compiled } from "./compilation";
import { compile } from "./compile";
import { plainQuantity, setKey } from "./names";
import type { Shown, Sweep } from "./report";
import { show } from "./show";

/** Most points of one sweep. */
const MOST_POINTS = 10_000_000;

interface Axis {
  readonly name: string;
  readonly key: string;
  readonly values: readonly Value[];
}

/**
 * A book over a grid of inputs: each axis is a `set` and the values that it takes in turn
 * (`pressure from 20 mbar to 200 mbar step 20 mbar`, `bath from [30 °C, 35 °C]`), each column a formula of the
 * book. Points are numbered from 0, the last axis fastest; every point stands for itself, so a sweep can be
 * cut anywhere. Throws `Trouble` for an axis or a formula that cannot be used.
 */
export function sweepOf(
  calculation: Calculation,
  varies: readonly string[],
  shows: readonly string[],
): Sweep {
  if (varies.length === 0)
    throw new Trouble({
      code: "sweep-empty",
      says: "A sweep needs a value to vary.",
      help: "Write for example `pressure from 20 mbar to 200 mbar step 20 mbar`.",
    });
  if (shows.length === 0)
    throw new Trouble({
      code: "sweep-empty",
      says: "A sweep needs a formula to show.",
      help: "Name a value of the book, such as `water.add`, or write a formula.",
    });
  const axes = varies.map((text) => axisOf(text, calculation));
  const doubled = axes.find((a, i) => axes.findIndex((b) => b.key === a.key) !== i);
  if (doubled) throw new Trouble({ code: "sweep-twice", says: `\`${doubled.name}\` is varied twice.` });
  const count = axes.reduce((n, a) => n * a.values.length, 1);
  if (count > MOST_POINTS) {
    throw new Trouble({
      code: "sweep-limit",
      says: `This sweep has ${count} points; at most ${MOST_POINTS} are worked out.`,
      help: "Take larger steps, or fewer values to vary.",
    });
  }
  const columns = shows.map((text) => ({ text, compiled: formulaOf(text, calculation) }));
  const wanted = new Set(columns.flatMap((c) => [...c.compiled.references.keys()]));
  const owner = { pathOf: () => "" };
  const at = (index: number): Map<string, Value> => {
    const settings = new Map<string, Value>();
    let rest = index;
    for (let i = axes.length - 1; i >= 0; i--) {
      const { key, values } = axes[i]!;
      settings.set(key, values[rest % values.length]!);
      rest = Math.floor(rest / values.length);
    }
    return settings;
  };
  return {
    names: axes.map((a) => a.name),
    shows,
    count,
    inputs(index): readonly Shown[] {
      const settings = at(index);
      return axes.map((a) => show(settings.get(a.key)!, writeName(a.name), a.name, "typed"));
    },
    outcomes(index): readonly Shown[] {
      calculation.allowance.recount();
      const settings = at(index);
      const there = calculation.with(settings, wanted);
      return columns.map(({ text, compiled }) =>
        show(there.evaluate(compiled.code, owner), text, text, "computed"),
      );
    },
  };
}

function axisOf(text: string, calculation: Calculation): Axis {
  const match = /^\s*(?:`([^`]+)`|([^\s`]+))\s+from\s+(.+)$/su.exec(text);
  if (!match) {
    throw new Trouble({
      code: "sweep-axis",
      says: `“${text}” does not say what is varied and over which values.`,
      help: "Write `NAME from A to B step C`, or `NAME from [a, b, c]`.",
    });
  }
  const name = (match[1] ?? match[2]!).normalize("NFC");
  const { names } = calculation.plan;
  const set = names.sets.get(name);
  if (!set) {
    const near = nearName(name, names.sets.keys());
    throw new Trouble({
      code: "sweep-name",
      says: `The book has no value called \`${name}\`.`,
      ...(near !== undefined && { help: `\`${near}\` is near.` }),
    });
  }
  const typed =
    set.formula &&
    (plainQuantity(set.formula) ||
      (set.formula.type === "text" && set.formula.pieces.every((p) => typeof p === "string")));
  if (!typed) {
    throw new Trouble({
      code: "sweep-computed",
      says: `\`${name}\` is worked out by a formula; only a value that was typed can be varied.`,
      help: "Vary what it is worked out from.",
    });
  }
  const values = calculation.evaluate(formulaOf(match[3]!, calculation).code, { pathOf: () => "" });
  if (values.type === "fault")
    throw new Trouble({
      code: values.code,
      says: `Of ${name}: ${values.says}`,
      ...(values.help !== undefined && { help: values.help }),
    });
  if (values.type !== "list" || values.entries.length === 0) {
    throw new Trouble({
      code: "sweep-axis",
      says: `“${match[3]!}” is no list of values for \`${name}\`.`,
      help: "Write `A to B step C`, or `[a, b, c]`.",
    });
  }
  return { name, key: setKey(name), values: values.entries };
}

function formulaOf(text: string, calculation: Calculation): Compiled {
  const {
    formula,
    messages,
  }: {
    formula: Formula;
    messages: readonly { severity: string; code: string; says: string; help?: string }[];
  } = parseFormula(text);
  const fault = messages.find((m) => m.severity === "fault");
  if (fault)
    throw new Trouble({
      code: fault.code,
      says: `In \`${text}\`: ${fault.says}`,
      ...(fault.help !== undefined && { help: fault.help }),
    });
  const compiled = compile(formula, { names: calculation.plan.names, place: "book", frames: [] });
  const trouble = compiled.troubles[0]?.trouble;
  if (trouble)
    throw new Trouble({
      code: trouble.code,
      says: `In \`${text}\`: ${trouble.says}`,
      ...(trouble.help !== undefined && { help: trouble.help }),
    });
  return compiled;
}
