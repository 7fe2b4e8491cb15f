import { IDBFactory } from "fake-indexeddb";
import { describe, expect, it } from "vitest";
import {
  checksum,
  forgetBook,
  type KeptText,
  keptBooks,
  openBookKept,
  openKeeping,
  saveBook,
} from "../../src/app/state/keeping";

const book = (text: string) => ({ id: "a", title: "A", file: "a.vacuo", text });

/** Changes a stored text behind the back of the store, as a failing disk would. */
function damage(db: IDBDatabase, key: string): Promise<void> {
  return new Promise((done, fail) => {
    const texts = db.transaction("texts", "readwrite").objectStore("texts");
    const get = texts.get(key);
    get.onsuccess = () => {
      const put = texts.put({ ...(get.result as KeptText), text: "dam" });
      put.onsuccess = () => done();
      put.onerror = () => fail(put.error);
    };
  });
}

describe("keeping books", () => {
  it("gives back the text that was saved last", async () => {
    const db = await openKeeping(new IDBFactory());
    expect(await saveBook(db, book("one"), 0, 1)).toEqual({ saved: true, revision: 1 });
    expect(await saveBook(db, book("two"), 1, 2)).toEqual({ saved: true, revision: 2 });
    expect(await openBookKept(db, "a")).toMatchObject({
      text: "two",
      fellBack: false,
      head: { revision: 2, savedAt: 2 },
    });
    expect((await keptBooks(db)).map((h) => h.title)).toEqual(["A"]);
    expect(await openBookKept(db, "b")).toBeUndefined();
  });

  it("refuses a save that started from an older revision, and changes nothing", async () => {
    const db = await openKeeping(new IDBFactory());
    await saveBook(db, book("mine"), 0, 1);
    await saveBook(db, book("theirs"), 1, 2);
    const late = await saveBook(db, book("late"), 1, 3);
    expect(late).toMatchObject({ saved: false, head: { revision: 2 } });
    expect((await openBookKept(db, "a"))?.text).toBe("theirs");
    expect(await saveBook(db, book("new"), 0, 4)).toMatchObject({ saved: false });
  });

  it("lets only one of two saves at the same moment through", async () => {
    const db = await openKeeping(new IDBFactory());
    await saveBook(db, book("start"), 0, 1);
    const both = await Promise.all([saveBook(db, book("left"), 1, 2), saveBook(db, book("right"), 1, 2)]);
    expect(both.filter((r) => r.saved)).toHaveLength(1);
  });

  it("falls back to the text before when the newest is damaged, and says so", async () => {
    const db = await openKeeping(new IDBFactory());
    await saveBook(db, book("one"), 0, 1);
    await saveBook(db, book("two"), 1, 2);
    const newest = (await openBookKept(db, "a"))!.head.slot;
    await damage(db, `a/${newest}`);
    expect(await openBookKept(db, "a")).toMatchObject({ text: "one", fellBack: true });
    await damage(db, `a/${1 - newest}`);
    expect(await openBookKept(db, "a")).toBeUndefined();
  });

  it("forgets a book with both its texts", async () => {
    const db = await openKeeping(new IDBFactory());
    await saveBook(db, book("one"), 0, 1);
    await forgetBook(db, "a");
    expect(await keptBooks(db)).toEqual([]);
    expect(await saveBook(db, book("again"), 0, 2)).toMatchObject({ saved: true });
  });

  it("notices a changed letter", () => {
    expect(checksum("abc")).not.toBe(checksum("abd"));
    expect(checksum("")).toBe(0x811c9dc5);
  });
});
