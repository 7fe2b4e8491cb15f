/** A worker that does one job at a time; undefined where the page is one file and has none. */
export const newWorker = (): Worker | undefined =>
  new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "reckoning" });
