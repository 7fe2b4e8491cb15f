import { useEffect, useRef } from "react";
import { wordsOf } from "./view/words";

/** How a fragment that holds a book begins: with the version of its writing. Names of places on the page begin with a letter. */
const HOLDS_BOOK = /^#\d/;

interface LinkTaker {
  /** Called before the page leaves the book that is open. */
  readonly before: () => Promise<unknown>;
  readonly open: (text: string) => void;
  readonly refuse: (says: string) => void;
}

/**
 * Opens the book that stands in the address, now or when the address changes. The address is cleaned at once, so that
 * loading the page again opens nothing twice. What reads a link is fetched when there is one.
 */
export function useSharedLink(taker: LinkTaker): void {
  const now = useRef(taker);
  now.current = taker;
  useEffect(() => {
    const look = async () => {
      const fragment = location.hash;
      if (!HOLDS_BOOK.test(fragment)) return;
      history.replaceState(history.state, "", location.pathname + location.search);
      try {
        const { decodeLink } = await import("../exchange/link");
        const text = decodeLink(fragment);
        await now.current.before();
        now.current.open(text);
      } catch (error) {
        now.current.refuse(wordsOf(error));
      }
    };
    const change = () => void look();
    change();
    addEventListener("hashchange", change);
    return () => removeEventListener("hashchange", change);
  }, []);
}
