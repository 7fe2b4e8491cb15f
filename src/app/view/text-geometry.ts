/** Where letters of a shown text stand. The text is set without wrapping, so a line of it is a line on the screen. */

interface Letter {
  readonly node: Text;
  readonly at: number;
}

/** The text node that holds a letter, and its place there. */
function letterAt(box: HTMLElement, offset: number): Letter | undefined {
  const walker = document.createTreeWalker(box, NodeFilter.SHOW_TEXT);
  let passed = 0;
  for (let node = walker.nextNode() as Text | null; node !== null; node = walker.nextNode() as Text | null) {
    if (offset <= passed + node.data.length) return { node, at: offset - passed };
    passed += node.data.length;
  }
  return undefined;
}

/** The width of a stretch of one line. */
function widthOf(box: HTMLElement, from: number, to: number): number {
  if (to <= from) return 0;
  const [start, end] = [letterAt(box, from), letterAt(box, to)];
  if (start === undefined || end === undefined) return 0;
  const range = document.createRange();
  range.setStart(start.node, start.at);
  range.setEnd(end.node, end.at);
  const rects = [...range.getClientRects()].filter((r) => r.width > 0);
  if (rects.length === 0) return 0;
  return Math.max(...rects.map((r) => r.right)) - Math.min(...rects.map((r) => r.left));
}

interface Setting {
  readonly left: number;
  readonly top: number;
  readonly line: number;
}

function settingOf(box: HTMLElement): Setting {
  const style = getComputedStyle(box);
  return {
    left: Number.parseFloat(style.paddingLeft),
    top: Number.parseFloat(style.paddingTop),
    line: Number.parseFloat(style.lineHeight),
  };
}

/** Where the caret before a letter stands, from the top left corner of the box. */
export function caretPlace(
  box: HTMLElement,
  text: string,
  offset: number,
): { readonly left: number; readonly top: number; readonly height: number } {
  const { left, top, line } = settingOf(box);
  const before = text.slice(0, offset);
  const start = before.lastIndexOf("\n") + 1;
  const above = start === 0 ? 0 : before.split("\n").length - 1;
  return { left: left + widthOf(box, start, offset), top: top + above * line, height: line };
}

/** The letter under a point of the window; undefined beside and below the text. */
export function offsetAt(box: HTMLElement, text: string, x: number, y: number): number | undefined {
  const { left, top, line } = settingOf(box);
  const corner = box.getBoundingClientRect();
  const wanted = Math.floor((y - corner.top - top) / line);
  const across = x - corner.left - left;
  if (wanted < 0 || across < 0) return undefined;
  let start = 0;
  for (let i = 0; i < wanted; i++) {
    const end = text.indexOf("\n", start);
    if (end < 0) return undefined;
    start = end + 1;
  }
  const stop = text.indexOf("\n", start);
  let [low, high] = [start, stop < 0 ? text.length : stop];
  if (across >= widthOf(box, start, high)) return undefined;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (widthOf(box, start, middle) <= across) low = middle;
    else high = middle - 1;
  }
  return low;
}
