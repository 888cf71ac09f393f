/** The window as a person has it: a real browser, the loopback host, a real plant file. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Page } from "playwright";
import type { Session } from "../../../core/operations/dispatch.ts";
import type { Kept } from "../../../core/operations/wire.ts";
import { startLoopback } from "../../../host/loopback/server.ts";
import { KeptFile } from "../../../host/machine/kept.ts";
import { press } from "../../../host/paper/press.ts";
import { readPages, withWords } from "../../../host/window/pages.ts";

const BUILT = fileURLToPath(new URL("../../../dist/renderer", import.meta.url));

const ENGLISH = { language: null, offered: [], missing: 0, wrong: 0 };

/** At 200 % zoom the laptop's window is half as wide and high. */
export const ZOOMED = { width: 640, height: 400 } as const;

export const SIZES = {
  laptop: { width: 1280, height: 800 },
  wide: { width: 1920, height: 1080 },
} as const;

export interface OpenWindow {
  readonly page: Page;
  readonly address: string;
  /** What the page complained about; nothing when all is well. */
  readonly complaints: readonly string[];
  /** Another window on the same plant. */
  another(): Promise<Page>;
  /** What the machine keeps for its user. */
  kept(): Promise<Kept>;
  /** Ends the program and leaves the window open. */
  endProgram(): Promise<void>;
  close(): Promise<void>;
}

export interface WindowOptions {
  readonly size?: keyof typeof SIZES;
  readonly theme?: "light" | "dark";
  readonly person?: string;
  /** The file of this machine's preferences, for a start after another; left out, one of its own. */
  readonly kept?: string;
  /** How large the reader wants letters, such as 200%. */
  readonly letters?: string;
}

export const launch = (): Promise<Browser> =>
  chromium.launch({
    executablePath: process.env.STRANDBOOK_BROWSER ?? "/usr/bin/chromium",
    // Ended below, and the process with it.
    handleSIGTERM: false,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });

/**
 * One browser for every window that this process opens, in whatever file of tests: starting one costs more than most
 * journeys. Each window has a context of its own, so that nothing that a page keeps is seen by another. Processes share
 * none, because a browser has one clipboard.
 */
let running: Promise<Browser> | undefined;

async function theBrowser(): Promise<Browser> {
  const browser = await running?.catch(() => undefined);
  if (browser?.isConnected()) return browser;
  running = launch();
  process.once("SIGTERM", () => void endBrowser().finally(() => process.exit()));
  return running;
}

/** Ends the browser, where a process doesn't end by being asked to. */
export async function endBrowser(): Promise<void> {
  await (await running)?.close();
}

/** A file of preferences that goes with the test. Only tests have such: what measures brings its own and runs without them. */
async function keptForTest(): Promise<string> {
  const { newFolder } = await import("../../support/plant.ts");
  return join(newFolder(), "preferences.json");
}

export async function openWindow(
  plant: { readonly session: Session },
  options: WindowOptions = {},
): Promise<OpenWindow> {
  const { size = "laptop", theme = "light", person = "Test Person", letters = "" } = options;
  const kept = new KeptFile(options.kept ?? (await keptForTest()));
  if (person) await kept.keep({ name: "settings", change: { person } });
  const pages = withWords(await readPages(BUILT), ENGLISH);
  const loopback = await startLoopback({ session: plant.session, pages, press, kept });
  const browser = await theBrowser();
  const context = await browser.newContext({ viewport: SIZES[size], colorScheme: theme, reducedMotion: "reduce" });
  await context.addInitScript((large) => {
    // Before the page's own script, as a browser's setting would.
    document.addEventListener("readystatechange", () => {
      if (large) document.documentElement.style.fontSize = large;
    });
  }, letters);
  // It only says when to give up: on a busy machine a heavy answer takes its time.
  context.setDefaultTimeout(90_000);
  const complaints: string[] = [];
  const open = async (): Promise<Page> => {
    const page = await context.newPage();
    page.on("pageerror", (error) => complaints.push(error.message));
    page.on("console", (message) => {
      if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
    });
    await page.goto(loopback.address);
    await page.getByRole("heading", { level: 1 }).waitFor();
    return page;
  };
  return {
    page: await open(),
    address: loopback.address,
    complaints,
    another: open,
    kept: () => kept.read(),
    endProgram: () => loopback.close(),
    async close() {
      await context.close();
      await loopback.close();
    },
  };
}

/** Puts a question into the address bar. */
export async function ask(page: Page, address: string): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash;
  }, address);
}
