/** Keeping the page for use without a network, and hearing of newer versions of it. */

/** Changes over to the newer version: every page of this address then comes from it, and this one is loaded again. */
export type TakeOver = () => Promise<void>;

/**
 * Has the browser keep the page, and calls back whenever a newer version lies ready. Nothing changes over by itself.
 * Does nothing for a page that was opened from disk, that holds all of itself in one file, or where the browser keeps
 * nothing.
 */
export function watchForNewVersion(onReady: (takeOver: TakeOver) => void): void {
  const served = location.protocol === "https:" || location.protocol === "http:";
  const workers = served && import.meta.env.PROD ? navigator.serviceWorker : undefined;
  if (workers === undefined || document.querySelector("link[rel=manifest]") === null) return;
  workers.register("./service-worker.js", { updateViaCache: "none" }).then(
    (registration) => {
      const offer = (worker: ServiceWorker | null) => {
        // Without one that is active this is the first version, and there is nothing to change over from.
        if (worker !== null && registration.active !== null) onReady(() => takeOver(workers, worker));
      };
      offer(registration.waiting);
      registration.addEventListener("updatefound", () => {
        const coming = registration.installing;
        coming?.addEventListener("statechange", () => {
          if (coming.state === "installed") offer(coming);
        });
      });
      // A page that stays open for days asks again whenever it is looked at.
      document.addEventListener("visibilitychange", () => {
        if (document.visibilityState === "visible") registration.update().catch(withoutNetwork);
      });
    },
    // A browser that refuses keeps no books either, and the page says so where it tells what is saved.
    () => undefined,
  );
}

/** Asking for a newer version without a network fails, and the version that is here goes on. */
const withoutNetwork = (): void => undefined;

async function takeOver(workers: ServiceWorkerContainer, worker: ServiceWorker): Promise<void> {
  // Another tab may have changed over already.
  if (worker.state === "installed") {
    const changed = new Promise((done) => workers.addEventListener("controllerchange", done, { once: true }));
    worker.postMessage("take over");
    await changed;
  }
  location.reload();
}
