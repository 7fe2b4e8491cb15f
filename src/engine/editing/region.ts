/**
 * The innermost stretch of a text in which a caret stands: a formula (also one in the braces of a text), the plain
 * words of a text, a name in backticks that is still open, or a comment.
 */
export type Region =
  | { readonly in: "formula"; readonly from: number; readonly depth: number }
  | {
      readonly in: "text";
      /** Offset of the quote with which the text begins. */
      readonly quote: number;
      /** Where the formula begins in which the text stands. */
      readonly from: number;
      readonly depth: number;
    }
  | { readonly in: "name"; readonly tick: number; readonly from: number; readonly depth: number }
  | { readonly in: "comment" };

interface Open {
  readonly type: "formula" | "text";
  readonly from: number;
}

const QUOTE = '"';

/**
 * Finds the region of `caret` in the formula (or, with `inText`, the plain sentence) that begins at `from`.
 * `depth` of the outermost formula is 0; each pair of braces adds 1. Where `comments` is false (cells, braces) a
 * `#` is a character like any other.
 */
export function regionAt(
  text: string,
  from: number,
  caret: number,
  options: { readonly comments: boolean; readonly inText?: boolean },
): Region {
  const open: Open[] = [{ type: "formula", from }];
  if (options.inText === true) open.push({ type: "text", from });
  const floor = open.length;
  for (let at = from; at < caret; at++) {
    const c = text[at]!;
    const top = open[open.length - 1]!;
    if (c === "\n") {
      // A text ends with its line, closed or not.
      while (open.length > floor) open.pop();
      continue;
    }
    if (top.type === "text") {
      if (c === "\\") at++;
      else if (c === "{") open.push({ type: "formula", from: at + 1 });
      else if (c === QUOTE && open.length > floor) open.pop();
      continue;
    }
    if (c === QUOTE) open.push({ type: "text", from: at });
    else if (c === "`") {
      const close = closing(text, at);
      // A name that is not closed ends with its line.
      if (close === undefined ? !text.slice(at, caret).includes("\n") : close >= caret)
        return { in: "name", tick: at, from: top.from, depth: depthOf(open) };
      if (close !== undefined) at = close;
    } else if (c === "}" && open.length > floor) open.pop();
    else if (c === "#" && options.comments && open.length === 1) {
      const end = text.indexOf("\n", at);
      if (end < 0 || end >= caret) return { in: "comment" };
      at = end - 1;
    }
  }
  const top = open[open.length - 1]!;
  if (top.type === "formula") return { in: "formula", from: top.from, depth: depthOf(open) };
  return { in: "text", quote: top.from, from: open[open.length - 2]!.from, depth: depthOf(open) };
}

const depthOf = (open: readonly Open[]): number => open.filter((o) => o.type === "formula").length - 1;

function closing(text: string, tick: number): number | undefined {
  const close = text.indexOf("`", tick + 1);
  if (close < 0) return undefined;
  const end = text.indexOf("\n", tick);
  return end >= 0 && end < close ? undefined : close;
}
