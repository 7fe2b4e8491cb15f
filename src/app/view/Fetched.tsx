import { type ReactNode, useEffect } from "react";
import { type Parcel, useDelivery } from "./parcel";

interface FetchedProps<T> {
  readonly of: Parcel<T>;
  /** What is said while it is on its way. */
  readonly says?: string;
  /** What stands around the words until it is here: the sheet or box that it will fill. */
  readonly frame?: (words: ReactNode) => ReactNode;
  readonly children: (held: T) => ReactNode;
}

/** A part of the page that may have to be fetched: one moment, then itself; when it does not come, a way to ask again. */
export function Fetched<T>({ of, says = "One moment", frame = (words) => words, children }: FetchedProps<T>) {
  const delivery = useDelivery(of);
  useEffect(() => {
    // What did not come is asked for again by whoever opens its place anew.
    of.ask();
  }, [of]);
  if (delivery.is === "here") return children(delivery.held);
  if (delivery.is !== "away")
    return frame(
      <p className="source" role="status">
        {says}
      </p>,
    );
  return frame(
    <div className="not-fetched" role="alert">
      <p>
        {of.what} could not be fetched. Look whether this device is on its network. Nothing of the book is
        lost.
      </p>
      <button type="button" className="act framed" onClick={() => of.ask()}>
        Try again
      </button>
    </div>,
  );
}
