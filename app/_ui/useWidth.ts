"use client";

import { type RefObject, useLayoutEffect, useState } from "react";

/** Width of an element in px, followed as it changes; `before` until it is measured. */
export function useWidth(ref: RefObject<HTMLElement | null>, before: number): number {
  const [width, setWidth] = useState(before);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    const read = (): void => {
      if (element.clientWidth > 0) setWidth(element.clientWidth);
    };
    read();
    const observer = new ResizeObserver(read);
    observer.observe(element);
    return () => observer.disconnect();
  }, [ref]);
  return width;
}
