"use client";

import {
  type KeyboardEvent,
  type PointerEvent,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { fitView, type MapView, panBy, zoomAbout } from "@/lib/map";
import type { CrewDay } from "./crewDay";
import { drawMap, type Picked } from "./draw";
import { hitAt } from "./hit";
import { type Look, readLook } from "./look";
import type { Scene, SceneOutline } from "./scene";
import { useTiles } from "./useTiles";

/** Where the map is to go; a new object is a new wish. */
export interface Wish {
  /** Undefined: all that is drawn. */
  view?: MapView;
}

export interface MapCanvasProps {
  label: string;
  scene: Scene;
  outlines: readonly SceneOutline[];
  tileTemplate?: string;
  picked?: Picked;
  day?: CrewDay;
  wish: Wish;
  onPick: (picked: Picked | undefined) => void;
  onView: (view: MapView) => void;
}

const KEY_STEP_PX = 80;
const ZOOM_STEP = 0.75;
/** A press that moves no further than this is a press, not a drag. */
const STILL_PX = 6;
const WORLD: MapView = { x: 0.5, y: 0.5, zoom: 2 };

/** The drawing. Moved by drag, wheel, two fingers or keys; the list beside it says the same in words. */
export function MapCanvas(props: MapCanvasProps) {
  const { t } = useWords();
  const { label, scene, outlines, tileTemplate, picked, day, wish, onPick, onView } = props;
  const frame = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const view = useRef<MapView>(WORLD);
  const size = useRef({ widthPx: 0, heightPx: 0 });
  const look = useRef<Look>(undefined);
  const waiting = useRef(0);
  const paint = useRef<() => void>(() => {});
  const [pointed, setPointed] = useState<string>();

  const redraw = useCallback(() => {
    if (waiting.current === 0)
      waiting.current = requestAnimationFrame(() => {
        waiting.current = 0;
        paint.current();
      });
  }, []);
  const tilesFor = useTiles(tileTemplate, redraw);

  useLayoutEffect(() => {
    paint.current = () => {
      const ctx = canvas.current?.getContext("2d");
      if (!ctx || !look.current || size.current.widthPx === 0) return;
      const ratio = window.devicePixelRatio || 1;
      ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
      drawMap(ctx, {
        view: view.current,
        size: size.current,
        look: look.current,
        outlines,
        tiles: tilesFor(view.current, size.current),
        scene,
        picked,
        day,
      });
    };
    redraw();
  }, [scene, outlines, picked, day, tilesFor, redraw]);

  const everything = useMemo(() => scene.sites.map(({ x, y }) => ({ x, y })), [scene]);
  const latest = useRef({ everything, onView });
  useLayoutEffect(() => {
    latest.current = { everything, onView };
  });

  const go = useCallback(
    (next: MapView) => {
      view.current = next;
      latest.current.onView(next);
      redraw();
    },
    [redraw],
  );

  // The canvas is as large as its frame, in the screen's own pixels.
  useLayoutEffect(() => {
    const [around, sheet] = [frame.current, canvas.current];
    if (!around || !sheet) return;
    look.current = readLook(around);
    const follow = () => {
      const { clientWidth: widthPx, clientHeight: heightPx } = around;
      const isFirst = size.current.widthPx === 0;
      size.current = { widthPx, heightPx };
      const ratio = window.devicePixelRatio || 1;
      sheet.width = Math.round(widthPx * ratio);
      sheet.height = Math.round(heightPx * ratio);
      if (isFirst && !wishOf.current.view) view.current = fitView(latest.current.everything, size.current);
      // Sizing wiped it: drawn at once, not with the next frame, or it would flash.
      paint.current();
    };
    follow();
    const observer = new ResizeObserver(follow);
    observer.observe(around);
    const recolour = () => {
      look.current = readLook(around);
      redraw();
    };
    const dark = window.matchMedia("(prefers-color-scheme: dark)");
    dark.addEventListener("change", recolour);
    const theme = new MutationObserver(recolour);
    theme.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
    return () => {
      observer.disconnect();
      theme.disconnect();
      dark.removeEventListener("change", recolour);
    };
  }, [redraw]);

  const wishOf = useRef(wish);
  useLayoutEffect(() => {
    wishOf.current = wish;
    if (size.current.widthPx === 0) return;
    if (wish.view) return go(wish.view);
    // What shows all needs no place in the address.
    view.current = fitView(latest.current.everything, size.current);
    redraw();
  }, [wish, go, redraw]);

  // React listens to the wheel passively, so that it could not keep the page from scrolling along.
  useEffect(() => {
    const sheet = canvas.current;
    const onWheel = (event: WheelEvent) => {
      event.preventDefault();
      const lines = event.deltaMode === 1 ? 16 : 1;
      go(zoomAbout(view.current, (-event.deltaY * lines) / 300, fromMid(event, size.current)));
    };
    sheet?.addEventListener("wheel", onWheel, { passive: false });
    return () => sheet?.removeEventListener("wheel", onWheel);
  }, [go]);

  const fingers = useRef(new Map<number, { x: number; y: number }>());
  const moved = useRef(0);

  function onPointerDown(event: PointerEvent<HTMLElement>): void {
    event.currentTarget.setPointerCapture(event.pointerId);
    if (fingers.current.size === 0) moved.current = 0;
    fingers.current.set(event.pointerId, { x: event.clientX, y: event.clientY });
  }
  function onPointerMove(event: PointerEvent<HTMLElement>): void {
    const before = fingers.current.get(event.pointerId);
    if (!before) {
      if (event.pointerType === "mouse") point(event);
      return;
    }
    const now = { x: event.clientX, y: event.clientY };
    const other = [...fingers.current].find(([id]) => id !== event.pointerId)?.[1];
    fingers.current.set(event.pointerId, now);
    moved.current += Math.hypot(now.x - before.x, now.y - before.y);
    if (!other) {
      if (moved.current > STILL_PX) go(panBy(view.current, now.x - before.x, now.y - before.y));
      return;
    }
    const spread = (p: { x: number; y: number }) => Math.max(20, Math.hypot(p.x - other.x, p.y - other.y));
    const panned = panBy(view.current, (now.x - before.x) / 2, (now.y - before.y) / 2);
    const middle = { clientX: (now.x + other.x) / 2, clientY: (now.y + other.y) / 2 };
    const box = event.currentTarget.getBoundingClientRect();
    const about = { offsetX: middle.clientX - box.left, offsetY: middle.clientY - box.top };
    go(zoomAbout(panned, Math.log2(spread(now) / spread(before)), fromMid(about, size.current)));
  }
  function onPointerUp(event: PointerEvent<HTMLElement>): void {
    const isPress = fingers.current.size === 1 && moved.current <= STILL_PX;
    fingers.current.delete(event.pointerId);
    if (!isPress || event.type === "pointercancel") return;
    const { offsetX, offsetY } = event.nativeEvent;
    const reach = event.pointerType === "mouse" ? 5 : 14;
    const hit = hitAt(scene, { view: view.current, size: size.current }, { x: offsetX, y: offsetY }, reach);
    if (hit?.kind !== "group") {
      onPick(hit);
      return;
    }
    const inside = fitView(
      hit.mark.members.map((i) => scene.sites[i]!),
      size.current,
    );
    go({ ...inside, zoom: Math.max(inside.zoom, view.current.zoom + 1) });
  }
  function point(event: PointerEvent<HTMLElement>): void {
    const { offsetX, offsetY } = event.nativeEvent;
    const hit = hitAt(scene, { view: view.current, size: size.current }, { x: offsetX, y: offsetY }, 5);
    setPointed(
      hit &&
        (hit.kind === "group"
          ? t("{{sites}} sites: press to come closer", { sites: hit.mark.members.length })
          : hit.code),
    );
  }
  function onKeyDown(event: KeyboardEvent): void {
    const pan = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    const steps = { "+": ZOOM_STEP, "=": ZOOM_STEP, "-": -ZOOM_STEP }[event.key];
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (pan) go(panBy(view.current, pan[0]! * KEY_STEP_PX, pan[1]! * KEY_STEP_PX));
    else if (steps) go(zoomAbout(view.current, steps, { xPx: 0, yPx: 0 }));
    else if (event.key === "0") all();
    else if (event.key === "Escape") onPick(undefined);
    else return;
    event.preventDefault();
  }
  const all = () => go(fitView(everything, size.current));
  const closer = (steps: number) => go(zoomAbout(view.current, steps, { xPx: 0, yPx: 0 }));

  return (
    <div className="ui-atlas-frame" ref={frame}>
      <div
        className="ui-atlas-stage"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: an application with keys of its own; the list is the other way
        tabIndex={0}
        role="application"
        aria-label={t(
          "{{map}} Arrow keys move it, plus and minus zoom, 0 shows all. The list says the same.",
          {
            map: label,
          },
        )}
        title={pointed}
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerCancel={onPointerUp}
        onKeyDown={onKeyDown}
      >
        <canvas ref={canvas} className="ui-atlas-sheet" />
      </div>
      <div className="ui-map-zoom ui-no-print">
        <Button glyph="plus" label={t("Closer")} onClick={() => closer(ZOOM_STEP)} />
        <Button glyph="minus" label={t("Further")} onClick={() => closer(-ZOOM_STEP)} />
        <Button size="small" onClick={all}>
          {t("All")}
        </Button>
      </div>
    </div>
  );
}

function fromMid(
  at: { offsetX: number; offsetY: number },
  size: { widthPx: number; heightPx: number },
): { xPx: number; yPx: number } {
  return { xPx: at.offsetX - size.widthPx / 2, yPx: at.offsetY - size.heightPx / 2 };
}
