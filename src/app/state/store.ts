import { useRef, useSyncExternalStore } from "react";

/** A value that changes only through a pure function of what happened. */
export interface Store<S, A> {
  get(): S;
  send(action: A): void;
  /** Calls back after every change; gives the way to stop it. */
  subscribe(listener: () => void): () => void;
}

export function createStore<S, A>(reduce: (state: S, action: A) => S, initial: S): Store<S, A> {
  let state = initial;
  const listeners = new Set<() => void>();
  return {
    get: () => state,
    send(action) {
      const next = reduce(state, action);
      if (next === state) return;
      state = next;
      for (const listener of [...listeners]) listener();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** A part of a store's state; renders again only when that part changes (`same` decides, by default `Object.is`). */
export function useStore<S, A, T>(
  store: Store<S, A>,
  pick: (state: S) => T,
  same: (a: T, b: T) => boolean = Object.is,
): T {
  const last = useRef<{ value: T } | undefined>(undefined);
  const snapshot = () => {
    const value = pick(store.get());
    if (last.current !== undefined && same(last.current.value, value)) return last.current.value;
    last.current = { value };
    return value;
  };
  return useSyncExternalStore(store.subscribe, snapshot, snapshot);
}
