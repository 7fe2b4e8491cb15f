import { parentPort, workerData } from "node:worker_threads";
import { openBook } from "../engine";
import { sweepPoint } from "./sweep-point";

/** What a worker is told at its start. */
export interface WorkerTask {
  readonly text: string;
  readonly vary: readonly string[];
  readonly show: readonly string[];
}

/**
 * Works points of a sweep out in a thread of its own: it opens the book once, then answers each list of
 * points with their lines of JSON.
 */
const { text, vary, show } = workerData as WorkerTask;
const sweep = openBook(text).sweep(vary, show);
parentPort!.on("message", (points: readonly number[]) => {
  parentPort!.postMessage(points.map((point) => JSON.stringify(sweepPoint(sweep, point))));
});
