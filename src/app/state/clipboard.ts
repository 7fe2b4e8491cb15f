/**
 * What leaves and enters a table through the clipboard: tab-separated text with quoted fields, a plain HTML
 * table, and our own JSON, which keeps what was written apart from what was worked out.
 */

/** Our own type. Browsers keep custom types beside the common ones. */
export const OWN_TYPE = "application/x-invacuo-cells+json";

export interface ClipCell {
  /** As it stands in the book; for a computed cell what it shows. */
  readonly raw: string;
  /** What is shown. */
  readonly text: string;
}
export type Clip = readonly (readonly ClipCell[])[];

const needsQuotes = (field: string): boolean => /["\t\n\r]/.test(field);
const quoted = (field: string): string => (needsQuotes(field) ? `"${field.replaceAll('"', '""')}"` : field);

/** Tab-separated text; a field with a tab, a line end or a quote is quoted, quotes doubled. */
export const toTsv = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => row.map(quoted).join("\t")).join("\n");

/** Reads tab-separated text. A last line end makes no row. A quote counts only at the start of a field. */
export function fromTsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  const end = text.length;
  while (at <= end) {
    let field = "";
    if (text[at] === '"' && closes(text, at)) {
      at++;
      while (at < end) {
        if (text[at] === '"') {
          if (text[at + 1] !== '"') break;
          at++;
        }
        field += text[at++];
      }
      at++;
    } else {
      while (at < end && text[at] !== "\t" && text[at] !== "\n" && text[at] !== "\r") field += text[at++];
    }
    row.push(field);
    if (text[at] === "\t") {
      at++;
      continue;
    }
    rows.push(row);
    row = [];
    if (text[at] === "\r" && text[at + 1] === "\n") at++;
    at++;
    if (at >= end) break;
  }
  return rows;
}

/** Whether the quote at `from` opens a quoted field: its partner stands before a tab, a line end or the end. */
function closes(text: string, from: number): boolean {
  let at = from + 1;
  while (at < text.length) {
    if (text[at] === '"') {
      if (text[at + 1] === '"') at++;
      else return at + 1 === text.length || /[\t\n\r]/.test(text[at + 1]!);
    }
    at++;
  }
  return false;
}

const escapeHtml = (s: string): string =>
  s.replace(/[&<>"]/g, (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[c]!);

/** The least HTML table that other programs read. */
export const toHtml = (rows: readonly (readonly string[])[]): string =>
  `<table><tbody>${rows
    .map(
      (row) =>
        `<tr>${row.map((field) => `<td>${escapeHtml(field).replaceAll("\n", "<br>")}</td>`).join("")}</tr>`,
    )
    .join("")}</tbody></table>`;

export const toJson = (clip: Clip): string =>
  JSON.stringify({ invacuo: 1, cells: clip.map((row) => row.map((c) => c.raw)) });

/** Reads our own JSON, or undefined when it is not ours or not whole. */
export function fromJson(text: string): string[][] | undefined {
  let read: unknown;
  try {
    read = JSON.parse(text);
  } catch (error) {
    if (error instanceof SyntaxError) return undefined;
    throw error;
  }
  if (typeof read !== "object" || read === null || !("invacuo" in read) || read.invacuo !== 1)
    return undefined;
  if (!("cells" in read) || !Array.isArray(read.cells)) return undefined;
  const rows: string[][] = [];
  for (const row of read.cells as unknown[]) {
    if (!Array.isArray(row) || !row.every((f): f is string => typeof f === "string")) return undefined;
    rows.push(row);
  }
  return rows;
}

/** The three flavours of a copy. */
export function toClipboard(clip: Clip): { readonly type: string; readonly data: string }[] {
  const texts = clip.map((row) => row.map((cell) => cell.text));
  return [
    { type: OWN_TYPE, data: toJson(clip) },
    { type: "text/plain", data: toTsv(texts) },
    { type: "text/html", data: toHtml(texts) },
  ];
}

/**
 * The cells of what is pasted. Our own JSON first; then the plain text, whose numbers are not rounded for show;
 * the HTML only when the plain text has no tab. `readHtml` turns a table's HTML into rows (the page has a parser).
 */
export function fromClipboard(
  get: (type: string) => string,
  readHtml: (html: string) => string[][] | undefined,
): { readonly rows: string[][]; readonly own: boolean } {
  const own = fromJson(get(OWN_TYPE));
  if (own !== undefined) return { rows: own, own: true };
  const plain = get("text/plain");
  if (!plain.includes("\t")) {
    const html = get("text/html");
    const rows = html === "" ? undefined : readHtml(html);
    if (rows !== undefined && rows.length > 0) return { rows, own: false };
  }
  return { rows: plain === "" ? [] : fromTsv(plain), own: false };
}
