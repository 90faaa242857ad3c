/** Once per run: a browser, a build, and one loaded demonstration of which every worker takes a copy. */
import { rmSync } from "node:fs";
import { findBrowser, installBrowser, REMEDY } from "./browser";
import { startServer } from "./server";

export default async function globalSetup(): Promise<() => void> {
  if (!findBrowser() && !installBrowser()) throw new Error(REMEDY);
  const server = await startServer();
  await server.stop({ keepData: true });
  process.env.BOTHENDS_AS_IS = "1";
  process.env.BOTHENDS_TEST_TEMPLATE = server.dataFolder;
  return () => rmSync(server.dataFolder, { recursive: true, force: true });
}
