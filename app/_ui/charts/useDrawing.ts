import { type RefObject, useEffect, useState } from "react";

export type Drawing = typeof import("./drawing");

/** How near to the screen a chart begins to load. */
const NEAR = "300px";

/** What to draw with, once `place` is near the screen or the page is printed; undefined until then. */
export function useDrawing(place: RefObject<Element | null>): Drawing | undefined {
  const [drawing, setDrawing] = useState<Drawing>();
  useEffect(() => {
    const element = place.current;
    if (!element) return;
    let isGone = false;
    const load = () => {
      watch.disconnect();
      void import("./drawing").then((loaded) => {
        if (!isGone) setDrawing(loaded);
      });
    };
    const watch = new IntersectionObserver(
      (entries) => {
        if (entries.some((entry) => entry.isIntersecting)) load();
      },
      { rootMargin: NEAR },
    );
    watch.observe(element);
    window.addEventListener("beforeprint", load);
    return () => {
      isGone = true;
      watch.disconnect();
      window.removeEventListener("beforeprint", load);
    };
  }, [place]);
  return drawing;
}
