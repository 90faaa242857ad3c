import { type RefObject, useEffect, useState } from "react";

export type Drawing = typeof import("./drawing");

/** How near to the screen a chart begins to load. */
const NEAR = "300px";

/**
 * How long a desk's page is left alone before what lies below the screen is loaded too, ms: a print is laid out at
 * once and waits for no library. Phones, which hardly print, load it only when it comes near.
 */
const QUIET_MILLIS = 2_000;
const AT_A_DESK = "(hover: hover) and (pointer: fine)";

/** What to draw with: at a desk soon after the page, on a phone once `place` is near the screen; undefined until then. */
export function useDrawing(place: RefObject<Element | null>): Drawing | undefined {
  const [drawing, setDrawing] = useState<Drawing>();
  useEffect(() => {
    const element = place.current;
    if (!element) return;
    let isGone = false;
    const load = () => {
      clearTimeout(quiet);
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
    const quiet = matchMedia(AT_A_DESK).matches ? setTimeout(load, QUIET_MILLIS) : undefined;
    window.addEventListener("beforeprint", load);
    return () => {
      isGone = true;
      clearTimeout(quiet);
      watch.disconnect();
      window.removeEventListener("beforeprint", load);
    };
  }, [place]);
  return drawing;
}
