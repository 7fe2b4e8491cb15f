import Inlined from "./worker?worker&inline";

/** Stands in for worker-port.ts where the page is one file: the worker's code is in it, and is handed over as a blob. */
export const newWorker = (): Worker | undefined => new Inlined({ name: "reckoning" });
