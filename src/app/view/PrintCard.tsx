import type { Book } from "../../engine";
import { type CardAmount, type CardStep, cardDocument } from "../../exchange/card";
import { Each, Mind } from "./Steps";

/** The bench card on paper: seen only when the card alone is printed. */
export function PrintCard({ book }: { book: Book }) {
  const card = cardDocument(book);
  return (
    <section className="paper" aria-hidden="true">
      <div className="card">
        <h3>{card.title === "" ? "Bench card" : card.title}</h3>
        {card.about.map((words) => (
          <p className="prose" key={words}>
            {words}
          </p>
        ))}
        <div className="blanks">
          {card.blanks.map((blank) => (
            <span className="blank" key={blank}>
              {blank}
            </span>
          ))}
        </div>
        {card.warnings.length === 0 ? null : (
          <div className="mind">
            <h3>Before you begin</h3>
            {card.warnings.map((words) => (
              <p className="last" key={words}>
                {words}
              </p>
            ))}
          </div>
        )}
        {card.open.map((words) => (
          <p className="prose" key={words}>
            {words}
          </p>
        ))}
        {card.sections.map((section) => (
          <div key={section.steps[0]?.number ?? section.title}>
            {section.title === "" ? null : <h4>{section.title}</h4>}
            <ol className="steps">
              {section.steps.map((step) => (
                <PaperStep key={step.number} step={step} />
              ))}
            </ol>
          </div>
        ))}
        <Mind card={card} />
      </div>
    </section>
  );
}

function PaperStep({ step }: { step: CardStep }) {
  return (
    <li value={step.number}>
      <span className="count">{step.number}</span>
      <div>
        {step.pieces.map((piece, i) => (typeof piece === "string" ? piece : <Amount key={i} is={piece} />))}
        <div className="readings">
          {step.wait === undefined ? null : (
            <span>
              wait <Amount is={step.wait} />
            </span>
          )}
          {step.readings.map((r) => (
            <span className="blank" key={r.label}>
              {r.label}
              <span className="u">
                {r.unit}
                {r.expect === undefined ? "" : ` (planned ${r.expect})`}
              </span>
            </span>
          ))}
        </div>
      </div>
    </li>
  );
}

function Amount({ is }: { is: CardAmount }) {
  if (is.entries !== undefined) return <Each of={is.entries} />;
  return (
    <b>
      {is.number}
      {is.unit === "" ? null : <span className="u"> {is.unit}</span>}
    </b>
  );
}
