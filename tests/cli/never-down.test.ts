import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { expect, it } from "vitest";
import { runCommand } from "./run-command";

const folder = resolve(import.meta.dirname, "../../workbooks");
const books = readdirSync(folder).map((name) => readFileSync(join(folder, name), "utf8"));

/** Pieces that mistyped, cut and hostile books are made of. */
const pieces = [
  ...[
    "(",
    ")",
    "[",
    "]",
    '"',
    "{",
    "}",
    "|",
    "`",
    "#",
    ".",
    ",",
    "=",
    "/",
    "^",
    "-",
    "±",
    "\n",
    "\u0000",
    "😀",
  ],
  ...[
    " in ",
    "%vol",
    "°C",
    "GBP",
    "1e308",
    "99999999999999999999",
    "2026-02-30",
    "blank",
    "if ",
    "where ",
    "to ",
  ],
  ...[
    "__proto__",
    "constructor",
    "before.",
    "foot",
    "set a = a\n",
    "find x from 1 to 2 so that x is ",
    "distil(",
  ],
];

/** Whole numbers below a bound, the same in every run with the same seed. */
function numbers(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

/** A book with up to four slips: something typed in, left out, copied from elsewhere, or two lines swapped. */
function spoilt(book: string, pick: (below: number) => number): string {
  let text = book;
  for (let slips = 1 + pick(4); slips > 0; slips--) {
    const at = pick(text.length);
    const other = pick(text.length);
    switch (pick(4)) {
      case 0:
        text = text.slice(0, at) + pieces[pick(pieces.length)]! + text.slice(at);
        break;
      case 1:
        text = text.slice(0, at) + text.slice(at + 1 + pick(6));
        break;
      case 2:
        text = text.slice(0, at) + text.slice(other, other + pick(30)) + text.slice(at);
        break;
      default: {
        const lines = text.split("\n");
        const [a, b] = [pick(lines.length), pick(lines.length)];
        [lines[a], lines[b]] = [lines[b]!, lines[a]!];
        text = lines.join("\n");
      }
    }
  }
  return text;
}

it("answers 600 spoilt books with values and messages, never with a mistake of its own", async () => {
  const pick = numbers(20_260_203);
  const calls = [
    ["calc", "-"],
    ["calc", "-", "--json"],
    ["card", "-"],
    ["tidy", "-"],
  ];
  for (let n = 0; n < 600; n++) {
    const text = spoilt(books[pick(books.length)]!, pick);
    const call = calls[n % calls.length]!;
    const ran = await runCommand(call, { input: text });
    const told = `${ran.err}\n${ran.out}`;
    expect(told, `${call.join(" ")} of\n${text}`).not.toMatch(
      /defect:|\bundefined\b|\bNaN\b|\[object |\bInfinity\b|\(node:internal|\.[jt]s:\d+:\d+/,
    );
    expect([0, 1, ...(text.includes("\u0000") ? [2] : [])]).toContain(ran.code);
  }
});
