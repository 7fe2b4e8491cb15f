import { describe, expect, it } from "vitest";
import type { Statement } from "../../grammar/tree";
import { openBook } from "../../src/engine";
import type { Book, CheckItem, Item, Shown, StepItem } from "../../src/engine/report";
import { cardDocument, cardText, STANDING_CAUTION } from "../../src/exchange/card";
import { cardHtml } from "../../src/exchange/card-page";
import { gap } from "../../src/vocabulary/value";

/** A small report made by hand: the card is a view of a report, so it is tested on one without the engine. */
const statement = { at: 0, length: 0, line: 1, node: { type: "ruler" }, messages: [] } as Statement;
const shown = (text: string, number: string, unit: string): Shown => ({
  path: "x",
  label: "x",
  value: gap(""),
  state: "ok",
  origin: "computed",
  text,
  number,
  unit,
  notes: [],
});
const missing = (message: string, state: "gap" | "fault" = "gap"): Shown => ({
  ...shown("", "", "mL"),
  state,
  message,
});
const step = (number: number, pieces: StepItem["pieces"], more: Partial<StepItem> = {}): StepItem => ({
  type: "step",
  statement,
  number,
  pieces,
  text: "",
  asks: [],
  ...more,
});
const check = (state: CheckItem["state"], text: string, says?: string): CheckItem => ({
  type: "check",
  statement,
  formula: "a > b",
  text,
  state,
  notes: [],
  ...(says === undefined ? {} : { says }),
});
const book = (items: Item[], more: Partial<Book> = {}): Book =>
  ({
    title: "Harbour gin",
    items,
    tally: { faults: 0, gaps: 0, unmet: 0, unknown: 0 },
    cautions: [],
    ...more,
  }) as Book;

const GIN = book(
  [
    { type: "about", statement, text: "Two stocks from the cellar shelf." },
    step(1, ["Marry the distillates, then stir in ", shown("1508 mL", "1508", "mL"), " of water at 20 °C."], {
      wait: shown("40 min", "40", "min"),
      asks: [
        { path: "runs.got", unit: "mL", expect: shown("400 ± 10 mL", "400", "mL") },
        { path: "runs.`first cut`", unit: "%vol" },
      ],
    }),
    { type: "part", statement, text: "The next day" },
    step(2, ["Fill ", missing("needs got"), "."]),
    check("met", "strong enough"),
    check("unmet", "the blend is strong enough to let down", "Below by 2.1 %vol."),
    check("unknown", "", "It needs runs.got."),
  ],
  { cautions: ["Ethanol vapour ignites: ventilate, no flames."] },
);

