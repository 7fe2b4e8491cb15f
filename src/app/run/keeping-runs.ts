import { isRun, type Run } from "./run";

/**
 * Runs kept in this browser, beside the books and apart from them: one for each book. Every touch is written whole,
 * in one transaction. A save states the revision that it started from and is refused when another tab has saved since.
 */
const NAME = "invacuo-runs";
const VERSION = 1;

export interface KeptRun {
  readonly run: Run;
  /** Counts up with every save. */
  readonly revision: number;
  readonly savedAt: number;
}
interface Row extends KeptRun {
  readonly book: string;
}

export type RunSaved =
  | { readonly saved: true; readonly revision: number }
  | { readonly saved: false; readonly theirs: KeptRun | undefined };

/** Opens the store. Fails when the browser keeps nothing. */
export function openRuns(factory: IDBFactory): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = factory.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("runs", { keyPath: "book" });
    };
    request.onsuccess = () => {
      // An old tab must not stand in the way of a newer one that wants another layout.
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
    request.onblocked = () =>
      reject(new Error("Another tab holds the runs in an older layout. Close it and try again."));
  });
}

const answer = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

const complete = (transaction: IDBTransaction): Promise<void> =>
  new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error("The browser gave up saving."));
    transaction.onerror = () => reject(transaction.error);
  });

/** The kept run of a book; undefined when there is none, or none that can be read. */
export async function keptRun(db: IDBDatabase, book: string): Promise<KeptRun | undefined> {
  const row = (await answer(db.transaction("runs").objectStore("runs").get(book))) as Row | undefined;
  return row !== undefined && isRun(row.run) ? row : undefined;
}

/** Every kept run that was begun and not finished, the last touched first. */
export async function begunRuns(db: IDBDatabase): Promise<readonly KeptRun[]> {
  const rows = (await answer(db.transaction("runs").objectStore("runs").getAll())) as Row[];
  return rows
    .filter((row) => isRun(row.run) && row.run.finishedAt === undefined)
    .sort((a, b) => b.savedAt - a.savedAt);
}

/**
 * Saves a run over the revision that the writer started from (0 for a new one). Resolves when the transaction is
 * complete; only then is anything saved.
 */
export async function saveRun(db: IDBDatabase, run: Run, from: number, now: number): Promise<RunSaved> {
  const transaction = db.transaction("runs", "readwrite", { durability: "strict" });
  const done = complete(transaction);
  const runs = transaction.objectStore("runs");
  const there = (await answer(runs.get(run.book))) as Row | undefined;
  if ((there?.revision ?? 0) !== from) {
    transaction.abort();
    await done.catch(() => undefined);
    return { saved: false, theirs: there };
  }
  const row: Row = { book: run.book, run, revision: from + 1, savedAt: now };
  runs.put(row);
  await done;
  return { saved: true, revision: row.revision };
}

/** Takes the run of a book out of the store. */
export async function forgetRun(db: IDBDatabase, book: string): Promise<void> {
  const transaction = db.transaction("runs", "readwrite");
  const done = complete(transaction);
  transaction.objectStore("runs").delete(book);
  await done;
}
