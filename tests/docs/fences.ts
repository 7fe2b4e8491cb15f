/** The examples of a document: its fenced blocks, with the line where each begins. */
export interface Fence {
  /** The words behind the opening marks: `vacuo`, `vacuo faults`, `vacuo gin.vacuo`, `console`. */
  readonly words: readonly string[];
  readonly lines: readonly string[];
  /** 1-based line of the first line inside. */
  readonly line: number;
}

export function fencesOf(document: string): Fence[] {
  const fences: Fence[] = [];
  let open: { words: string[]; lines: string[]; line: number } | undefined;
  document.split("\n").forEach((text, i) => {
    const mark = /^```(.*)$/.exec(text);
    if (open && mark) {
      fences.push(open);
      open = undefined;
    } else if (open) open.lines.push(text);
    else if (mark) open = { words: mark[1]!.trim().split(/\s+/), lines: [], line: i + 2 };
  });
  if (open) throw new Error(`The block that begins at line ${open.line - 1} is not closed.`);
  return fences;
}

/** `source => result`: a formula and what it comes to. */
export interface Example {
  readonly formula: string;
  readonly result: string;
  readonly line: number;
}

/** A block of language taken apart: the lines of the book, and the examples that are asked in it. */
export function examplesOf(fence: Fence): { book: string; examples: Example[] } {
  const book: string[] = [];
  const examples: Example[] = [];
  fence.lines.forEach((text, i) => {
    const at = text.lastIndexOf(" => ");
    if (at < 0) book.push(text);
    else
      examples.push({
        formula: text.slice(0, at).trim(),
        result: text.slice(at + 4).trim(),
        line: fence.line + i,
      });
  });
  return { book: book.join("\n"), examples };
}
