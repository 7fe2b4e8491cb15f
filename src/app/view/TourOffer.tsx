import { setTour, useTour } from "./useTour";

/** The first look, offered where a person arrives. Once it is put away a word brings it back. */
export function TourOffer({ title, onOpen }: { title: string; onOpen: () => void }) {
  if (useTour() === "away")
    return (
      <p>
        <button type="button" className="act back" onClick={() => setTour("offered")}>
          A first look, in three steps
        </button>
      </p>
    );
  return (
    <section className="tour-offer" aria-labelledby="h-tour">
      <h2 id="h-tour">New here? A first look, in three steps</h2>
      <ol>
        <li aria-current="step">
          <b>Open an example.</b> It is a copy of your own, so nothing in it can be spoilt.
        </li>
        <li>
          <b>Change a number</b> and see what follows from it.
        </li>
        <li>
          <b>Ask why</b> a number is what it is.
        </li>
      </ol>
      <p className="fixes">
        <button type="button" className="act main" onClick={onOpen}>
          Open “{title}”
        </button>
        <button type="button" className="act framed" onClick={() => setTour("away")}>
          Not now
        </button>
      </p>
    </section>
  );
}
