import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";
import { CONFLICT_MARK, mergeTexts } from "../../src/exchange/merge";
import { examples } from "./examples";

const BASE = `book "Two stocks"          # a trial
# Measured on the bench.
set bottling = 42 %vol     # the label
set bottle   = 500 mL

table stock "Stock"
| item    | volume (mL) | strength  |
| juniper | 2400        | 61.2 %vol |
| lemon   |  350        | 49.5 %vol |
| bay     |  200        | 71.0 %vol |
column spirit = pure_volume(volume, strength)
foot spirit = sum(spirit)

step "Marry them."
step "Stir in water."
`;
const change = (text: string, from: string, to: string): string => {
  expect(text).toContain(from);
  return text.replace(from, to);
};
const clean = (mine: string, theirs: string, base = BASE): string => {
  const merged = mergeTexts(base, mine, theirs);
  expect(merged.conflicts).toEqual([]);
  expect(mergeTexts(base, theirs, mine).text).toBe(merged.text);
  return merged.text;
};

describe("merging two versions of a book", () => {
  it("takes what only one of them changed, and keeps every other byte", () => {
    const mine = change(BASE, "42 %vol", "43 %vol");
    const theirs = change(BASE, "bottle   = 500 mL", "bottle   = 700 mL");
    expect(clean(mine, theirs)).toBe(change(mine, "bottle   = 500 mL", "bottle   = 700 mL"));
  });

  it("brings changes of neighbouring lines together", () => {
    const mine = change(BASE, "| lemon   |  350 ", "| lemon   |  360 ");
    const theirs = change(BASE, "| bay     |  200 ", "| bay     |  210 ");
    expect(clean(mine, theirs)).toBe(change(mine, "| bay     |  200 ", "| bay     |  210 "));
  });

  it("brings changes of two cells of one row together", () => {
    const mine = change(BASE, "| lemon   |  350 ", "| lemon   |  360 ");
    const theirs = change(BASE, "49.5 %vol", "50.1 %vol");
    expect(clean(mine, theirs)).toBe(change(mine, "49.5 %vol", "50.1 %vol"));
  });

  it("brings a formula of one and a comment of the other together", () => {
    const mine = change(BASE, "42 %vol", "43 %vol");
    const theirs = change(BASE, "# the label", "# what the label says");
    expect(clean(mine, theirs)).toBe(change(mine, "# the label", "# what the label says"));
  });

  it("keeps rows that both added, and takes out what one took out", () => {
    const mine = change(BASE, "| bay     |", "| angelica | 550 | 66.4 %vol |\n| bay     |");
    const theirs = change(BASE, "| bay     |", "| orris | 120 | 70.0 %vol |\n| bay     |");
    const both = clean(mine, theirs);
    expect(both).toContain("| angelica | 550 | 66.4 %vol |");
    expect(both).toContain("| orris | 120 | 70.0 %vol |");
    const gone = change(BASE, "| lemon   |  350        | 49.5 %vol |\n", "");
    expect(clean(gone, mine)).not.toContain("lemon");
  });

  it("follows a statement that one moved and the other changed", () => {
    const line = "set bottle   = 500 mL\n";
    const moved = `${change(BASE, line, "")}${line}`;
    const changed = change(BASE, "500 mL", "700 mL");
    expect(clean(moved, changed)).toBe(change(moved, "500 mL", "700 mL"));
  });

  it("shows both versions where both changed one thing, and the book says so until one is chosen", () => {
    const mine = change(BASE, "42 %vol", "43 %vol");
    const theirs = change(BASE, "42 %vol", "40 %vol");
    const merged = mergeTexts(BASE, mine, theirs);
    expect(merged.conflicts).toEqual([
      {
        name: "`bottling`",
        base: "set bottling = 42 %vol     # the label",
        mine: "set bottling = 43 %vol     # the label",
        theirs: "set bottling = 40 %vol     # the label",
        line: 3,
      },
    ]);
    expect(merged.text.split("\n").slice(2, 5)).toEqual([
      `${CONFLICT_MARK} \`bottling\` differs in the two versions; keep one of the two and take this line out`,
      "set bottling = 40 %vol     # the label",
      "set bottling = 43 %vol     # the label",
    ]);
    expect(mergeTexts(BASE, theirs, mine).text).toBe(merged.text);
    expect(openBook(merged.text).messages.some((m) => m.severity === "fault")).toBe(true);
  });

  it("keeps a changed thing that the other took out, with a word on it", () => {
    const mine = change(BASE, "set bottle   = 500 mL\n", "");
    const theirs = change(BASE, "500 mL", "700 mL");
    const merged = mergeTexts(BASE, mine, theirs);
    expect(merged.text).toContain("set bottle   = 700 mL");
    expect(merged.conflicts[0]).toMatchObject({ name: "`bottle`", mine: undefined });
    expect(merged.text).toContain("was taken out in one version and changed in the other");
  });

  it("shows both where both wrote a value of one name", () => {
    const mine = `${BASE}set room = 20 °C\n`;
    const theirs = `${BASE}set room = 18 °C\n`;
    const merged = mergeTexts(BASE, mine, theirs);
    expect(merged.conflicts.map((c) => c.name)).toEqual(["`room`"]);
    expect(merged.text).toContain("20 °C");
    expect(merged.text).toContain("18 °C");
  });

  it("shows both where both changed one step", () => {
    const merged = mergeTexts(
      BASE,
      change(BASE, "Stir in water.", "Stir in cold water."),
      change(BASE, "Stir in water.", "Stir in soft water."),
    );
    expect(merged.conflicts).toHaveLength(1);
    expect(merged.text).toContain("cold water");
    expect(merged.text).toContain("soft water");
  });

  it("keeps the line ends of each line and a missing one at the end", () => {
    const windows = BASE.replaceAll("\n", "\r\n");
    expect(clean(change(windows, "42 %vol", "43 %vol"), change(windows, "500 mL", "700 mL"), windows)).toBe(
      change(change(windows, "42 %vol", "43 %vol"), "500 mL", "700 mL"),
    );
    const open = BASE.trimEnd();
    expect(clean(`${open}\nset a = 1`, change(open, "500 mL", "700 mL"), open)).toBe(
      `${change(open, "500 mL", "700 mL")}\nset a = 1`,
    );
  });

  it("merges what cannot be read as lines, and never throws", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: "binary", maxLength: 120 }),
        fc.string({ unit: "binary", maxLength: 120 }),
        fc.string({ unit: "binary", maxLength: 120 }),
        (b, m, t) => {
          mergeTexts(b, m, t);
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });
});

