/** Every page of the product as an address of the demonstration, found by its files and by following links. */
import { readdirSync } from "node:fs";
import path from "node:path";
import type { Page } from "@playwright/test";

const APP = path.resolve(import.meta.dirname, "../../../app");

/** Folders of the pages as address patterns: `/sites/[code]`. */
export function pagePatterns(): string[] {
  return readdirSync(APP, { recursive: true, encoding: "utf8" })
    .filter((file) => /(^|[\\/])page\.tsx$/.test(file))
    .map((file) => {
      const steps = path
        .dirname(file)
        .split(path.sep)
        .filter((step) => step !== "." && !step.startsWith("("));
      return `/${steps.join("/")}`;
    })
    .sort();
}

const isPlain = (pattern: string) => !pattern.includes("[");

function fits(pattern: string): RegExp {
  const steps = pattern
    .replace(/[.*+?^${}()|\\]/g, "\\$&")
    .replace(/\[\\\.\\\.\\\.[^\]]+\]/g, ".+")
    .replace(/\[[^\]]+\]/g, "[^/]+");
  return new RegExp(`^${steps}$`);
}

/**
 * One address for each pattern, as far as links lead to it from the pages without a variable part, read as HTML.
 * Patterns that no link leads to come back without an address.
 */
export async function addressesOf(page: Page): Promise<Map<string, string | undefined>> {
  const patterns = pagePatterns();
  const found = new Map<string, string | undefined>(
    patterns.map((pattern) => [pattern, isPlain(pattern) ? pattern : undefined]),
  );
  for (const from of patterns.filter(isPlain)) {
    const html = await (await page.request.get(from)).text();
    const paths = [...html.matchAll(/href="(\/[^"#?]*)/g)].map((match) => match[1] ?? "");
    for (const [pattern, address] of found)
      if (!address)
        found.set(
          pattern,
          paths.find((p) => fits(pattern).test(p) && !patterns.includes(p)),
        );
  }
  // A page below one that was found, such as an order's form.
  for (const [pattern, address] of found) {
    const cut = pattern.lastIndexOf("/");
    const above = found.get(pattern.slice(0, cut));
    if (!address && above && isPlain(pattern.slice(cut))) found.set(pattern, above + pattern.slice(cut));
  }
  return found;
}
