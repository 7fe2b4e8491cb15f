import { useCallback, useEffect, useRef, useState } from "react";
import { wordsOf } from "../view/words";
import type { Job, Progress, ResultOf } from "./jobs";

/** How a job stands. */
export type Reckoned<R> =
  | { readonly state: "working"; readonly progress?: Progress | undefined }
  | { readonly state: "done"; readonly result: R }
  | { readonly state: "stopped" }
  | { readonly state: "trouble"; readonly says: string };

/**
 * The result of a job, done beside the page. Another job (told apart by its `key`, else by what stands in it) stops
 * the one before it; none stops it too. `stop` gives it up, `again` begins it anew.
 */
export function useReckoned<J extends Job>(
  job: J | undefined,
  key?: string,
): { readonly is: Reckoned<ResultOf<J>> | undefined; stop(): void; again(): void } {
  const [is, setIs] = useState<{ readonly of: string; readonly is: Reckoned<ResultOf<J>> }>();
  const [turn, setTurn] = useState(0);
  const giveUp = useRef<AbortController>(undefined);
  const written = job === undefined ? "" : (key ?? JSON.stringify(job));
  const latest = useRef(job);
  latest.current = job;
  // biome-ignore lint/correctness/useExhaustiveDependencies: `turn` begins the same job anew
  useEffect(() => {
    const { current: wanted } = latest;
    if (written === "" || wanted === undefined) return;
    const control = new AbortController();
    giveUp.current = control;
    const tell = (now: Reckoned<ResultOf<J>>) => setIs({ of: written, is: now });
    tell({ state: "working" });
    import("./reckon")
      .then(({ reckon }) =>
        reckon(wanted, control.signal, (progress) => {
          if (!control.signal.aborted) tell({ state: "working", progress });
        }),
      )
      .then(
        (result) => {
          if (!control.signal.aborted) tell({ state: "done", result });
        },
        (error: unknown) => {
          if (!control.signal.aborted) tell({ state: "trouble", says: wordsOf(error) });
        },
      );
    return () => control.abort();
  }, [written, turn]);
  const stop = useCallback(() => {
    giveUp.current?.abort();
    setIs({ of: written, is: { state: "stopped" } });
  }, [written]);
  const again = useCallback(() => setTurn((n) => n + 1), []);
  return { is: is?.of === written && written !== "" ? is.is : undefined, stop, again };
}