// ---- laws, on books of random statements ---------------------------------------------------------------------

interface Piece {
  readonly id: number;
  readonly text: string;
}
const lineFor = (id: number, version: number): string => {
  switch (id % 5) {
    case 0:
      return `set v${id} = ${version} mL   # value ${id}`;
    case 1:
      return `# remark ${id} ${version}`;
    case 2:
      return `step "do ${id} ${version} times"`;
    case 3:
      return `set w${id} = v0 * ${version}`;
    default:
      return `check ${version} < ${id + 100} : "check ${id}"`;
  }
};
const bookOf = (pieces: readonly Piece[]): string => pieces.map((p) => `${p.text}\n`).join("");
const basePieces = fc
  .integer({ min: 1, max: 14 })
  .map((n) => Array.from({ length: n }, (_, id): Piece => ({ id, text: lineFor(id, 1) })));
/** An edit touches each piece in one of three ways, or puts a new one before it. */
const editOf = fc.array(
  fc.record({
    at: fc.nat(),
    kind: fc.constantFrom("change", "remove", "insert"),
    version: fc.integer({ min: 2, max: 9 }),
  }),
  { maxLength: 6 },
);
type Edits = { at: number; kind: string; version: number }[];

function edited(
  pieces: readonly Piece[],
  edits: Edits,
  newId: number,
  only?: (index: number) => boolean,
): Piece[] {
  let next = newId;
  const out = pieces.map((p): Piece[] => [p]);
  for (const { at, kind, version } of edits) {
    const i = at % pieces.length;
    if (only !== undefined && !only(i)) continue;
    const own = out[i]!.findIndex((p) => p.id === pieces[i]!.id);
    if (kind === "insert") out[i]!.unshift({ id: next, text: lineFor(next++, version) });
    else if (own >= 0 && kind === "remove") out[i]!.splice(own, 1);
    else if (own >= 0) out[i]![own] = { id: pieces[i]!.id, text: lineFor(pieces[i]!.id, version) };
  }
  return out.flat();
}

