import { type RefObject, useEffect, useRef } from "react";

/** A box over the page, opened as soon as it is there. Escape closes it, and the keyboard goes back where it was. */
export function useDialog(): RefObject<HTMLDialogElement | null> {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    const box = dialog.current;
    box?.showModal();
    return () => {
      box?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return dialog;
}
