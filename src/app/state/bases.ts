import { checksum, openKeeping } from "./keeping";

/**
 * Earlier texts of a book that another version may go back to: as it was opened, as it was sent. With one of them two
 * versions are brought together three ways. They are kept in the same store as the book, and go with it.
 */
export interface Base {
  readonly text: string;
  /** How it came to be one. */
  readonly how: "opened" | "sent" | "merged";
  /** Milliseconds since 1970. */
  readonly at: number;
}
interface KeptBases {
  /** `id/base`. */
  readonly key: string;
  readonly bases: readonly (Base & { readonly checksum: number })[];
}

/** The first and the last of them are kept; what lies between the oldest is let go. */
const MOST = 12;

export const basesKey = (id: string): string => `${id}/base`;

const request = <T>(of: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    of.onsuccess = () => resolve(of.result);
    of.onerror = () => reject(of.error);
  });

/** Remembers a text of a book, unless it is the last one that was remembered. */
export async function rememberBase(
  factory: IDBFactory,
  id: string,
  text: string,
  how: Base["how"],
  at: number,
): Promise<void> {
  const db = await openKeeping(factory);
  try {
    const transaction = db.transaction("texts", "readwrite");
    const done = new Promise<void>((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(transaction.error);
    });
    const texts = transaction.objectStore("texts");
    const before = ((await request(texts.get(basesKey(id)))) as KeptBases | undefined)?.bases ?? [];
    if (before.at(-1)?.text !== text) {
      const all = [...before, { text, how, at, checksum: checksum(text) }];
      const bases = all.length > MOST ? [all[0]!, ...all.slice(all.length - MOST + 1)] : all;
      texts.put({ key: basesKey(id), bases } satisfies KeptBases);
    }
    await done;
  } finally {
    db.close();
  }
}

/** The texts that were remembered of a book, the oldest first; a damaged one is left out. */
export async function basesOf(factory: IDBFactory, id: string): Promise<readonly Base[]> {
  const db = await openKeeping(factory);
  try {
    const texts = db.transaction("texts").objectStore("texts");
    const found = (await request(texts.get(basesKey(id)))) as KeptBases | undefined;
    return (found?.bases ?? []).filter((base) => base.checksum === checksum(base.text));
  } finally {
    db.close();
  }
}

/** Remembers the text of the open book as it is opened or goes out. Where the browser keeps nothing, the page says so already. */
export function noteBase(
  open: { readonly id: string; readonly book: { readonly text: string } },
  how: Base["how"],
): void {
  rememberBase(indexedDB, open.id, open.book.text, how, Date.now()).catch(() => undefined);
}