describe("the laws of merging", () => {
  const three = fc.tuple(basePieces, editOf, editOf);
  const settings = { seed: 23, numRuns: 600 };

  it("with itself, and with the version it came from, a version stays as it is", () => {
    fc.assert(
      fc.property(three, ([base, edits]) => {
        const [b, m] = [bookOf(base), bookOf(edited(base, edits, 100))];
        expect(mergeTexts(b, m, m)).toEqual({ text: m, conflicts: [] });
        expect(mergeTexts(b, m, b)).toEqual({ text: m, conflicts: [] });
        expect(mergeTexts(b, b, m)).toEqual({ text: m, conflicts: [] });
      }),
      settings,
    );
    for (const text of examples.values()) expect(mergeTexts(text, text, text).text).toBe(text);
  });

  it("a line more at the end of each file goes through the whole machinery unchanged", () => {
    // Without the short cuts: each side has a change of its own, elsewhere.
    fc.assert(
      fc.property(three, ([base, edits]) => {
        const m = edited(base, edits, 100);
        const [b, mine, theirs] = [bookOf(base), bookOf(m), `# theirs\n${bookOf(base)}`];
        const merged = mergeTexts(b, mine, theirs);
        expect(merged.conflicts).toEqual([]);
        expect(merged.text.replace("# theirs\n", "")).toBe(mine);
      }),
      settings,
    );
  });

  it("the order of the two versions does not matter", () => {
    fc.assert(
      fc.property(three, ([base, first, second]) => {
        const b = bookOf(base);
        const m = bookOf(edited(base, first, 100));
        const t = bookOf(edited(base, second, 200));
        const [one, other] = [mergeTexts(b, m, t), mergeTexts(b, t, m)];
        expect(other.text).toBe(one.text);
        expect(other.conflicts.map((c) => ({ ...c, mine: c.theirs, theirs: c.mine }))).toEqual(one.conflicts);
      }),
      settings,
    );
  });

  it("edits of different statements always merge, and both are in the result", () => {
    fc.assert(
      fc.property(three, ([base, first, second]) => {
        const even = edited(base, first, 100, (i) => i % 2 === 0);
        const odd = edited(base, second, 200, (i) => i % 2 === 1);
        const merged = mergeTexts(bookOf(base), bookOf(even), bookOf(odd));
        expect(merged.conflicts).toEqual([]);
        const lines = new Set(merged.text.split("\n"));
        const was = new Set(base.map((p) => p.text));
        for (const piece of [...even, ...odd])
          if (!was.has(piece.text)) expect(lines.has(piece.text)).toBe(true);
        for (const piece of base) {
          const left = even.some((p) => p.text === piece.text) && odd.some((p) => p.text === piece.text);
          expect(lines.has(piece.text)).toBe(left);
        }
      }),
      settings,
    );
  });

  it("nothing that either wrote is lost", () => {
    fc.assert(
      fc.property(three, ([base, first, second]) => {
        const m = edited(base, first, 100);
        const t = edited(base, second, 200);
        const merged = mergeTexts(bookOf(base), bookOf(m), bookOf(t));
        const lines = merged.text.split("\n");
        const was = new Set(base.map((p) => p.text));
        for (const piece of [...m, ...t]) {
          if (was.has(piece.text)) continue;
          // A comment and a formula of one line may have come together into one.
          const code = piece.text.split("   #")[0]!;
          expect(
            lines.some((l) => l.includes(code)),
            piece.text,
          ).toBe(true);
        }
      }),
      settings,
    );
  });
});
