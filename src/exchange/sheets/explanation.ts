import "../../engine/questions-here";
import { childrenOf, type Formula, type Statement } from "../../../grammar";
import type { Book } from "../../engine";
import "../../vocabulary/prose-here";
import { functionsIn } from "../called-functions";
import { call, type Expression, minus, number, operation, text } from "../expression";
import type { Fate, Live } from "../live";
import { FailedCell } from "../recalculation";
import { EMPTY, type SheetCell, words } from "../sheet";
import { NotLive } from "../translation/term";
import type { Translator } from "../translation/translator";

/** A formula of the book with the cells that it makes: a column counts once. */
export interface Explained {
  readonly path: string;
  readonly formula: string;
  readonly node: Formula | undefined;
  /** A value made by it, to ask why. */
  readonly example: string;
  readonly fates: readonly Fate[];
}

/** Column of the sheet in which a kept value says whether it still holds. */
export const HOLDS_COLUMN = 4;
const HEADINGS = [
  "value",
  "formula in the book",
  "goes out as",
  "why it does not recalculate",
  "still holds?",
  "made from",
  "equation",
  "source",
  "range and trust",
  "cautions",
];

/**
 * The sheet that explains every value that goes out without a formula, and every physics function that goes out
 * with one: formula, inputs, equation, source, how far to trust it, and why it does not recalculate.
 */
export function explanationRows(book: Book, all: readonly Explained[], live: Live): SheetCell[][] {
  const rows: SheetCell[][] = [HEADINGS.map((w) => words(w, "heading"))];
  for (const entry of all) {
    const kept = entry.fates.filter((f) => !f.live);
    const functions = functionsIn(entry.node === undefined ? [] : [entry.node], book);
    const physics = functions.filter((f) => "compute" in f);
    if (kept.length === 0 && physics.length === 0) continue;
    const reasons = [...new Set(kept.map((f) => f.reason ?? ""))];
    const error = Math.max(0, ...entry.fates.filter((f) => f.live).map((f) => f.error));
    const goes =
      kept.length === 0
        ? error === 0
          ? "a live formula"
          : `a live formula, within ${error.toExponential(0)} of the book, relative`
        : kept.length === entry.fates.length
          ? "a value"
          : `a value in ${kept.length} of ${entry.fates.length} cells, the others live`;
    const cautions = [...new Set(functions.flatMap((f) => f.cautions ?? []))];
    rows.push([
      words(entry.path),
      words(entry.formula, "formula"),
      words(goes),
      reasons.length === 0 ? EMPTY : words(sentence(reasons.join("; ")), "remark"),
      kept.length === 0 || entry.node === undefined ? EMPTY : holds(entry, live),
      words(usesOf(book, entry.example), "remark"),
      words(functions.map((f) => `${f.name}: ${f.equation}`).join("\n"), "remark"),
      words([...new Set(functions.map((f) => f.source))].join("\n"), "remark"),
      words(
        [...new Set(functions.map((f) => [f.range, f.trust].filter((w) => w).join("; ")))].join("\n"),
        "remark",
      ),
      words(cautions.join("\n"), "remark"),
    ]);
  }
  return rows;
}

const sentence = (s: string): string => (s === "" ? s : s[0]!.toUpperCase() + s.slice(1) + ".");

/** The inputs of a value as they were, with their units. */
function usesOf(book: Book, path: string): string {
  const why = book.why(path);
  if (why === undefined) return "";
  const shown = why.uses.map((u) => `${u.path} = ${u.state === "ok" ? u.text : (u.message ?? "not known")}`);
  return shown.slice(0, 20).join("\n") + (shown.length > 20 ? `\nand ${shown.length - 20} more` : "");
}

/**
 * Whether what a kept value was made from is still as it was. A change of any cell that it reads is noticed, so
 * that a value which cannot follow does not pass for one that did.
 */
function holds(entry: Explained, live: Live): SheetCell {
  const conditions = unchanged(entry.node!, live);
  if (conditions.length === 0) return words("it reads no cell");
  const e = call(
    "IF",
    conditions.length === 1 ? conditions[0]! : call("AND", ...conditions),
    text(HOLDS),
    text(CHANGED),
  );
  const now = live.translator.working.evaluate(e);
  return now === HOLDS ? { value: HOLDS, role: "computed", formula: e } : words(HOLDS, "kept");
}
export const HOLDS = "yes";
export const CHANGED = "no: what it was made from has changed";

function unchanged(node: Formula, live: Live): Expression[] {
  const out: Expression[] = [];
  const translator: Translator = live.translator;
  const walk = (f: Formula): void => {
    if (f.type === "name" || f.type === "part") {
      const term = live.attempt(() => translator.translate(f, {}, "explanation"));
      if (!(term instanceof NotLive)) {
        if (term.type === "list" && term.block !== undefined) {
          out.push(...same(call("SUMPRODUCT", term.block, call("ROW", term.block)), live));
          return;
        }
        if ("expression" in term && term.expression.type === "cell") {
          out.push(...same(term.expression, live));
          return;
        }
      }
    }
    for (const child of childrenOf(f)) walk(child);
  };
  walk(node);
  return out.slice(0, 24);
}

function same(e: Expression, live: Live): Expression[] {
  const { now, stray } = live.standing(e);
  if (now instanceof FailedCell || now === null) return [operation("=", e, text(""))];
  if (typeof now === "number") {
    return [
      operation(
        "<=",
        call("ABS", minus(e, number(now))),
        number(Number(Math.max(1e-9 * Math.max(1e-9, Math.abs(now)), 2 * stray).toPrecision(3))),
      ),
    ];
  }
  return typeof now === "string" ? [operation("=", e, text(now))] : [];
}

export type { Statement };
