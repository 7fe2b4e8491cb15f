import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { parseAst } from "vite";
import { describe, expect, it } from "vitest";
import { neverHydrating } from "../../src/build/slim-react";

const package_ = readFileSync(
  resolve(import.meta.dirname, "../../node_modules/react-dom/cjs/react-dom-client.production.js"),
  "utf8",
);
const named = (code: string) => code.match(/(?<![\w$.])isHydrating(?![\w$])/g)?.length ?? 0;

describe("React without taking over a page that a server wrote", () => {
  it("is a script still, whose variable for that is gone and whose parameter of that name stays", () => {
    const slim = neverHydrating(package_);
    expect(() => parseAst(slim)).not.toThrow();
    expect(named(package_)).toBeGreaterThan(30);
    const initInput = /^function initInput\([\s\S]*?^}\n/m.exec(package_)![0];
    expect(named(slim)).toBe(named(initInput));
    expect(slim).toContain(initInput);
  });

  it("is refused when the package reads otherwise", () => {
    const refused = [
      package_.replace("  isHydrating = !1,\n", ""),
      package_.replace("function initInput(", "function another("),
      package_.replace("isHydrating = !0", "isHydrating = root"),
      "function initInput(isHydrating\n) {\n}\n",
    ];
    for (const code of refused) expect(() => neverHydrating(code)).toThrow("slim-react");
  });
});
