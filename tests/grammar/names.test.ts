import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  canBeName,
  editDistance,
  isDay,
  isPlainName,
  nearAmong,
  nearName,
  parseFormula,
  writeName,
  writePart,
} from "../../grammar";
import { name } from "./arbitraries";

describe("writing a name", () => {
  it("puts backticks where they are needed", () => {
    expect(["volume", "žitná", "_x", "by", "set", "水1"].map((one) => writeName(one))).toEqual([
      "volume",
      "žitná",
      "_x",
      "by",
      "set",
      "水1",
    ]);
    expect(["bay leaf", "to", "2a", "a-b", "blank"].map((one) => writeName(one))).toEqual([
      "`bay leaf`",
      "`to`",
      "`2a`",
      "`a-b`",
      "`blank`",
    ]);
    expect(["to", "2a", "2026-02-03", "bay leaf", "2 a", "a-b"].map((one) => writePart(one))).toEqual([
      "to",
      "2a",
      "2026-02-03",
      "`bay leaf`",
      "`2 a`",
      "`a-b`",
    ]);
    expect(writeName("a|b", true)).toBe("`a\\|b`");
    expect(writePart("a|b", true)).toBe("`a\\|b`");
    expect(writeName("cafe\u0301")).toBe("caf\u00e9");
  });
  it("is read back as the same name, as a value and as a part", () => {
    fc.assert(
      fc.property(fc.oneof(name, fc.string({ unit: "grapheme" })), (one) => {
        fc.pre(canBeName(one) && /^[\p{L}\p{M}\p{N}\p{P}\p{S} ]+$/u.test(one) && one === one.trim());
        const normal = one.normalize("NFC");
        expect(parseFormula(writeName(one)).formula).toMatchObject({ type: "name", name: normal });
        expect(parseFormula(`x.${writePart(one)}`).formula).toMatchObject({ type: "part", part: normal });
        expect(parseFormula(`f(${writePart(one)}: 1)`).formula).toMatchObject({
          arguments: [{ label: normal }],
        });
      }),
      { numRuns: 500, seed: 3 },
    );
  });
  it("knows which words are kept, and which names are none", () => {
    for (const name of ["a1", "try", "constructor"]) expect(isPlainName(name)).toBe(true);
    for (const name of ["1a", "", "to", "where"]) expect(isPlainName(name)).toBe(false);
    expect([canBeName("a b"), canBeName(""), canBeName("  "), canBeName("a`b"), canBeName("a\nb")]).toEqual([
      true,
      false,
      false,
      false,
      false,
    ]);
  });
});

describe("the distance of two words", () => {
  it("counts letters put in, taken out, changed and swapped", () => {
    const cases: readonly (readonly [string, string, number])[] = [
      ["", "", 0],
      ["abc", "abc", 0],
      ["", "abc", 3],
      ["strenght", "strength", 1],
      ["volme", "volume", 1],
      ["kitten", "sitting", 3],
      ["ab", "ba", 1],
      ["😀a", "😀b", 1],
    ];
    for (const [a, b, distance] of cases) {
      expect(editDistance(a, b), `${a} ${b}`).toBe(distance);
      expect(editDistance(b, a), `${b} ${a}`).toBe(distance);
    }
  });
  it("gives up above a bound", () => {
    expect(editDistance("kitten", "sitting", 2)).toBeGreaterThan(2);
    expect(editDistance("a", "abcdefgh", 3)).toBeGreaterThan(3);
    expect(editDistance("kitten", "sitting", 3)).toBe(3);
  });
  it("is a distance", () => {
    const word = fc.string({ maxLength: 7 });
    fc.assert(
      fc.property(word, word, (a, b) => {
        const distance = editDistance(a, b);
        expect(distance).toBe(editDistance(b, a));
        expect(distance === 0).toBe(a === b);
        expect(distance).toBeLessThanOrEqual(Math.max([...a].length, [...b].length));
        const bounded = editDistance(a, b, 2);
        expect(bounded <= 2 ? bounded : 3).toBe(Math.min(distance, 3));
      }),
      { numRuns: 500, seed: 4 },
    );
  });
});

