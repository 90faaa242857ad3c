"use client";

import { useCallback, useRef } from "react";
import { type MapSize, type MapView, type Tile, tilesIn } from "@/lib/map";

const MOST_KEPT = 400;

/** Pictures of the ground as they arrive; those on screen are asked for, a few hundred are kept. */
export function useTiles(template: string | undefined, onArrive: () => void) {
  const kept = useRef(new Map<string, HTMLImageElement>());
  return useCallback(
    (view: MapView, size: MapSize): (Tile & { image: HTMLImageElement })[] => {
      if (!template) return [];
      return tilesIn(template, view, size).map((tile) => {
        const known = kept.current.get(tile.address);
        if (known) return { ...tile, image: known };
        const image = new Image();
        // Such servers ask to know which site their pictures are shown on; its address says no more than its host.
        image.referrerPolicy = "origin";
        image.onload = onArrive;
        image.src = tile.address;
        const oldest = kept.current.keys().next();
        if (kept.current.size >= MOST_KEPT && !oldest.done) kept.current.delete(oldest.value);
        kept.current.set(tile.address, image);
        return { ...tile, image };
      });
    },
    [template, onArrive],
  );
}
