import { describe, expect, it } from "vitest";
import {
  asDifference,
  currencies,
  currencySign,
  describeUnit,
  kelvinPoint,
  kinds,
  parseUnit,
  plainUnit,
  siUnit,
  unitExists,
  unitNames,
  unitsOfKind,
  unitTrouble,
  withKind,
} from "../../src/quantity";
import { told, troubleOf } from "./writing";

describe("a unit", () => {
  it.each([
    ["g", "a mass", 0.001],
    ["kg", "a mass", 1],
    ["mg", "a mass", 1e-6],
    ["oz", "a mass", 0.028349523125],
    ["lb", "a mass", 0.45359237],
    ["mL", "a volume", 1e-6],
    ["cL", "a volume", 1e-5],
    ["L", "a volume", 1e-3],
    ["hL", "a volume", 0.1],
    ["m3", "a volume", 1],
    ["us_floz", "a volume", 29.5735295625e-6],
    ["uk_floz", "a volume", 28.4130625e-6],
    ["us_gal", "a volume", 3.785411784e-3],
    ["uk_gal", "a volume", 4.54609e-3],
    ["m", "a length", 1],
    ["cm", "a length", 0.01],
    ["mm", "a length", 0.001],
    ["K", "a temperature difference", 1],
    ["Pa", "a pressure", 1],
    ["hPa", "a pressure", 100],
    ["kPa", "a pressure", 1000],
    ["mbar", "a pressure", 100],
    ["bar", "a pressure", 1e5],
    ["mmHg", "a pressure", 133.322387415],
    ["torr", "a pressure", 101325 / 760],
    ["atm", "a pressure", 101325],
    ["s", "a time", 1],
    ["min", "a time", 60],
    ["h", "a time", 3600],
    ["d", "a time", 86400],
    ["W", "a power", 1],
    ["kW", "a power", 1000],
    ["mW", "a power", 0.001],
    ["J", "an energy", 1],
    ["kJ", "an energy", 1000],
    ["kWh", "an energy", 3.6e6],
    ["MJ", "an energy", 1e6],
    ["%", "a plain number", 0.01],
    ["‰", "a plain number", 0.001],
    ["ppm", "a plain number", 1e-6],
    ["%vol", "a strength by volume", 0.01],
    ["%mas", "a strength by mass", 0.01],
    ["proof", "a strength in US proof", 0.005],
    ["°Bx", "solids", 0.01],
    ["nD", "a refractive index", 1],
    ["GBP", "an amount in GBP", 1],
    ["kg/m3", "a density", 1],
    ["g/mL", "a density", 1000],
    ["mL/min", "a volume per time", 1e-6 / 60],
    ["kg/h", "a mass per time", 1 / 3600],
    ["W/K", "a power per temperature difference", 1],
    ["W/°C", "a power per temperature difference", 1],
    ["kJ/kg/K", "an energy per mass and temperature difference", 1000],
    ["kJ/kg", "an energy per mass", 1000],
    ["GBP/L", "a price per volume", 1000],
    ["GBP/kg", "a price per mass", 1],
    ["GBP/kWh", "a price per energy", 1 / 3.6e6],
    ["m2", "an area", 1],
    ["W/m2", "a power per area", 1],
    ["K/min", "a temperature difference per time", 1 / 60],
    ["mL/kg", "a volume per mass", 1e-6],
    ["g/kg", "a plain number", 0.001],
    ["m/s", "a speed", 1],
    ["L^-1", "a number per volume", 1000],
    ["kg/m2/h", "a mass per area and time", 1 / 3600],
    ["EUR/GBP", "a quantity in EUR/GBP", 1],
    ["GBP/kg/d", "a price per mass and time", 1 / 86400],
    ["GBP*kg", "a quantity in GBP*kg", 1],
    ["GBP/m2/kg/s", "a quantity in GBP/kg/m2/s", 1],
  ])("%s is %s", (text, kind, scale) => {
    const unit = parseUnit(text);
    expect(unit.text).toBe(text);
    expect(unit.kind.name).toBe(kind);
    expect(unit.scale.v / scale).toBeCloseTo(1, 14);
    expect(unitExists(text)).toBe(true);
  });

  it("is one object for one spelling, so that units compare by identity", () => {
    expect(parseUnit("GBP/L")).toBe(parseUnit("GBP/L"));
    expect(parseUnit("ml")).toBe(parseUnit("mL"));
    expect(parseUnit("kg/m³")).toBe(parseUnit("kg/m^3"));
    expect(parseUnit("L*GBP^-1")).toBe(parseUnit("L/GBP"));
    expect(parseUnit("L").kind).toBe(parseUnit("us_gal").kind);
    expect(parseUnit("g/L").kind).toBe(kinds.density);
  });

  it.each([
    ["l", "L"],
    ["ml", "mL"],
    ["cl", "cL"],
    ["hl", "hL"],
    ["ml/min", "mL/min"],
    ["GBP/l", "GBP/L"],
    ["degC", "°C"],
    ["degF", "°F"],
    ["ºC", "°C"],
    ["˚C", "°C"],
    ["° C", "°C"],
    ["% vol", "%vol"],
    ["%\u00a0vol", "%vol"],
    ["% mas", "%mas"],
    ["m^3", "m3"],
    ["m³", "m3"],
    ["m^−2", "m^-2"],
    ["cm²", "cm2"],
    ["cm3", "cm3"],
    ["s^-1", "s^-1"],
    ["s⁻¹", "s^-1"],
    ["kg·m^-3", "kg/m3"],
    ["kJ/kg*K", "kJ*K/kg"],
    ["m/s/s", "m/s2"],
    ["m*m", "m2"],
    [" g ", "g"],
    ["\u212a", "K"],
  ])("%j is taken as %s", (text, canonical) => {
    expect(parseUnit(text).text).toBe(canonical);
    // What is printed can be read again and means the same.
    expect(parseUnit(canonical)).toBe(parseUnit(text));
  });

  it("has a coherent unit for each kind", () => {
    for (const text of [
      "kg",
      "m3",
      "Pa",
      "W",
      "J",
      "s",
      "m",
      "m2",
      "W/K",
      "J/kg",
      "J/kg/K",
      "kg/m3",
      "m3/s",
      "K",
    ]) {
      expect(siUnit(parseUnit(text).kind)).toBe(parseUnit(text));
      expect(parseUnit(text).scale.v).toBe(1);
    }
    expect(siUnit(kinds.temperature)).toBe(kelvinPoint);
    for (const kind of [
      kinds.strengthVolume,
      kinds.strengthMass,
      kinds.moisture,
      kinds.proof,
      kinds.solids,
    ]) {
      expect(siUnit(kind)).toMatchObject({ kind, text: "", scale: { v: 1 } });
    }
    expect(siUnit(parseUnit("GBP/L").kind).text).toBe("GBP/m3");
    expect(siUnit(kinds.plain)).toBe(plainUnit);
  });

  it("keeps temperatures and differences apart", () => {
    expect(parseUnit("°C").kind).toBe(kinds.temperature);
    expect(parseUnit("K").kind).toBe(kinds.difference);
    expect(asDifference(parseUnit("°C"))).toBe(parseUnit("K"));
    expect(asDifference(kelvinPoint)).toBe(parseUnit("K"));
    expect(asDifference(parseUnit("°F"))).toMatchObject({
      kind: kinds.difference,
      scale: { num: 5n, den: 9n },
    });
    expect(asDifference(parseUnit("g"))).toBe(parseUnit("g"));
    expect(parseUnit("W/°C").kind).toBe(parseUnit("W/K").kind);
  });

  it("takes another kind without dimension and no other", () => {
    const moist = withKind(parseUnit("%"), kinds.moisture);
    expect(moist).toMatchObject({ text: "%", kind: kinds.moisture });
    expect(withKind(parseUnit("%"), kinds.moisture)).toBe(moist);
    expect(moist).not.toBe(parseUnit("%"));
    expect(troubleOf(() => withKind(parseUnit("g"), kinds.moisture)).code).toBe("kinds-differ");
  });
});

