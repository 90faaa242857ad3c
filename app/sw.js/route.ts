import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { serviceWorker } from "./serviceWorker";

export const dynamic = "force-dynamic";

/** The build that serves: another one makes another worker, which lets the old pages go. */
function buildId(): string {
  const file = path.join(/*turbopackIgnore: true*/ process.cwd(), ".next", "BUILD_ID");
  return existsSync(file) ? readFileSync(file, "utf8").trim() : "development";
}

/** The service worker of My week: the function's own text, called in the worker's scope. */
export function GET(): Response {
  return new Response(`(${serviceWorker.toString()})(self, ${JSON.stringify(buildId())});\n`, {
    headers: { "content-type": "text/javascript; charset=utf-8", "cache-control": "no-cache" },
  });
}
