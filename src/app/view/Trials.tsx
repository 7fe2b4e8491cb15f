import { useState } from "react";
import type { Explanation, MonteCarlo } from "../../engine";
import { useReckoned } from "../reckoning/useReckoned";
import { Working } from "../reckoning/Working";
import { Mark } from "./Mark";
import { Prose } from "./Prose";

/** Trials of one check: enough that its own noise stays under a per cent of the uncertainty. */
const TRIALS = 10_000;

/** Checks the linear estimate of an uncertainty by drawing every input anew, beside the page. */
export function Trials({ text, explanation }: { text: string; explanation: Explanation }) {
  const { path, contributions } = explanation;
  const [asked, setAsked] = useState<{ readonly text: string; readonly path: string }>();
  const wanted = asked?.text === text && asked.path === path;
  const run = useReckoned(wanted ? ({ do: "trials", text, path, trials: TRIALS } as const) : undefined);
  if (contributions.length === 0) return null;
  return (
    <section>
      <h3>Checked by drawing</h3>
      {run.is?.state === "done" ? (
        <Drawn is={run.is.result} unit={explanation.shown.unit} />
      ) : wanted ? (
        <Working
          is={run.is}
          says={`Drawing every input anew, ${TRIALS.toLocaleString("en-GB")} times`}
          onStop={run.stop}
          onAgain={run.again}
        />
      ) : (
        <button type="button" className="act framed" onClick={() => setAsked({ text, path })}>
          Check the ± with {TRIALS.toLocaleString("en-GB")} trials
        </button>
      )}
    </section>
  );
}

function Drawn({ is, unit }: { is: MonteCarlo | undefined; unit: string }) {
  if (is === undefined) return <p role="status">No trial came to a value in the same unit.</p>;
  const amount = (n: number) => `${Number(n.toPrecision(4))} ${unit}`.trim();
  return (
    <div role="status">
      <p className="stop-state">
        <Mark name={is.poor ? "care" : "met"} />
        <span>
          <Prose text={is.says} />
        </span>
      </p>
      <dl className="stop-parts">
        <div>
          <dt>± by the linear estimate</dt>
          <dd>{amount(is.linear)}</dd>
        </div>
        <div>
          <dt>± by the trials</dt>
          <dd>{amount(is.deviation)}</dd>
        </div>
      </dl>
    </div>
  );
}
