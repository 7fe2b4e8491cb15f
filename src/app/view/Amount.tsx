import { useEffect, useRef, useState } from "react";
import type { Shown } from "../../engine";
import { Mark } from "./Mark";

interface AmountProps {
  readonly shown: Shown;
  /** The heading says the unit already. */
  readonly bare?: boolean;
  /** Keeps the place of a ± free, in a column where other cells have one. */
  readonly spreadPlace?: boolean;
  /** Fade once when the value changes. */
  readonly lively?: boolean;
}

/** A value as it is printed: number first, then its spread and its unit in quiet ink; a word where there is none. */
export function Amount({ shown, bare = false, spreadPlace = false, lively = false }: AmountProps) {
  const fresh = useFresh(lively ? shown.text : "");
  if (shown.state === "gap") return <Gap shown={shown} bare={bare} />;
  if (shown.state === "fault") return <Fault shown={shown} />;
  const className = fresh ? "q fresh" : "q";
  if (shown.value.type !== "quantity") return <span className={`${className} words`}>{shown.text}</span>;
  return (
    <span className={className}>
      {shown.number}
      {shown.spread !== undefined ? (
        <>
          {" "}
          <span className="pm">± {shown.spread}</span>
        </>
      ) : spreadPlace ? (
        <span className="pm" />
      ) : null}
      {bare || shown.unit === "" ? null : (
        <>
          {" "}
          <span className="u">{shown.unit}</span>
        </>
      )}
    </span>
  );
}

/** A gap of its own is an empty box; one that comes from elsewhere names what it waits for. */
function Gap({ shown, bare }: { shown: Shown; bare: boolean }) {
  const own = shown.origin === "typed" || shown.cause === undefined || shown.cause === shown.path;
  if (own && shown.origin === "typed") {
    return (
      <span className="tag gap">
        <Mark name="gap" />
        gap
      </span>
    );
  }
  return (
    <span className="tag waits" title={shown.message}>
      <Mark name="gap" plain />
      {own ? ownGap(shown, bare) : shortCause(shown, "gap")}
    </span>
  );
}

/** Where nothing has to be filled in, a value is only not worked out yet; what it was before is told meanwhile. */
function ownGap({ value, was }: Shown, bare = false): string {
  if (was !== undefined) return `was ${was.number}${bare || was.unit === "" ? "" : ` ${was.unit}`}`;
  return value.type === "gap" && value.waits ? "not yet" : "gap";
}

function Fault({ shown }: { shown: Shown }) {
  const elsewhere = shown.cause !== undefined && shown.cause !== shown.path;
  return elsewhere ? (
    <span className="tag waits" title={shown.message}>
      <Mark name="fault" plain />
      {shortCause(shown, "fault")}
    </span>
  ) : (
    <span className="tag fault" title={shown.message}>
      <Mark name="fault" plain />
      fault
    </span>
  );
}

/** What was typed and cannot be read or does not fit: it stays in sight, with the mark of a fault. */
export function AsTyped({ raw }: { raw: string }) {
  return (
    <span className="as-typed">
      <Mark name="fault" says="fault" />
      {raw}
    </span>
  );
}

/** "needs got", "from spirit": the last part of the place where the cause stands. */
export function shortCause(shown: Shown, word: "gap" | "fault"): string {
  if (shown.cause === undefined) return word;
  const last = /`([^`]*)`$/.exec(shown.cause)?.[1] ?? shown.cause.slice(shown.cause.lastIndexOf(".") + 1);
  return word === "gap" ? `needs ${last}` : `from ${last}`;
}

/** Words for a value when it is read aloud. */
export function spoken(shown: Shown): string {
  if (shown.state === "gap") {
    const says = shown.message ?? "not filled in yet";
    if (shown.origin === "typed") return says;
    // What is seen is also heard.
    const isOwn = shown.cause === undefined || shown.cause === shown.path;
    const seen = isOwn ? ownGap(shown) : shortCause(shown, "gap");
    return says.includes(seen) ? says : `${seen}: ${says}`;
  }
  if (shown.state === "fault")
    return `fault: ${(shown.message ?? "cannot be worked out").replace(/\.$/, "")}`;
  if (shown.value.type !== "quantity") return shown.text === "" ? "empty" : shown.text;
  // The digits that are seen, so that who speaks to the page can name what they see.
  const spread = shown.spread === undefined ? "" : ` ± ${shown.spread}`;
  return `${shown.number}${spread}${shown.unit === "" ? "" : ` ${shown.unit}`}`;
}

/** True from the moment a text changes until it is shown settled; never on first sight. */
function useFresh(text: string): boolean {
  const seen = useRef(text);
  const [fresh, setFresh] = useState(false);
  useEffect(() => {
    if (seen.current === text) return;
    seen.current = text;
    setFresh(true);
    const settled = setTimeout(() => setFresh(false), 450);
    return () => clearTimeout(settled);
  }, [text]);
  return fresh;
}
