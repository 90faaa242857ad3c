/**
 * What the machine allows the plan board: plain pages of the board's size at a week, scrolled in the same way. One has
 * nothing on it, one has every block drawn, one draws with every frame the few blocks that come into view and takes
 * away those that go. A board is as smooth as its bar where the last of them is.
 *
 *     npm run bench -- boardPlain
 */
import { chromium, type Page } from "@playwright/test";
import { findBrowser } from "../app/harness/browser";
import { scrolled, watch } from "./frames";
import { against, NAMES, quantile } from "./largeServer";

const ROWS = 43;
const ROW_PX = 56;
/** From one block of a row to the next: as many blocks in all as the large programme has visits. */
const STEP_PX = 345;
const SHEET_PX = 25_000;
const ACROSS_PX = 23_530;
const DOWN_PX = 1822;

const PAGE = `<style>
  .sheet { position: relative; width: ${SHEET_PX}px; height: ${ROWS * ROW_PX}px }
  .row { position: absolute; left: 0; width: 100%; height: ${ROW_PX}px; contain: strict }
  .block { position: absolute; top: 4px; width: 280px; height: 48px; box-sizing: border-box; contain: strict;
    border: 1px solid #335566; border-radius: 4px; background: #dfe8e4; font: 12px sans-serif }
</style>
<div id="board" style="width: 1380px; height: 560px; margin: 80px 20px; overflow: auto"><div class="sheet"></div></div>`;

type Drawn = "nothing" | "all" | "in view";

/** Runs in the page. */
function draw({
  drawn,
  rows,
  rowPx,
  stepPx,
  sheetPx,
}: Record<"rows" | "rowPx" | "stepPx" | "sheetPx", number> & { drawn: Drawn }): void {
  const board = document.querySelector<HTMLElement>("#board")!;
  const sheet = board.querySelector(".sheet")!;
  const lines = Array.from({ length: rows }, (_, at) => {
    const element = document.createElement("div");
    element.className = "row";
    element.style.top = `${at * rowPx}px`;
    sheet.append(element);
    return { element, blocks: new Map<number, HTMLElement>(), offsetPx: (at * 97) % stepPx };
  });
  const look = (): void => {
    const isAll = drawn === "all";
    lines.forEach(({ element, blocks, offsetPx }, row) => {
      const isIn = isAll || Math.abs(row * rowPx - board.scrollTop - 280) < 500;
      const from = isAll ? 0 : Math.floor((board.scrollLeft - 400 - offsetPx) / stepPx);
      const to = isAll ? sheetPx / stepPx : (board.scrollLeft + 1780 - offsetPx) / stepPx;
      for (const [at, block] of blocks)
        if (!isIn || at < from || at > to) {
          block.remove();
          blocks.delete(at);
        }
      for (let at = Math.max(0, from); isIn && at <= to; at++) {
        if (blocks.has(at)) continue;
        const block = document.createElement("div");
        block.className = "block";
        block.style.left = `${at * stepPx + offsetPx}px`;
        block.innerHTML = `<b>VH${row}</b> near<br>${at}`;
        blocks.set(at, block);
        element.append(block);
      }
    });
  };
  if (drawn === "nothing") return;
  look();
  if (drawn === "in view") board.addEventListener("scroll", () => requestAnimationFrame(look));
}

async function plainPage(page: Page, drawn: Drawn): Promise<void> {
  await page.setContent(PAGE);
  await page.evaluate(NAMES);
  await page.evaluate(draw, { drawn, rows: ROWS, rowPx: ROW_PX, stepPx: STEP_PX, sheetPx: SHEET_PX });
  await page.waitForTimeout(1500);
}

const browser = await chromium.launch({ executablePath: findBrowser(), args: ["--no-sandbox"] });
try {
  for (const drawn of ["nothing", "all", "in view"] as const) {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await plainPage(page, drawn);
    const client = await page.context().newCDPSession(page);
    const take = await watch(page);
    await page.waitForTimeout(300);
    await take();
    await scrolled(client, { x: 700, y: 300 }, { across: ACROSS_PX, down: DOWN_PX });
    const { frames, tasks } = await take();
    console.log(
      `${drawn} drawn: ${await page.locator(".block").count()} blocks, ${frames.length} frames; ` +
        `tasks over 50 ms: ${against(tasks.length, 0, "")}; between frames: middle ${quantile(frames, 0.5).toFixed(1)} ms, ` +
        `95 % under ${against(quantile(frames, 0.95), 25, "ms", 1)}, longest ${Math.max(...frames).toFixed(0)} ms`,
    );
    await page.close();
  }
} finally {
  await browser.close();
}
