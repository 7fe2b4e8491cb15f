import type { Declaration } from "./declaration";

/**
 * What a declaration says in words and no calculation has need of. Its cautions are not among it: they travel with
 * every result.
 *
 * In the source a declaration is one piece. The build of the page takes this out of it (src/build/prose-apart.ts),
 * for it weighs as much as the code and is read by few at once; whoever shows it imports `./prose-here`, which puts it
 * back.
 */
export interface Prose
  extends Pick<Declaration, "says" | "equation" | "source" | "range" | "trust" | "examples"> {
  /** The sentences of the parameters, and of the parts of the result, in order. */
  readonly parameters: readonly string[];
  readonly result: readonly string[];
}

export function proseOf(declaration: Declaration): Prose {
  const { says, equation, source, range, trust, examples } = declaration;
  return {
    says,
    equation,
    source,
    range,
    ...(trust !== undefined && { trust }),
    examples,
    parameters: declaration.parameters.map((p) => p.says),
    result: declaration.result.map((r) => r.says),
  };
}

/**
 * Gives declarations their prose back.
 *
 * @throws Error when a declaration and its prose do not belong together
 */
export function putBack(
  declarations: ReadonlyMap<string, Declaration>,
  proses: Readonly<Record<string, Prose>>,
): void {
  for (const [name, declaration] of declarations) {
    const prose = proses[name];
    if (
      prose?.parameters.length !== declaration.parameters.length ||
      prose.result.length !== declaration.result.length
    )
      throw new Error(`The words of ${name} are not those of its declaration.`);
    const { parameters, result, ...own } = prose;
    Object.assign(declaration, own);
    for (const [i, says] of parameters.entries()) Object.assign(declaration.parameters[i]!, { says });
    for (const [i, says] of result.entries()) Object.assign(declaration.result[i]!, { says });
  }
}
