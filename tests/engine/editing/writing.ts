import { type Book, openBook } from "../../../src/engine";
import { type Completion, complete, type Field, type Proposal } from "../../../src/engine/editing";

/** A cordial maker's book: enough of every kind of thing to be completed, renamed and told about. */
export const CORDIAL = `language 1
book "Quince and bay cordial"
about "Two infusions and a syrup, brought to one strength under vacuum."

part "The bench"
set pull    = 60 mbar try 20 mbar to 200 mbar   # absolute, read at the flask
set room    = 20 °C
set coolant = -18 °C
set goal    = 24 %vol
set syrup   = 65 °Bx
set honey_water = 18 %
set glycol  = "propylene"
set begun   = 2026-03-02
set got     = blank in mL
set margin  = 35 %

part "What goes in"
table stock "On the shelf"
| item      | volume (mL) | strength  | price (GBP/L) | sort   | on (date)  |
| quince    | 1200        | 38.5 %vol | 9.40          | fruit  | 2026-03-01 |
| bay leaf  | 350         | 61.0 %vol | 21.50         | herb   | 2026-03-02 |
| quince | 80 |           | 4.10          | fruit  |            |
column alcohol = pure_volume(volume, strength)
column cost = volume * price
column running = if before.cost is blank then cost else cost
foot volume = sum(volume)
foot cost = sum(cost)

table runs
| run | mass (g) | at           | note |
| 1   | 410      | 31.5 ± 0.5 °C | calm |
| 2a  | 395      | 32.0 ± 0.5 °C |      |

define kept(x, share) = x * (1 - share)
define warmer(t) = t + 5 K

part "What comes out"
set blend = marry(stock.volume where strength is not blank, stock.strength where strength is not blank)
set thinned = let_down(blend.volume, blend.strength, to: goal)
set per_bottle = stock.foot.cost / 8
set boiling = boils_at(pull, strength: goal)
set best = find x from 20 mbar to 200 mbar so that boils_at(x) is 30 °C
check boiling < 40 °C : "kind to the fruit"
chart "Where it comes from" : bars stock.alcohol by stock.item
chart "Pull" : curve boils_at(p) for p from 20 mbar to 200 mbar mark pull
step "Stir {thinned.add in mL} of water into {blend.volume in mL}." wait 30 min ask got in mL expect 900 mL ± 20 mL
`;

export const cordial: Book = openBook(CORDIAL);

const CARET = "¦";

/** A text in which the caret is written as `¦`. */
export function marked(text: string): { readonly text: string; readonly caret: number } {
  const caret = text.indexOf(CARET);
  if (caret < 0) throw new Error(`no caret in ${text}`);
  return { text: text.slice(0, caret) + text.slice(caret + CARET.length), caret };
}

/**
 * A field in a word or two: `set blend`, `column stock.cost`, `column stock.cost 1` (looked at in row 1), `foot
 * stock.cost`, `cell stock.price 1`, `heading stock`, `define kept`, `trial pull`, `check`, `chart`, `sentence`, `clauses`, `statement`,
 * `formula`, `book`.
 */
export function field(where: string, text: string): Field {
  const [word, path = "", row] = where.split(" ");
  const [table = "", column = ""] = path.split(".");
  switch (word) {
    case "set":
      return { in: "value", name: path, text };
    case "trial":
    case "define":
      return { in: word, name: path, text };
    case "column":
      return { in: "column", table, column, text, ...(row !== undefined && { row: Number(row) }) };
    case "foot":
      return { in: "foot", table, column, text };
    case "cell":
      return { in: "cell", table, column, row: Number(row), text };
    case "heading":
      return { in: "heading", table, text };
    case "statement":
      return { in: "statement", text, ...(path !== "" && { table: path }) };
    case "check":
    case "chart":
    case "sentence":
    case "clauses":
    case "formula":
      return { in: word, text };
    case "book":
      return { in: "book", text };
    default:
      throw new Error(`no field ${where}`);
  }
}

/** A caret at the end of a line put into the cordial's book, behind its last line or behind a given one. */
export function inCordial(line: string, behind?: string): string {
  if (behind === undefined) return `${CORDIAL}${line}`;
  const at = CORDIAL.indexOf(behind);
  if (at < 0) throw new Error(`no line ${behind}`);
  const end = CORDIAL.indexOf("\n", at);
  return `${CORDIAL.slice(0, end)}\n${line}${CORDIAL.slice(end)}`;
}

export function completed(where: string, written: string, book: Book = cordial): Completion {
  const { text, caret } = marked(written);
  if (where !== "book") return complete(book, field(where, text), caret);
  return complete(book.edit(text), { in: "book" }, caret);
}

/** Labels of what fits, in order. */
export function fitting(where: string, written: string, book?: Book): readonly string[] {
  return completed(where, written, book)
    .proposals.filter((p) => p.fits)
    .map((p) => p.label);
}

/** What does not fit, with its reason. */
export function misfits(where: string, written: string, book?: Book): ReadonlyMap<string, string> {
  return new Map(
    completed(where, written, book)
      .proposals.filter((p) => !p.fits)
      .map((p) => [p.label, p.misfit ?? ""] as const),
  );
}

export function proposal(where: string, written: string, label: string, book?: Book): Proposal {
  const found = completed(where, written, book).proposals.find((p) => p.label === label);
  if (found === undefined) {
    const labels = completed(where, written, book).proposals.map((p) => p.label);
    throw new Error(`${label} is not proposed for ${written}, but ${labels.slice(0, 30).join(", ")}`);
  }
  return found;
}

/** The text once a proposal is taken, with the caret as `¦`. */
export function taken(where: string, written: string, label: string, book?: Book): string {
  const { text } = marked(written);
  const { from, to } = completed(where, written, book);
  const { insert, caret } = proposal(where, written, label, book);
  return `${text.slice(0, from)}${insert.slice(0, caret)}${CARET}${insert.slice(caret)}${text.slice(to)}`;
}