describe("the bench card", () => {
  it("tells of a column what is weighed of each row, on the page of its own and as text", () => {
    const blend = openBook(`table stock
| item          | volume (mL) | made on (date) |
| juniper       | 2400        | 2026-02-09     |
| <bay> & co    | 200         |                |
| "not yet"     |             | 2026-02-11     |
step "Pour {stock.volume} of {stock.item}, made {stock.\`made on\`}; {[1 g, 2 g]} of salt."
`);
    const [pour] = blend.items.filter((item) => item.type === "step");
    expect(pour!.text).toContain(
      "Pour juniper 2400 mL, <bay> & co 200 mL, not yet not filled in yet of juniper, ",
    );
    const card = cardDocument(blend);
    const [step] = card.sections[0]!.steps;
    expect(step!.pieces[1]).toEqual({
      text: "juniper 2400 mL, <bay> & co 200 mL, not yet ______",
      number: "juniper 2400 mL, <bay> & co 200 mL, not yet ______",
      unit: "",
      state: "ok",
      entries: [
        { name: "juniper", text: "2400 mL" },
        { name: "<bay> & co", text: "200 mL" },
        { name: "not yet", text: "______" },
      ],
    });
    expect(cardText(card).replaceAll(/\s+/g, " ")).toContain(
      "Pour juniper 2400 mL, <bay> & co 200 mL, not yet ______ of juniper, <bay> & co, not yet, made juniper 2026-02-09, <bay> & co ______, not yet 2026-02-11; 1 g, 2 g of salt.",
    );
    expect(cardHtml(card)).toContain(
      "Pour juniper <b>2400 mL</b>, &lt;bay&gt; &amp; co <b>200 mL</b>, not yet <b>______</b> of <b>juniper</b>",
    );
  });

  it("holds the steps by part, with live amounts, timers and blanks for readings", () => {
    const card = cardDocument(GIN);
    expect(card.title).toBe("Harbour gin");
    expect(card.about).toEqual(["Two stocks from the cellar shelf."]);
    expect(card.sections.map((s) => [s.title, s.steps.map((t) => t.number)])).toEqual([
      ["", [1]],
      ["The next day", [2]],
    ]);
    const first = card.sections[0]!.steps[0]!;
    expect(first.pieces[1]).toEqual({ text: "1508 mL", number: "1508", unit: "mL", state: "ok" });
    expect(first.wait?.text).toBe("40 min");
    expect(first.readings).toEqual([
      { label: "got", unit: "mL", expect: "400 ± 10 mL" },
      { label: "first cut", unit: "%vol" },
    ]);
  });

  it("prints a rule and the reason where an amount is not known yet", () => {
    const text = cardText(cardDocument(GIN));
    expect(text).toContain("( ) 2.  Fill ______.\n        (needs got)");
  });

  it("warns of unmet checks and names those that are not known yet", () => {
    const card = cardDocument(GIN);
    expect(card.warnings).toEqual(["Not met: the blend is strong enough to let down. Below by 2.1 %vol."]);
    expect(card.open).toEqual(["Not yet known: a > b. It needs runs.got."]);
  });

  it("says so when an amount on it cannot be worked out", () => {
    const broken = book([step(1, ["Add ", missing("a volume and a mass do not add", "fault")])], {
      tally: { faults: 1, gaps: 0, unmet: 0, unknown: 0 },
    });
    expect(cardDocument(broken).warnings[0]).toMatch(/^One amount on this card cannot be worked out/);
    const elsewhere = book([step(1, ["Stir."])], { tally: { faults: 2, gaps: 0, unmet: 0, unknown: 0 } });
    expect(cardDocument(elsewhere).warnings[0]).toMatch(/2 faults/);
  });

  it("always carries the standing caution, once", () => {
    expect(cardDocument(book([])).cautions).toEqual([STANDING_CAUTION]);
    expect(cardDocument(book([], { cautions: [STANDING_CAUTION] })).cautions).toEqual([STANDING_CAUTION]);
    expect(cardDocument(GIN).cautions).toEqual([
      "Ethanol vapour ignites: ventilate, no flames.",
      STANDING_CAUTION,
    ]);
  });

  it("as text stays inside 78 characters, with its cautions in a box", () => {
    const long = book([step(1, ["Stir ".repeat(60) + "w".repeat(200)])], {
      cautions: ["Glass under vacuum can implode. ".repeat(8)],
    });
    for (const card of [GIN, long]) {
      const lines = cardText(cardDocument(card)).split("\n");
      expect(Math.max(...lines.map((l) => [...l].length))).toBeLessThanOrEqual(78);
      const box = lines.filter((l) => l.startsWith("|") || l.startsWith("+"));
      expect(box.length).toBeGreaterThan(3);
      expect(new Set(box.map((l) => [...l].length))).toEqual(new Set([78]));
    }
    expect(cardText(cardDocument(long)).match(/w/g)).toHaveLength(200);
  });

  it("as a page needs nothing from elsewhere and lets no text become markup", () => {
    const sly = book([step(1, ['<script>alert("x")</script> & more', shown("<b>", "<b>", "<i>")])], {
      title: "</title><img src=x>",
      cautions: ["<u>"],
    });
    const html = cardHtml(cardDocument(sly));
    expect(html).not.toMatch(/<script|<img|<u>|<b><b>|https?:|url\(/);
    expect(html).toContain("&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt; &amp; more");
    expect(html).toContain("color-scheme: only light");
    expect(html.match(/class="ring"/g)).toHaveLength(1);
  });

  it("as a page shows the same amounts, blanks and cautions as the text", () => {
    const html = cardHtml(cardDocument(GIN));
    expect(html).toContain('<b>1508 <span class="unit">mL</span></b>');
    expect(html).toContain("planned 400 ± 10 mL");
    expect(html).toContain("Before you begin");
    expect(html.match(/class="blank"/g)!.length).toBe(3 + 2 + 1);
    expect(html).toContain(STANDING_CAUTION);
  });
});

describe("cautions of a book with several jobs", () => {
  const JOBS = `part "Spirit"
set cut = let_down(2 L, 60 %vol, to: 40 %vol)
step "Stir in {cut.add in mL} of water."
part "Honey"
set thin = infuse_honey(1 kg, 18 %, 200 g, to: 18 %)
table jars "Jars"
| jar | honey (g) |
| a   | 400       |
column water = reduce(honey, 30 °Bx, to: 60 °Bx).taken.mass
step "Take off {thin.taken.mass}."
`;
  const card = (text: string) => cardDocument(openBook(text));
  const about = (text: string, words: RegExp): string | undefined => {
    const { cautions, concerns } = card(text);
    expect(concerns.length).toBe(cautions.length);
    return concerns[cautions.findIndex((c) => words.test(c))];
  };

  it("say which steps they are about, and where none is, which value or table", () => {
    expect(openBook(JOBS).messages.filter((m) => m.severity === "fault")).toEqual([]);
    expect(about(JOBS, /^Ethanol vapour/)).toBe("step 1");
    expect(about(JOBS, /no verdict|safety test|honey/i)).toBe("step 2");
    expect(about(JOBS, /^Local codes/)).toBe("");
    const without = JOBS.replace('step "Take off {thin.taken.mass}."\n', "");
    expect(about(without, /honey/i)).toBe("thin");
  });

  it("are told in the text and on the page of the card", () => {
    expect(cardText(card(JOBS)).replace(/\s*\|\n\|\s*/g, " ")).toMatch(
      /flash point in a warm room\. \(step 1\)/,
    );
    expect(cardHtml(card(JOBS))).toMatch(/flash point in a warm room\. <small>\(step 1\)<\/small>/);
  });

  it("stay as they are where there is one job only", () => {
    const one = 'set cut = let_down(2 L, 60 %vol, to: 40 %vol)\nstep "Stir in {cut.add}."\n';
    expect(card(one).concerns.every((c) => c === "")).toBe(true);
  });
});
