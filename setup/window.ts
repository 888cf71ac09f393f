/** Opens an address in a browser on this machine. */
import { spawn } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { dataFolder } from "./folders.ts";

/** Whether a window can be shown at all. */
export function hasScreen(env: NodeJS.ProcessEnv = process.env, platform: string = process.platform): boolean {
  return platform !== "linux" || Boolean(env.DISPLAY || env.WAYLAND_DISPLAY);
}

export interface AppWindow {
  readonly closed: Promise<void>;
  close(): void;
}

/** A window of its own without tabs or address bar, with a profile of its own so that its end can be seen. */
export function openAppWindow(browser: string, address: string): AppWindow {
  const profile = join(dataFolder(), "browser");
  mkdirSync(profile, { recursive: true });
  const words = [
    `--app=${address}`,
    `--user-data-dir=${profile}`,
    "--window-size=1440,900",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
    // A browser's sandbox can't be made by the system's administrator; without this it would not start at all.
    ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
  ];
  const child = spawn(browser, words, { stdio: "ignore" });
  const closed = new Promise<void>((resolve) => {
    child.on("exit", () => resolve());
    child.on("error", () => resolve());
  });
  return { closed, close: () => void child.kill() };
}

/** Hands the address to whatever this system opens addresses with; answers whether there is such a thing. */
export function openSomewhere(address: string, platform: string = process.platform): boolean {
  const [program, ...words] =
    platform === "darwin"
      ? ["open", address]
      : platform === "win32"
        ? ["rundll32", "url.dll,FileProtocolHandler", address]
        : ["xdg-open", address];
  try {
    const child = spawn(program as string, words, { stdio: "ignore", detached: true });
    child.on("error", () => {});
    child.unref();
    return child.pid !== undefined;
  } catch {
    return false;
  }
}
