import { describe, expect, it } from "vitest";
import { beginnings, emptyBook, examples } from "../../src/app/state/examples";
import { firstLook, shownAt } from "../../src/app/state/first-look";
import { openBook } from "../../src/engine";

describe("the first look", () => {
  // The account has its numbers in tables.
  const shown = [...examples, ...beginnings].filter((e) => e.file !== "spirit-account.vacuo");
  for (const { title, text: read } of shown)
    it(`finds in ${title} a number to change and one that follows from it`, async () => {
      const text = await read();
      const book = openBook(text);
      const look = firstLook(book)!;
      const typed = shownAt(book, look.change.key)!;
      const follows = shownAt(book, look.follows.key, look.follows.part)!;
      expect([typed.origin, typed.state, follows.state]).toEqual(["typed", "ok", "ok"]);
      expect(follows.path).toBe(look.follows.path);
      // It does follow: another number there is another one here.
      const other = text.replace(
        new RegExp(`^(set ${look.change.name}\\s*=\\s*)(-?[\\d.]+)`, "m"),
        (_, before: string, number: string) =>
          `${before}${number === "0" ? "1" : `${Number(number) * 0.99}`}`,
      );
      expect(other).not.toBe(text);
      expect(shownAt(openBook(other), look.follows.key, look.follows.part)?.text).not.toBe(follows.text);
    });

  it("takes a number with a range to try before others, and a part of a result", () => {
    const book = openBook("set a = 2 g\nset b = a * 2\nset c = 3 g try 1 g to 5 g\nset d = [c, 2 * c]\n");
    expect(firstLook(book)).toEqual({
      change: { key: "value:c", name: "c" },
      follows: { key: "value:d", path: expect.stringMatching(/^d/), part: 0 },
    });
  });

  it("finds nothing where nothing follows from a number of its own", async () => {
    for (const text of [
      await examples.find((e) => e.file === "spirit-account.vacuo")!.text(),
      emptyBook,
      "set a = 1 g\n",
      "set a = blank in g\nset b = a * 2\n",
      "set a = 1 g\nset b = a + 1 L\n",
    ])
      expect(firstLook(openBook(text))).toBeUndefined();
  });
});