describe("the nearest name", () => {
  const names = ["strength", "volume", "volumes", "price", "cost", "coast"];
  it("is the one that was probably meant", () => {
    expect(nearName("strenght", names)).toBe("strength");
    expect(nearName("Volume", names)).toBe("volume");
    expect(nearName("VOLUMES", names)).toBe("volumes");
    expect(nearName("pric", names)).toBe("price");
    expect(nearName("vol", names)).toBe("volume");
    expect(nearName("total_price", names)).toBe("price");
    // Of two that it holds, the one that leaves less over.
    expect(nearName("price_and_cost", ["cost", "price"])).toBe("price");
  });
  it("is none for what is far, for short words and for the name itself", () => {
    expect(nearName("temperature", names)).toBeUndefined();
    expect(nearName("ab", ["abc"])).toBeUndefined();
    expect(nearName("L", ["l"])).toBe("l");
    expect(nearName("price", ["price"])).toBeUndefined();
    expect(nearName("", names)).toBeUndefined();
    expect(nearName("x".repeat(100_000), names)).toBeUndefined();
  });
  it("may differ in less than half of its letters, and in three at most", () => {
    for (const [typed, candidate, near] of [
      ["abc", "abd", true],
      ["abc", "ade", false],
      ["abcd", "abce", true],
      ["abcd", "abef", false],
      ["abcde", "abcfg", true],
      ["abcde", "abfgh", false],
      ["abcdef", "abcdgh", true],
      ["abcdef", "abcghi", false],
      ["abcdefg", "abcdhij", true],
      ["abcdefghijkl", "abcdefghimno", true],
      ["abcdefghijkl", "abcdefghmnop", false],
    ] as const)
      expect(nearName(typed, [candidate]), `${typed} ${candidate}`).toBe(near ? candidate : undefined);
  });
  it("may hold what was typed or be held by it, from three letters on; less left over is nearer", () => {
    expect(nearName("abcdefghij", ["abc"])).toBe("abc");
    expect(nearName("abcdefghij", ["ab"])).toBeUndefined();
    expect(nearName("abc", ["xxabcxxxxx"])).toBe("xxabcxxxxx");
    expect(nearName("abc", ["abcxxxxxxx", "abcxxxxxx", "zabcxxxxxx"])).toBe("abcxxxxxx");
    expect(nearName("abcdefghij", ["abc", "abcd"])).toBe("abcd");
    // Three changes are nearer than a word that holds it.
    expect(nearName("abcdefgh", ["abcdefghxxxx", "abcdexxx"])).toBe("abcdexxx");
  });
  it("counts letters of either case and either form alike", () => {
    expect(nearName("ÉTÉ", ["e\u0301te\u0301"])).toBe("e\u0301te\u0301");
    expect(nearName("AB", ["ab", "Ab"])).toBe("Ab");
    expect(nearName("ab", ["ab", "AB"])).toBe("AB");
    expect(nearName("😀😁x", ["😀😁y"])).toBe("😀😁y");
  });
  it("is looked for up to sixty-four letters", () => {
    const word = (length: number): string => "a".repeat(length);
    expect(nearName(word(64), [`${word(63)}b`])).toBe(`${word(63)}b`);
    expect(nearName(word(65), [`${word(64)}b`])).toBeUndefined();
    expect(nearName("bbbb", [`bbbb${word(60)}`])).toBe(`bbbb${word(60)}`);
    expect(nearName("bbbb", [`bbbb${word(61)}`])).toBeUndefined();
  });
  it("does not depend on the order of the candidates", () => {
    expect(nearName("coost", ["cost", "coast"])).toBe("coast");
    expect(nearName("coost", ["coast", "cost"])).toBe("coast");
    expect(nearName("xyz", new Set(["xyy", "xya"]))).toBe("xya");
  });
  it("takes any word for a name, those of objects too", () => {
    expect(nearName("constructo", ["constructor", "__proto__"])).toBe("constructor");
  });
});

describe("a day", () => {
  it("exists or does not", () => {
    expect(["2024-02-29", "2000-02-29", "2026-12-31", "0001-01-01"].every(isDay)).toBe(true);
    expect(
      ["2025-02-29", "1900-02-29", "2026-04-31", "2026-00-10", "2026-13-01", "2026-01-00", "0000-01-01"].some(
        isDay,
      ),
    ).toBe(false);
  });
});

describe("the nearest of a long list", () => {
  const words = Array.from(
    { length: 60 },
    (_, i) => `entry_${"abcdefghij"[i % 10]}${"klmnop"[Math.floor(i / 10)]}`,
  );
  it("is the one that would be found one by one, wherever it stands", () => {
    for (const at of [0, 30, 60]) {
      const list = [...words.slice(0, at), "juniper", ...words.slice(at)];
      for (const typed of ["junipr", "junpier", "Juniper", "jniper"])
        expect(nearAmong(typed, list)).toBe(nearName(typed, ["juniper"]));
      expect(nearAmong("junipr", list)).toBe("juniper");
    }
  });
  it("is found by letters put in, left out, changed and of either case, and by a part of it", () => {
    const long = [...words, "strawberry"];
    for (const typed of [
      "strawbery",
      "strawberrry",
      "strawherry",
      "starwberry",
      "STRAWBERRY",
      "strxwbxrrx",
      "straw",
      "strawberry_jam",
    ])
      expect(nearAmong(typed, long), typed).toBe("strawberry");
    for (const typed of ["strxwbxxrx", "jam"]) expect(nearAmong(typed, long), typed).toBeUndefined();
  });
  it("is looked for among the first five thousand, and asked for again it is the same", () => {
    const many = Array.from({ length: 5_001 }, (_, i) => `zzzzzzzzzzzzzzzz_${i}`);
    many[4_999] = "juniper";
    expect(nearAmong("junipre", many)).toBe("juniper");
    expect(nearAmong("junipre", many)).toBe("juniper");
    many[4_999] = "zzz";
    const later = [...many];
    later[5_000] = "juniper";
    expect(nearAmong("junipre", later)).toBeUndefined();
  });
  it("of a short list is the nearest, whatever else stands there", () => {
    expect(nearAmong("junipre", ["juniper", "5"])).toBe("juniper");
    expect(nearAmong("abc", [])).toBeUndefined();
  });
  it("is none when nothing is near", () => {
    expect(nearAmong("zz", words)).toBeUndefined();
    expect(nearAmong("juniper", words)).toBeUndefined();
  });
});
