import { type KeyboardEvent, useId } from "react";
import type { Book, StepItem } from "../../engine";
import { Mark, type MarkName } from "../view/Mark";
import { Prose } from "../view/Prose";
import { deviationFrom, type Read, readReading } from "./readings";
import { useRunSession } from "./session";
import { readingLabel } from "./steps";
import { asked } from "./wanted";

type Ask = StepItem["asks"][number];

/** A reading on its writing line: its unit, its plan, and how far from the plan it is. */
export function ReadingField({ book, ask, typed }: { book: Book; ask: Ask; typed: string }) {
  const session = useRunSession();
  const id = useId();
  const holds = asked(book, ask.path)?.holds ?? "quantity";
  const read = readReading(book, ask, typed);
  const says = saysOf(ask, read);
  const write = (text: string) => session.act({ type: "read", path: ask.path, typed: text, at: Date.now() });
  const label = readingLabel(ask.path);
  const plan = ask.expect?.state === "ok" ? ask.expect.text : undefined;
  return (
    <div>
      <label htmlFor={id}>
        {label}
        {plan === undefined ? "" : `, planned ${plan}`}
      </label>
      <div className="entry">
        <input
          id={id}
          type={holds === "date" ? "date" : "text"}
          inputMode={holds === "quantity" ? "decimal" : undefined}
          autoComplete="off"
          enterKeyHint="next"
          placeholder="not read yet"
          value={typed}
          aria-invalid={read.state === "refused" || read.state === "unclear" || undefined}
          aria-describedby={`${id}-says`}
          onChange={(event) => write(event.currentTarget.value)}
          onKeyDown={onward}
          onBlur={() => {
            if (says !== undefined) session.say(`${label}: ${says.text}`);
          }}
        />
        {ask.unit === "" ? null : <span className="u">{ask.unit}</span>}
      </div>
      <div id={`${id}-says`}>
        {says === undefined ? null : (
          <p className={`says ${says.ink}`}>
            <Mark name={says.mark} />
            <span>
              <Prose text={says.text} />
            </span>
          </p>
        )}
      </div>
      {read.state === "unclear" ? (
        <div className="buttons" role="group" aria-label={`Which number is meant by ${typed}?`}>
          {read.choices.map((choice) => (
            <button type="button" className="act framed" key={choice.text} onClick={() => write(choice.text)}>
              {choice.text} <small>{choice.says}</small>
            </button>
          ))}
        </div>
      ) : null}
    </div>
  );
}

/** Enter goes on to the next field of the step, then to what ends it. */
function onward(event: KeyboardEvent<HTMLInputElement>): void {
  if (event.key !== "Enter" || event.nativeEvent.isComposing) return;
  event.preventDefault();
  const fields = [...document.querySelectorAll<HTMLElement>(".run .gauges input, .run .go .main")];
  fields[fields.indexOf(event.currentTarget) + 1]?.focus();
}

interface Says {
  readonly text: string;
  readonly mark: MarkName;
  readonly ink: string;
}

function saysOf(ask: Ask, read: Read): Says | undefined {
  switch (read.state) {
    case "empty":
    case "words":
      return undefined;
    case "refused":
      return { text: [read.says, read.help ?? ""].join(" ").trim(), mark: "fault", ink: "fault-ink" };
    case "unclear":
      return { text: "Which number is meant?", mark: "unknown", ink: "gap-ink" };
    case "read": {
      const deviation = deviationFrom(ask.expect, read.value);
      const also = read.says === undefined ? "" : `${read.says}`;
      if (deviation === undefined)
        return also === "" ? undefined : { text: also, mark: "typed", ink: "typed-ink" };
      const text = also === "" ? deviation.says : `${also}; ${deviation.says}`;
      switch (deviation.state) {
        case "as planned":
        case "within":
          return { text, mark: "met", ink: "met-ink" };
        case "outside":
          return { text, mark: "care", ink: "gap-ink outside" };
        case "off":
          return { text, mark: "unknown", ink: "gap-ink" };
      }
    }
  }
}
