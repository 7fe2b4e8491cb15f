import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import type { Plugin } from "vite";

/**
 * Tells the service worker of the page which files there are, and gives each set of files a fingerprint of its own: a
 * byte that changes anywhere makes a new version.
 */
export function offline(publicFolder: string): Plugin {
  return {
    name: "offline",
    apply: "build",
    generateBundle: {
      order: "post",
      handler(_options, bundle) {
        const worker = bundle["service-worker.js"];
        if (worker?.type !== "chunk") this.error("The service worker was not built.");
        if (worker.imports.length > 0) this.error("The service worker must stand in one file.");
        const contents = new Map<string, string | Uint8Array>();
        for (const name of readdirSync(publicFolder))
          contents.set(name, readFileSync(`${publicFolder}/${name}`));
        for (const piece of Object.values(bundle)) {
          if (piece !== worker)
            contents.set(piece.fileName, piece.type === "chunk" ? piece.code : piece.source);
        }
        const names = [...contents.keys()].sort();
        const hash = createHash("sha256").update(worker.code);
        for (const name of names) hash.update(`\0${name}\0`).update(contents.get(name)!);
        const files = names.map((name) => (name === "index.html" ? "./" : `./${name}`));
        const shell = JSON.stringify({ version: hash.digest("hex").slice(0, 16), files });
        worker.code = `const shell=${shell};${worker.code}`;
      },
    },
  };
}
