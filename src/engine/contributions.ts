import { asDifference, format, quantity, sigma, type Unit } from "../quantity";
import type { Value } from "../vocabulary/value";
import { CALLED } from "./environment";
import { type Sources, sourceOf } from "./items";
import { type Located, locate } from "./located";
import type { Contribution } from "./report";
import { childrenOf } from "./syntax";

/** Characters of a call that are written out. */
const CALL_SHOWN = 40;

/** What every measured input and equation contributes to the uncertainty of a value, largest first. */
export function contributionsTo(value: Value, sources: Sources): readonly Contribution[] {
  if (value.type !== "quantity" || !value.spread) return [];
  const total = sigma(value.spread) ** 2;
  if (total === 0) return [];
  const unit = differenceUnit(value.unit);
  const told = new Map<string, number>();
  return [...value.spread]
    .map(([input, amount]) => ({ input, size: Math.abs(amount) }))
    .sort((a, b) => b.size - a.size || (a.input < b.input ? -1 : 1))
    .map(({ input, size }) => {
      const { says, path } = inputTold(input, sources);
      // Two calls of the same words are two inputs all the same.
      const time = (told.get(says) ?? 0) + 1;
      told.set(says, time);
      return {
        input: time === 1 ? says : `${says} (${time})`,
        ...(path !== undefined && { path }),
        share: size ** 2 / total,
        amount: format(quantity({ v: Number(size.toPrecision(2)), dp: -1 }, unit)),
      };
    });
}

function differenceUnit(unit: Unit): Unit {
  return unit.offset ? asDifference(unit) : unit;
}

/**
 * An input in words: the path of the value where its ± stands. A ± inside a definition is told by the calls that lead
 * to it, the innermost first: `f(x) in g(2 g) in total`.
 */
function inputTold(input: string, sources: Sources): { readonly says: string; readonly path?: string } {
  // What stands behind the @ keeps two calls of one equation apart; the reader needs the equation only.
  const [place = "", ...calls] = input.replace(/ @.*$/u, "").split(CALLED);
  const path = place.replace(/ \(\d+\)$/u, "");
  const located = locate(path, sources.calculation);
  if (located === undefined) return { says: place };
  let around: Pick<Located, "statement" | "formula"> | undefined = located;
  let says = place;
  for (let i = 0; i + 1 < calls.length; i += 2) {
    const name = calls[i]!;
    says = `${callAt(Number(calls[i + 1]), around, sources.text) ?? `${name}(…)`} in ${says}`;
    around = sources.calculation.plan.names.defines.get(name);
  }
  return { says, path };
}

/** The call that begins at an offset of a statement, as it is written there. */
function callAt(
  from: number,
  within: Pick<Located, "statement" | "formula"> | undefined,
  text: string,
): string | undefined {
  const waiting = within?.formula ? [within.formula] : [];
  for (let node = waiting.pop(); node; node = waiting.pop()) {
    if (node.type === "call" && node.span.from === from) {
      const written = sourceOf(text, within!.statement, node.span).replace(/\s+/gu, " ");
      return written.length <= CALL_SHOWN ? written : `${node.name}(…)`;
    }
    waiting.push(...childrenOf(node));
  }
  return undefined;
}
