import { createReadStream } from "node:fs";
import { realpath, stat } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, resolve, sep } from "node:path";

/** A folder of files, served to this machine alone. */
export interface Site {
  /** `http://127.0.0.1:4242/`. */
  readonly address: string;
  close(): Promise<void>;
}

/** Where the page is served unless another port is asked for. */
export const usualPort = 8642;

/** The address of a page that opens the book in a fragment. */
export function linkTo(page: string, fragment: string): string {
  return `${page.split("#")[0]}#${fragment}`;
}

/** The loopback address: nobody on the network can reach what is served. */
const here = "127.0.0.1";

const types: ReadonlyMap<string, string> = new Map([
  [".html", "text/html; charset=utf-8"],
  [".js", "text/javascript; charset=utf-8"],
  [".mjs", "text/javascript; charset=utf-8"],
  [".css", "text/css; charset=utf-8"],
  [".json", "application/json; charset=utf-8"],
  [".webmanifest", "application/manifest+json; charset=utf-8"],
  [".svg", "image/svg+xml"],
  [".png", "image/png"],
  [".ico", "image/x-icon"],
  [".woff2", "font/woff2"],
  [".txt", "text/plain; charset=utf-8"],
  [".vacuo", "text/plain; charset=utf-8"],
]);

/** Sent with every answer: the page may load its own files and nothing else. */
export const guards: Readonly<Record<string, string>> = {
  "Content-Security-Policy": [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self'",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join("; "),
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
};

/**
 * Serves a folder on the loopback address.
 * @param port the port to listen on; 0 lets the system choose a free one.
 * @throws the system's error when the port is taken (`EADDRINUSE`) or not allowed.
 */
export async function openSite(folder: string, port: number): Promise<Site> {
  const root = await realpath(folder);
  const server = createServer((request, response) => {
    answer(root, server, request, response).catch(() => {
      if (!response.headersSent) refuse(response, 500, "The file could not be read.");
      else response.destroy();
    });
  });
  await new Promise<void>((resolveListening, reject) => {
    server.once("error", reject);
    server.listen(port, here, () => {
      server.off("error", reject);
      resolveListening();
    });
  });
  return {
    address: `http://${here}:${(server.address() as AddressInfo).port}/`,
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

async function answer(
  root: string,
  server: Server,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const address = server.address() as AddressInfo | null;
  // A stranger's site whose name points here (rebinding) calls us by its own name.
  const names = [`${here}:${address?.port}`, `localhost:${address?.port}`];
  if (!names.includes(request.headers.host ?? "")) return refuse(response, 403, "Only this machine may ask.");
  if (request.method !== "GET" && request.method !== "HEAD") {
    response.setHeader("Allow", "GET, HEAD");
    return refuse(response, 405, "Only reading is possible here.");
  }
  const path = readPath(request.url ?? "/");
  if (path === undefined) return refuse(response, 400, "This address cannot be read.");
  const file = await fileOf(root, path);
  if (file === undefined) return refuse(response, 404, "There is nothing here.");

  response.writeHead(200, {
    ...guards,
    "Content-Type": types.get(extname(file.path)) ?? "application/octet-stream",
    "Content-Length": file.size,
    // Built files carry a fingerprint in their name; the rest is asked for again each time.
    "Cache-Control": path.startsWith("/assets/") ? "max-age=31536000, immutable" : "no-cache",
  });
  if (request.method === "HEAD") {
    response.end();
    return;
  }
  createReadStream(file.path)
    .on("error", () => response.destroy())
    .pipe(response);
}

/** The path of an address, its escapes undone; undefined when it is malformed or tries to climb. */
function readPath(url: string): string | undefined {
  const bare = url.split(/[?#]/)[0]!;
  try {
    const path = decodeURIComponent(bare);
    if (!path.startsWith("/") || path.includes("\0") || path.includes("\\")) return undefined;
    if (path.split("/").includes("..")) return undefined;
    return path;
  } catch {
    return undefined;
  }
}

/** The file of a path, when it is one inside the root (a link that leads out of it is not). */
async function fileOf(root: string, path: string): Promise<{ path: string; size: number } | undefined> {
  try {
    const wanted = resolve(root, `.${path.endsWith("/") ? `${path}index.html` : path}`);
    const real = await realpath(wanted);
    if (!real.startsWith(root + sep)) return undefined;
    const { size } = await stat(real).then((s) => (s.isFile() ? s : Promise.reject(new Error("no file"))));
    return { path: real, size };
  } catch {
    return undefined;
  }
}

function refuse(response: ServerResponse, status: number, says: string): void {
  response.writeHead(status, { ...guards, "Content-Type": "text/plain; charset=utf-8" });
  response.end(`${says}\n`);
}
