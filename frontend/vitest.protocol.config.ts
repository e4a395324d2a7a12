import { defineConfig } from "vitest/config";

// Drives the real client core against the real server process, so it has its own, slower run.
export default defineConfig({
  define: { __APP_VERSION__: JSON.stringify("0.0.0-test") },
  test: {
    include: ["tests/protocol/**/*.test.ts"],
    environment: "node",
    testTimeout: 3_600_000,
    hookTimeout: 120_000,
    fileParallelism: false,
  },
});
