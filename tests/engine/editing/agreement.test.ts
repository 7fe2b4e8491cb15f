import { describe, expect, it } from "vitest";
import { foretell, type Proposal } from "../../../src/engine/editing";
import { vocabulary } from "../../../src/vocabulary";
import { labelOnly } from "../../../src/vocabulary/glossary";
import { completed, cordial, field, marked } from "./writing";

/**
 * What is said to fit must not meet a fault of kinds when it is worked out, and what is said not to fit must meet
 * one. The proposals tell it from the shape of the formula; the engine, asked here, works it out.
 */

const KINDS = new Set([
  "kinds-differ",
  "argument-kind",
  "temperatures-add",
  "list-kinds",
  "record-as-value",
  "wrong-sort",
  "no-parts",
  "truth-wanted",
  "dates",
]);

/** The outcome of a formula in which a proposal was taken: "fine", "gap", or the code of its fault. */
function outcome(
  where: string,
  written: string,
  { insert, caret, stops }: Proposal,
  from: number,
  to: number,
): string {
  const { text } = marked(written);
  expect(stops[0]).toBe(caret);
  const formula = closed(`${text.slice(0, from)}${insert}${text.slice(to)}`);
  const told = foretell(cordial, field(where, formula), formula);
  const value = told!.shown.value;
  return value.type === "fault" ? value.code : value.type === "gap" ? "gap" : "fine";
}

/** Closes the brackets that are open. */
function closed(formula: string): string {
  let open = "";
  for (const c of formula) {
    if (c === "(") open = `)${open}`;
    else if (c === "[") open = `]${open}`;
    else if (c === ")" || c === "]") open = open.slice(1);
  }
  return formula + open;
}

const NAMES = new Set(["name", "table", "column", "row", "cell", "foot", "part", "parameter", "text"]);

function compare(where: string, written: string): { compared: number; wrong: string[] } {
  const { proposals, from, to } = completed(where, written);
  const wrong: string[] = [];
  let compared = 0;
  for (const proposal of proposals) {
    if (!NAMES.has(proposal.thing) || proposal.is === "" || proposal.misfit?.startsWith("builds on"))
      continue;
    const code = outcome(where, written, proposal, from, to);
    // A gap or a fault of its own hides what the engine would say about kinds.
    const value = proposal.shown?.value;
    if (value?.type === "gap" || value?.type === "fault") continue;
    compared++;
    if (proposal.fits && KINDS.has(code)) wrong.push(`${proposal.label} fits, but: ${code}`);
    if (!proposal.fits && proposal.misfit?.startsWith("not ") && code === "fine")
      wrong.push(`${proposal.label} is ${proposal.misfit}, but works`);
    if (
      ["name-unknown", "part-unknown", "column-unknown", "function-unknown", "unread"].includes(code) &&
      value !== undefined
    )
      wrong.push(`${proposal.label} is written ${proposal.insert}, but: ${code}`);
  }
  return { compared, wrong };
}

describe("the engine agrees with what is proposed", () => {
  it.each([
    ["set x", "pull + ¦"],
    ["set x", "room + ¦"],
    ["set x", "room - ¦"],
    ["set x", "goal + ¦"],
    ["set x", "honey_water + ¦"],
    ["set x", "blend.volume < ¦"],
    ["set x", "glycol is ¦"],
    ["set x", "begun < ¦"],
    ["set x", "syrup within 3 °Bx to ¦"],
    ["set x", "[pull, ¦"],
    ["set x", "if 1 > 2 then pull else 3 mbar + ¦"],
    ["set x", "per_bottle + ¦"],
    ["set x", "stock.foot.cost - ¦"],
    ["set x", "3 mbar to ¦"],
    ["set x", "pull + blend.¦"],
    ["set x", "blend.volume + stock.foot.¦"],
    ["set x", "blend.volume + stock.`bay leaf`.¦"],
    ["set x", "stock.price where volume > ¦"],
    ["set x", "stock.price where strength < ¦"],
    ["column stock.cost 1", "volume + ¦"],
    ["column stock.cost 1", "pure_volume(¦, 40 %vol)"],
    ["column stock.cost 1", "pure_volume(1 L, ¦"],
    ["column stock.cost 1", "if sort is ¦ then 1 else 2"],
    ["column stock.cost 1", "price + before.¦"],
    ["foot stock.price", "sum(volume) + ¦"],
    ["foot stock.price", "sum(¦"],
    ["cell stock.price 1", "= ¦"],
    ["cell stock.volume 1", "= ¦"],
    ["check", "boiling < ¦"],
    ["check", "pull within ¦ to 90 mbar"],
  ])("%s: %s", (where, written) => {
    const { compared, wrong } = compare(where, written);
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(1);
  });

  it("for every function of the vocabulary with one place", () => {
    let compared = 0;
    const wrong: string[] = [];
    for (const declaration of vocabulary.values()) {
      const required = declaration.parameters.filter((p) => p.optional !== true);
      if (required.length !== 1 || labelOnly(declaration, required[0]!) || required[0]!.takes === "any")
        continue;
      const found = compare("set x", `${declaration.name}(¦`);
      compared += found.compared;
      wrong.push(...found.wrong.map((w) => `${declaration.name}: ${w}`));
    }
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(100);
  });

  it("every function is called as its snippet is written, and its labels are known", () => {
    for (const declaration of vocabulary.values()) {
      const proposal = completed("set x", `${declaration.name}¦`).proposals.find(
        (p) => p.label === declaration.name,
      )!;
      const code = outcome(
        "set x",
        `${declaration.name}¦`,
        { ...proposal, insert: proposal.insert.replace(/: (?=[,)])/g, ": 1") },
        0,
        declaration.name.length,
      );
      expect(
        ["function-unknown", "label-unknown", "unread", "argument-twice"],
        `${declaration.name}: ${code}`,
      ).not.toContain(code);
    }
  });
});
