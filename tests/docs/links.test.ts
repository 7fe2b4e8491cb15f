import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { describe, expect, it } from "vitest";

const top = resolve(import.meta.dirname, "../..");
const documents = [
  ...readdirSync(top).filter((name) => name.endsWith(".md")),
  ...readdirSync(join(top, "docs"))
    .filter((name) => name.endsWith(".md"))
    .map((name) => `docs/${name}`),
];

/** The name under which a heading can be linked to. */
const anchorOf = (heading: string) =>
  heading
    .toLowerCase()
    .replace(/[^\p{L}\p{N}_ -]/gu, "")
    .replace(/ /g, "-");

/** The text without fenced blocks and code, where brackets mean something else. */
const prose = (text: string) => text.replace(/^```[\s\S]*?^```/gm, "").replace(/`[^`\n]*`/g, "code");

describe.each(documents)("%s", (name) => {
  it("links only to what is there", () => {
    const text = readFileSync(join(top, name), "utf8");
    for (const [, target] of prose(text).matchAll(/\]\(([^)\s]+)\)/g)) {
      if (/^(https?|mailto):/.test(target!)) continue;
      const [path, anchor] = target!.split("#");
      const file = path === "" ? join(top, name) : resolve(top, dirname(name), path!);
      expect(existsSync(file), `${name} links to ${target}`).toBe(true);
      if (anchor === undefined) continue;
      const anchors = [...readFileSync(file, "utf8").matchAll(/^#+ (.*)$/gm)].map((m) => anchorOf(m[1]!));
      expect(anchors, `${name} links to ${target}`).toContain(anchor);
    }
  });
});
