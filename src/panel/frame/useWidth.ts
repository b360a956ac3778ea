/** How wide an element is, as it is and as it changes. */
import { useEffect, useState, type RefObject } from "react";

/** Until it is known, and where it cannot be known: the inside of a pane of 320 pixels. */
const AT_FIRST = 296;
const LEAST = 240;

export function useWidth(frame: RefObject<HTMLElement>): number {
  const [width, setWidth] = useState(AT_FIRST);
  useEffect(() => {
    const element = frame.current;
    if (!element || typeof ResizeObserver === "undefined") return;
    const observer = new ResizeObserver((entries) => {
      for (const { contentRect } of entries) setWidth(Math.max(LEAST, Math.floor(contentRect.width)));
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, [frame]);
  return width;
}
