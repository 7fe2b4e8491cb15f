import { describe, expect, it } from "vitest";
import { CORDIAL, completed, inCordial, marked } from "./writing";

/** What has been typed at a caret, what a proposal would replace, and the first three that are proposed. */
function at(where: string, written: string): string {
  const { from, to, typed, proposals } = completed(where, written);
  const replaced = marked(written).text.slice(from, to);
  const first = proposals.slice(0, 3).map((p) => (p.fits ? p.label : `(${p.label})`));
  return [typed, replaced, first.join(" ")].join(" / ");
}
const check = (where: string) => (written: string, wanted: string) => expect(at(where, written)).toBe(wanted);

describe("in a formula", () => {
  it.each([
    // A word that is begun is replaced to its end; in front of a word nothing has been typed of it.
    ["pu¦ll + 1 mbar", "pu / pull / pull blend.pure_volume pure_volume"],
    ["pull + pu¦", "pu / pu / pull (pure_volume) (pure_mass)"],
    ["pull + ¦pull", " / pull / pull best pressure_for"],
    ["true¦", "true / true / true"],
    ["nobody(¦", " /  / pull room coolant"],
    // Behind a dot a part.
    ["blend.str¦ength", "str / strength / strength"],
    ["blend.strength¦", "strength / strength / strength"],
    ["blend.¦strength", " / strength / volume strength mass"],
    ["(blend).str¦", "str / str / strength"],
    ["stock.ba¦", "ba / ba / bay leaf"],
    ["stock.`ba¦y leaf`.price", "ba / `bay leaf` / bay leaf"],
    ["pull.¦", " /  / "],
    // Backticks are replaced with what stands between them, when they are closed.
    ["`pu¦", "pu / `pu / pull blend.pure_volume"],
    ["`pu¦ll` + 3", "pu / `pull` / pull blend.pure_volume"],
    ["`pu¦ll + 3", "pu / `pu / pull blend.pure_volume"],
    ["`pu¦ll + 3`", "pu / `pu / pull blend.pure_volume"],
    // A text with its quotes, when they are closed and nothing that parts formulas stands between.
    ['glycol is "¦', ' / " / '],
    ['stock.price where sort is "he¦', 'he / "he / "herb"'],
    ['stock.price where sort is "he¦rb"', 'he / "herb" / "herb"'],
    ['stock.price where sort is "he¦rb, 3"', 'he / "he / "herb"'],
    ['stock.price where sort is "he¦rb) * 3"', 'he / "he / "herb"'],
    ['"pu¦ll"', 'pu / "pull" / '],
    ['glycol "pu¦', 'pu / "pu / '],
    // Comments and dates.
    ["pull # p¦", " /  / "],
    ["pull + # p¦", " /  / "],
    ["2026-03-0¦", " /  / pull room coolant"],
    // A sign of its own is no operand.
    ["pull /¦", " /  / pull room coolant"],
    ["3 / ¦", " /  / pull room coolant"],
    [")¦", " /  / pull room coolant"],
    ["pull) + ¦", " /  / pull room coolant"],
    // A character of two units is not cut in two.
    ["𝒳¦", "𝒳 / 𝒳 / "],
    ["a𝒳¦b", "a𝒳 / a𝒳b / "],
    // A label is replaced without its colon.
    ["boils_at(pull, stre¦ngth: 3 %vol)", "stre / strength / strength:"],
    ["boils_at(pull, ¦strength: 3 %vol)", " / strength / strength: solids: activity:"],
  ])("%s: %s", check("set x"));
});

describe("in a sentence", () => {
  it.each([
    // Only what stands in braces is a formula.
    ["pu¦", " /  / "],
    ["{pu¦", "pu / pu / pull blend.pure_volume pure_volume"],
    ["{pull} pu¦", " /  / "],
    ["{pull} {pu¦ll} now", "pu / pull / pull blend.pure_volume pure_volume"],
    ['{glycol is "pro¦', 'pro / "pro / '],
  ])("%s: %s", check("sentence"));
});

