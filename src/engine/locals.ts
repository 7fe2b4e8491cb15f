import type { Scope } from "./compilation";
import type { Code } from "./environment";

/** Code for an argument of the definition, or the variable of the `find` or `curve`, around a formula; undefined when the name is none. */
export function localCode(name: string, scope: Scope): Code | undefined {
  // In the condition of a `where` the columns come before what stands outside of it.
  const last = scope.table?.byName.has(name) ? (scope.outside ?? 0) : 0;
  for (let depth = scope.frames.length - 1; depth >= last; depth--) {
    const index = scope.frames[depth]!.indexOf(name);
    if (index < 0) continue;
    const up = scope.frames.length - 1 - depth;
    return (env) => {
      let locals = env.locals;
      for (let i = 0; i < up; i++) locals = locals!.outer;
      return locals!.values[index]!;
    };
  }
  return undefined;
}
