/** How the tests run: `plant` in Node alone, `window` for the renderer's parts, `journeys` in a real browser. */
import { fileURLToPath } from "node:url";
import react from "@vitejs/plugin-react";
import { defineConfig } from "vitest/config";

const here = (place: string): string => fileURLToPath(new URL(place, import.meta.url));

export default defineConfig({
  plugins: [react()],
  // No test may start a download of Electron: its module is a stand-in, wherever it is imported.
  resolve: { alias: { electron: here("tests/electron/stand-in.ts") } },
  test: {
    pool: "forks",
    testTimeout: 30_000,
    hookTimeout: 60_000,
    env: { ELECTRON_OVERRIDE_DIST_PATH: here("tests/electron/no-binary") },
    projects: [
      {
        extends: true,
        test: {
          name: "plant",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/journeys/**", "tests/renderer/**"],
        },
      },
      { extends: true, test: { name: "window", include: ["tests/renderer/**/*.test.{ts,tsx}"] } },
      {
        extends: true,
        test: {
          name: "journeys",
          include: ["tests/journeys/**/*.test.ts"],
          globalSetup: [here("tests/support/built-window.ts")],
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 240_000,
        },
      },
    ],
  },
});
