import {
  currencies,
  describeUnit,
  kinds,
  parseUnit,
  type Unit,
  unitExists,
  unitNames,
  unitsOfKind,
  unitTrouble,
} from "../../quantity";
import { type Candidate, matchOf } from "./proposal";
import { type Expected, fitOf, sortInWords } from "./sort";

/** Units that measure what is wanted, the one that is used there first. */
function unitsFor(expected: Expected | undefined): readonly string[] {
  if (expected?.wants.is !== "quantity") return [];
  const { unit, kinds: wanted } = expected.wants;
  const found = new Set<string>(unit && unit.text !== "" ? [unit.text] : []);
  for (const kind of wanted) {
    for (const name of unitsOfKind(kind)) found.add(name);
    if (kind === kinds.difference || kind === kinds.temperature) found.add("K");
    for (const name of inCurrency(kind.id)) if (parseUnit(name).kind === kind) found.add(name);
  }
  return [...found];
}

/** Prices are listed in one currency; those of another are spelt like them. */
function inCurrency(kindId: string): readonly string[] {
  const code = kindId.slice(0, 3);
  if (!currencies.has(code)) return [];
  return unitNames.flatMap((name) => {
    const [first, rest] = [name.slice(0, 3), name.slice(3)];
    return currencies.has(first) && rest.startsWith("/") && unitExists(code + rest) ? [code + rest] : [];
  });
}

let measures: readonly string[] | undefined;

/** Measures that go behind the stroke of a compound: `kg`, `L`, `h`. */
function joining(): readonly string[] {
  measures ??= unitNames.filter(
    (name) => !/[/*·]/.test(name) && !currencies.has(name) && parseUnit(name).kind.dimension.powers.size > 0,
  );
  return measures;
}

const JOINED = /^(.*[/*·])[^/*·]*$/u;

/**
 * Units for a caret behind a number or `in`. `lead` is the blank that goes between a number and its unit where
 * none has been typed yet.
 */
export function unitCandidates(
  typed: string,
  expected: Expected | undefined,
  lead: string,
): readonly Candidate[] {
  const wanted = unitsFor(expected);
  const all = new Set<string>(wanted);
  const head = JOINED.exec(typed)?.[1] ?? "";
  if (expected === undefined || typed !== "") for (const name of unitNames) all.add(name);
  // Behind a `/` any measure may go on that can be part of a compound.
  if (head !== "")
    for (const name of joining())
      if (unitMatch(head + name, typed) !== undefined && unitExists(head + name)) all.add(head + name);
  const candidates: Candidate[] = [];
  for (const name of all) {
    const match = unitMatch(name, typed);
    if (match === undefined) continue;
    const unit = parseUnit(name);
    const fit = fitOf({ is: "quantity", unit }, expected && { ...expected, list: "taken" });
    candidates.push({
      label: name,
      thing: "unit",
      fit: wanted.includes(name) ? { fits: true, rank: 0 } : fit,
      match,
      near: currencies.has(unit.text) && !wanted.includes(name) ? 1 : 0,
      make: () => ({
        insert: lead + name,
        is: sortInWords({ is: "quantity", unit }),
        says: unitInWords(name, unit),
      }),
    });
  }
  return candidates;
}

/** Units match from their beginning; the sign of a degree or per cent may be left out: `vol`, `Bx`. */
function unitMatch(name: string, typed: string): number | undefined {
  const match = matchOf(name, typed);
  if (match === 0 || match === 1) return match;
  const bare = name.replace(/^[%°]/u, "");
  const found = matchOf(bare, typed.replace(/^[%°º˚]\s*/u, ""));
  return found === 0 || found === 1 ? found + 2 : undefined;
}

function unitInWords(name: string, unit: Unit): string {
  return unitTrouble(name) === undefined ? describeUnit(name).replace(/^[^:]*: /u, "") : unit.kind.name;
}

/** What the bracket of a heading can hold. */
export function headingCandidates(typed: string): readonly Candidate[] {
  const words: readonly (readonly [string, string])[] = [
    ["number", "plain numbers, without a unit"],
    ["text", "texts, whatever they look like"],
    ["date", "days, written year-month-day"],
  ];
  const held = words.flatMap(([word, says]): readonly Candidate[] => {
    const match = matchOf(word, typed);
    if (match === undefined || match > 1) return [];
    return [
      {
        label: word,
        thing: "word",
        fit: { fits: true, rank: 0 },
        match,
        near: 0,
        make: () => ({ insert: word, is: "", says }),
      },
    ];
  });
  return [...unitCandidates(typed, undefined, ""), ...held];
}
