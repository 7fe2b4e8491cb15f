import { useEffect, useRef } from "react";
import type { KeptHead } from "../state/keeping";

/** The book that was open when the page was loaded again on purpose. */
const key = "invacuo.open-again";

export function openAgainAfterReload(id: string): void {
  try {
    sessionStorage.setItem(key, id);
  } catch (error) {
    // Without it the book is opened from the list on the start.
    if (!(error instanceof DOMException)) throw error;
  }
}

/** Opens that book once the kept books are known. */
export function useOpenAgain(kept: readonly KeptHead[], open: (head: KeptHead) => void): void {
  const done = useRef(false);
  useEffect(() => {
    if (done.current || kept.length === 0) return;
    done.current = true;
    const again = takeBookToOpen();
    const head = kept.find(({ id }) => id === again);
    if (head !== undefined) open(head);
  }, [kept, open]);
}

function takeBookToOpen(): string | undefined {
  try {
    const id = sessionStorage.getItem(key) ?? undefined;
    sessionStorage.removeItem(key);
    return id;
  } catch (error) {
    if (error instanceof DOMException) return undefined;
    throw error;
  }
}
