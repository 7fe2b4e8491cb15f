import type { Action, Notebook } from "../state/notebook";
import { createStore, type Store, useStore } from "../state/store";
import { wordsOf } from "../view/words";
import { useNotebook } from "../view/workbench";
import { forgetRun, type KeptRun, keptRun, openRuns, saveRun } from "./keeping-runs";
import { beginRun, type Run, type RunAction, runAfter } from "./run";

/** Where the run of the open book stands, and whether the browser has it. */
export interface Session {
  /** The browser was asked for a run that was begun earlier. */
  readonly ready: boolean;
  readonly run?: Run | undefined;
  /** Whether the run is on the screen, instead of the book. */
  readonly open: boolean;
  readonly kept: KeptRunState;
  /** Another tab has touched the run since; nothing is saved over it. */
  readonly theirs?: KeptRun | "gone" | undefined;
  /** Read aloud: what just happened. */
  readonly said: string;
}
export type KeptRunState =
  | { readonly state: "saving" }
  | { readonly state: "saved"; readonly at: number }
  | { readonly state: "not kept"; readonly why: string };

/** The run of one open book: its state, and the way to change it. Every change is saved at once. */
export interface RunSession {
  readonly store: Store<Session, Partial<Session>>;
  begin(): void;
  act(action: RunAction): void;
  show(open: boolean): void;
  /** Throws the run away. */
  letGo(): void;
  say(text: string): void;
  /** After another tab: goes on with what it left, or saves what is here over it. */
  settle(which: "theirs" | "mine"): void;
}

const sessions = new WeakMap<Store<Notebook, Action>, RunSession>();

/** The run of an open book; the same for everything on the page that asks. */
export function sessionOf(notebook: Store<Notebook, Action>): RunSession {
  const known = sessions.get(notebook);
  if (known !== undefined) return known;
  const made = makeSession(notebook);
  sessions.set(notebook, made);
  return made;
}

export const useRunSession = (): RunSession => sessionOf(useNotebook());

/** A part of the session's state. */
export function useSession<T>(pick: (state: Session) => T): T {
  return useStore(useRunSession().store, pick);
}

function makeSession(notebook: Store<Notebook, Action>): RunSession {
  const store = createStore<Session, Partial<Session>>((state, change) => ({ ...state, ...change }), {
    ready: false,
    open: false,
    kept: { state: "saving" },
    said: "",
  });
  const { id } = notebook.get();

  let revision = 0;
  let busy = false;
  let waiting = false;
  const db = openRuns(indexedDB);
  const notKept = (error: unknown) =>
    store.send({
      ready: true,
      kept: { state: "not kept", why: `This browser does not keep the run: ${wordsOf(error)}` },
    });

  db.then((opened) => keptRun(opened, id)).then((found) => {
    if (found === undefined || store.get().run !== undefined) {
      store.send({ ready: true });
      return;
    }
    revision = found.revision;
    store.send({ ready: true, run: found.run, kept: { state: "saved", at: found.savedAt } });
  }, notKept);

  /** Writes the newest state; what changes meanwhile is written after it. */
  const save = async (): Promise<void> => {
    if (busy) {
      waiting = true;
      return;
    }
    busy = true;
    try {
      const opened = await db;
      do {
        waiting = false;
        const { run, theirs } = store.get();
        if (theirs !== undefined) break;
        if (run === undefined) {
          await forgetRun(opened, id);
          revision = 0;
          continue;
        }
        const at = Date.now();
        const result = await saveRun(opened, run, revision, at);
        if (result.saved) {
          revision = result.revision;
          if (store.get().run === run) store.send({ kept: { state: "saved", at } });
        } else {
          store.send({
            theirs: result.theirs ?? "gone",
            kept: { state: "not kept", why: "The run was touched in another tab." },
          });
        }
      } while (waiting);
    } catch (error) {
      notKept(error);
    } finally {
      busy = false;
    }
  };
  const change = (next: Partial<Session>) => {
    const { kept, theirs } = store.get();
    store.send({ ...next, kept: theirs !== undefined ? kept : { state: "saving" } });
    void save();
  };

  return {
    store,
    begin() {
      const { book } = notebook.get();
      const now = Date.now();
      change({ run: beginRun(id, book.title, now, localDay(now)), open: true });
    },
    act(action) {
      const { run } = store.get();
      if (run === undefined) return;
      const next = runAfter(run, action);
      if (next !== run) change({ run: next });
    },
    show: (open) => store.send({ open }),
    letGo() {
      const { theirs } = store.get();
      if (theirs === undefined) {
        change({ run: undefined, open: false });
        return;
      }
      // What another tab keeps is left to it; the quarrel goes with the run that is let go here.
      if (theirs === "gone") revision = 0;
      store.send({ run: undefined, open: false, theirs: undefined });
    },
    say: (said) => store.send({ said }),
    settle(which) {
      const { theirs } = store.get();
      if (theirs === undefined) return;
      revision = theirs === "gone" ? 0 : theirs.revision;
      if (which === "mine") {
        store.send({ theirs: undefined, kept: { state: "saving" } });
        void save();
      } else if (theirs === "gone") store.send({ theirs: undefined, run: undefined, open: false });
      else store.send({ theirs: undefined, run: theirs.run, kept: { state: "saved", at: theirs.savedAt } });
    },
  };
}

/** The day where the person is, as ISO text. */
function localDay(now: number): string {
  const day = new Date(now);
  const two = (n: number) => String(n).padStart(2, "0");
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}
