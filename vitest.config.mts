import path from "node:path";
import { defineConfig } from "vitest/config";

export default defineConfig({
  resolve: { alias: { "@": path.resolve(import.meta.dirname) } },
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/app/**/*.browser.ts", "tests/bench/**"],
    testTimeout: 30_000,
    pool: "forks",
  },
});
