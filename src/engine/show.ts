import { writePart } from "../../grammar";
import { format, formatParts, mergeNotes, type Note, sigma } from "../quantity";
import type { Value } from "../vocabulary/value";
import { describe } from "./fault";
import type { Answer, Origin, Shown } from "./report";

/** Digits that a caller asked for; undefined prints by the rules of the language. */
export interface ShowOptions {
  readonly digits?: number;
  readonly decimals?: number;
}

/** A value ready to be shown. `path` is where it stands; a gap or fault that began elsewhere names its cause. */
export function show(
  value: Value,
  path: string,
  label: string,
  origin: Origin,
  options: ShowOptions = {},
): Shown {
  const notes = value.notes ?? [];
  const base = { path, label, value, origin, notes };
  switch (value.type) {
    case "quantity": {
      const parts = formatParts(value, options);
      return {
        ...base,
        state: "ok",
        text: format(value, options),
        number: parts.number,
        ...(parts.spread !== undefined && { spread: parts.spread }),
        unit: parts.unit,
      };
    }
    case "text":
      return { ...base, state: "ok", text: value.text, number: value.text, unit: "" };
    case "truth": {
      const word = value.value ? "true" : "false";
      return { ...base, state: "ok", text: word, number: word, unit: "" };
    }
    case "date":
      return { ...base, state: "ok", text: value.iso, number: value.iso, unit: "" };
    case "list": {
      const words = `${value.entries.length} ${value.entries.length === 1 ? "entry" : "entries"}`;
      const state = listState(value.entries);
      // What holds the list up is what holds its entry up.
      const stop = state === "ok" ? undefined : value.entries.find((e) => e.type === state);
      const message = stop && show(stop, path, label, origin).message;
      return {
        ...base,
        state,
        text: words,
        number: words,
        unit: "",
        ...(message !== undefined && { message }),
      };
    }
    case "record": {
      const words = describe(value);
      return { ...base, state: "ok", text: words, number: words, unit: "" };
    }
    case "gap": {
      const elsewhere = value.place !== undefined && !isOf(path, value.place);
      return {
        ...base,
        state: "gap",
        text: "",
        number: "",
        unit: "",
        message:
          elsewhere && value.says === `${value.place} is not filled in yet`
            ? `needs ${value.place}`
            : value.says,
        ...(elsewhere && { cause: value.place }),
        ...(value.was && { was: show(value.was, path, label, origin, options) }),
      };
    }
    case "fault": {
      const cause = value.place?.path;
      const elsewhere = cause !== undefined && cause !== "" && !isOf(path, cause);
      return {
        ...base,
        state: "fault",
        text: "",
        number: "",
        unit: "",
        message: elsewhere ? `needs ${cause}, where: ${value.says}` : value.says,
        ...(value.help !== undefined && !elsewhere && { help: value.help }),
        ...(elsewhere && { cause }),
      };
    }
  }
}

/** Whether a path is that of a value or of one of its parts. */
const isOf = (path: string, whole: string): boolean => path === whole || path.startsWith(`${whole}.`);

function listState(entries: readonly Value[]): Shown["state"] {
  if (entries.some((e) => e.type === "fault")) return "fault";
  return entries.length > 0 && entries.every((e) => e.type === "gap") ? "gap" : "ok";
}

/** A value and its parts, flattened; records have no line of their own, and lists only when they are empty. */
export function flatten(
  value: Value,
  path: string,
  label: string,
  origin: Origin,
  options: ShowOptions = {},
): Shown[] {
  const out: Shown[] = [];
  walk(value, path, label, [], (v, p, l, notes) => {
    const shown = show(v, p, l, origin, options);
    out.push(notes.length > 0 ? { ...shown, notes: mergeNotes(notes, shown.notes) ?? [] } : shown);
  });
  return out;
}

function walk(
  value: Value,
  path: string,
  label: string,
  notes: readonly Note[],
  emit: (v: Value, path: string, label: string, notes: readonly Note[]) => void,
): void {
  if (value.type === "record") {
    const own = mergeNotes(notes, value.notes) ?? [];
    for (const [name, part] of value.parts) walk(part, dotted(path, writePart(name)), name, own, emit);
    return;
  }
  if (value.type === "list" && value.entries.length > 0) {
    const own = mergeNotes(notes, value.notes) ?? [];
    const used = new Map<string, number>();
    value.entries.forEach((entry, i) => {
      const name = value.origin?.names[i];
      let part = name ? name : String(i + 1);
      const before = used.get(part) ?? 0;
      used.set(part, before + 1);
      if (before > 0) part = `${part} (${before + 1})`;
      walk(entry, dotted(path, writePart(part)), part, own, emit);
    });
    return;
  }
  emit(value, path, label, notes);
}

const dotted = (path: string, part: string): string => (path === "" ? part : `${path}.${part}`);

/** One line of `calc --json`. */
export function answer(shown: Shown): Answer {
  const { value } = shown;
  const single =
    value.type === "quantity"
      ? value.n.v
      : value.type === "text"
        ? value.text
        : value.type === "truth"
          ? value.value
          : value.type === "date"
            ? value.iso
            : null;
  return {
    name: shown.path,
    value: shown.state === "ok" ? single : null,
    unit: shown.unit,
    text: shown.text,
    state: shown.state,
    message: shown.message ?? null,
    uncertainty: value.type === "quantity" && value.spread ? sigma(value.spread) : null,
    notes: shown.notes.map((n) => n.text),
  };
}
