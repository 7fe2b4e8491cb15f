import { type Job, type Progress, type Results, work } from "./jobs";

/** What the page and the worker say to each other. */
export type Said =
  | { readonly is: "progress"; readonly progress: Progress }
  | { readonly is: "result"; readonly result: Results[keyof Results] }
  | { readonly is: "trouble"; readonly says: string };

/** Milliseconds between two words on how far it has come. */
const TELLS = 100;

interface Port {
  onmessage: ((event: MessageEvent<Job>) => void) | null;
  postMessage(said: Said): void;
}
const port = globalThis as unknown as Port;

port.onmessage = ({ data }) => {
  try {
    let told = performance.now();
    const tell = (progress: Progress): void => {
      if (performance.now() - told < TELLS) return;
      told = performance.now();
      port.postMessage({ is: "progress", progress });
    };
    const run = work(data, tell);
    for (;;) {
      const step = run.next();
      if (step.done) {
        port.postMessage({ is: "result", result: step.value });
        return;
      }
      tell(step.value);
    }
  } catch (error) {
    port.postMessage({ is: "trouble", says: error instanceof Error ? error.message : String(error) });
  }
};
