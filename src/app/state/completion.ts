import { writeName, writePart } from "../../../grammar";
import type { Book, Shown, TableItem } from "../../engine";
import { describeUnit, type Kind, unitNames, unitsOfKind } from "../../quantity";
import { type Declaration, type Parameter, type Value, vocabulary } from "../../vocabulary";
import { kindsOf, signatureOf } from "./glossary";
import { placedItems, tableAt } from "./items";
import { litPath } from "./lit";
import type { Draft } from "./notebook";
import { slotAt } from "./slots";
import { type Spot, spotAt } from "./spot";

/** One thing that can stand at the caret. */
export interface Offer {
  /** What is written, and over what. */
  readonly insert: string;
  readonly from: number;
  readonly to: number;
  /** The part before the caret that is already there stands in bold. */
  readonly label: string;
  readonly mark?: "typed" | "computed" | "found";
  /** Its value now, or what a function answers. */
  readonly shown?: Shown | undefined;
  readonly says?: string;
  /** Why it would not fit here; undefined when it fits. */
  readonly misfit?: string;
  /** Writes an opening bracket too, and leaves the caret behind it. */
  readonly opens?: boolean;
}

/** What may stand at the caret, and help on the call around it. */
export interface Completion {
  readonly offers: readonly Offer[];
  readonly hint?: Hint;
}
/** The signature of the call around the caret, the parameter at hand apart. */
export interface Hint {
  readonly before: string;
  readonly now: string;
  readonly after: string;
  readonly says: string;
}

const MOST = 12;
const none: Completion = { offers: [] };

/** What may stand at the caret of a draft. Choices that fit the kind that is wanted come first. */
export function completionFor(book: Book, draft: Draft): Completion {
  const slot = slotAt(book, draft.place);
  if (slot === undefined) return none;
  const { text, caret } = draft;
  const spot = spotAt(text, caret, slot.language);
  if (spot === undefined) return none;
  if (spot.expects.includes("unit")) return { offers: unitOffers(book, draft, spot) };
  if (!spot.expects.some((e) => e === "value" || e === "part" || e === "label")) return none;
  const hint = hintOf(spot);
  const wanted = wantedKinds(book, draft, spot);
  const inPart = spot.expects.includes("part");
  // At the very start of a formula nothing is offered: most of what is typed there is a number.
  const idle = spot.prefix === "" && hint === undefined && spot.before === "";
  const all = inPart ? partOffers(book, draft, spot) : idle ? [] : nameOffers(book, draft, spot);
  const offers = all
    .map((o) => (o.shown === undefined ? o : { ...o, ...misfitOf(o.shown.value, wanted) }))
    .sort((a, b) => Number(a.misfit !== undefined) - Number(b.misfit !== undefined));
  const only = offers.length === 1 && offers[0]!.insert === text.slice(spot.from, spot.to);
  return { offers: only ? [] : offers.slice(0, MOST), ...(hint === undefined ? {} : { hint }) };
}

// ---- units --------------------------------------------------------------------------------------

function unitOffers(book: Book, draft: Draft, spot: Spot): readonly Offer[] {
  const typed = draft.text.slice(spot.from, draft.caret);
  const wanted = wantedKinds(book, draft, spot)?.kinds ?? [];
  const fitting = new Set(wanted.flatMap((kind) => unitsOfKind(kind)));
  const starts = (name: string) => name.toLowerCase().startsWith(typed.toLowerCase());
  const names = typed === "" ? [...fitting] : [...new Set([...fitting, ...unitNames])].filter(starts);
  if (typed !== "" && names.length === 1 && names[0] === typed) return [];
  const space = /\d$/.test(draft.text.slice(0, spot.from)) ? " " : "";
  return names
    .filter((name) => name !== "")
    .sort(
      (a, b) => Number(fitting.has(b)) - Number(fitting.has(a)) || a.length - b.length || (a < b ? -1 : 1),
    )
    .slice(0, MOST)
    .map((name) => ({
      insert: space + name,
      from: spot.from,
      to: spot.to,
      label: name,
      says: describeUnit(name),
      ...(fitting.size > 0 && !fitting.has(name)
        ? { misfit: wanted.length > 0 ? `not ${wanted[0]!.name}` : "" }
        : {}),
    }));
}

// ---- names --------------------------------------------------------------------------------------

