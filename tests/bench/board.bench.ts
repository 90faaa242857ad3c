/**
 * How the plan board scrolls with 40 crews and 26 weeks, in a real browser against the production build: main-thread
 * tasks over 50 ms (none wanted) and the time between frames (95 % under 25 ms wanted). Needs a build.
 *
 *     npm run bench -- board
 *
 * The scrolling is a gesture as a hand makes it, across the whole plan and back, then down all crews and up again. It is
 * made twice, each time on the page as it was just opened: once for the frames, and once for the tasks with the browser
 * noting what it does, which is itself work that costs frames.
 * Because a busy machine drops frames whatever the board does, it is also scrolled in single steps of a frame's way, each
 * waited for: the processor time of the main thread for one step says whether it would fit into a frame.
 */
import { rmSync } from "node:fs";
import { type Browser, type BrowserContext, chromium, type Page } from "@playwright/test";
import { findBrowser } from "../app/harness/browser";
import { SPEED_PX_S, scrolled, watch } from "./frames";
import { against, LARGE, largeProgramme, quantile, serveLarge, signedIn } from "./largeServer";

const ZOOMS = ["day", "week", "4 weeks", "12 weeks"];
/** Of a day at day zoom half the plan is more than anybody scrolls at once. */
const MOST_ACROSS_PX = 24_000;

/** What the browser's main thread did, task by task, in its own processor time: a busy machine does not lengthen it. */
async function traced(browser: Browser, during: () => Promise<void>): Promise<number[]> {
  const client = await browser.newBrowserCDPSession();
  const events: { name: string; tid: number; pid: number; tdur?: number; args?: { name?: string } }[] = [];
  client.on("Tracing.dataCollected", (e) => events.push(...(e.value as unknown as typeof events)));
  const complete = new Promise<void>((resolve) => client.once("Tracing.tracingComplete", () => resolve()));
  await client.send("Tracing.start", {
    transferMode: "ReportEvents",
    traceConfig: { includedCategories: ["disabled-by-default-devtools.timeline", "devtools.timeline"] },
  });
  await during();
  await client.send("Tracing.end");
  await complete;
  await client.detach();
  const mains = new Set(
    events
      .filter((e) => e.name === "thread_name" && e.args?.name === "CrRendererMain")
      .map((e) => `${e.pid} ${e.tid}`),
  );
  return events
    .filter((e) => e.name === "RunTask" && e.tdur !== undefined && mains.has(`${e.pid} ${e.tid}`))
    .map((e) => e.tdur! / 1000);
}

/** Milliseconds of the main thread's processor time for each of `steps` scrolls by a frame's way. */
async function steppedMs(page: Page, steps: number, byPx: { x: number; y: number }): Promise<number[]> {
  const client = await page.context().newCDPSession(page);
  await client.send("Performance.enable", { timeDomain: "threadTicks" });
  const taskMs = async (): Promise<number> => {
    const { metrics } = await client.send("Performance.getMetrics");
    return 1000 * (metrics.find((m) => m.name === "TaskDuration")?.value ?? 0);
  };
  const took: number[] = [];
  for (let step = 0; step < steps; step++) {
    const before = await taskMs();
    await page.evaluate(async ({ x, y }) => {
      document.querySelector('[role="grid"]')!.scrollBy(x, y);
      await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
      await new Promise((resolve) => setTimeout(resolve, 40));
    }, byPx);
    took.push((await taskMs()) - before);
  }
  await client.detach();
  return took;
}

/** The board at a zoom, just opened, and the way that is scrolled. */
async function opened(context: BrowserContext, zoom: string) {
  const page = await context.newPage();
  await page.goto(`/plan?zoom=${encodeURIComponent(zoom)}`);
  const grid = page.getByRole("grid");
  await grid.waitFor();
  await grid.scrollIntoViewIfNeeded();
  await page.waitForTimeout(1500);
  const box = (await grid.boundingBox())!;
  const size = await grid.evaluate((e) => ({
    across: e.scrollWidth - e.clientWidth - e.scrollLeft,
    down: e.scrollHeight - e.clientHeight,
  }));
  const client = await context.newCDPSession(page);
  const at = { x: box.x + box.width / 2, y: Math.min(880, box.y + Math.min(300, box.height / 2)) };
  const take = await watch(page);
  const across = Math.min(size.across, MOST_ACROSS_PX);
  await page.waitForTimeout(300);
  await take();
  return {
    page,
    take,
    across,
    down: size.down,
    scroll: () => scrolled(client, at, { across, down: size.down }),
  };
}

/** A frame at 2400 px a second. */
const FRAME_PX = SPEED_PX_S / 60;
const STEPS = 60;

const { folder, isKept } = largeProgramme(LARGE);
const server = await serveLarge(folder);
const browser = await chromium.launch({ executablePath: findBrowser(), args: ["--no-sandbox"] });
try {
  const context = await signedIn(browser, server, "manager");
  for (const zoom of ZOOMS) {
    const shown = await opened(context, zoom);
    await shown.scroll();
    const { frames, tasks } = await shown.take();
    const blocks = await shown.page.locator(".ui-visit").count();
    await shown.page.close();
    const again = await opened(context, zoom);
    const own = await traced(browser, again.scroll);
    const { page } = again;
    console.log(
      `${zoom}: ${shown.across} px across, ${shown.down} px down and back, ${blocks} blocks drawn, ${frames.length} frames; ` +
        `tasks over 50 ms: ${against(tasks.length, 0, "")}, longest ${Math.max(0, ...tasks).toFixed(0)} ms; ` +
        `between frames: middle ${quantile(frames, 0.5).toFixed(1)} ms, 95 % under ${against(quantile(frames, 0.95), 25, "ms", 1)}, ` +
        `over 25 ms ${((100 * frames.filter((ms) => ms > 25).length) / frames.length).toFixed(1)} %, ` +
        `longest ${Math.max(...frames).toFixed(0)} ms; ` +
        `by processor time: ${against(own.filter((ms) => ms > 50).length, 0, "tasks over 50 ms")}, ` +
        `longest ${Math.max(0, ...own).toFixed(0)} ms, all together ${(own.reduce((a, b) => a + b, 0) / 1000).toFixed(1)} s`,
    );
    const steps = [
      ...(await steppedMs(page, STEPS, { x: FRAME_PX, y: 0 })),
      ...(await steppedMs(page, Math.floor(STEPS / 3), { x: 0, y: FRAME_PX })),
    ];
    console.log(
      `${zoom}, a frame's way at a time: processor time of the main thread, middle ${quantile(steps, 0.5).toFixed(1)} ms, ` +
        `95 % under ${quantile(steps, 0.95).toFixed(1)} ms, longest ${Math.max(...steps).toFixed(1)} ms, mean ${(steps.reduce((a, b) => a + b, 0) / steps.length).toFixed(1)} ms`,
    );
    await page.close();
  }
} finally {
  await browser.close();
  await server.stop();
  if (!isKept) rmSync(folder, { recursive: true, force: true });
}
