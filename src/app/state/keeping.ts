/**
 * Books kept in this browser. Each book has a head (its revision and which of two slots holds it) and two slots
 * that are written in turn, so that the text before the last save is never overwritten by it. A save states the
 * revision that it started from and is refused when another tab has saved since: two tabs never overwrite each
 * other.
 */

export interface KeptHead {
  readonly id: string;
  readonly title: string;
  readonly file: string;
  /** Counts up with every save. */
  readonly revision: number;
  readonly slot: 0 | 1;
  /** Milliseconds since 1970, given by the caller. */
  readonly savedAt: number;
}
export interface KeptText {
  /** `id/slot`. */
  readonly key: string;
  readonly revision: number;
  readonly text: string;
  readonly checksum: number;
}
export type SaveResult =
  | { readonly saved: true; readonly revision: number }
  /** Another tab saved first; `head` is what it left. */
  | { readonly saved: false; readonly head: KeptHead | undefined };

export interface Opened {
  readonly head: KeptHead;
  readonly text: string;
  /** The newest text was damaged; this is the one before it. */
  readonly fellBack: boolean;
}

const NAME = "invacuo";
const VERSION = 1;

/** Opens the store. Fails when the browser keeps nothing (a private window, a full disk). */
export function openKeeping(factory: IDBFactory): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = factory.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("heads", { keyPath: "id" });
      request.result.createObjectStore("texts", { keyPath: "key" });
    };
    request.onsuccess = () => {
      // An old tab must not stand in the way of a newer one that wants another layout.
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
    request.onblocked = () =>
      reject(new Error("Another tab holds the store in an older layout. Close it and try again."));
  });
}

/** FNV-1a over UTF-16 code units: enough to notice a damaged text. */
export function checksum(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash >>> 0;
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

/**
 * Saves a text over the revision that the writer started from (0 for a new book). Resolves only when the
 * transaction is complete; only then is anything saved.
 */
export async function saveBook(
  db: IDBDatabase,
  book: { readonly id: string; readonly title: string; readonly file: string; readonly text: string },
  from: number,
  now: number,
): Promise<SaveResult> {
  const transaction = db.transaction(["heads", "texts"], "readwrite", { durability: "strict" });
  const done = complete(transaction);
  const heads = transaction.objectStore("heads");
  const head = (await answer(heads.get(book.id))) as KeptHead | undefined;
  if ((head?.revision ?? 0) !== from) {
    transaction.abort();
    await done.catch(() => undefined);
    return { saved: false, head };
  }
  const slot = head?.slot === 0 ? 1 : 0;
  const revision = from + 1;
  const text: KeptText = {
    key: `${book.id}/${slot}`,
    revision,
    text: book.text,
    checksum: checksum(book.text),
  };
  transaction.objectStore("texts").put(text);
  const next: KeptHead = { id: book.id, title: book.title, file: book.file, revision, slot, savedAt: now };
  heads.put(next);
  await done;
  return { saved: true, revision };
}

/** Opens a kept book: the newest text that is whole. Undefined when the book is not kept here. */
export async function openBookKept(db: IDBDatabase, id: string): Promise<Opened | undefined> {
  const transaction = db.transaction(["heads", "texts"], "readonly");
  const head = (await answer(transaction.objectStore("heads").get(id))) as KeptHead | undefined;
  if (head === undefined) return undefined;
  const texts = transaction.objectStore("texts");
  const newest = (await answer(texts.get(`${id}/${head.slot}`))) as KeptText | undefined;
  if (newest !== undefined && newest.checksum === checksum(newest.text))
    return { head, text: newest.text, fellBack: false };
  const before = (await answer(texts.get(`${id}/${1 - head.slot}`))) as KeptText | undefined;
  if (before !== undefined && before.checksum === checksum(before.text))
    return { head, text: before.text, fellBack: true };
  return undefined;
}

/** Heads of all kept books, the last saved first. */
export async function keptBooks(db: IDBDatabase): Promise<readonly KeptHead[]> {
  const heads = (await answer(db.transaction("heads").objectStore("heads").getAll())) as KeptHead[];
  return heads.sort((a, b) => b.savedAt - a.savedAt || a.id.localeCompare(b.id));
}

/** Takes a book out of the store. */
export async function forgetBook(db: IDBDatabase, id: string): Promise<void> {
  const transaction = db.transaction(["heads", "texts"], "readwrite");
  const done = complete(transaction);
  transaction.objectStore("heads").delete(id);
  // Its two slots, and the earlier texts that versions of it go back to (bases.ts).
  for (const part of [0, 1, "base"]) transaction.objectStore("texts").delete(`${id}/${part}`);
  await done;
}
