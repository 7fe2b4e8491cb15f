import { describe, expect, it } from "vitest";
import { vocabulary } from "../../src/vocabulary";
import { comparisons } from "./accuracy";
import { leftOut, withoutPoint } from "./left-out";
import solutions from "./points/solutions.json";
import tables from "./points/spirit-tables.json";
import { statisticsEntries } from "./statistics-model";

// Every number that was gathered is either answered by a function or stands in a list with the reason why not.
const files = import.meta.glob<{ readonly default: unknown }>("./points/*.json", { eager: true });
const answered = new Set(comparisons.map((c) => c.point));

/** Every entry of every file, with the name under which it may stand in the list of what is left out. */
function entries(): { readonly point: string; readonly kind: string }[] {
  return Object.entries(files).flatMap(([path, { default: content }]) => {
    const file = path.slice(path.lastIndexOf("/") + 1);
    if (file === "statistics.json") return statisticsEntries.map((point) => ({ point, kind: point }));
    if (file === "spirit-tables.json") {
      const rows = tables.by_volume.length + tables.by_weight.length;
      return Array.from({ length: rows }, (_, i) => ({ point: `${file} ${i}`, kind: `${file} row` }));
    }
    if (file === "solutions.json") return [];
    return (content as readonly { readonly quantity?: string; readonly formula?: string }[]).map(
      (row, i) => ({
        point: `${file} ${i}`,
        kind: `${file} ${row.quantity ?? row.formula ?? "row"}`,
      }),
    );
  });
}

describe("every published point", () => {
  it("is answered, or stands in the list with a reason", () => {
    const all = entries();
    expect(all.length).toBeGreaterThan(700);
    expect(all.filter((e) => !answered.has(e.point) && !leftOut.has(e.kind))).toEqual([]);
  });
  it("is not in both, and no reason is left over", () => {
    const all = entries();
    expect(all.filter((e) => answered.has(e.point) && leftOut.has(e.kind))).toEqual([]);
    const kinds = new Set(all.map((e) => e.kind));
    for (const kind of leftOut.keys()) if (!kind.startsWith("solutions.json ")) expect(kinds).toContain(kind);
  });
  it("is known to the lists: no comparison names an entry that is not there", () => {
    const there = new Set(entries().map((e) => e.point));
    solutions.rows.forEach((_, i) => {
      there.add(`solutions.json ${i}`);
    });
    expect(comparisons.filter((c) => !there.has(c.point)).map((c) => c.point)).toEqual([]);
  });

  // A row of the handbook's table holds up to three numbers.
  it("of the handbook's table is answered number by number, or its solute and column are in the list", () => {
    const told = new Map<string, Set<string>>();
    for (const c of comparisons) {
      if (!c.point.startsWith("solutions.json ")) continue;
      const column =
        c.unit === "°C" ? "freezing" : c.unit === "kg/m3" ? "density" : c.unit === "nD" ? "index" : "";
      if (column !== "") told.set(c.point, (told.get(c.point) ?? new Set<string>()).add(column));
    }
    const missed = solutions.rows.flatMap((row, i) => {
      const has = told.get(`solutions.json ${i}`) ?? new Set<string>();
      const lacks = [
        row.density_g_mL !== null && !has.has("density") ? "density" : "",
        row.nD !== null && !has.has("index") ? "index" : "",
        row.depression_K !== null && !has.has("freezing") ? "freezing" : "",
      ].filter((column) => column !== "");
      return lacks.map((column) => ({ solute: row.solute, percent: row.mass_pct, column }));
    });
    const excused = ({ solute, percent, column }: (typeof missed)[number]): boolean => {
      if (column !== "freezing" && leftOut.has(`solutions.json ${solute} density and index`)) return true;
      if (solute === "ethanol" && column === "index") return percent > 40;
      if (solute === "mannitol") return leftOut.has("solutions.json mannitol freezing");
      return column === "freezing" && percent > FREEZING_TO[solute]!;
    };
    expect(missed.filter((m) => !excused(m))).toEqual([]);
  });
});

/** Where `ice_point` stops, or what its glucose and fructose were judged to: mass % of each solute. */
const FREEZING_TO: Readonly<Record<string, number>> = {
  sucrose: 42,
  glucose: 30,
  fructose: 28,
  maltose: 44,
  lactose: 8,
  glycerol: 40,
  ethanol: 30,
  salt: 23,
};

describe("every function", () => {
  it("has a published point or a reason why not, and not both", () => {
    const pointed = new Set(comparisons.map((c) => c.of));
    const names = [...vocabulary.keys()];
    expect(names.filter((name) => !pointed.has(name) && !withoutPoint.has(name))).toEqual([]);
    expect([...withoutPoint.keys()].filter((name) => pointed.has(name) || !vocabulary.has(name))).toEqual([]);
    for (const reason of [...withoutPoint.values(), ...leftOut.values()]) expect(reason).toMatch(/\w{3}/u);
  });
});
