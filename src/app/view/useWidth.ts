import { type RefObject, useLayoutEffect, useState } from "react";

/** The width of an element in whole pixels, kept up to date; 0 before it is known. */
export function useWidth(element: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const box = element.current;
    if (box === null) return;
    const look = () => setWidth(Math.floor(box.clientWidth));
    look();
    const watch = new ResizeObserver(look);
    watch.observe(box);
    return () => watch.disconnect();
  }, [element]);
  return width;
}
