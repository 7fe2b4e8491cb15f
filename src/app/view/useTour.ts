import { useSyncExternalStore } from "react";
import { keepSetting } from "./ViewSettings";

/** How far a person is with the first look: it is offered at the start, it has been begun, or it is put away. */
export type Tour = "offered" | "begun" | "away";

const listeners = new Set<() => void>();

function tour(): Tour {
  const kept = document.documentElement.dataset.tour;
  return kept === "begun" || kept === "away" ? kept : "offered";
}

/** Goes on with the first look, or puts it away; kept for this browser. */
export function setTour(to: Tour): void {
  keepSetting("tour", to === "offered" ? "" : to);
  for (const tell of listeners) tell();
}

function subscribe(tell: () => void): () => void {
  listeners.add(tell);
  return () => listeners.delete(tell);
}

export const useTour = (): Tour => useSyncExternalStore(subscribe, tour);
