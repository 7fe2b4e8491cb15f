import { type Grid, GridBuilder, newBudget } from "./grid";

/** Stands for a line break until blanks have been folded. */
const LINE = "\u2028";

/**
 * The tables of pasted HTML, as text. Only `table`, `tr`, `td`, `th`, `br` and `p` mean anything; scripts,
 * styles and whatever else is there are passed over. Nothing is rendered, fetched or run.
 */
export function readWebTables(html: string, name: string): Grid[] {
  const grids: Grid[] = [];
  const budget = newBudget();
  let grid: GridBuilder | undefined;
  let depth = 0;
  let row = -1;
  let column = 0;
  let cell: string | undefined;
  /** Cells that reach down from rows above: column to the rows that are left. */
  let reach = new Map<number, number>();
  let span = { columns: 1, rows: 1 };

  const closeCell = (): void => {
    if (cell === undefined || grid === undefined) return;
    const text = cell
      .replace(/[ \t\r\n\u00a0]+/g, " ")
      .replace(/ ?\u2028 ?/g, "\n")
      .trim();
    grid.put(row, column, { text });
    for (let c = 0; c < span.columns; c++) if (span.rows > 1) reach.set(column + c, span.rows - 1);
    column += span.columns;
    cell = undefined;
  };
  const closeTable = (): void => {
    closeCell();
    if (grid !== undefined && !grid.isEmpty) grids.push(grid.done());
    grid = undefined;
  };

  for (const token of tokens(html)) {
    if (token.type === "text") {
      if (cell !== undefined) cell += token.text;
      continue;
    }
    const { name: element, closing } = token;
    if (element === "table") {
      if (closing) {
        if (depth === 1) closeTable();
        depth = Math.max(0, depth - 1);
      } else if (++depth === 1) {
        grid = new GridBuilder(name, budget);
        row = -1;
        reach = new Map();
      }
      continue;
    }
    if (depth !== 1 || grid === undefined) {
      if (depth > 1 && cell !== undefined && (element === "tr" || element === "td")) cell += " ";
      continue;
    }
    if (element === "tr") {
      closeCell();
      if (!closing) {
        row++;
        column = 0;
      }
    } else if (element === "td" || element === "th") {
      closeCell();
      if (closing) continue;
      if (row < 0) row = 0;
      for (let left = reach.get(column); left !== undefined && left > 0; left = reach.get(column)) {
        reach.set(column, left - 1);
        column++;
      }
      span = { columns: spanOf(token.source, "colspan"), rows: spanOf(token.source, "rowspan") };
      cell = "";
    } else if (cell !== undefined && (element === "br" || (element === "p" && closing))) cell += LINE;
  }
  closeTable();
  return grids;
}

/** Whether a text is worth reading as HTML. */
export const looksLikeHtml = (text: string): boolean => /<table[\s>]/i.test(text.slice(0, 2_000_000));

type Token = { type: "text"; text: string } | { type: "tag"; name: string; closing: boolean; source: string };

function* tokens(html: string): Generator<Token> {
  let at = 0;
  while (at < html.length) {
    const next = html.indexOf("<", at);
    if (next < 0 || next > at) {
      yield { type: "text", text: unescapeHtml(html.slice(at, next < 0 ? html.length : next)) };
      if (next < 0) return;
    }
    if (html.startsWith("<!--", next)) {
      const end = html.indexOf("-->", next + 4);
      at = end < 0 ? html.length : end + 3;
      continue;
    }
    const tag = /^<(\/?)([a-zA-Z][a-zA-Z0-9]{0,20})/.exec(html.slice(next, next + 24));
    if (tag === null) {
      yield { type: "text", text: "<" };
      at = next + 1;
      continue;
    }
    const end = html.indexOf(">", next);
    const stop = end < 0 ? html.length : end + 1;
    const name = tag[2]!.toLowerCase();
    yield { type: "tag", name, closing: tag[1] === "/", source: html.slice(next, stop) };
    at = stop;
    if ((name === "script" || name === "style") && tag[1] === "") {
      const close = name === "script" ? /<\/script/gi : /<\/style/gi;
      close.lastIndex = at;
      at = close.exec(html)?.index ?? html.length;
    }
  }
}

function spanOf(source: string, attribute: string): number {
  const found = new RegExp(`\\b${attribute}\\s*=\\s*["']?(\\d{1,4})`, "i").exec(source);
  return found === null ? 1 : Math.max(1, Math.min(200, Number(found[1])));
}

const HTML_ENTITIES = new Map([
  ["amp", "&"],
  ["lt", "<"],
  ["gt", ">"],
  ["quot", '"'],
  ["apos", "'"],
  ["nbsp", "\u00a0"],
  ["deg", "°"],
  ["plusmn", "±"],
  ["minus", "-"],
  ["euro", "€"],
  ["pound", "£"],
  ["permil", "‰"],
  ["times", "×"],
  ["frac12", "½"],
  ["eacute", "é"],
  ["uuml", "ü"],
  ["ouml", "ö"],
  ["auml", "ä"],
]);

function unescapeHtml(text: string): string {
  return text.replace(/&(#x[0-9a-fA-F]{1,6}|#\d{1,7}|[a-zA-Z][a-zA-Z0-9]{1,10});/g, (whole, name: string) => {
    if (name[0] !== "#") return HTML_ENTITIES.get(name) ?? whole;
    const point = name[1] === "x" ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
    return point > 0 && point <= 0x10ffff && !(point >= 0xd800 && point <= 0xdfff)
      ? String.fromCodePoint(point)
      : "\ufffd";
  });
}