function nameOffers(book: Book, draft: Draft, spot: Spot): Offer[] {
  const offers: Offer[] = [];
  const add = (name: string, rest: Partial<Offer>) => {
    if (!begins(name, spot.prefix)) return;
    offers.push({
      insert: writeName(name, inCell(draft)),
      from: spot.from,
      to: spot.to,
      label: name,
      ...rest,
    });
  };
  const home = homeTable(book, draft);
  if (home !== undefined) {
    const row =
      draft.place.in === "cell" && draft.place.row >= 0 && draft.place.row < home.rowCount
        ? draft.place.row
        : 0;
    home.columns.forEach((column, c) => {
      if (c === 0) return;
      add(column.name, {
        mark: column.typed ? "typed" : "computed",
        ...(home.rowCount > 0 ? { shown: home.cell(row, c) } : {}),
      });
    });
    for (const word of ["before", "foot"])
      if (spot.prefix !== "")
        add(word, { says: word === "before" ? "the row before" : "the foot of this table" });
  }
  const call = spot.call === undefined ? undefined : vocabulary.get(spot.call.name);
  if (call !== undefined && spot.call!.label === undefined) {
    for (const p of call.parameters)
      if (isLabelOnly(call, p) && !spot.call!.labels.includes(p.name) && begins(p.name, spot.prefix))
        offers.push({
          insert: `${p.name}: `,
          from: spot.from,
          to: spot.to,
          label: `${p.name}:`,
          says: p.says,
        });
  }
  for (const { item } of placedItems(book)) {
    if (item.type === "value") add(item.name, { mark: item.shown.origin, shown: item.shown });
    else if (item.type === "table") add(item.name, { mark: "typed", says: item.title || "a table" });
    else if (item.type === "define")
      add(item.name, { label: `${item.name}(${item.parameters.join(", ")})`, mark: "computed", opens: true });
  }
  if (spot.prefix !== "")
    for (const d of vocabulary.values())
      if (begins(d.name, spot.prefix) || speaks(d, spot.prefix)) offers.push(functionOffer(d, spot));
  return ordered(offers, spot.prefix);
}

const functionOffer = (d: Declaration, spot: Spot): Offer => ({
  insert: d.name,
  from: spot.from,
  to: spot.to,
  label: signatureOf(d),
  says: d.says,
  opens: true,
});

const isLabelOnly = (d: Declaration, p: Parameter): boolean =>
  p.optional === true || (d.labelsOnly?.includes(p.name) ?? false);

const begins = (name: string, word: string): boolean => name.toLowerCase().startsWith(word.toLowerCase());
/** A word inside a name counts too, from three letters on: "water" finds water_in. */
const speaks = (d: Declaration, word: string): boolean =>
  word.length >= 3 && d.name.toLowerCase().includes(word.toLowerCase());

/** Names that begin with the word come before those that only hold it; otherwise the order of the book stays. */
const ordered = (offers: Offer[], word: string): Offer[] =>
  offers.sort((a, b) => Number(!begins(a.label, word)) - Number(!begins(b.label, word)));

const inCell = (draft: Draft): boolean => draft.place.in === "cell";

function homeTable(book: Book, draft: Draft): TableItem | undefined {
  return draft.place.in === "cell" ? tableAt(book, draft.place.key) : undefined;
}

// ---- parts --------------------------------------------------------------------------------------

function partOffers(book: Book, draft: Draft, spot: Spot): Offer[] {
  const [first, second] = spot.path;
  const offers: Offer[] = [];
  const add = (name: string, rest: Partial<Offer>) => {
    if (begins(name, spot.prefix))
      offers.push({
        insert: writePart(name, inCell(draft)),
        from: spot.from,
        to: spot.to,
        label: name,
        ...rest,
      });
  };
  const home = homeTable(book, draft);
  if (home !== undefined && (first === "before" || first === "foot") && spot.path.length === 1) {
    for (const column of home.columns.slice(1))
      add(column.name, { mark: column.typed ? "typed" : "computed" });
    return offers;
  }
  const table = placedItems(book).find((p) => p.item.type === "table" && p.item.name === first)?.item;
  if (table?.type === "table") {
    if (spot.path.length === 1) {
      table.columns.forEach((column) => {
        add(column.name, {
          mark: column.typed ? "typed" : "computed",
          says: `the column, ${table.rowCount} entries`,
        });
      });
      if (table.feet.size > 0) add("foot", { says: "what stands under the columns" });
      for (let row = 0; row < Math.min(table.rowCount, 200); row++)
        if (table.rowName(row) !== "") add(table.rowName(row), { says: "a row" });
    } else if (spot.path.length === 2) {
      table.columns.forEach((column, c) => {
        const at = litPath(book, [first!, second!, column.name], undefined);
        if (c > 0 || second === "foot")
          add(column.name, { mark: column.typed ? "typed" : "computed", shown: at?.shown });
      });
    }
    return offers;
  }
  const value = book.value(spot.path.map((p, i) => (i === 0 ? writeName(p) : writePart(p))).join("."));
  if (value?.type === "record") {
    const owner = placedItems(book).find((p) => p.item.type === "value" && p.item.name === first)?.item;
    for (const [name] of value.parts) {
      const path = [...spot.path, name].join(".");
      const shown =
        owner?.type === "value" ? owner.parts.find((p) => p.path.replaceAll("`", "") === path) : undefined;
      add(name, { mark: "computed", shown });
    }
  } else if (value?.type === "list") {
    value.entries.slice(0, MOST).forEach((_, i) => {
      add(String(i + 1), { says: `entry ${i + 1}` });
    });
  }
  return offers;
}

