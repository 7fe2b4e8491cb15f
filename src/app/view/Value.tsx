import { writeName } from "../../../grammar";
import type { DefineItem, Shown, ValueItem } from "../../engine";
import type { Note } from "../../quantity";
import { SweepCommand } from "../run/SweepCommand";
import { elementId, type Placed } from "../state/items";
import { itemPlace } from "../state/place";
import { slotAt } from "../state/slots";
import { useStore } from "../state/store";
import { Amount, AsTyped, spoken } from "./Amount";
import { FieldText } from "./Headline";
import { Mark } from "./Mark";
import { Seen } from "./Seen";
import { Slider } from "./Slider";
import { Slips } from "./Slips";
import { useNotebook } from "./workbench";

interface ValueProps {
  readonly placed: Placed<ValueItem>;
  /** Remarks that stand here first. */
  readonly notes: readonly Note[];
  readonly lit: boolean;
}

/** A typed value: its name, its remark, and the number on a writing line. */
export function TypedValue({ placed: { key, item }, notes, lit }: ValueProps) {
  return (
    <div className={`value${lit ? " lit" : ""}`} id={elementId(key)}>
      <div className="named">
        <Name id={key} item={item} />
        <Seen path={writeName(item.name)} />
        <Remark id={key} item={item} />
      </div>
      <div className="amount">
        <Typed id={key} item={item} />
      </div>
      <Slips notes={notes} className="whole" />
    </div>
  );
}

/** A typed number on its writing line; what cannot be read stands there as it was typed. */
function Typed({ id, item }: { id: string; item: ValueItem }) {
  const store = useNotebook();
  const place = itemPlace(id, "formula");
  return (
    <FieldText place={place} label={`${item.name}, ${spoken(item.shown)}, typed`} className="write" fromRight>
      {item.shown.state === "fault" ? (
        <AsTyped raw={slotAt(store.get().book, place)?.text ?? item.formula} />
      ) : (
        <Amount shown={item.shown} lively />
      )}
    </FieldText>
  );
}

/** A value that is worked out or found, or that has parts or a slider: on a line of its own. */
export function Value({ placed: { key, item }, notes, lit }: ValueProps) {
  const store = useNotebook();
  const asked = useStore(store, (s) => (s.side === "why" ? s.asked : undefined));
  const hasParts = item.parts.length > 0;
  const typed = item.shown.origin === "typed";
  const found = item.shown.origin === "found";
  // A sentence stands below its name, as a sentence: beside it there is room for a number.
  const sentence = item.shown.state === "ok" && item.shown.value.type === "text";
  const amount = sentence ? "amount whole sentence" : "amount";
  return (
    <div className="line" id={elementId(key)}>
      <span className="in-margin" />
      <div className={`value${lit ? " lit" : ""}`}>
        <div className={hasParts || sentence ? "named whole" : "named"}>
          <Name id={key} item={item} />
          {typed ? null : (
            <FieldText place={itemPlace(key, "formula")} label={`${item.name}, formula: ${item.formula}`}>
              <code className={found ? "how found-ink" : "how"}>
                <Mark name={found ? "found" : "computed"} />
                {item.formula}
              </code>
            </FieldText>
          )}
          <Seen path={writeName(item.name)} />
          <Remark id={key} item={item} />
        </div>
        {hasParts ? (
          <div className="parts">
            {item.parts.map((part) => (
              <PartButton key={part.path} part={part} within={item.name} asked={asked === part.path} />
            ))}
          </div>
        ) : typed ? (
          <div className={amount}>
            <Typed id={key} item={item} />
          </div>
        ) : (
          <div className={amount}>
            <button
              type="button"
              className={`act${asked === item.shown.path ? " asked" : ""}`}
              aria-label={`${item.name}, ${spoken(item.shown)}: why?`}
              aria-pressed={asked === item.shown.path}
              onClick={() => store.send({ type: "ask", path: item.shown.path })}
            >
              {found ? <Mark name="found" says="found" /> : null}
              <Amount shown={item.shown} lively />
            </button>
          </div>
        )}
        {/* while the value is mended, what tries others keeps its place */}
        <fieldset className="tries" disabled={item.trial?.type === "range" && item.trial.idle}>
          {item.trial === undefined ? null : <Slider id={key} item={item} />}
          <SweepCommand id={key} item={item} />
        </fieldset>
        <Slips notes={notes} className="whole" />
      </div>
    </div>
  );
}

/** A part of a result: its label over its number; touching it asks why. */
function PartButton({ part, within, asked }: { part: Shown; within: string; asked: boolean }) {
  const store = useNotebook();
  const label = part.path.startsWith(`${within}.`) ? part.path.slice(within.length + 1) : part.label;
  return (
    <button
      type="button"
      className={asked ? "asked" : undefined}
      aria-pressed={asked}
      onClick={() => store.send({ type: "ask", path: part.path })}
    >
      <small>
        <span>{label.replaceAll(/[_.]/g, " ").replaceAll("`", "")}</span>
        {asked ? <span className="here-why">why</span> : null}
      </small>
      <Amount shown={part} lively />
    </button>
  );
}

function Name({ id, item }: { id: string; item: ValueItem }) {
  return (
    <FieldText place={itemPlace(id, "name")} label={`name, ${item.name}`} className="label" stop={false}>
      {item.name}
    </FieldText>
  );
}

function Remark({ id, item }: { id: string; item: ValueItem }) {
  if (item.remark === undefined || item.remark === "") return null;
  return (
    <FieldText
      place={itemPlace(id, "remark")}
      label={`remark on ${item.name}, ${item.remark}`}
      className="says"
      stop={false}
    >
      {item.remark}
    </FieldText>
  );
}

/** The writer's own function. */
export function Defined({ placed: { key, item } }: { placed: Placed<DefineItem> }) {
  return (
    <div className="line" id={elementId(key)}>
      <span className="in-margin" />
      <div className="defined">
        <b>
          {item.name}({item.parameters.join(", ")})
        </b>
        <FieldText place={itemPlace(key, "formula")} label={`${item.name}, formula: ${item.formula}`}>
          <code className="how">
            <Mark name="computed" />
            {item.formula}
          </code>
        </FieldText>
        <Seen path={writeName(item.name)} />
        {item.remark === undefined ? null : <span className="says">{item.remark}</span>}
      </div>
    </div>
  );
}
