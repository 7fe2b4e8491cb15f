import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { type Answer, openBook, type Shown } from "../../src/engine";
import { cardDocument, cardText } from "../../src/exchange";
import { parseUnit } from "../../src/quantity";
import { expected } from "./expected";

const folder = resolve(import.meta.dirname, "../../workbooks");
const names = readdirSync(folder)
  .filter((file) => file.endsWith(".vacuo"))
  .map((file) => file.replace(/\.vacuo$/, ""));

it("every book has its expected values, and every list of values its book", () => {
  expect(Object.keys(expected).sort()).toEqual([...names].sort());
});

describe.each(names)("%s", (name) => {
  const book = openBook(readFileSync(join(folder, `${name}.vacuo`), "utf8"));
  const answers = new Map<string, Answer>(book.answers().map((answer) => [answer.name, answer]));

  it("has no fault and meets its checks, as far as they are known", () => {
    expect(book.messages.filter((m) => m.severity === "fault").map((m) => `${m.line}: ${m.says}`)).toEqual(
      [],
    );
    expect(book.tally).toMatchObject({ faults: 0, unmet: 0 });
  });

  it("says what it is for", () => {
    expect(book.title).not.toBe("");
    expect(book.items.some((item) => item.type === "about")).toBe(true);
    expect(book.items.filter((item) => item.type === "check").length).toBeGreaterThan(1);
  });

  it("has a card with every step and the cautions", () => {
    const steps = book.items.filter((item) => item.type === "step");
    expect(steps.length).toBeGreaterThan(0);
    const card = cardDocument(book);
    expect(card.sections.flatMap((section) => section.steps)).toHaveLength(steps.length);
    expect(card.warnings).toEqual([]);
    expect(card.cautions).toEqual(expect.arrayContaining([...book.cautions]));
    expect(cardText(card)).toContain("Local codes and licensed practice come first.");
  });

  it("has a clock at every step that tells how long it takes", () => {
    const { kind } = parseUnit("min");
    const isTime = ({ value }: Shown) => value.type === "quantity" && value.unit.kind === kind;
    const without = book.items.flatMap((item) =>
      item.type === "step" &&
      item.wait === undefined &&
      item.pieces.some((piece) => typeof piece !== "string" && isTime(piece))
        ? [item.text]
        : [],
    );
    expect(without).toEqual([]);
  });

  it.each(expected[name] ?? [])("$path is $value $unit: $because", ({ path, value, unit, within }) => {
    const answer = answers.get(path);
    expect(answer, `no value ${path}`).toBeDefined();
    expect(answer!.message).toBeNull();
    if (typeof value === "string") {
      expect(answer!.text).toBe(value);
      return;
    }
    expect(answer!.unit).toBe(unit);
    if (within === 0) expect(answer!.value).toBe(value);
    else
      expect(Math.abs((answer!.value as number) - value), `${path} is ${answer!.value}`).toBeLessThanOrEqual(
        within!,
      );
  });
});
