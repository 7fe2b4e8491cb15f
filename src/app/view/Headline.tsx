import { type ReactNode, useRef } from "react";
import { type ItemPlace, samePlace } from "../state/place";
import { openPlace, WritingPlace } from "./WritingPlace";
import { useNotebook } from "./workbench";

interface FieldTextProps {
  readonly place: ItemPlace;
  readonly label: string;
  readonly className?: string;
  readonly fromRight?: boolean;
  /** False for what the keyboard reaches by a command instead (names), so that Tab stays short. */
  readonly stop?: boolean;
  readonly children: ReactNode;
}

/** Words of an item that can be written: the first touch chooses, the second opens. */
export function FieldText({
  place,
  label,
  className = "",
  fromRight = false,
  stop = true,
  children,
}: FieldTextProps) {
  const store = useNotebook();
  const wasHere = useRef(false);
  return (
    <span
      className={className}
      onPointerDown={() => {
        wasHere.current = samePlace(store.get().here, place);
      }}
      onClick={() => {
        const { draft } = store.get();
        if (draft !== undefined && samePlace(draft.place, place)) return;
        if (wasHere.current) openPlace(store);
        else store.send({ type: "go", place });
      }}
    >
      <WritingPlace place={place} label={label} fromRight={fromRight} stop={stop}>
        {children}
      </WritingPlace>
    </span>
  );
}

interface HeadlineProps {
  readonly id: string;
  readonly place: ItemPlace;
  readonly label: string;
  readonly title: string;
  readonly children?: ReactNode;
}

/** The heading of a part, with what is said at its right. */
export function Headline({ id, place, label, title, children }: HeadlineProps) {
  return (
    <div className="headline">
      {/* named by its words alone: the field that lies over them has a name of its own */}
      <h2 id={id} aria-label={title}>
        <FieldText place={place} label={label}>
          {title}
        </FieldText>
      </h2>
      {children}
    </div>
  );
}
