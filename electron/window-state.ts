/** Where the window was and how it looked, kept between starts in the user's own folder. */
import { readFileSync, writeFileSync } from "node:fs";
import { z } from "zod";

export interface Bounds {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const shape = z.object({
  bounds: z.object({ x: z.int(), y: z.int(), width: z.int(), height: z.int() }).nullable().catch(null),
  maximized: z.boolean().catch(false),
  theme: z.enum(["system", "light", "dark"]).catch("system"),
});
export type WindowState = z.output<typeof shape>;

const FIRST: WindowState = { bounds: null, maximized: false, theme: "system" };

/** A state that is missing or can't be read is the first state; nothing depends on it. */
export function readState(file: string): WindowState {
  try {
    return shape.parse(JSON.parse(readFileSync(file, "utf8")));
  } catch {
    return FIRST;
  }
}

export function writeState(file: string, state: WindowState): void {
  try {
    writeFileSync(file, JSON.stringify(state));
  } catch {
    // A folder that can't be written to costs only the window's place.
  }
}

/** The bounds to open with: the last ones, when a good part of them still lies on a screen. */
export function openingBounds(last: Bounds | null, screens: readonly Bounds[]): Partial<Bounds> {
  const preferred = { width: 1440, height: 900 };
  const first = screens[0];
  if (!last || last.width < 400 || last.height < 300) {
    return first
      ? { width: Math.min(preferred.width, first.width), height: Math.min(preferred.height, first.height) }
      : preferred;
  }
  const seen = screens.some((screen) => overlap(last, screen) >= 0.3 * last.width * last.height);
  return seen ? last : { width: last.width, height: last.height };
}

function overlap(a: Bounds, b: Bounds): number {
  const wide = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const high = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return Math.max(0, wide) * Math.max(0, high);
}