describe("behind a number", () => {
  it.each([
    ["3¦", " /  / g kg mg"],
    ["3 ¦", " /  / g kg mg"],
    ["3 m¦bar", "m / mbar / mg mL m"],
    ["3 mb¦", "mb / mb / mbar mbar/min"],
    ["3 mbar¦", "mbar / mbar / mbar mbar/min"],
    ["3 GBP/¦", "GBP/ / GBP/ / GBP/L GBP/kg GBP/kWh"],
    ["3 GBP/k¦g", "GBP/k / GBP/kg / GBP/kg GBP/kWh GBP/kPa"],
    ["3 GBP / k¦g", "k / kg / kept know_still"],
    ["3 kJ/kg/¦", "kJ/kg/ / kJ/kg/ / kJ/kg/K kJ/kg/g kJ/kg/kg"],
    ["3 kJ*¦", "kJ* / kJ* / kJ*g kJ*kg kJ*mg"],
    ["3 °¦", "° / ° / °Bx °C °F"],
    ["3 %v¦ol", "%v / %vol / %vol VED VES"],
    ["pull in ¦", " /  / mbar Pa hPa"],
    ["pull in P¦a", "P / Pa / Pa (PAB) (PEN)"],
    ["pull in °¦", "° / ° / mbar Pa hPa"],
  ])("%s: %s", check("set x"));
});

describe("in a table", () => {
  it.each([
    // Only the bracket of a heading holds something to propose.
    ["heading stock", "net ¦", " /  / "],
    ["heading stock", "net (¦", " /  / g kg mg"],
    ["heading stock", "(¦", " /  / g kg mg"],
    ["heading stock", "net (k¦g)", "k / kg / kg kPa kW"],
    ["heading stock", "net ( k¦g )", "k / kg / kg kPa kW"],
    ["heading stock", "net (te¦", "te / te / text"],
    ["heading stock", "net (a) (m¦", "m / m / mg mL m"],
    ["heading stock", "net (kg) ¦", " /  / "],
    ["heading stock", "net (GBP/¦L)", "GBP/ / GBP/L / GBP/L GBP/kg GBP/kWh"],
    // A cell that begins with a number goes on with a unit, any other with a text of its column.
    ["cell stock.volume 0", "12¦", " /  / mL cL L"],
    ["cell stock.volume 0", "-3 ¦", " /  / mL cL L"],
    ["cell stock.volume 0", "+3 c¦", "c / c / cL (cm) (CAD)"],
    ["cell stock.volume 0", "−3 m¦L", "m / mL / mL m3 (mg)"],
    ["cell stock.volume 0", "12 ± 3 ¦", " /  / mL cL L"],
    ["cell stock.volume 0", "  12 m¦", "m / m / mL m3 (mg)"],
    ["cell stock.volume 0", "12 mL ¦", " /  / "],
    ["cell stock.volume 0", "12 mL + ¦", " /  / "],
    ["cell stock.sort 0", "h¦", "h / h / herb"],
    ["cell stock.sort 0", "  h¦", "h / h / herb"],
    ["cell stock.sort 0", "h¦ound  ", "h / hound / herb"],
    ["cell stock.sort 0", "¦  h", " /  / fruit herb"],
    ["cell stock.sort 0", "= it¦", "it / it / item spirit_density strength_from_density"],
    ["cell stock.sort 0", "  = it¦", "it / it / item spirit_density strength_from_density"],
    ["cell stock.sort 0", '= sort is "f¦', 'f / "f / "fruit"'],
  ])("%s: %s: %s", (where, written, wanted) => check(where)(written, wanted));
  it.each([
    ["| sloe ¦", "| quince | 80", " /  / "],
    ["| sloe | 20 | | | fr¦ | |", "| quince | 80", "fr / fr / fruit"],
    ["| sloe | 20 | | | fr¦uity | |", "| quince | 80", "fr / fruity / fruit fruity"],
    ["| sloe | = vo¦ | | | | |", "| quince | 80", "vo / vo / volume_at_20 volume_of pure_volume"],
    ["| sloe | 20 c¦ | | | | |", "| quince | 80", "c / c / cL (cm) (CAD)"],
    ["| sloe | 20 | | | | | ¦", "| quince | 80", " /  / "],
    ["¦| sloe | 20 | | | | |", "| quince | 80", " /  / column foot set"],
  ])("in the text of the book: %s", (line, behind, wanted) => check("book")(inCordial(line, behind), wanted));
  it.each([
    ["| it¦em ", " /  / "],
    ["(m¦L) | strength", "m / mL / mg mL m"],
    ["(mL)¦ | strength", " /  / "],
    ["(¦mL) | strength", " / mL / g kg mg"],
  ])("in the heading row: %s", (words, wanted) =>
    check("book")(CORDIAL.replace(words.replace("¦", ""), words), wanted),
  );
});

