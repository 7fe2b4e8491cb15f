import { describe, expect, it } from "vitest";
import { openBook } from "../../src/engine";

/** What the operators make of dates, of true and false, and of values that do not go together. */

const BOOK = openBook("");
const told = (formula: string): string => {
  const { state, text, message, help, parts } = BOOK.ask(formula);
  if (parts) return parts.map((p) => `${p.name}=${p.text}`).join(" ");
  return state === "ok" ? text : [message, help].filter((s) => s !== undefined).join(" | ");
};
const BLANK = "`blank` stands for what is not filled in yet";
const ZERO = "1 is divided by 0. | Nothing can be divided by 0; check that value.";
const DATE = "A date takes only `date - date`, `date + days` and `date - days`.";
const PARTS =
  "A result with parts has no value of its own. Its parts are volume, strength, mass, pure_volume, contraction. | Say which one, for example with `.volume` behind it.";
const truth = (says: string) => `${says} | Write a comparison, such as \`x > 2 L\` or \`x is 3\`.`;

describe("a date", () => {
  it.each([
    ["2026-02-24 - 2026-02-03", "21 d"],
    ["2026-02-03 - 2026-02-24", "-21 d"],
    ["2026-02-28 + 1 d", "2026-03-01"],
    ["2024-02-28 + 1 d", "2024-02-29"],
    ["1 d + 2026-12-31", "2027-01-01"],
    ["2026-03-01 - 1 d", "2026-02-28"],
    ["2026-01-01 + 48 h", "2026-01-03"],
    ["2026-01-01 + 36 h", "A date moves by whole days only. | Use `whole` or `round_to(…, 1 d)` first."],
    ["2026-01-01 + 1 h", "A date moves by whole days only. | Use `whole` or `round_to(…, 1 d)` first."],
    ["2026-01-01 + 0.3 d * 10", "2026-01-04"],
    ["2026-01-01 + (1 d / 3) * 3", "2026-01-02"],
    ["2026-01-01 - 24 h", "2025-12-31"],
    ["2026-01-01 + 1", "Only days can be added to a date, not a plain number. | Write for example `+ 30 d`."],
    ["2026-01-01 + 1 g", "Only days can be added to a date, not a mass. | Write for example `+ 30 d`."],
    ["2026-01-01 * 2", DATE],
    ["2026-01-01 + 2026-01-02", DATE],
    ["1 d - 2026-01-01", DATE],
    ["2026-01-01 / 1 d", DATE],
    ["9999-12-31 + 1 d", "This day lies outside the years 0001 to 9999."],
    ["0001-01-01 - 1 d", "This day lies outside the years 0001 to 9999."],
    ["0001-01-01 + 1 d", "0001-01-02"],
    ["0099-12-31 + 1 d", "0100-01-01"],
    ["2026-01-01 < 2026-01-02", "true"],
    ["2026-01-01 is 2026-01-01", "true"],
    ["2026-01-01 > 2026-01-02", "false"],
    ["2026-01-01 is not 2026-01-02", "true"],
    ["2026-01-01 < 3", "The date 2026-01-01 and a plain number cannot be compared."],
    ['2026-01-01 is "a"', "The date 2026-01-01 and the text “a” cannot be compared."],
    ["2026-01-05 within 2026-01-01 to 2026-01-05", "true"],
    ["2026-01-05 within 2026-01-06 to 2026-01-09", "false"],
    ["-2026-01-01", "A minus works on numbers; here it meets the date 2026-01-01."],
    ["2026-01-01 in d", "`in d` works on a number with a unit; here it meets the date 2026-01-01."],
    ["2026-01-01 ± 1 d", "± stands between two numbers; here it meets the date 2026-01-01."],
  ])("%s: %s", (formula, is) => expect(told(formula)).toBe(is));
});

