import { useEffect, useRef, useState } from "react";
import { elementId, type Graduation } from "../state/items";
import { Mark, type MarkName } from "./Mark";

/** The marks of values, each with its word and what the word means. */
const marks: readonly (readonly [MarkName, string])[] = [
  ["typed", "by hand"],
  ["computed", "worked out"],
  ["found", "by a search"],
  ["gap", "not filled in"],
  ["fault", "a mistake"],
];

/** The contents as a graduated scale; the level stands at the place that is being read. */
export function Rail({ graduations, name }: { graduations: readonly Graduation[]; name: string }) {
  const [open, setOpen] = useState(false);
  const scale = useRef<HTMLUListElement>(null);
  const here = useReadingPlace(graduations);
  useEffect(() => {
    const list = scale.current;
    const current = list?.querySelector("[aria-current]")?.parentElement;
    if (list && current)
      list.style.setProperty("--level", `${current.offsetTop + current.offsetHeight / 2}px`);
  });
  useEffect(() => {
    if (!open) return;
    const close = (event: KeyboardEvent) => {
      if (event.key === "Escape") setOpen(false);
    };
    addEventListener("keydown", close);
    return () => removeEventListener("keydown", close);
  }, [open]);
  return (
    <nav className="rail" aria-label="Contents" data-open={open || undefined}>
      <a className="skip" href="#page">
        Past the contents
      </a>
      <div className="head">
        <p className="name">{name}</p>
        <button type="button" className="act open-rail" aria-expanded={open} onClick={() => setOpen(!open)}>
          {open ? "Close" : "Contents"}
        </button>
      </div>
      <ul className="scale" ref={scale}>
        {graduations.map((g) => (
          <li key={g.key} className={g.major ? "major" : undefined}>
            <a
              href={`#${elementId(g.key)}`}
              aria-current={g.key === here ? "location" : undefined}
              onClick={() => setOpen(false)}
            >
              {g.mark === undefined ? null : <Mark name={g.mark} says={g.markSays!} />}
              <span className="word">{g.word}</span>
            </a>
          </li>
        ))}
      </ul>
      <ul className="legend" aria-label="The marks">
        {marks.map(([mark, says]) => (
          <li key={mark}>
            <span>
              <b>{mark}</b> {says}
            </span>
            <Mark name={mark} />
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** The graduation whose item is the last to begin above the upper third of the window. */
function useReadingPlace(graduations: readonly Graduation[]): string | undefined {
  const [place, setPlace] = useState<string>();
  useEffect(() => {
    let asked = 0;
    const look = () => {
      asked = 0;
      let found = graduations[0]?.key;
      const level = innerHeight / 3;
      const atEnd = innerHeight + scrollY >= document.documentElement.scrollHeight - 4;
      for (const g of graduations) {
        const element = document.getElementById(elementId(g.key));
        if (element && element.getBoundingClientRect().top <= (atEnd ? innerHeight * 0.8 : level))
          found = g.key;
      }
      setPlace(found);
    };
    const ask = () => {
      if (asked === 0) asked = requestAnimationFrame(look);
    };
    look();
    addEventListener("scroll", ask, { passive: true });
    addEventListener("resize", ask);
    return () => {
      cancelAnimationFrame(asked);
      removeEventListener("scroll", ask);
      removeEventListener("resize", ask);
    };
  }, [graduations]);
  return place;
}
