"use client";

import { useCallback, useSyncExternalStore } from "react";

/** Does the media query hold? False on the server and until the page is live: give such a first paint a CSS rule. */
export function useMedia(query: string): boolean {
  const subscribe = useCallback(
    (listener: () => void) => {
      const list = window.matchMedia(query);
      list.addEventListener("change", listener);
      return () => list.removeEventListener("change", listener);
    },
    [query],
  );
  return useSyncExternalStore(
    subscribe,
    () => window.matchMedia(query).matches,
    () => false,
  );
}

const never = (): (() => void) => () => {};

/** True once the page is live in the browser, false in the server's markup and while it is taken over. */
export function useIsLive(): boolean {
  return useSyncExternalStore(
    never,
    () => true,
    () => false,
  );
}
