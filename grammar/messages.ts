import type { Fix, Span, SyntaxMessage } from "./tree";

/**
 * How syntax messages are put together. A message names what was met in one sentence for a cook, the help says
 * what to do, and a fix that can only be meant in one way may be applied by one click.
 */

interface Extras {
  readonly help?: string;
  readonly fixes?: readonly Fix[];
}

export function fault(code: string, span: Span, says: string, extras: Extras = {}): SyntaxMessage {
  return message("fault", code, span, says, extras);
}

export function note(code: string, span: Span, says: string, extras: Extras = {}): SyntaxMessage {
  return message("note", code, span, says, extras);
}

function message(
  severity: "fault" | "note",
  code: string,
  span: Span,
  says: string,
  { help, fixes }: Extras,
): SyntaxMessage {
  return {
    code,
    severity,
    span,
    says,
    ...(help === undefined ? {} : { help }),
    ...(fixes === undefined || fixes.length === 0 ? {} : { fixes }),
  };
}

/** The one thing that can be meant. */
export function certainly(span: Span, text: string, says = writes(text)): Fix {
  return { says, certain: true, edits: [{ span, text }] };
}

/** One of the things that can be meant. */
export function perhaps(span: Span, text: string, says = writes(text)): Fix {
  return { says, certain: false, edits: [{ span, text }] };
}

function writes(text: string): string {
  return text === "" ? "Take it out" : `Write ${shorten(text.trim())}`;
}

export function spanOf(from: number, to: number): Span {
  return { from, to };
}

/** A message whose places are counted from `by` characters further on. */
export function shift(message: SyntaxMessage, by: number): SyntaxMessage {
  if (by === 0) return message;
  const moved = (span: Span): Span => ({ from: span.from + by, to: span.to + by });
  return {
    ...message,
    span: moved(message.span),
    ...(message.fixes === undefined
      ? {}
      : {
          fixes: message.fixes.map((fix) => ({
            ...fix,
            edits: fix.edits.map((edit) => ({ span: moved(edit.span), text: edit.text })),
          })),
        }),
  };
}

const LONGEST_QUOTED = 40;

/** A piece of the writer's text as a message quotes it: on one line, not too long. */
export function shorten(text: string): string {
  const line = text.replace(/\s+/g, " ");
  const letters = [...line];
  return letters.length <= LONGEST_QUOTED ? line : `${letters.slice(0, LONGEST_QUOTED - 1).join("")}…`;
}

/** The writer's text in a sentence: in backticks, or in quotes when it holds a backtick itself. */
export function quoted(text: string): string {
  const short = shorten(text);
  return short.includes("`") ? `“${short}”` : `\`${short}\``;
}
