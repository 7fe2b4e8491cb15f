import { readFileSync, writeFileSync } from "node:fs";
import { expect, it } from "vitest";
import { accuracyDocument } from "./accuracy";

const path = new URL("../../docs/accuracy.md", import.meta.url);

it("docs/accuracy.md tells what the comparisons give; write it with INVACUO_UPDATE=1 npx vitest run tests/published/accuracy.test.ts", () => {
  const made = accuracyDocument();
  expect(made).not.toMatch(/undefined|NaN|\[object|\n{3}/u);
  if (process.env.INVACUO_UPDATE === "1") writeFileSync(path, made);
  expect(readFileSync(path, "utf8")).toBe(made);
});