// ---- kinds --------------------------------------------------------------------------------------

interface Wanted {
  readonly kinds: readonly Kind[];
  readonly words: string;
}

/** The kinds that would fit at the caret, when that can be told. */
function wantedKinds(book: Book, draft: Draft, spot: Spot): Wanted | undefined {
  if (spot.call !== undefined) {
    const parameter = parameterAt(spot);
    if (parameter === undefined || typeof parameter.takes === "string") return undefined;
    return { kinds: parameter.takes.map((t) => t.kind), words: kindsOf(parameter) };
  }
  if (spot.before !== "" && !["+", "-", "=", "±"].includes(spot.before)) return undefined;
  const kind = kindOfPlace(book, draft);
  return kind === undefined ? undefined : { kinds: [kind], words: kind.name };
}

/** The kind that stands in the place already, or in its column. */
function kindOfPlace(book: Book, draft: Draft): Kind | undefined {
  const { place } = draft;
  if (place.in === "item") {
    const item = placedItems(book).find((p) => p.key === place.key)?.item;
    return item?.type === "value" && item.shown.value.type === "quantity"
      ? item.shown.value.unit.kind
      : undefined;
  }
  const table = tableAt(book, place.key);
  const column = table?.columns[place.column];
  if (column?.unitOf !== undefined && column.unit !== "") return column.unitOf.kind;
  return undefined;
}

/** The parameter that the argument at the caret is for. */
function parameterAt(spot: Spot): Parameter | undefined {
  const d = vocabulary.get(spot.call!.name);
  if (d === undefined) return undefined;
  const { label, places } = spot.call!;
  if (label !== undefined) return d.parameters.find((p) => p.name === label);
  return d.parameters.filter((p) => !isLabelOnly(d, p))[places];
}

/** Why a value would not fit, or nothing. Plain ratios fit wherever a water content or an activity is wanted. */
function misfitOf(value: Value, wanted: Wanted | undefined): { readonly misfit?: string } {
  if (wanted === undefined) return {};
  const inside = value.type === "list" ? value.entries.find((e) => e.type === "quantity") : value;
  if (inside === undefined || inside.type === "gap" || inside.type === "fault" || inside.type === "record")
    return {};
  if (inside.type !== "quantity") return { misfit: `not ${wanted.words}` };
  const { kind } = inside.unit;
  const ratio = kind.id === "plain" && wanted.kinds.some((k) => k.id === "moisture" || k.id === "activity");
  return ratio || wanted.kinds.some((k) => k.id === kind.id)
    ? {}
    : { misfit: `${kind.name}, not ${wanted.words}` };
}

// ---- the call around the caret ------------------------------------------------------------------

function hintOf(spot: Spot): Hint | undefined {
  if (spot.call === undefined) return undefined;
  const d = vocabulary.get(spot.call.name);
  if (d === undefined) return undefined;
  const now = parameterAt(spot);
  const words = d.parameters.map((p) => (isLabelOnly(d, p) ? `${p.name}:` : p.name));
  const at = now === undefined ? -1 : d.parameters.indexOf(now);
  const list = (from: number, to: number) => words.slice(from, to).join(", ");
  const kinds = now === undefined ? "" : kindsOf(now);
  return {
    before: `${d.name}(${at > 0 ? `${list(0, at)}, ` : ""}`,
    now: at < 0 ? "" : words[at]!,
    after: `${at < 0 ? list(0, words.length) : at + 1 < words.length ? `, ${list(at + 1, words.length)}` : ""})`,
    says: now === undefined ? d.says : `${now.says}${kinds === "" ? "" : ` (${kinds})`}`,
  };
}

/** The draft with an offer taken: the text and where the caret goes. */
export function taken(draft: Draft, offer: Offer): { readonly text: string; readonly caret: number } {
  const behind = draft.text.slice(offer.to);
  const bracket = offer.opens && !behind.startsWith("(") ? "(" : "";
  const text = draft.text.slice(0, offer.from) + offer.insert + bracket + behind;
  const skip = offer.opens && bracket === "" ? 1 : 0;
  return { text, caret: offer.from + offer.insert.length + bracket.length + skip };
}