describe("a word that is no unit", () => {
  it.each([
    ["Kg", "kg"],
    ["G", "g"],
    ["KG", "kg"],
    ["CL", "cL"],
    ["pa", "Pa"],
    ["KPA", "kPa"],
    ["Bar", "bar"],
    ["w", "W"],
    ["Kwh", "kWh"],
    ["k", "K"],
    ["Proof", "proof"],
    ["%Vol", "%vol"],
    ["°bx", "°Bx"],
    ["nd", "nD"],
    ["Torr", "torr"],
    ["mBar", "mbar"],
    ["mIN", "min"],
  ])("in the wrong case, %s, is a fault that names %s", (text, unit) => {
    const trouble = troubleOf(() => parseUnit(text));
    expect(trouble.code).toBe("unit-case");
    expect(trouble.says).toContain(text);
    expect(trouble.help).toContain(`\`${unit}\``);
    expect(trouble.rewrite).toBe(unit);
  });
  it("is not corrected by one click when the case may mean another size or a currency", () => {
    for (const text of ["mJ", "MW", "ML", "gbp", "Mg"]) {
      const trouble = troubleOf(() => parseUnit(text));
      expect(trouble.code).toBe("unit-case");
      expect(trouble.rewrite).toBeUndefined();
    }
    expect(told(() => parseUnit("mJ"))).toContain("megajoule");
  });
  it("that stands for two units asks which", () => {
    for (const text of ["gal", "gallons", "GBP/gal"]) {
      expect(troubleOf(() => parseUnit(text)).code).toBe("unit-ambiguous");
      expect(told(() => parseUnit(text))).toMatch(/us_gal.*uk_gal/);
    }
    expect(told(() => parseUnit("floz"))).toMatch(/us_floz.*uk_floz/);
    expect(told(() => parseUnit("pounds"))).toMatch(/lb.*GBP/);
    for (const word of ["degree", "degrees", "deg", "°"]) {
      expect(told(() => parseUnit(word))).toMatch(/°C.*°F.*°Bx/);
    }
    expect(told(() => parseUnit("fl_oz"))).toMatch(/us_floz.*uk_floz/);
    for (const word of ["gallon", "gal"]) expect(told(() => parseUnit(word))).toMatch(/us_gal.*uk_gal/);
    expect(told(() => parseUnit("pound"))).toMatch(/lb.*GBP/);
  });
  it("that is a sign for money names the code", () => {
    for (const [sign, code] of [
      ["€", "EUR"],
      ["£", "GBP"],
      ["zł", "PLN"],
      ["₹", "INR"],
      ["₽", "RUB"],
      ["₺", "TRY"],
      ["₩", "KRW"],
      ["₪", "ILS"],
      ["₴", "UAH"],
      ["₫", "VND"],
      ["฿", "THB"],
      ["₦", "NGN"],
      ["₱", "PHP"],
      ["₸", "KZT"],
      ["₾", "GEL"],
      ["₡", "CRC"],
      ["₲", "PYG"],
      ["₵", "GHS"],
      ["₼", "AZN"],
      ["Kč", "CZK"],
      ["Ft", "HUF"],
      ["Fr", "CHF"],
      ["euro", "EUR"],
      ["euros", "EUR"],
      ["quid", "GBP"],
      ["yen", "JPY"],
    ] as const) {
      const trouble = troubleOf(() => parseUnit(sign));
      expect(trouble).toMatchObject({ code: "unit-symbol", rewrite: code });
      expect(trouble.help).toContain(code);
    }
    for (const dollar of ["$", "dollar", "dollars"]) {
      expect(told(() => parseUnit(dollar))).toMatch(/USD.*CAD.*AUD.*NZD/);
    }
    expect(told(() => parseUnit("¥"))).toMatch(/JPY.*CNY/);
    expect(told(() => parseUnit("kr"))).toMatch(/DKK.*NOK.*SEK.*ISK/);
    expect(told(() => parseUnit("Rs"))).toMatch(/INR.*PKR.*LKR.*NPR/);
    for (const franc of ["franc", "francs"]) expect(told(() => parseUnit(franc))).toMatch(/CHF.*XAF.*XOF/);
    expect(troubleOf(() => parseUnit("$")).rewrite).toBeUndefined();
    expect(troubleOf(() => parseUnit("€/L"))).toMatchObject({ code: "unit-symbol", rewrite: "EUR/L" });
  });
  it("that means a unit in everyday speech names it", () => {
    for (const [word, unit] of [
      ["gram", "g"],
      ["litres", "L"],
      ["cc", "mL"],
      ["hrs", "h"],
      ["minutes", "min"],
      ["percent", "%"],
      ["ABV", "%vol"],
      ["Brix", "°Bx"],
      ["C", "°C"],
      ["days", "d"],
      ["kilos", "kg"],
      ["milligrams", "mg"],
      ["ounces", "oz"],
      ["lbs", "lb"],
      ["mls", "mL"],
      ["centilitres", "cL"],
      ["hectolitre", "hL"],
      ["metres", "m"],
      ["centimeter", "cm"],
      ["millimetres", "mm"],
      ["millibar", "mbar"],
      ["pascals", "Pa"],
      ["secs", "s"],
      ["watts", "W"],
      ["kilowatt", "kW"],
      ["joules", "J"],
      ["%w/w", "%mas"],
      ["%v/v", "%vol"],
      ["fahrenheit", "°F"],
      ["kelvins", "K"],
    ] as const) {
      expect(troubleOf(() => parseUnit(word))).toMatchObject({ code: "unit-unknown", rewrite: unit });
    }
    expect(told(() => parseUnit("%w/w"))).toContain("It is written `%mas`.");
    expect(troubleOf(() => parseUnit("litres/hour")).rewrite).toBe("L/hour");
  });
  it("that measures the same thing in another size names the unit, and corrects nothing", () => {
    for (const [word, unit] of [
      ["cups", "mL"],
      ["tsp", "mL"],
      ["dL", "cL"],
      ["kcal", "kJ"],
      ["tonnes", "kg"],
      ["weeks", "d"],
      ["pints", "L"],
      ["µg", "mg"],
      ["inch", "mm"],
      ["feet", "m"],
      ["psi", "kPa"],
      ["plato", "°Bx"],
    ] as const) {
      const trouble = troubleOf(() => parseUnit(word));
      expect(trouble.help).toContain(`\`${unit}\``);
      expect(trouble.rewrite).toBeUndefined();
    }
  });
  it.each([
    ["litter", "L"],
    ["gramm", "g"],
    ["mbarr", "mbar"],
    ["mbra", "mbar"],
    ["us_gla", "us_gal"],
    ["%voll", "%vol"],
    ["prooof", "proof"],
    ["tor", "torr"],
  ])("%s is near %s, always", (word, near) => {
    for (let i = 0; i < 3; i++) {
      const trouble = troubleOf(() => parseUnit(word));
      expect(trouble.code).toBe("unit-near");
      expect(trouble.help).toBe(`The nearest unit is \`${near}\`.`);
      expect(trouble.rewrite).toBe(near);
    }
  });
  it("and near to none says how to multiply or divide by it", () => {
    expect(troubleOf(() => parseUnit("jars"))).toMatchObject({
      code: "unit-unknown",
      says: "jars is no unit.",
      help: "To multiply by jars, write `* jars`.",
    });
    expect(troubleOf(() => parseUnit("L/jars"))).toMatchObject({
      code: "unit-unknown",
      says: "jars in L/jars is no unit.",
      help: "`L / jars`, with blanks, divides by jars.",
      rewrite: "L / jars",
    });
    expect(told(() => parseUnit("L*jars"))).toContain("multiplies");
    // In the middle of a unit there is no place for blanks that mean the same.
    expect(troubleOf(() => parseUnit("g/jars/L")).rewrite).toBeUndefined();
    expect(told(() => parseUnit("zz"))).not.toContain("nearest");
    // Two edits from bar: what stands in the wrong place is another letter.
    expect(told(() => parseUnit("brq"))).not.toContain("nearest");
    expect(unitTrouble("jars")).toBe(unitTrouble("jars"));
    expect(unitTrouble("g")).toBeUndefined();
  });
  it("is never an ordinary property of objects", () => {
    for (const word of ["constructor", "__proto__", "toString", "hasOwnProperty"]) {
      expect(unitExists(word)).toBe(false);
      expect(unitExists(`g/${word}`)).toBe(false);
    }
  });
  it.each([
    "",
    "/",
    "g/",
    "/L",
    "g//L",
    "m^0",
    "m^99",
    "m^1.5",
    "g/g",
    "°C^2/°C",
    "g*°F/g",
    "g*",
    "^2",
    "²",
    "°",
    "%%",
  ])("%j is refused with a sentence", (text) => {
    const trouble = troubleOf(() => parseUnit(text));
    expect(trouble.says).toMatch(/\.$/);
    expect(trouble.help).toMatch(/\.$/);
    expect(unitExists(text)).toBe(false);
  });
  it("such as a strength cannot be part of a compound", () => {
    for (const text of ["%vol/h", "GBP/%mas", "kg*°Bx", "nD^2", "proof/L", "%vol^2"]) {
      expect(troubleOf(() => parseUnit(text)).code).toBe("unit-compound");
    }
    expect(told(() => parseUnit("%vol/h"))).toContain("Keep the %vol in a value of its own");
  });
  it("is none for an exponent of 0 or beyond 9, summed over the parts", () => {
    for (const text of ["m^0", "m^10", "m^-10", "m^5*m^5"]) {
      expect(troubleOf(() => parseUnit(text)).code).toBe("unit-power");
    }
    expect(parseUnit("m^9*m^-8").text).toBe("m");
  });
  it("of great length is refused", () => {
    expect(unitExists("m".repeat(20_000))).toBe(false);
    expect(unitExists("m*".repeat(5000) + "m")).toBe(false);
  });
});

