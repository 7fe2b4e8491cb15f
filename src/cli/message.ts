import type { Fix } from "../../grammar";
import type { Message } from "../engine";
import { paint, type Sink, widthOf, wrap } from "./terminal";

/** What a message is about: the text and the name under which a person knows it. */
export interface About {
  readonly name: string;
  readonly text: string;
}

/** More of a source line than this is cut away around the place; a line may have megabytes. */
const mostOfLine = 100;

/**
 * A message as lines: `file:line:column`, the sentence, the source line with a mark under the place, what to
 * do, and what a fix would write.
 */
export function messageLines(message: Message, about: About, sink: Sink): string[] {
  const kind = message.severity === "fault" ? paint(sink, "fault", "fault") : paint(sink, "gap", "note");
  const place = `${about.name}:${message.line}:${message.column}`;
  const lines = [`${paint(sink, "title", place)}: ${kind}: ${message.says}`];
  lines.push(
    ...excerpt(about.text, message.from, message.to, sink, message.severity === "fault" ? "fault" : "gap"),
  );
  if (message.help) lines.push(...advice("help", message.help, sink));
  for (const fix of message.fixes ?? []) lines.push(...advice("fix", fixed(fix, about.text), sink));
  return lines;
}

/** The source line of a place, and a mark under it. Nothing for an empty text. */
export function excerpt(
  text: string,
  from: number,
  to: number,
  sink: Sink,
  role: "fault" | "gap" = "fault",
): string[] {
  const at = Math.min(Math.max(from, 0), text.length);
  const start = text.lastIndexOf("\n", at - 1) + 1;
  const end = text.indexOf("\n", at);
  const line = text.slice(start, end < 0 ? text.length : end).replace(/\r$/, "");
  if (line.trim() === "") return [];
  const markFrom = at - start;
  const markTo = Math.max(markFrom + 1, Math.min(to - start, Math.max(line.length, markFrom + 1)));

  let left = 0;
  let right = line.length;
  if (line.length > mostOfLine) {
    left = Math.max(0, Math.min(markFrom - 30, line.length - mostOfLine));
    right = Math.min(line.length, left + mostOfLine);
  }
  const before = line.slice(left, Math.min(markFrom, right));
  const marked = line.slice(Math.min(markFrom, right), Math.min(markTo, right));
  const lead = left > 0 ? "… " : "";
  const tail = right < line.length ? " …" : "";
  // Tabs stay tabs on both lines, so that the mark stands under its place whatever a tab is worth.
  const blanks = [...`${lead}${before}`]
    .map((sign) => (sign === "\t" ? "\t" : " ".repeat(widthOf(sign))))
    .join("");
  const mark = "~".repeat(Math.max(1, widthOf(marked)));
  return [`    ${lead}${line.slice(left, right)}${tail}`, `    ${blanks}${paint(sink, role, mark)}`];
}

/** What the line would be with the fix in it. */
function fixed(fix: Fix, text: string): string {
  const edits = [...fix.edits].sort((a, b) => a.span.from - b.span.from);
  const first = edits[0];
  const last = edits[edits.length - 1];
  if (!first || !last) return fix.says;
  const start = text.lastIndexOf("\n", first.span.from - 1) + 1;
  const after = text.indexOf("\n", last.span.to);
  const end = after < 0 ? text.length : after;
  let result = "";
  let at = start;
  for (const edit of edits) {
    result += text.slice(at, edit.span.from) + edit.text;
    at = edit.span.to;
  }
  result += text.slice(at, end);
  return result.length > mostOfLine || result.includes("\n") ? fix.says : `${fix.says}: ${result.trim()}`;
}

function advice(word: string, text: string, sink: Sink): string[] {
  const [first = "", ...rest] = wrap(text, Math.max(40, (sink.width ?? 100) - 10));
  const indent = " ".repeat(word.length + 6);
  return [`    ${paint(sink, "help", word)}: ${first}`, ...rest.map((line) => indent + line)];
}
