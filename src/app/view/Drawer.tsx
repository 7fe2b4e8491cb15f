import { type ReactNode, useEffect, useRef, useState } from "react";

/** A word that opens a short list under it, or above it. Escape and a touch elsewhere close it. */
export function Drawer({ word, up = false, children }: { word: string; up?: boolean; children: ReactNode }) {
  const [open, setOpen] = useState(false);
  const box = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (!open) return;
    const outside = (event: PointerEvent) => {
      if (event.target instanceof Node && !box.current?.contains(event.target)) setOpen(false);
    };
    addEventListener("pointerdown", outside);
    return () => removeEventListener("pointerdown", outside);
  }, [open]);
  return (
    <div
      className={up ? "drawer up" : "drawer"}
      ref={box}
      onKeyDown={(event) => {
        if (event.key !== "Escape" || !open) return;
        event.stopPropagation();
        setOpen(false);
        button.current?.focus();
      }}
      onBlur={(event) => {
        if (event.relatedTarget !== null && !event.currentTarget.contains(event.relatedTarget))
          setOpen(false);
      }}
    >
      <button type="button" className="act" ref={button} aria-expanded={open} onClick={() => setOpen(!open)}>
        {word}
      </button>
      {open ? (
        <div role="group" aria-label={word} onClick={() => setOpen(false)}>
          {children}
        </div>
      ) : null}
    </div>
  );
}
