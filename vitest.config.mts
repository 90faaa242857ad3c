import { availableParallelism } from "node:os";
import path from "node:path";
import { defineConfig } from "vitest/config";

export default defineConfig({
  resolve: { alias: { "@": path.resolve(import.meta.dirname) } },
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/app/**/*.browser.ts", "tests/bench/**"],
    // Generous: a busy machine is slow, not wrong.
    testTimeout: 120_000,
    pool: "forks",
    // Left alone, one core is kept free: of two, half the machine would wait.
    maxWorkers: Math.max(2, availableParallelism() - 1),
  },
});
