import { useSyncExternalStore } from "react";

/** A phone's width, as the styles have it. */
const phone = "(max-width: 719px)";

function subscribe(tell: () => void): () => void {
  const query = matchMedia(phone);
  query.addEventListener("change", tell);
  return () => query.removeEventListener("change", tell);
}

/** Whether the window is as narrow as a phone, where a row of words does not fit. */
export const useNarrow = (): boolean => useSyncExternalStore(subscribe, () => matchMedia(phone).matches);
