/** Walks over pages in German and finds what was left in English. */
import type { Page } from "@playwright/test";
import { expect, expectNoAxeViolations } from "./harness";

/** Words that hardly an English sentence does without and that no German one has. */
const ENGLISH = /\b(the|and|with|for|of|from|by|not|are|is|to|rows?|days?)\b/;

/** What the device has chosen from now on. */
export async function chooseGerman(page: Page, url: string): Promise<void> {
  await page.context().addCookies([{ name: "bothends-language", value: "de", url }]);
}

/** Texts and spoken names in the main part of a page, without what is marked as another language. */
async function saidOn(page: Page): Promise<string[]> {
  return page.getByRole("main").evaluate((main) => {
    const isMarked = (element: Element | null) => {
      const marked = element?.closest("[lang]");
      return marked !== main && marked?.getAttribute("lang")?.startsWith("en") === true;
    };
    const said = new Set<string>();
    const texts = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
      const around = texts.currentNode.parentElement;
      if (!around?.closest("script, style") && !isMarked(around))
        said.add(texts.currentNode.textContent ?? "");
    }
    const names = ["aria-label", "placeholder", "title", "data-label"];
    for (const element of main.querySelectorAll(names.map((name) => `[${name}]`).join()))
      if (!isMarked(element)) for (const name of names) said.add(element.getAttribute(name) ?? "");
    return [...said].map((text) => text.trim()).filter((text) => text !== "");
  });
}

export interface Visited {
  path: string;
  heading: string | RegExp;
  /** Texts that are a company's own, in the language that it wrote them in. */
  data?: readonly RegExp[];
}

/** Opens a page on a phone and holds it to German: its language, its heading, its width there and on a desk, its texts, its accessibility. */
export async function expectGerman(page: Page, { path, heading, data = [] }: Visited): Promise<void> {
  await page.goto(path);
  await expect(page.getByRole("heading", { level: 1, name: heading }), path).toBeVisible();
  await expect(page.locator("html"), path).toHaveAttribute("lang", "de-DE");
  await page.locator("main details").evaluateAll((all) => {
    for (const details of all) (details as HTMLDetailsElement).open = true;
  });
  const phone = page.viewportSize()!;
  for (const size of [{ width: 1440, height: 900 }, phone]) {
    await page.setViewportSize(size);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(over, `${path} is wider than a screen of ${size.width}`).toBeLessThanOrEqual(0);
  }
  const left = (await saidOn(page)).filter(
    (text) => ENGLISH.test(text) && !data.some((own) => own.test(text)),
  );
  expect(left, `left in English on ${path}`).toEqual([]);
  await expectNoAxeViolations(page);
}
