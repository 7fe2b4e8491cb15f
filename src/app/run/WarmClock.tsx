import { useMemo } from "react";
import type { Book } from "../../engine";
import { WARM_CLOCK } from "../../vocabulary/cautions";
import { COLD_BOILING } from "../../vocabulary/food-cautions";
import { isTicking, untilNextRule } from "./alarms";
import { readyBell } from "./bell";
import { clockText, elapsed, type Run } from "./run";
import { useRunSession } from "./session";
import { useNow } from "./useNow";

/** Whether the cautions of a book call for the hours of warmth to be counted. */
export const warmClockCalled = (book: Book): boolean =>
  book.cautions.some((caution) => caution === WARM_CLOCK || caution === COLD_BOILING);

/** Counts the time between 5 and 60 °C over all spells, and says what the usual rule makes of it. */
export function WarmClock({ book, run }: { book: Book; run: Run }) {
  const session = useRunSession();
  const now = useNow(isTicking(run));
  const { warm } = run;
  const going = warm?.since !== undefined;
  const total = elapsed(warm, now);
  const minutes = Math.floor(total / 60_000);
  const rule = useMemo(() => ruleFor(book, minutes), [book, minutes]);
  const next = untilNextRule(warm, now);
  const add = (by: number) => () => {
    session.act({ type: "warm-add", minutes: by, at: Date.now() });
    session.say(`Warm clock: ${by > 0 ? "15 min added" : "15 min taken off"}.`);
  };
  return (
    <section
      className={`warm${minutes >= 240 ? " over" : minutes >= 120 ? " near" : ""}`}
      aria-label="Warm clock"
    >
      <div>
        <span className="cap" id="cap-warm">
          warm clock, 5 to 60 °C
        </span>
        <div className="clock" role="timer" aria-live="off" aria-labelledby="cap-warm">
          {clockText(total)}
        </div>
      </div>
      <div className="buttons">
        <button
          type="button"
          className="act framed"
          onClick={() => {
            readyBell();
            session.act({ type: "warm", do: going ? "pause" : "start", at: Date.now() });
            session.say(going ? "The warm clock is held." : "The warm clock goes.");
          }}
        >
          {going ? "Not warm any more" : "It is warm now"}
        </button>
        <button type="button" className="act" onClick={add(15)}>
          15 min more
        </button>
        <button type="button" className="act" disabled={total === 0} onClick={add(-15)}>
          15 min less
        </button>
      </div>
      <p>
        {warm === undefined
          ? "For food with under 12 % alcohol by mass that is not sour (above pH 4.6): count what time it is warm."
          : `${rule}${next === undefined ? "" : ` ${next}.`}`}{" "}
        The local food code decides.
      </p>
    </section>
  );
}

/** What the vocabulary's own rule says of a warm time. */
function ruleFor(book: Book, minutes: number): string {
  const { notes } = book.ask(`warm_time([${minutes} min], [20 °C]).between_5_and_60`);
  return notes[0] ?? "";
}
