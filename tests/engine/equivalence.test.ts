import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Book, openBook } from "../../src/engine";

/**
 * However a book came to its text, by edits one after the other or freshly opened, its values are the same
 * bit for bit, faults, gaps and remarks included. The model is the text itself, opened anew each time.
 */

const SETS = ["a", "b", "c", "d"];
const COLUMNS = ["x", "y"];
const COMPUTED = ["p", "q"];
const ROWS = 6;

interface Model {
  sets: string[];
  cells: string[][];
  names: string[];
  columns: string[];
  foot: string;
  check: string;
}

const atom = fc.oneof(
  fc.constantFrom(
    "1",
    "2.5",
    "0.1 g",
    "3 g",
    "250 mL",
    "40 %vol",
    "12 %",
    "5 ± 0.2 g",
    "blank",
    "t.foot.x",
    "sum(t.x)",
    "mean(t.y)",
  ),
  fc.constantFrom(...SETS),
  fc.constantFrom("t.r1.x", "t.r3.p", "t.r2.y", "count(t.p)", "smallest(t.x)", "nosuch"),
);
const formula: fc.Arbitrary<string> = fc.oneof(
  atom,
  fc.tuple(atom, fc.constantFrom("+", "-", "*", "/"), atom).map(([l, o, r]) => `${l} ${o} ${r}`),
  fc.tuple(atom, atom).map(([l, r]) => `if ${l} is blank then ${r} else ${l}`),
);
const rowAtom = fc.oneof(
  fc.constantFrom("x", "y", "p", "before.p", "before.q", "x", "y", "1 g", "2", "0.5"),
  fc.constantFrom(...SETS),
);
const rowFormula = fc.oneof(
  rowAtom,
  fc.tuple(rowAtom, fc.constantFrom("+", "-", "*", "/"), rowAtom).map(([l, o, r]) => `${l} ${o} ${r}`),
  fc.tuple(rowAtom, rowAtom).map(([l, r]) => `if ${l} is blank then ${r} else ${l}`),
  fc.tuple(rowAtom, rowAtom, rowAtom).map(([l, m, r]) => `(${l} + ${m}) * 2 - ${r}`),
);
const cell = fc.oneof(
  fc.integer({ min: -50, max: 9999 }).map((n) => String(n / 10)),
  fc.constantFrom("", "3 g", "0.25 kg", "7 ± 0.5", "= a * 2", "= x", "soon", "= t.r2.y", "= before.x + 1 g"),
);

type Edit = (m: Model) => void;
const edit: fc.Arbitrary<{ says: string; apply: Edit }> = fc.oneof(
  fc.tuple(fc.nat(3), formula).map(([i, f]) => ({
    says: `set ${SETS[i]} = ${f}`,
    apply: (m: Model) => {
      m.sets[i] = f;
    },
  })),
  fc.tuple(fc.nat(ROWS - 1), fc.nat(1), cell).map(([r, c, text]) => ({
    says: `cell ${r}.${COLUMNS[c]} := ${text}`,
    apply: (m: Model) => {
      const row = m.cells[r % Math.max(1, m.cells.length)];
      if (row) row[c] = text;
    },
  })),
  fc.tuple(fc.nat(1), rowFormula).map(([c, f]) => ({
    says: `column ${COMPUTED[c]} = ${f}`,
    apply: (m: Model) => {
      m.columns[c] = f;
    },
  })),
  fc.nat(ROWS).map((r) => ({
    says: `remove row ${r}`,
    apply: (m: Model) => {
      m.cells.splice(r, 1);
      m.names.splice(r, 1);
    },
  })),
  fc.tuple(fc.nat(ROWS), cell).map(([r, text]) => ({
    says: `add row at ${r}`,
    apply: (m: Model) => {
      m.cells.splice(r, 0, [text, "1"]);
      m.names.splice(r, 0, `n${m.cells.length}`);
    },
  })),
  fc.tuple(fc.nat(ROWS), fc.constantFrom("r1", "r3", "new", "")).map(([r, name]) => ({
    says: `name row ${r} ${name}`,
    apply: (m: Model) => {
      if (r < m.names.length) m.names[r] = name;
    },
  })),
  formula.map((f) => ({
    says: `check ${f}`,
    apply: (m: Model) => {
      m.check = f;
    },
  })),
  fc.constantFrom("sum(x)", "mean(p)", "largest(x where y > 2)", "sum(q)").map((f) => ({
    says: `foot x = ${f}`,
    apply: (m: Model) => {
      m.foot = f;
    },
  })),
);

function write(m: Model): string {
  const sets = SETS.map((name, i) => `set ${name} = ${m.sets[i]}`);
  const rows = m.cells.map((c, i) => `| ${m.names[i]} | ${c[0]} | ${c[1]} |`);
  return [
    ...sets,
    "",
    "table t",
    "| n | x (g) | y |",
    ...rows,
    ...COMPUTED.map((name, i) => `column ${name} = ${m.columns[i]}`),
    `foot x = ${m.foot}`,
    "",
    `check ${m.check} > 1 g : "enough"`,
    "set best = find a from 1 g to 20 g so that a * 2 is 6 g",
  ].join("\n");
}

const tell = (book: Book): unknown => ({
  answers: book.answers(),
  messages: book.messages,
  checks: book.items.filter((i) => i.type === "check").map((c) => [c.state, c.says, c.notes]),
  tally: book.tally,
});

const start = (): Model => ({
  sets: ["3 g", "a * 2", "2", "b / c"],
  cells: Array.from({ length: 4 }, (_, i) => [String(i + 0.5), String(i)]),
  names: ["r0", "r1", "r2", "r3"],
  columns: ["x * 2", "p + 1 g"],
  foot: "sum(x)",
  check: "a",
});

describe("a book that was edited", () => {
  it("has the values of one freshly opened", () => {
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 12 }), (edits) => {
        const model = start();
        let book = openBook(write(model));
        for (const one of edits) {
          one.apply(model);
          const text = write(model);
          book = book.edit(text);
          expect(tell(book)).toEqual(tell(openBook(text)));
        }
      }),
      {
        numRuns: Number(process.env.INVACUO_RUNS ?? 150),
        seed: Number(process.env.INVACUO_SEED ?? 20261125),
      },
    );
  });
});
