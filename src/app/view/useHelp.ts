import { useSyncExternalStore } from "react";

type Help = typeof import("../state/help");

/**
 * What helps while something is written: offers, what a draft would become, what a name means. It is fetched as soon
 * as a book is on the page, and read by whoever needs it once it is there; reading a book does not wait for it.
 */
let help: Help | undefined;
let asked = false;
const waiting = new Set<() => void>();

function fetchHelp(): void {
  if (asked) return;
  asked = true;
  import("../state/help").then(
    (fetched) => {
      help = fetched;
      for (const tell of waiting) tell();
    },
    () => {
      // Without a network for a moment: whoever needs it next asks again, and until then nothing is offered.
      asked = false;
    },
  );
}

function subscribe(tell: () => void): () => void {
  fetchHelp();
  waiting.add(tell);
  return () => waiting.delete(tell);
}

export const useHelp = (): Help | undefined => useSyncExternalStore(subscribe, () => help);
