/**
 * Where the command reads and writes: standard input, standard output for results, standard error for
 * messages. Subcommands get a `Terminal` instead of the process, so tests can run them in one process.
 */
export interface Terminal {
  readonly input: AsyncIterable<Uint8Array | string>;
  readonly out: Sink;
  readonly err: Sink;
  /** File names on the command line are relative to this folder. */
  readonly folder: string;
  /** Resolves when the person asks a running server to stop. Until it is called, an interrupt ends the process. */
  untilStopped(): Promise<void>;
}

/** One stream to write to. */
export interface Sink {
  /** Resolves when the stream can take more, so that a slow reader never makes the memory grow. */
  write(text: string): Promise<void>;
  readonly colour: boolean;
  /** Columns of the terminal; undefined when the stream is a file or a pipe. */
  readonly width?: number;
}

/** What a piece of text is; each has a colour on a terminal, and never only a colour. */
export type Role = "title" | "quiet" | "name" | "gap" | "fault" | "met" | "help";

const colours: Record<Role, string> = {
  title: "1",
  quiet: "2",
  name: "36",
  gap: "33",
  fault: "31",
  met: "32",
  help: "36",
};

/** The text in the colour of its role, where the stream shows colours. */
export function paint(sink: Sink, role: Role, text: string): string {
  return sink.colour && text !== "" ? `\u001b[${colours[role]}m${text}\u001b[0m` : text;
}

/** True when a stream should be coloured: a terminal that can, and nobody has set NO_COLOR. */
export function wantsColour(
  isTerminal: boolean,
  environment: Readonly<Record<string, string | undefined>>,
): boolean {
  return isTerminal && !environment.NO_COLOR && environment.TERM !== "dumb";
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: finding them is the purpose
const controls = /\u001b\[[0-9;]*m|[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g;

/**
 * What may be sent to a terminal: a book from a stranger must not be able to move the cursor, rename the
 * window or turn the writing round. Our own colours pass.
 */
export function harmless(text: string): string {
  return text.replace(controls, (met) => (met.length > 1 ? met : "\ufffd"));
}

const wide =
  /[\u1100-\u115f\u2e80-\u303e\u3041-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6]|[\u{1f300}-\u{1faff}]|[\u{20000}-\u{3fffd}]/u;
const without = /\p{M}|\u200b|\u200c|\u200d/u;

/** Columns that a text takes on a terminal, colours not counted. */
export function widthOf(text: string): number {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: our own colours begin with escape
  const bare = text.replace(/\u001b\[[0-9;]*m/g, "");
  if (/^[ -~]*$/.test(bare)) return bare.length;
  let width = 0;
  for (const sign of bare) width += without.test(sign) ? 0 : wide.test(sign) ? 2 : 1;
  return width;
}

/** The text with blanks behind (or, for numbers, before) it. */
export function pad(text: string, width: number, side: "left" | "right" = "left"): string {
  const blanks = " ".repeat(Math.max(0, width - widthOf(text)));
  return side === "left" ? text + blanks : blanks + text;
}

/** Lines no longer than `width`, broken at blanks; a longer word stands alone. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/).filter((w) => w !== "")) {
    if (line !== "" && widthOf(line) + 1 + widthOf(word) > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  if (line !== "") lines.push(line);
  return lines;
}

/** Wrapped text behind a mark, its later lines under the first. */
export function bullet(lead: string, text: string, width: number, colour = (line: string) => line): string[] {
  const indent = " ".repeat(widthOf(lead));
  return wrap(text, Math.max(40, width - widthOf(lead))).map((line, i) =>
    colour((i === 0 ? lead : indent) + line),
  );
}

/** A column of a printed grid: its heading lines and its cells, one for each row. */
export interface GridColumn {
  readonly heading: readonly string[];
  readonly cells: readonly string[];
  readonly side: "left" | "right";
}

/**
 * A grid as lines. Where the terminal is too narrow the columns go on in a second block, and the first
 * column is repeated in each, so that no row ever breaks in the middle.
 */
export function grid(columns: readonly GridColumn[], room = Number.POSITIVE_INFINITY): string[] {
  const gap = 3;
  const widths = columns.map((c) =>
    [...c.heading, ...c.cells].reduce((most, t) => Math.max(most, widthOf(t)), 0),
  );
  const blocks: number[][] = [];
  let block: number[] = [];
  let used = 0;
  columns.forEach((_, i) => {
    const first = widths[0]!;
    if (block.length > 1 && used + gap + widths[i]! > room) {
      blocks.push(block);
      block = [0];
      used = first;
    }
    used += (block.length > 0 ? gap : 0) + widths[i]!;
    block.push(i);
  });
  if (block.length > 0) blocks.push(block);

  const lines: string[] = [];
  for (const [n, members] of blocks.entries()) {
    if (n > 0) lines.push("");
    const heads = Math.max(0, ...members.map((i) => columns[i]!.heading.length));
    const rows = Math.max(0, ...members.map((i) => columns[i]!.cells.length));
    const line = (pick: (c: GridColumn) => string) =>
      members
        .map((i) => pad(pick(columns[i]!), widths[i]!, columns[i]!.side))
        .join(" ".repeat(gap))
        .trimEnd();
    for (let h = 0; h < heads; h++) lines.push(line((c) => c.heading[h] ?? ""));
    for (let r = 0; r < rows; r++) lines.push(line((c) => c.cells[r] ?? ""));
  }
  return lines;
}
