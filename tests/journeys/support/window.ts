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

const built = (folder: string): string => fileURLToPath(new URL(`../../../dist/${folder}`, import.meta.url));
const BUILT = built("renderer");
const TELLING = built("renderer-telling");

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
  /** A window that complains of what React minds, too, and is several times as slow; else it is the one that people get. */
  readonly telling?: boolean;
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
  const { size = "laptop", theme = "light", person = "Test Person", letters = "", telling = false } = options;
  const kept = new KeptFile(options.kept ?? (await keptForTest()));
  if (person) await kept.keep({ name: "settings", change: { person } });
  const pages = withWords(await readPages(telling ? TELLING : BUILT), ENGLISH);
  const loopback = await startLoopback({ session: plant.session, pages, press, kept });
  const browser = await theBrowser();
  const context = await browser.newContext({ viewport: SIZES[size], colorScheme: theme, reducedMotion: "reduce" });
  await context.addInitScript((large) => {
    // Before the page's own script, as a browser's setting would.
    document.addEventListener("readystatechange", () => {
      if (large) document.documentElement.style.fontSize = large;
    });
  }, letters);
  await context.addInitScript(countCalls);
  // It only says when to give up: on a busy machine a heavy answer takes its time.
  context.setDefaultTimeout(90_000);
  const complaints: string[] = [];
  const open = async (): Promise<Page> => {
    const page = await context.newPage();
    page.on("pageerror", (error) => complaints.push(error.message));
    page.on("console", (message) => {
      if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
    });
    // The system's own window for files is answered by tests; this is asked of the browser before any key can open one.
    page.on("filechooser", () => {});
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

/** How many calls of the page wait for their answer; kept by the page itself, as its script begins. */
declare global {
  interface Window {
    callsUnderWay: number;
  }
}

/** For a page that is opened otherwise than by `openWindow`, before its own script. */
export function countCalls(): void {
  const { fetch } = window;
  window.callsUnderWay = 0;
  window.fetch = async (...given) => {
    // The stream of events has no end.
    if (!(given[1]?.method === "POST")) return fetch(...given);
    window.callsUnderWay++;
    try {
      const response = await fetch(...given);
      const body = await response.arrayBuffer();
      return new Response(body, response);
    } finally {
      window.callsUnderWay--;
    }
  };
}

/** Long enough for a page to have asked what it asks; a long act is not waited for. */
const SETTLED_MS = 10_000;

/**
 * Puts a question into the address bar, and waits until what the page then asks is answered and drawn: what is looked for
 * next is of this question, not of the one before it.
 *
 * @param settled false for what is to be seen before an answer is there
 */
export async function ask(page: Page, address: string, { settled = true } = {}): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash;
  }, address);
  if (settled) await settle(page);
}

/** Waits until what the page asks is answered and drawn. */
export async function settle(page: Page): Promise<void> {
  await page.evaluate(async (most) => {
    const end = performance.now() + most;
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    // Three frames in a row without a call: an answer may lead to a further question.
    for (let quiet = 0; quiet < 3 && performance.now() < end; ) {
      await frame();
      quiet = window.callsUnderWay === 0 ? quiet + 1 : 0;
    }
  }, SETTLED_MS);
}
