import type { ValueItem } from "../../engine";
import { itemPlace } from "../state/place";
import { slotAt } from "../state/slots";
import { detent, literalWith } from "../state/trial";
import { useNotebook } from "./workbench";

/** The range of a `try`: a graduated slider with keys, or the choices as words. What depends on it moves along. */
export function Slider({ id, item }: { id: string; item: ValueItem }) {
  const store = useNotebook();
  const { trial } = item;
  if (trial === undefined) return null;
  const write = (text: string) => {
    const state = store.get();
    const edit = slotAt(state.book, itemPlace(id, "formula"))?.write(text);
    if (edit !== undefined && !("refused" in edit))
      store.send({
        type: "edit",
        edit: { ...edit, says: `${item.name}, tried ${text}` },
        thread: `try ${id}`,
      });
  };
  if (trial.type === "choices") {
    return (
      <div className="choices whole" role="group" aria-label={`choices for ${item.name}`}>
        {trial.choices.map((choice) => (
          <button
            key={choice}
            type="button"
            className="act framed"
            aria-pressed={item.shown.text === choice}
            onClick={() => write(`"${choice}"`)}
          >
            {choice}
          </button>
        ))}
      </div>
    );
  }
  const { from, to } = trial;
  const now = Number(item.shown.number);
  const step = detent(trial);
  const put = (value: number) =>
    write(literalWith(item.formula, Math.min(Math.max(value, Math.min(from, to)), Math.max(from, to)), step));
  return (
    <div className="try whole">
      <span>try</span>
      <input
        type="range"
        aria-label={`try ${item.name}`}
        aria-valuetext={item.shown.text}
        min={Math.min(from, to)}
        max={Math.max(from, to)}
        step={step}
        value={Number.isFinite(now) ? now : from}
        onChange={(event) => put(event.currentTarget.valueAsNumber)}
        onKeyDown={(event) => {
          const way = event.key === "PageUp" ? 10 : event.key === "PageDown" ? -10 : 0;
          if (way === 0 || !Number.isFinite(now)) return;
          event.preventDefault();
          put(now + way * step);
        }}
      />
      <span />
      <span className="ends">
        <span>{trial.ends[0]}</span>
        <span>{trial.ends[1]}</span>
      </span>
    </div>
  );
}
