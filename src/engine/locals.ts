import type { Scope } from "./compile";
import type { Code } from "./environment";

/** Code for an argument of the definition, or the variable of the `find` or `curve`, around a formula; undefined when the name is none. */
export function localCode(name: string, scope: Scope): Code | undefined {
  for (let depth = scope.frames.length - 1; depth >= 0; depth--) {
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
