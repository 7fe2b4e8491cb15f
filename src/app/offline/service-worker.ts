/**
 * Keeps the whole page for use without a network: all of its files, taken in one go, or none of them. A newer version
 * waits beside the one that is running until the person says so or the last page is closed; files that an open page
 * may still ask for stay as long as it is open.
 */
declare const self: ServiceWorkerGlobalScope;
/** Written in front of this script by the build (src/build/offline.ts): the files of this version and their fingerprint. */
declare const shell: Shell;
export interface Shell {
  readonly version: string;
  readonly files: readonly string[];
}

const own = `invacuo ${shell.version}`;
const start = new URL("./", self.registration.scope);

self.addEventListener("install", (event) => {
  // A file with a fingerprint in its name never changes; the others are asked for again, past every cache between.
  const requests = shell.files.map(
    (file) =>
      new Request(new URL(file, start), { cache: file.startsWith("./assets/") ? "default" : "reload" }),
  );
  event.waitUntil(caches.open(own).then((cache) => cache.addAll(requests)));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(forgetOlder().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") event.waitUntil(self.skipWaiting());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== start.origin) return;
  if (request.mode !== "navigate") {
    event.respondWith(kept(request).then((found) => found ?? fetch(request), asBefore(request)));
    return;
  }
  if (url.pathname !== start.pathname && url.pathname !== `${start.pathname}index.html`) return;
  event.respondWith(
    caches
      .open(own)
      .then((cache) => cache.match(start))
      .then((found) => found ?? fetch(request), asBefore(request)),
  );
  event.waitUntil(forgetOlder(event.resultingClientId));
});

/** Where the browser cannot read what it keeps, the network gives the file, as it would without this worker. */
const asBefore = (request: Request) => (): Promise<Response> => fetch(request);

/** A kept file: of this version, else of an older one that an open page came from. */
async function kept(request: Request): Promise<Response | undefined> {
  const cache = await caches.open(own);
  return (await cache.match(request)) ?? (await caches.match(request));
}

/** Forgets older versions when no page but the one that is being opened can still need them. */
async function forgetOlder(opening?: string): Promise<void> {
  const pages = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  const others = pages.filter((page) => page.id !== opening);
  if (others.length > (opening === undefined ? 1 : 0)) return;
  const older = (await caches.keys()).filter((name) => name.startsWith("invacuo ") && name !== own);
  await Promise.all(older.map((name) => caches.delete(name)));
}
