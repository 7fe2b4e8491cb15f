import { useSyncExternalStore } from "react";
import { isUnfetched } from "./words";

/** How far the fetching of a part of the page is. */
export type Delivery<T> =
  | { readonly is: "unasked" }
  | { readonly is: "on its way" }
  | { readonly is: "here"; readonly held: T }
  /** It did not come; asked again, it may. */
  | { readonly is: "away" };

/**
 * A part of the page that is fetched when it is first needed and then held. When it does not come, that is told, and
 * it can be asked for again; only what came and is broken breaks the page.
 */
export interface Parcel<T> {
  /** What it is, for the sentence that says that it was not fetched: "The comparison". */
  readonly what: string;
  now(): Delivery<T>;
  /** Asks for it, unless it is here or on its way. */
  ask(): void;
  subscribe(tell: () => void): () => void;
}

export function parcel<T>(what: string, load: () => Promise<T>): Parcel<T> {
  let now: Delivery<T> = { is: "unasked" };
  let broken: unknown;
  const waiting = new Set<() => void>();
  const become = (next: Delivery<T>): void => {
    now = next;
    for (const tell of waiting) tell();
  };
  return {
    what,
    now() {
      if (broken !== undefined) throw broken;
      return now;
    },
    ask() {
      if (now.is === "on its way" || now.is === "here") return;
      become({ is: "on its way" });
      load().then(
        (held) => become({ is: "here", held }),
        (error: unknown) => {
          if (!isUnfetched(error)) broken = error;
          become({ is: "away" });
        },
      );
    },
    subscribe(tell) {
      waiting.add(tell);
      return () => waiting.delete(tell);
    },
  };
}

/** Does something when the page has nothing better to do. */
export const inQuiet = (act: () => void): void => {
  if (typeof requestIdleCallback === "function") requestIdleCallback(act);
  else setTimeout(act, 500);
};

/** How far a parcel is; whoever looks is told when that changes. */
export const useDelivery = <T>(of: Parcel<T>): Delivery<T> => useSyncExternalStore(of.subscribe, of.now);
