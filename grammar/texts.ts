import { certainly, fault, perhaps, quoted, spanOf } from "./messages";
import { closingBacktick, type Oddity } from "./scanning";
import type { SyntaxMessage } from "./tree";
import { findUnseen, normal } from "./words";

/**
 * Text in quotes. A brace in it opens a formula, which may hold text again, and so on; the scan below only finds
 * where the text ends and which stretches are formulas. They are read afterwards, each by itself, so that a fault
 * in one does not reach the sentence around it.
 */

/** A stretch of plain text (escapes resolved, NFC) or the place of a formula, without its braces. */
export type TextPiece =
  | { readonly type: "plain"; readonly text: string }
  | { readonly type: "formula"; readonly from: number; readonly to: number };

/** What is known of a text token. Places are counted like the token's. */
export interface ScannedText {
  /** Behind the closing quote, or the line's end when there is none. */
  readonly end: number;
  readonly pieces: readonly TextPiece[];
  /** Faults inside the plain stretches. */
  readonly faults: readonly SyntaxMessage[];
  /** Set when the text has no end. */
  readonly trouble?: Oddity;
}

const QUOTE = 0x22;
const BACKTICK = 0x60;
const BACKSLASH = 0x5c;
const OPEN = 0x7b;
const CLOSE = 0x7d;
const ESCAPED = '"\\{}|';

/** Scans the text that begins with a quote at `offset`, however deep it nests. */
export function scanText(source: string, offset: number): ScannedText {
  const pieces: TextPiece[] = [];
  const faults: SyntaxMessage[] = [];
  /** Where the texts and braces that are open began; even places hold texts, odd ones braces. */
  const open: number[] = [offset];
  let plain = "";
  let plainFrom = offset + 1;
  let at = offset + 1;
  const keep = (to: number): void => {
    plain += source.slice(plainFrom, to);
  };
  for (; at < source.length; at++) {
    const code = source.charCodeAt(at);
    if (code === 0x0a || (code === 0x0d && source.charCodeAt(at + 1) === 0x0a)) break;
    const inText = open.length % 2 === 1;
    const outermost = open.length === 1;
    if (inText && code === BACKSLASH) {
      if (outermost) {
        const next = source[at + 1];
        keep(at);
        if (next !== undefined && ESCAPED.includes(next)) plain += next;
        else faults.push(strangeEscape(source, at));
        plainFrom = at + 2;
      }
      at++;
    } else if (!inText && code === BACKTICK) {
      at = Math.max(at, closingBacktick(source, at));
    } else if (code === QUOTE) {
      if (inText) open.pop();
      else open.push(at);
      if (open.length === 0) {
        keep(at);
        if (plain !== "" || pieces.length === 0) pieces.push({ type: "plain", text: normal(plain) });
        const unseen = findUnseen(source, offset, at);
        if (unseen !== undefined) faults.push(unseenFault(unseen.at, unseen.name));
        return { end: at + 1, pieces, faults };
      }
    } else if (inText && code === OPEN) {
      if (outermost) {
        keep(at);
        if (plain !== "") pieces.push({ type: "plain", text: normal(plain) });
        plain = "";
      }
      open.push(at);
    } else if (code === CLOSE) {
      if (!inText) {
        const from = open.pop()!;
        if (open.length === 1) {
          pieces.push({ type: "formula", from: from + 1, to: at });
          plainFrom = at + 1;
        }
      } else if (outermost) {
        faults.push(
          fault("brace-stray", spanOf(at, at + 1), "This `}` closes nothing.", {
            help: "Braces hold a formula; a brace that is meant as such is written `\\}`.",
            fixes: [certainly(spanOf(at, at + 1), "\\}")],
          }),
        );
      }
    }
  }
  const end = Math.min(at, source.length);
  return {
    end,
    pieces,
    faults,
    trouble: { length: end - offset, message: unclosed(source, offset, end, open) },
  };
}

function strangeEscape(source: string, at: number): SyntaxMessage {
  const next = String.fromCodePoint(source.codePointAt(at + 1) ?? 0x20);
  return fault("text-escape", spanOf(at, at + 1 + next.length), `\`\\${next}\` means nothing in a text.`, {
    help: 'A backslash stands only before `"`, `\\`, `{`, `}` and `|`.',
    fixes: [perhaps(spanOf(at, at + 1), "\\\\")],
  });
}

function unclosed(source: string, offset: number, end: number, open: readonly number[]): SyntaxMessage {
  const brace = open[1];
  if (brace !== undefined)
    return fault("brace-open", spanOf(brace, brace + 1), "This `{` is not closed before the text ends.", {
      help: "Close the formula with `}`; a brace that is meant as such is written `\\{`.",
    });
  const curly = source.slice(offset, end).search(/[“”„]/);
  if (curly >= 0) {
    const at = offset + curly;
    return fault(
      "quote-curly",
      spanOf(at, at + 1),
      `The text opens with " and is closed with ${source[at]}.`,
      {
        help: 'A text stands between straight quotes: "like this".',
        fixes: [certainly(spanOf(at, at + 1), '"', 'Write " instead')],
      },
    );
  }
  return fault(
    "text-open",
    spanOf(offset, end),
    `The text ${quoted(source.slice(offset, end))} is not closed.`,
    {
      help: 'A text ends with " on the line on which it began.',
      fixes: [perhaps(spanOf(end, end), '"', 'Close it with "')],
    },
  );
}

export function unseenFault(at: number, name: string): SyntaxMessage {
  return fault("character-unseen", spanOf(at, at + 1), `Here stands ${name}, which cannot be seen.`, {
    help: "Such a character makes a line read differently from how it looks. Take it out.",
    fixes: [certainly(spanOf(at, at + 1), "", "Take it out")],
  });
}
