import type { Formula, Span } from "../../grammar";
import type { TroubleParts } from "../quantity";
import type { DefineName, Names } from "./names";
import { wayRound } from "./node-faults";
import { childrenOf } from "./syntax";

/** What is wrong with definitions of these names, of which each calls the next and the last the first. */
export const circleTrouble = (names: readonly string[]): TroubleParts => ({
  code: "define-circle",
  says: `A definition cannot use itself: ${wayRound(names)}.`,
  help: "Work with lists and totals, or with rows that build on the row before.",
});

interface Circle {
  /** Each calls the next, and the last the first. */
  readonly members: readonly DefineName[];
  /** Where the first one calls the next. */
  readonly span: Span;
}

/** A call of a definition of the book. */
interface Call {
  readonly of: DefineName;
  readonly span: Span;
}

/** The circles among the definitions of a book, also of those that nothing calls. */
export function* definitionCircles(names: Names): Generator<Circle> {
  const looked = new Set<DefineName>();
  for (const begin of names.defines.values()) {
    // A stack of our own: a long row of definitions is deeper than that of the language.
    const route: { readonly define: DefineName; readonly calls: readonly Call[]; next: number }[] = [];
    const enter = (define: DefineName): void => {
      looked.add(define);
      route.push({ define, calls: callsIn(define, names), next: 0 });
    };
    if (!looked.has(begin)) enter(begin);
    for (let top = route.at(-1); top; top = route.at(-1)) {
      const call = top.calls[top.next++];
      if (!call) route.pop();
      else if (!looked.has(call.of)) enter(call.of);
      else {
        const at = route.findIndex((step) => step.define === call.of);
        if (at < 0) continue;
        const first = route[at]!;
        yield {
          members: route.slice(at).map((step) => step.define),
          span: first.calls[first.next - 1]!.span,
        };
      }
    }
  }
}

function callsIn(define: DefineName, names: Names): Call[] {
  const calls: Call[] = [];
  const todo: Formula[] = define.formula ? [define.formula] : [];
  for (let node = todo.pop(); node; node = todo.pop()) {
    const of = node.type === "call" ? names.defines.get(node.name) : undefined;
    if (of && node.type === "call") calls.push({ of, span: node.nameSpan });
    todo.push(...childrenOf(node).toReversed());
  }
  return calls;
}