describe("in a statement", () => {
  it.each([
    // A first word is still being chosen; behind it stands what the statement is about.
    ["s¦", "s / s / set step"],
    ["se¦t x", "se / set / set"],
    ["set¦", "set / set / set"],
    ["foo¦ bar", "foo / foo / foot"],
    ["foo ¦", " /  / "],
    ["set x¦", "x / x / "],
    ["set x ¦", " /  / "],
    ["set x =¦ 3", " /  / pull room coolant"],
    ["set x = ¦", " /  / pull room coolant"],
    ["  set q = pu¦", "pu / pu / pull blend.pure_volume pure_volume"],
    ["¦  set q", " /  / "],
    ["column co¦st = 3", "co / cost / "],
    ["column q = vo¦", "vo / vo / volume stock.foot.volume blend.volume"],
    ["foot str¦", "str / str / strength"],
    ["foot q = vo¦", "vo / vo / volume stock.volume stock.foot.volume"],
    ["define f¦", "f / f / "],
    ["define f(a¦", "a / a / "],
    ["define f(aa, b) = a¦", "a / a / aa stock.alcohol runs.at"],
    ["define f(aa, b) = ¦", " /  / aa b pull"],
    ["check¦", "check / check / check"],
    ["check ¦", " /  / pull room coolant"],
    ['check "¦', ' / " / '],
    // Behind its colon a check is told in plain words.
    ["check pull is 3 mbar : ¦", " /  / "],
    ["check pull is 3 mbar : pu¦", " /  / "],
    ['check pull is 3 mbar : "pu¦', " /  / "],
    ["check round_to(pull, step: ¦", " /  / pull room coolant"],
    ["seen pu¦", "pu / pu / pull blend.pure_volume"],
    ["seen stock.vol¦", "vol / vol / volume"],
    ["table x¦", "x / x / "],
    ['part "¦', " /  / "],
    ["language ¦", " /  / "],
    ["book ¦", " /  / "],
    ["step ¦", " /  / "],
    ['step "a¦', " /  / "],
    ['step "{pu¦', "pu / pu / pull blend.pure_volume pure_volume"],
    ['step "{pu¦ll}"', "pu / pull / pull blend.pure_volume pure_volume"],
    ['step "a"¦', " /  / wait ask"],
    ['step "a" wa¦it 3 min', "wa / wait / wait"],
    ['chart "a"¦', " /  / "],
    ['chart "a" ¦', " /  / "],
    ['chart "a" : ¦', " /  / bars line dots"],
    ['chart "a" : li¦', "li / li / line"],
  ])("%s: %s", check("statement stock"));
  it.each([
    // A line goes on where the one before ends with an operator or a word that wants more.
    ["set q = pull +\n  ¦", " /  / pull best pressure_for"],
    ["set q = pull > 3 mbar and\n  ¦", " /  / pull room coolant"],
    ["set q = (\n  ¦", " /  / pull room coolant"],
    ["set q = pull\n  ¦", " /  / set table check"],
    ["set q = pulland\n  ¦", " /  / set table check"],
    ["set q = pull +\n\n¦", " /  / set table check"],
    ["set q = pull +\n\n  pu¦", "pu / pu / "],
    ["set q = pull  ¦", " /  / try in is"],
    ["set q = pull # a  ¦", " /  / "],
  ])("over lines: %j", (written, wanted) => check("book")(inCordial(written), wanted));
});
