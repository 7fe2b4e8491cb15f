import { type Note, Trouble, type TroubleParts } from "../quantity";
import type { Fault, FaultPlace, Gap, Value } from "../vocabulary/value";

/** A fault value from a designed problem, with its place. */
export function faultFrom(trouble: TroubleParts, place: FaultPlace | undefined): Fault {
  return { type: "fault", ...troubleParts(trouble), ...(place && { place }) };
}

/** What a problem says, as a plain object that can be kept and sent. */
export const troubleParts = ({ code, says, help, rewrite }: TroubleParts): TroubleParts => ({
  code,
  says,
  ...(help !== undefined && { help }),
  ...(rewrite !== undefined && { rewrite }),
});

/** Runs a computation whose `Trouble` becomes a fault in its place; anything else thrown is a defect and goes on. */
export function guarded(place: (trouble: Trouble) => FaultPlace | undefined, work: () => Value): Value {
  try {
    return work();
  } catch (error) {
    if (error instanceof Trouble) return faultFrom(error, place(error));
    throw error;
  }
}

/** The first fault among values, else the first gap: what a computation that needs them all comes to. */
export function stopper(values: readonly Value[]): Fault | Gap | undefined {
  let missing: Gap | undefined;
  for (const value of values) {
    if (value.type === "fault") return value;
    if (value.type === "gap") missing ??= value;
  }
  return missing;
}

/** What a gap is called where a sentence has no room for what it says. */
export const gapWords = ({ waits }: Gap): string => (waits ? "not worked out yet" : "not filled in yet");

/** A value with more remarks; each text is kept once. */
export function withNotes<V extends Value>(value: V, notes: readonly Note[] | undefined): V {
  if (!notes || notes.length === 0) return value;
  const kept = [...(value.notes ?? [])];
  for (const note of notes) if (!kept.some((n) => n.text === note.text)) kept.push(note);
  return { ...value, notes: kept };
}

/** What a value is, with its article, for messages. */
export function describe(value: Value): string {
  switch (value.type) {
    case "quantity":
      return value.unit.kind.name;
    case "text":
      return `the text “${value.text}”`;
    case "truth":
      return value.value ? "true" : "false";
    case "date":
      return `the date ${value.iso}`;
    case "list":
      return `a list of ${value.entries.length}`;
    case "record":
      return "a result with parts";
    case "gap":
      return "a gap";
    case "fault":
      return "a fault";
  }
}

/** The fault for a record where a single value is wanted. */
export function recordTrouble(value: Value & { type: "record" }): Trouble {
  const names = [...value.parts.keys()];
  return new Trouble({
    code: "record-as-value",
    says: `A result with parts has no value of its own. Its parts are ${names.join(", ")}.`,
    help: `Say which one, for example with \`.${names[0]}\` behind it.`,
  });
}
