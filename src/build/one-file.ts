import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Plugin } from "vite";

/**
 * Puts the page into one HTML file that opens from disk: script, styles and mark stand in it, nothing is loaded, and its
 * content security policy admits exactly this script and these styles, by their hashes.
 */
export function oneFile(name: string, publicFolder: string): Plugin {
  return {
    name: "one-file",
    apply: "build",
    enforce: "post",
    generateBundle: {
      order: "post",
      handler(_options, bundle) {
        const pieces = Object.values(bundle);
        const page = pieces.find((piece) => piece.fileName === "index.html");
        const scripts = pieces.filter((piece) => piece.type === "chunk");
        const styles = pieces.flatMap((p) => (p.type === "asset" && p.fileName.endsWith(".css") ? [p] : []));
        if (page?.type !== "asset" || scripts.length !== 1 || styles.length !== 1 || pieces.length !== 3)
          this.error(`One page, script and style sheet were expected: ${Object.keys(bundle).join(", ")}.`);
        const script = safeInScript(scripts[0]!.code);
        const style = String(styles[0]!.source);
        if (/<\/style/i.test(style)) this.error("The styles hold the end of their own element.");
        const mark = Buffer.from(readFileSync(join(publicFolder, "mark.svg"))).toString("base64");
        const policy = [
          "default-src 'none'",
          `script-src '${hashOf(script)}'`,
          `style-src '${hashOf(style)}'`,
          "img-src data:",
          // Long work is done beside the page; a blob can only come from the script above.
          "worker-src blob:",
          "base-uri 'none'",
          "form-action 'none'",
        ].join("; ");
        let html = String(page.source);
        const put = (pattern: RegExp, words: string): void => {
          if (html.match(pattern) === null) this.error(`The page holds nothing like ${pattern.source}.`);
          html = html.replace(pattern, () => words);
        };
        put(/(?<=http-equiv="Content-Security-Policy" content=")[^"]*/, policy);
        put(/\s*<link rel="manifest"[^>]*>/, "");
        put(/\s*<link rel="apple-touch-icon"[^>]*>/, "");
        put(/(?<=<link rel="icon" href=")[^"]*/, `data:image/svg+xml;base64,${mark}`);
        put(/<link rel="stylesheet"[^>]*>/, `<style>${style}</style>`);
        put(/<script type="module"[^>]*><\/script>/, `<script type="module">${script}</script>`);
        if (/(?:src|href)="\.\//.test(html.replace(script, "")))
          this.error("The page still names other files.");
        for (const piece of pieces) delete bundle[piece.fileName];
        this.emitFile({ type: "asset", fileName: name, source: html });
      },
    },
  };
}

/** A script whose strings cannot end its element, or begin a comment in it. */
const safeInScript = (code: string): string => code.trim().replace(/<(?=\/script|script|!--)/gi, "\\x3C");

const hashOf = (text: string): string => `sha256-${createHash("sha256").update(text).digest("base64")}`;
