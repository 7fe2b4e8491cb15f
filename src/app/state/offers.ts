import type { Book } from "../../engine";
import { type Completion, complete, type Proposal, type Signature } from "../../engine/editing";
import type { Draft } from "./notebook";
import { fieldAt } from "./writing";

/** What is offered at the caret of a draft. Offsets count in the draft's text. */
export interface Offered {
  readonly from: number;
  readonly to: number;
  readonly typed: string;
  readonly expected?: string;
  readonly proposals: readonly Proposal[];
  readonly signature?: Signature;
}

/** Proposals that a list shows. */
const MOST = 12;

const nothing: Offered = { from: 0, to: 0, typed: "", proposals: [] };

/** What can be written at the caret of a draft. */
export function offeredFor(book: Book, draft: Draft): Offered {
  const at = fieldAt(book, draft);
  if (at === undefined) return nothing;
  return shownOffers(complete(book, at.field, at.caret, { most: MOST }), draft.text, at.shift);
}

/** Of what can be written, what is shown: nothing is pressed on a person who has not begun a word or a formula. */
export function shownOffers(found: Completion, text: string, shift: number): Offered {
  const { typed, signature, expected } = found;
  const begun = typed !== "" || isBegun(text.slice(0, found.from + shift));
  const only = found.proposals.length === 1 && found.proposals[0]!.insert === typed;
  return {
    from: found.from + shift,
    to: found.to + shift,
    typed,
    ...(expected === undefined ? {} : { expected }),
    proposals: begun && !only ? found.proposals : [],
    ...(signature === undefined ? {} : { signature }),
  };
}

/** Behind a dot, a bracket, a comma, an operator or a word, something is wanted; behind a number only after a blank. */
const isBegun = (before: string): boolean =>
  /[.(,[:=+\-*/^<>±{]\s*$/u.test(before) || /\d[ \u00a0]$/.test(before) || /[\p{L}]\s+$/u.test(before);

/** The proposal that Enter takes by itself: the first that fits and goes on from what was typed, or none. */
export function firstChoice(offered: Offered, draft: Pick<Draft, "caret">): number {
  const { typed, proposals } = offered;
  const first = proposals[0];
  if (typed === "" || first === undefined || !first.fits || draft.caret !== offered.to) return -1;
  // A whole word that was typed out is kept as it is; litres read with a small l as well.
  const whole = new Set([typed, typed.replace(/l$/, "L")]);
  if (proposals.some((p) => whole.has(p.insert) || whole.has(p.label))) return -1;
  const goesOn = first.insert.toLowerCase().replace(/^`/, "").startsWith(typed.toLowerCase());
  return goesOn ? 0 : -1;
}

/** The draft with a proposal taken: the text, and where the caret goes. */
export function taken(draft: Draft, offered: Offered, proposal: Proposal): { text: string; caret: number } {
  const text = draft.text.slice(0, offered.from) + proposal.insert + draft.text.slice(offered.to);
  return { text, caret: offered.from + proposal.caret };
}