describe("what is true, false, or not known", () => {
  it.each([
    ['"a" is not "b"', "true"],
    ["true is true", "true"],
    ["true is false", "false"],
    ["true < false", "True and false cannot be compared."],
    ["true is not false", "true"],
    ["true is 1", "True and a plain number cannot be compared."],
    ["not 3", truth("`not` wants true or false and meets a plain number.")],
    ["1 and true", truth("`and` wants true or false and meets a plain number.")],
    ["true and 1", truth("`and` wants true or false and meets a plain number.")],
    ["false and 1", "false"],
    ["true or 1", "true"],
    ["false or 1", truth("`or` wants true or false and meets a plain number.")],
    ["false or blank", BLANK],
    ["blank or false", BLANK],
    ["blank or true", "true"],
    ["blank and false", "false"],
    ["blank and true", BLANK],
    ["(1/0) and false", ZERO],
    ["true and (1/0)", ZERO],
    ["false and (1/0)", "false"],
    ["true or (1/0)", "true"],
    ["blank and (1/0)", ZERO],
    ["not blank", BLANK],
    ["not (1/0)", ZERO],
    ['not "a"', truth("`not` wants true or false and meets the text “a”.")],
    ["-true", "A minus works on numbers; here it meets true."],
    ["true * 2", "`*` works on numbers; here it meets true."],
    ["2 ^ true", "`^` works on numbers; here it meets true."],
    ["true in g", "`in g` works on a number with a unit; here it meets true."],
    ["blank in g", BLANK],
    ["1 ± true", "± stands between two numbers; here it meets true."],
    ["blank ± 1", BLANK],
    ["1 ± blank", BLANK],
    ["marry([1 L],[40 %vol]) is blank", "false"],
    ["[1, blank] is blank", "1=false 2=true"],
    ["1 is blank", "false"],
    ["blank is blank", "true"],
    ["blank is not blank", "false"],
    ["1 < blank", BLANK],
    ["(1/0) < blank", ZERO],
    ["if blank then 1 else 2", BLANK],
    [
      "if true then 1 else 2 g",
      "A plain number and a mass (g) cannot both be the outcome of one `if`. | Give the number its unit: `* 1 g`.",
    ],
    ["if true then 1 g else 2 kg", "1 g"],
    [
      'if false then 1 else "a"',
      "One `if` comes to one kind of thing; here are the text “a” and a plain number. | Use `blank` where there is nothing to say.",
    ],
    ["if true then [1, 2] else 3", "1=1 2=2"],
  ])("%s: %s", (formula, is) => expect(told(formula)).toBe(is));
});

describe("values of other kinds", () => {
  it.each([
    ['"a" < "b"', "Text has no order; only `is` and `is not` work on it."],
    ['"A  b" is "a b "', "true"],
    ['-"a"', "A minus works on numbers; here it meets the text “a”."],
    ['"a" + 1', "`+` works on numbers; here it meets the text “a”."],
    ['1 + "a"', "`+` works on numbers; here it meets the text “a”."],
    ['"a" in g', "`in g` works on a number with a unit; here it meets the text “a”."],
    ['"a" ± 1', "± stands between two numbers; here it meets the text “a”."],
    ["marry([1 L],[40 %vol]) + 1", PARTS],
    ["1 + marry([1 L],[40 %vol])", PARTS],
    ["-marry([1 L],[40 %vol])", PARTS],
    ["marry([1 L],[40 %vol]) in L", PARTS],
    ["marry([1 L],[40 %vol]) ± 1", PARTS],
    ["marry([1 L],[40 %vol]) is 1", PARTS],
    ["1 is marry([1 L],[40 %vol])", PARTS],
    [
      "0.84 / 2 >= 37.5 %vol",
      "0.42 (a plain number) and 37.5 %vol (a strength by volume) cannot be compared. | Give the number its unit: `42 %vol`.",
    ],
    [
      "42 >= 37.5 %vol",
      "42 (a plain number) and 37.5 %vol (a strength by volume) cannot be compared. | Give the number its unit: `42 %vol`.",
    ],
    ["1 < 2 g", "1 (a plain number) and 2 g (a mass) cannot be compared. | Give the number its unit: `1 g`."],
    [
      "1 g < 2 L",
      "1 g (a mass) and 2 L (a volume) cannot be compared. | `mass_of` and `volume_of` turn one into the other.",
    ],
    ["1 g is 1000 mg", "true"],
    ["0.1 + 0.2 is 0.3", "true"],
    ["1 / 3 * 3 is 1", "true"],
    ["if 1 then 2 else 3", truth("`if` wants true or false and meets a plain number.")],
    ["if (1/0) then 1 else 2", ZERO],
    ["(if 1.0 ± 0.1 > 1.05 then 3 else 4)", "4"],
  ])("%s: %s", (formula, is) => expect(told(formula)).toBe(is));
});
