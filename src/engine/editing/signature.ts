import { vocabulary } from "../../vocabulary";
import { callOf, labelOnly, takesInWords } from "../../vocabulary/glossary";
import { workingsOf } from "../book";
import type { Book } from "../report";
import { activeParameter, type Written } from "./expectation";
import type { Field } from "./field";
import type { Frame } from "./frames";
import { namesAt } from "./place";
import { sourceAt } from "./source";
import { spotAt } from "./spot";

/** A function that is being called, and where in its brackets the caret stands. */
export interface Signature {
  readonly name: string;
  /** `let_down(volume, strength; to)`. */
  readonly call: string;
  /** What it answers; for a function of the book, its formula. */
  readonly says: string;
  readonly parameters: readonly SignatureParameter[];
  /** Index of the parameter whose turn it is; missing when none is left to take by place. */
  readonly active?: number;
}

export interface SignatureParameter {
  readonly name: string;
  /** What it takes: "a volume or a mass". */
  readonly takes: string;
  readonly says: string;
  /** Whether it must be given by its label. */
  readonly byLabel: boolean;
  readonly optional: boolean;
  /** Its value when it is left out, as it would be written. */
  readonly otherwise?: string;
  /** Whether the call gives it already. */
  readonly given: boolean;
}

/** The innermost call around the caret, or undefined outside every call. */
export function signatureAt(book: Book, field: Field, caret: number): Signature | undefined {
  return signatureIn(spotAt(sourceAt(workingsOf(book), field, caret), caret).written);
}

export function signatureIn(written: Written): Signature | undefined {
  const frame = written.frames.findLast((f) => f.type === "call");
  const name = frame?.call?.name;
  if (frame === undefined || name === undefined) return undefined;
  const define = namesAt(written.place).defines.get(name);
  if (define) return ownSignature(frame, name, define.parameters);
  const declaration = vocabulary.get(name);
  const active = activeParameter(frame, written.place, written.behind);
  if (!declaration || !active) return undefined;
  const index = active.parameter ? declaration.parameters.indexOf(active.parameter) : -1;
  return {
    name,
    call: callOf(declaration),
    says: declaration.says,
    parameters: declaration.parameters.map((p) => ({
      name: p.name,
      takes: takesInWords(p),
      says: p.says,
      byLabel: labelOnly(declaration, p),
      optional: p.optional === true,
      ...(p.otherwise !== undefined && { otherwise: p.otherwise }),
      given: active.given.has(p.name),
    })),
    ...(index >= 0 && { active: index }),
  };
}

function ownSignature(frame: Frame, name: string, parameters: readonly string[]): Signature {
  const labels = new Set(frame.stretches.slice(0, -1).flatMap((s) => (s.label ? [s.label.name!] : [])));
  const label = frame.stretches.at(-1)!.label?.name;
  const active = label === undefined ? frame.stretches.length - 1 : parameters.indexOf(label);
  const byPlace = frame.stretches.slice(0, -1).filter((s) => !s.label).length;
  return {
    name,
    call: `${name}(${parameters.join(", ")})`,
    says: "A function of this book.",
    parameters: parameters.map((p, i) => ({
      name: p,
      takes: "",
      says: "",
      byLabel: false,
      optional: false,
      given: labels.has(p) || i < byPlace,
    })),
    ...(active >= 0 && active < parameters.length && { active }),
  };
}
