import type { Fix, Formula, Span, SyntaxMessage } from "../../../grammar";
import { type Value, waiting } from "../../vocabulary/value";
import { type Workings, workingsOf } from "../book";
import type { Compiled } from "../compilation";
import { asTyped } from "../items";
import { GUESSED } from "../messages";
import type { Plan } from "../plan";
import type { Book, Origin, Shown } from "../report";
import { flatten, show } from "../show";

/** What a field would come to if it were kept. */
export interface Foretold {
  readonly shown: Shown;
  /** The parts of a result, the entries of a list; at most 100. */
  readonly parts: readonly Shown[];
  /** What stands in the way, with its place in the field's text; missing when the cause lies elsewhere. */
  readonly trouble?: FieldTrouble;
}

/** What is wrong with what was typed. Offsets, those of the fixes too, count in the field's text. */
export interface FieldTrouble {
  readonly says: string;
  readonly help?: string;
  readonly from: number;
  readonly to: number;
  readonly fixes: readonly Fix[];
}

const MOST_PARTS = 100;

/** Where a formula stands, by name. */
export interface Named {
  readonly path: string;
  readonly label: string;
}

/** Turns an offset in what was read into one in the field. */
export type Back = (at: number) => number;

/**
 * The way back from a text that was escaped before it was read: `lead` characters were put in front of it, `cut` blanks
 * of its own taken away, and a backslash put before the characters that `escaped` tells.
 */
export function backFrom(text: string, lead: number, cut: number, escaped: (at: number) => boolean): Back {
  const places: number[] = [];
  for (let at = cut; at < text.length; at++) {
    if (escaped(at)) places.push(at);
    places.push(at);
  }
  return (at) => places[Math.max(0, at - lead)] ?? text.length;
}

/** A value as it would be shown, and the trouble that began in its own formula. */
export function foretoldValue(
  value: Value,
  { path, label }: Named,
  origin: Origin,
  back: Back,
  formula?: Formula,
): Foretold {
  const plain = show(value, path, label, origin);
  const shown = formula && origin === "typed" ? asTyped(plain, formula) : plain;
  const parts =
    value.type === "record" || value.type === "list"
      ? flatten(value, path, label, origin).slice(0, MOST_PARTS)
      : [];
  const place = value.type === "fault" && value.place?.path === path ? value.place : undefined;
  if (value.type !== "fault" || place === undefined) return { shown, parts };
  const { code, says, help, rewrite } = value;
  const span = { from: back(place.from), to: back(place.to) };
  const fix: Fix | undefined =
    rewrite === undefined
      ? undefined
      : { says: `Write ${rewrite}`, certain: !GUESSED.has(code), edits: [{ span, text: rewrite }] };
  return {
    shown,
    parts,
    trouble: { says, ...(help !== undefined && { help }), ...span, fixes: fix ? [fix] : [] },
  };
}

/** What cannot be read is a fault in its place. */
export function unreadable(message: SyntaxMessage, { path, label }: Named, back: Back): Foretold {
  const { code, says, help, fixes } = message;
  const inField = ({ from, to }: Span): Span => ({ from: back(from), to: back(to) });
  const core = { says, ...(help !== undefined && { help }) };
  const span = inField(message.span);
  return {
    shown: show({ type: "fault", code, ...core, place: { path, ...span } }, path, label, "computed"),
    parts: [],
    trouble: {
      ...core,
      ...span,
      fixes: (fixes ?? []).map((fix) => ({
        ...fix,
        edits: fix.edits.map((edit) => ({ ...edit, span: inField(edit.span) })),
      })),
    },
  };
}

/** Most work for an answer that is asked for anew with each letter: a few hundredths of a second. */
const FORETOLD_WORK = 500_000;

/** Works a formula out with the values that a book has now, unless typing would have to wait for it. */
export function worked({ calculation }: Workings, { code }: Compiled, path: string, row: number): Value {
  return (
    calculation.evaluateWithin(FORETOLD_WORK, code, { pathOf: () => path }, row) ??
    waiting("This takes a while to work out; that is done when it is kept.")
  );
}

/** Whether a formula looks, directly or through others, at what it would itself define. */
export function buildsOn({ references }: Compiled, key: string, plan: Plan): boolean {
  const seen = new Set<string>();
  const waiting = [...references.keys()];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (next === key) return true;
    if (seen.has(next)) continue;
    seen.add(next);
    waiting.push(...(plan.nodes.get(next)?.references.keys() ?? []));
  }
  return false;
}

/** The value of a name once its text is written into the book. */
export function afterEdit(book: Book, key: string, row: number, span: Span, text: string): Value | undefined {
  const edited = book.edit(book.text.slice(0, span.from) + text + book.text.slice(span.to));
  const { calculation } = workingsOf(edited);
  if (!calculation.has(key)) return undefined;
  return row < 0 ? calculation.value(key) : calculation.cell(key, row);
}
