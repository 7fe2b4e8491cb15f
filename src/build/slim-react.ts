import type { Plugin } from "vite";

/**
 * For the build of the page: tells the bundler that React never takes over a page that a server wrote. Ours is drawn in
 * the browser from the start (`createRoot`), so the package's variable that says so is false as long as the page lives;
 * written as that, what would do the taking over falls away. When a newer package reads otherwise, the build says so.
 */
export function slimReact(): Plugin {
  return {
    name: "slim-react",
    apply: "build",
    enforce: "pre",
    transform(code, id) {
      if (!/[\\/]react-dom[\\/]cjs[\\/]react-dom-client\.production\.js$/.test(id)) return undefined;
      return { code: neverHydrating(code), map: null };
    },
  };
}

const VARIABLE = /(?<![\w$.])isHydrating(?![\w$])/g;
const DECLARED = /^ {2}isHydrating = !1,\n/m;

/** @throws Error when the code does not read as expected */
export function neverHydrating(code: string): string {
  // A function has a parameter of the same name, which it keeps.
  const own = /^function initInput\([\s\S]*?^}\n/m.exec(code);
  const surprise = (what: string): Error =>
    new Error(`react-dom reads otherwise than src/build/slim-react.ts expects: ${what}`);
  if (own === null) throw surprise("it has no initInput");
  const slim = (text: string): string =>
    text
      .replace(DECLARED, "")
      // It is set where a page is taken over, and set back.
      .replace(/(?<![\w$.])isHydrating = !\d/g, "void 0")
      .replace(VARIABLE, "!1");
  if (!DECLARED.test(code)) throw surprise("it declares isHydrating elsewhere");
  const read = code.replace(own[0], "").match(VARIABLE)?.length ?? 0;
  if (read < 20) throw surprise(`it asks ${read} times whether it takes over a page`);
  if (
    /\[[^\]]*(?<![\w$.])isHydrating(?![\w$])[^\]]*\]\s*=[^=]|\bisHydrating\s*[-+|&?]*=(?!\s*!\d)[^=]/.test(
      code,
    )
  )
    throw surprise("it sets isHydrating to something unknown");
  return slim(code.slice(0, own.index)) + own[0] + slim(code.slice(own.index + own[0].length));
}
