import { describe, expect, it } from "vitest";
import { highlight } from "../../grammar";
import { openBook } from "../../src/engine";
import { hover } from "../../src/engine/editing";
import { languageWords, wordsCalled } from "../../src/engine/editing/words";
import { vocabulary } from "../../src/vocabulary";

/** All that a book tells, a line each. */
function told(text: string): string[] {
  const book = openBook(text);
  return [
    ...book.answers().map((a) => `${a.name} = ${a.state === "ok" ? a.text : a.state}`),
    ...book.items.flatMap((item) => {
      if (item.type === "check") return [`${item.text}: ${item.state}`];
      if (item.type === "chart")
        return [`${item.title}: ${item.series.reduce((sum, s) => sum + s.points.length, 0)} points`];
      if (item.type !== "step") return [];
      const wait = item.wait === undefined ? "" : ` wait ${item.wait.text}`;
      const asks = item.asks.map((a) => ` ask ${a.path}${a.expect ? ` expect ${a.expect.text}` : ""}`);
      return [item.text, `${item.text}${wait}${asks.join("")}`];
    }),
  ];
}

describe.each(languageWords.map((entry) => [entry.word, entry] as const))("the word %s", (word, entry) => {
  const isFormula = openBook("").ask(entry.example).state === "ok";
  const text = isFormula ? `set x = ${entry.example}` : entry.example;

  it("is explained in a sentence", () => {
    expect(entry.says).toMatch(/^[A-Z][^.]*\.$/u);
  });

  it("has an example that runs and comes to what it says", () => {
    expect(openBook(text).messages).toEqual([]);
    if (!isFormula) expect(told(text)).toContain(entry.gives);
    else {
      const asked = openBook("").ask(entry.example);
      expect(asked.parts?.map((p) => p.text).join(", ") ?? asked.text).toBe(entry.gives);
    }
  });

  it("is told when the pointer rests on it in its example, unless it is no word", () => {
    const inks = highlight(text).filter((i) => i.ink === "word");
    const uses = inks.filter((i) => wordsCalled(text.slice(i.from, i.to)).includes(entry));
    if (!entry.says.startsWith("Is no word") && word !== "before") expect(uses).not.toEqual([]);
    const heads = uses.filter((i) => /(?:^|\n)$/u.test(text.slice(0, i.from)));
    const use = entry.stands === "inside" ? uses.find((i) => !heads.includes(i)) : uses[0];
    if (use === undefined) return;
    const found = hover(openBook(text), { in: "book" }, use.from + 1);
    expect(found).toMatchObject({ from: use.from, to: use.to, title: word });
    expect(found!.lines[0]).toBe(entry.says);
    expect(found!.lines.at(-1)).toBe(`It gives: ${entry.gives}`);
  });
});

describe("the words of the language", () => {
  it("hide no function of the vocabulary", () => {
    for (const { word } of languageWords) expect(vocabulary.has(word), word).toBe(false);
  });

  it("are told in a field by itself", () => {
    const book = openBook("set pull = 60 mbar\nset x = 1");
    const over = (field: Parameters<typeof hover>[1], at: number) => hover(book, field, at)?.title;
    expect(over({ in: "value", name: "x", text: "if pull > 1 mbar then 1 else 2" }, 1)).toBe("if");
    expect(over({ in: "trial", name: "x", text: "1 to 3 step 1" }, 8)).toBe("step");
    expect(over({ in: "clauses", text: "wait 5 min" }, 2)).toBe("wait");
    expect(over({ in: "sentence", text: "Pull {pull in Pa} to it" }, 12)).toBe("in");
    expect(over({ in: "sentence", text: "Pull in the pump" }, 6)).toBeUndefined();
    expect(over({ in: "check", text: "pull within 1 mbar to 2 mbar" }, 7)).toBe("within");
  });
});
