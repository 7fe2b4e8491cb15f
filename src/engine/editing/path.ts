import { type Found, nameIn, partIn } from "./found";
import type { Place } from "./place";
import type { Token } from "./tokens";

/** Index of the first token of the path that ends with the last one, a dot. */
export function startOfPath(tokens: readonly Token[]): number {
  let at = tokens.length - 1;
  while (at > 0) {
    const before = tokens[at - 1]!;
    if (
      before.type === "part" ||
      before.type === "bracket" ||
      (before.type === "operator" && before.text === ".")
    )
      at--;
    else if (before.type === "name") return at - 1;
    else break;
  }
  return at;
}

/** What a path of names and parts means, unless a call or a bracket stands in it. */
export function pathFound(path: readonly Token[], place: Place): Found | undefined {
  if (path[0]?.type !== "name" || path.some((t) => t.type === "bracket")) return undefined;
  let found = nameIn(path[0].name!, place);
  for (const token of path.slice(1))
    if (token.type === "part") found = found && partIn(found, token.name!, place);
  return found;
}
