/**
 * Tables on their way into a book: a file that was dropped or opened, or cells from the clipboard. A file may arrive
 * before the book that is to take it is on the page; it waits for it here.
 */
export type Incoming =
  | { readonly is: "asked" }
  | { readonly is: "file"; readonly name: string; readonly bytes: Uint8Array }
  | { readonly is: "pasted"; readonly text: string; readonly html: string };

type Taker = (file: File) => void;

let taker: Taker | undefined;
let waiting: File | undefined;

/** Whether a file holds tables rather than a book, as far as its name tells. */
export const isTableFile = (file: { readonly name: string }): boolean =>
  /\.(xlsx|xlsm|xls|ods|csv|tsv|tab|html?)$/i.test(file.name);

/** Gives a file to the open book; where none is open it waits for the next. True when one took it. */
export function giveTable(file: File): boolean {
  if (taker === undefined) {
    waiting = file;
    return false;
  }
  taker(file);
  return true;
}

/** The open book takes tables as long as it is open: also the one that waits. Gives the way to stop it. */
export function takeTables(take: Taker): () => void {
  taker = take;
  if (waiting !== undefined) take(waiting);
  waiting = undefined;
  return () => {
    if (taker === take) taker = undefined;
  };
}