describe("currencies", () => {
  it("stand in alphabetical order, as completion shows them", () => {
    const codes = [...currencies.keys()];
    expect(codes).toEqual([...codes].sort());
    for (const code of codes) expect(code).toMatch(/^[A-Z]{3}$/);
    for (const code of ["AUD", "BRL", "CHF", "DKK", "EGP", "INR", "KES", "NZD", "PLN", "SEK", "USD", "ZAR"])
      expect(currencies.get(code)).toBe(2);
  });
  it("know their minor digits", () => {
    for (const [code, digits] of [
      ["GBP", 2],
      ["EUR", 2],
      ["JPY", 0],
      ["KWD", 3],
      ["CLF", 4],
      ["HUF", 2],
      ["ISK", 0],
      ["XAU", 0],
    ] as const) {
      expect(currencies.get(code)).toBe(digits);
    }
  });
  it("are each a dimension of their own", () => {
    const seen = new Set([...currencies.keys()].map((code) => parseUnit(code).kind));
    expect(seen.size).toBe(currencies.size);
    expect(currencySign("€")).toEqual(["EUR"]);
    expect(currencySign("g")).toBeUndefined();
  });
});

describe("completion", () => {
  it("offers the compounds of a kitchen and a distillery", () => {
    for (const text of ["m3", "m2", "g/L", "g/kg", "mL/min", "kg/h", "W/K", "mbar/min", "GBP/kWh", "EUR/L"]) {
      expect(unitNames).toContain(text);
    }
  });
  it("says of every measure what it is called", () => {
    for (const name of unitNames) {
      const words = /^.+: (.+), (an? .+|solids)$/.exec(describeUnit(name))?.[1];
      if (/[/\d]/.test(name) || currencies.has(name)) expect(words).toBeUndefined();
      else expect(words).toMatch(/^\p{L}[^.]+$/u);
    }
  });
  it("offers only units that exist, each once", () => {
    for (const name of unitNames) expect(unitExists(name)).toBe(true);
    expect(new Set(unitNames).size).toBe(unitNames.length);
  });
  it("finds the units of a kind", () => {
    expect(unitsOfKind(kinds.mass)).toEqual(["g", "kg", "mg", "oz", "lb"]);
    expect(unitsOfKind(kinds.temperature)).toEqual(["°C", "°F"]);
    expect(unitsOfKind(kinds.moisture)).toContain("%");
    expect(unitsOfKind(kinds.density)).toContain("kg/m3");
    expect(unitsOfKind(parseUnit("CHF").kind)).toEqual(["CHF"]);
  });
  it("describes a unit in a line", () => {
    expect(describeUnit("mL")).toBe("mL: millilitre, a volume");
    expect(describeUnit("ml")).toBe("mL: millilitre, a volume");
    expect(describeUnit("GBP/L")).toBe("GBP/L: a price per volume");
    expect(describeUnit("GBP")).toBe("GBP: an amount in GBP");
    expect(troubleOf(() => describeUnit("jars")).code).toBe("unit-unknown");
  });
});
