/** Scrolling as a hand does it, and what frames and tasks of the page's own thread came of it. */
import type { CDPSession, Page } from "@playwright/test";

export const SPEED_PX_S = 2400;

/** Across and back, then down and up again, with the pointer at `at`. */
export async function scrolled(
  client: CDPSession,
  at: { x: number; y: number },
  { across, down }: { across: number; down: number },
): Promise<void> {
  for (const [xDistance, yDistance] of [
    [-across, 0],
    [across, 0],
    [0, -down],
    [0, down],
  ])
    await client.send("Input.synthesizeScrollGesture", {
      ...at,
      xDistance,
      yDistance,
      speed: SPEED_PX_S,
      gestureSourceType: "mouse",
    });
}

interface Watched {
  bothendsFrames: number[];
  bothendsTasks: number[];
}

/** Begins to note frames and long tasks; `take` reads what came since. */
export async function watch(page: Page): Promise<() => Promise<{ frames: number[]; tasks: number[] }>> {
  await page.evaluate(() => {
    const here = window as unknown as Watched;
    here.bothendsFrames = [];
    here.bothendsTasks = [];
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) here.bothendsTasks.push(entry.duration);
    }).observe({ type: "longtask" });
    let last = performance.now();
    const frame = (now: number): void => {
      here.bothendsFrames.push(now - last);
      last = now;
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  });
  return () =>
    page.evaluate(() => {
      const here = window as unknown as Watched;
      const seen = { frames: here.bothendsFrames, tasks: here.bothendsTasks };
      here.bothendsFrames = [];
      here.bothendsTasks = [];
      return seen;
    });
}
