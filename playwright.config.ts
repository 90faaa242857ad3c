import { defineConfig } from "@playwright/test";
import { findBrowser } from "./tests/app/harness/browser";

export default defineConfig({
  testDir: "tests/app",
  testMatch: "**/*.browser.ts",
  globalSetup: "./tests/app/harness/globalSetup.ts",
  outputDir: "test-results",
  // Each worker has a server and a copy of the demonstration of its own, so files may run side by side.
  workers: Number(process.env.BOTHENDS_TEST_WORKERS || 2),
  fullyParallel: false,
  forbidOnly: Boolean(process.env.CI),
  retries: 0,
  // Generous: a busy machine is slow, not wrong.
  timeout: 90_000,
  expect: { timeout: 15_000 },
  reporter: [["list"], ["json", { outputFile: "test-results/browser.json" }]],
  use: {
    browserName: "chromium",
    locale: "en-GB",
    timezoneId: "UTC",
    viewport: { width: 1280, height: 900 },
    // Recording what every test does costs a third of the whole run; a failed one is run again with it.
    trace: process.env.BOTHENDS_TRACE ? "retain-on-failure" : "off",
    screenshot: "only-on-failure",
    launchOptions: {
      executablePath: findBrowser(),
      args: [
        "--no-sandbox",
        "--disable-quic",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--no-first-run",
        "--disable-dev-shm-usage",
      ],
    },
  },
});
