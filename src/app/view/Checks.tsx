import type { CheckItem } from "../../engine";
import { elementId, type Placed } from "../state/items";
import type { FirstNotes } from "../state/notes";
import { itemPlace } from "../state/place";
import { FieldText } from "./Headline";
import { Mark } from "./Mark";
import { Prose } from "./Prose";
import { Slips } from "./Slips";

const stateWords = { met: "met", unmet: "not met", unknown: "not yet known" } as const;

/** Checks of the book: mark in the margin, sentence, state in words, and below by how much it misses. */
export function Checks({
  id,
  checks,
  lit,
  first,
}: {
  id: string;
  checks: readonly Placed<CheckItem>[];
  lit: string | undefined;
  first: FirstNotes;
}) {
  return (
    <div className="part" role="group" aria-label="Checks" id={`${elementId(id)}-checks`}>
      {checks.map(({ key, item }) => (
        <div className={`line ${item.state}`} key={key} id={elementId(key)}>
          <span className="in-margin">
            <Mark name={item.state} plain />
          </span>
          <div className={lit === key ? "check lit" : "check"}>
            {isWorded(item) ? (
              <FieldText place={itemPlace(key, "text")} label={`check, sentence: ${item.text}`}>
                {item.text}
              </FieldText>
            ) : (
              <CheckFormula id={key} formula={item.formula} />
            )}
            <span className="state">{stateWords[item.state]}</span>
            <span className="sum">
              {isWorded(item) ? <CheckFormula id={key} formula={item.formula} /> : null}
              {item.says === undefined ? null : (
                <span>
                  <Prose text={item.says} />
                </span>
              )}
            </span>
            <Slips notes={first(key)} className="sum" />
          </div>
        </div>
      ))}
    </div>
  );
}

/** A check without a sentence of its own is told by its formula. */
const isWorded = (item: CheckItem): boolean => item.text !== "" && item.text !== item.formula;

function CheckFormula({ id, formula }: { id: string; formula: string }) {
  return (
    <FieldText place={itemPlace(id, "formula")} label={`check, formula: ${formula}`}>
      <code>{formula}</code>
    </FieldText>
  );
}
