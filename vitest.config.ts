/**
 * How the tests run: `parts` in Node alone, `shell` against the stand-in for Electron, `journeys` in a real browser; all of
 * them side by side, on every core.
 */
import { availableParallelism } from "node:os";
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
    // Files share a process and what was imported in it: core and host keep nothing between plants but what they worked out
    // from constants. What a file of tests must not share, it makes: a plant file, a host, a browser's context.
    isolate: false,
    maxWorkers: Math.max(2, availableParallelism()),
    setupFiles: [here("tests/support/each-file.ts")],
    // These only say when to give up: what is waited for ends the wait. A busy machine takes ten times as long as a quiet one.
    testTimeout: 120_000,
    hookTimeout: 240_000,
    expect: { poll: { timeout: 20_000 } },
    env: {
      ELECTRON_OVERRIDE_DIST_PATH: here("tests/electron/no-binary"),
      // Programs that tests start begin in half the time when what they load was compiled before.
      NODE_COMPILE_CACHE: here("node_modules/.cache/strandbook-tests"),
    },
    projects: [
      {
        extends: true,
        test: {
          name: "parts",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: ["tests/journeys/**", "tests/electron/**"],
        },
      },
      // The stand-in is one world, begun anew with each file.
      { extends: true, test: { name: "shell", include: ["tests/electron/**/*.test.ts"], isolate: true } },
      {
        extends: true,
        test: {
          name: "journeys",
          include: ["tests/journeys/**/*.test.ts"],
          globalSetup: [here("tests/support/built-window.ts")],
        },
      },
    ],
  },
});
