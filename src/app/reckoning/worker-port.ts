/** A worker that does one job at a time. */
export const newWorker = (): Worker | undefined =>
  new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name: "reckoning" });
