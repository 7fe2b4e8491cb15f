import type { ReactNode } from "react";
import type { Origin, Shown, State } from "../../engine";

/** The marks: a shape each for how a value came to be, what state it is in, and whether a check is met. */
export type MarkName =
  | "typed"
  | "computed"
  | "found"
  | "gap"
  | "fault"
  | "follows"
  | "met"
  | "unmet"
  | "unknown"
  | "seen"
  | "stale"
  | "care";

const shapes: Readonly<Record<MarkName, ReactNode>> = {
  typed: <path d="M1 10.6h10M4 7.4 9.4 2" />,
  computed: <path d="M1.6 4.2h8.8M1.6 7.9h8.8" />,
  found: <path className="solid" d="M1 2.6 4.6 6 1 9.4ZM11 2.6 7.4 6 11 9.4Z" />,
  gap: <rect x="1.6" y="1.6" width="8.8" height="8.8" strokeDasharray="2.2 2.1" />,
  fault: (
    <>
      <path className="solid" d="M6 .9 11.1 6 6 11.1.9 6Z" />
      <path className="cut" d="M6 3.7v2.6M6 8.4v.01" />
    </>
  ),
  follows: <path d="M6 .9 11.1 6 6 11.1.9 6Z" />,
  met: <path d="M1.4 6.6 4.6 9.8 10.6 2.2" />,
  unmet: <path d="M2 2l8 8M10 2 2 10" />,
  unknown: (
    <>
      <circle cx="6" cy="6" r="4.6" />
      <path d="M6 6v.01" />
    </>
  ),
  seen: (
    <>
      <circle cx="6" cy="6" r="5.1" />
      <path d="M3.6 6.3 5.4 8.1 8.6 4.1" />
    </>
  ),
  stale: (
    <>
      <circle cx="6" cy="6" r="5.1" strokeDasharray="2.1 2.1" />
      <path d="M3.4 6h5.2" />
    </>
  ),
  care: <path d="M6 1.3 11.2 10.6H.8ZM6 4.8v2.4M6 9v.01" />,
};

const inks: Readonly<Record<MarkName, string>> = {
  typed: "typed-ink",
  computed: "computed-ink",
  found: "found-ink",
  gap: "gap-ink",
  fault: "fault-ink",
  follows: "",
  met: "met-ink",
  unmet: "fault-ink",
  unknown: "gap-ink",
  seen: "met-ink",
  stale: "gap-ink",
  care: "gap-ink",
};

/** A mark in the ink of its role. With `says` it is read aloud; without, the words beside it say the same. */
export function Mark({ name, says, plain = false }: { name: MarkName; says?: string; plain?: boolean }) {
  const className = plain ? "mark" : `mark ${inks[name]}`;
  return says === undefined ? (
    <svg className={className} viewBox="0 0 12 12" aria-hidden="true">
      {shapes[name]}
    </svg>
  ) : (
    <svg className={className} viewBox="0 0 12 12" role="img" aria-label={says}>
      {shapes[name]}
    </svg>
  );
}

/** The mark that tells how a value came to be or what is wrong with it. */
export const markOf = (state: State, origin: Origin): MarkName => (state === "ok" ? origin : state);

/** The same in a word. */
export const wordOf = (shown: Pick<Shown, "state" | "origin">): string => markOf(shown.state, shown.origin);
