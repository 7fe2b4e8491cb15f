import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const folder = resolve(import.meta.dirname, "../../src/app/style");
const tokens = readFileSync(join(folder, "tokens.css"), "utf8");

/** Colour tokens of the file, light and dark. */
const colours = new Map(
  [...tokens.matchAll(/--([\w-]+):\s*light-dark\((#[0-9a-f]{6}),\s*(#[0-9a-f]{6})\)/g)].map((m) => [
    m[1]!,
    { light: m[2]!, dark: m[3]! },
  ]),
);

/** Relative luminance and contrast ratio as WCAG 2.2 defines them. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => {
    const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}
function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light! + 0.05) / (dark! + 0.05);
}

/** Text (4.5:1, success criterion 1.4.3) on each ground that it really stands on. */
const texts: Record<string, readonly string[]> = {
  ink: ["bench", "page", "raised", "tint", "typed-ground", "gap-ground", "fault-ground"],
  quiet: ["bench", "page", "raised", "tint", "typed-ground"],
  typed: ["page", "raised", "tint", "typed-ground"],
  computed: ["page", "raised", "tint", "bench", "typed-ground"],
  found: ["page", "raised", "tint", "typed-ground"],
  gap: ["page", "raised", "gap-ground", "bench"],
  fault: ["page", "raised", "fault-ground", "bench"],
  met: ["page", "raised", "bench"],
  page: ["ink"],
};
/** Borders of controls and marks that carry meaning (3:1, success criterion 1.4.11). */
const shapes: Record<string, readonly string[]> = {
  edge: ["bench", "page", "raised"],
  "typed-line": ["page", "raised"],
  focus: ["bench", "page", "raised", "tint"],
};

describe("the colours", () => {
  it("can be read from the file", () => {
    expect(colours.size).toBeGreaterThanOrEqual(20);
    expect(contrast("#ffffff", "#000000")).toBeCloseTo(21, 9);
  });

  for (const [pairs, least] of [
    [texts, 4.5],
    [shapes, 3],
  ] as const)
    for (const [front, grounds] of Object.entries(pairs))
      for (const ground of grounds)
        for (const scheme of ["light", "dark"] as const)
          it(`${front} on ${ground}, ${scheme}, reach ${least}:1`, () => {
            const a = colours.get(front);
            const b = colours.get(ground);
            expect(a && b).toBeDefined();
            expect(contrast(a![scheme], b![scheme])).toBeGreaterThanOrEqual(least);
          });

  it("stand only in the tokens; the rest of the style uses them by name", () => {
    for (const name of readdirSync(folder).filter(
      (n) => n.endsWith(".css") && n !== "tokens.css" && n !== "print.css",
    ))
      expect(readFileSync(join(folder, name), "utf8").match(/#[0-9a-f]{3,8}\b/gi) ?? [], name).toEqual([]);
  });
});
