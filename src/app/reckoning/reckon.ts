import type { Job, Progress, ResultOf } from "./jobs";
import type { Said } from "./worker";
import { newWorker } from "./worker-port";

/** Milliseconds of work at a time where the page has no worker: an old browser, a network that is gone. */
const SLICE = 12;

/** A worker that has nothing to do; it is kept, for starting one costs as much as a short job. */
let idle: Worker | undefined;

/**
 * Does a job beside the page and tells how far it has come. The promise fails with an `AbortError` when the signal
 * stops it, and with the trouble's own words when the job cannot be done.
 */
export function reckon<J extends Job>(
  job: J,
  signal: AbortSignal,
  onProgress: (progress: Progress) => void = () => undefined,
): Promise<ResultOf<J>> {
  const worker = idle ?? newWorker();
  idle = undefined;
  return worker === undefined ? inSlices(job, signal, onProgress) : beside(worker, job, signal, onProgress);
}

function beside<J extends Job>(
  worker: Worker,
  job: J,
  signal: AbortSignal,
  onProgress: (progress: Progress) => void,
): Promise<ResultOf<J>> {
  return new Promise((resolve, reject) => {
    const stop = () => {
      worker.terminate();
      reject(signal.reason);
    };
    if (signal.aborted) {
      stop();
      return;
    }
    const finish = () => {
      signal.removeEventListener("abort", stop);
      worker.onmessage = null;
      worker.onerror = null;
      if (idle === undefined) idle = worker;
      else worker.terminate();
    };
    signal.addEventListener("abort", stop, { once: true });
    worker.onmessage = ({ data }: MessageEvent<Said>) => {
      if (data.is === "progress") {
        onProgress(data.progress);
        return;
      }
      finish();
      if (data.is === "result") resolve(data.result as ResultOf<J>);
      else reject(new Error(data.says));
    };
    worker.onerror = (event) => {
      signal.removeEventListener("abort", stop);
      worker.terminate();
      // Without words it is not the work that failed: the worker could not be started, and the page does without.
      if (event.message) reject(new Error(event.message));
      else inSlices(job, signal, onProgress).then(resolve, reject);
    };
    worker.postMessage(job);
  });
}

/** The same on the page itself, in slices that leave time for whatever else it has to do. */
async function inSlices<J extends Job>(
  job: J,
  signal: AbortSignal,
  onProgress: (progress: Progress) => void,
): Promise<ResultOf<J>> {
  const { work } = await import("./jobs");
  const run = work(job);
  for (;;) {
    signal.throwIfAborted();
    const until = performance.now() + SLICE;
    let step = run.next();
    while (!step.done && performance.now() < until) step = run.next();
    if (step.done) return step.value as ResultOf<J>;
    onProgress(step.value);
    await new Promise((next) => setTimeout(next));
  }
}
