/** Stands in for worker-port.ts where the page is one file, which no worker can be loaded from. */
export const newWorker = (): Worker | undefined => undefined;
