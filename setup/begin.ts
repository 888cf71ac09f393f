/**
 * `npm start`, once its language is known: opens a plant in a window, by the best way this machine has: Electron, an installed browser, or an address
 * to open by hand. Without a file it opens the demo campus, copied once to where the user keeps documents.
 */
import { basename, resolve } from "node:path";
import { parseArgs } from "node:util";
import { Refusal } from "../core/result.ts";
import type { WindowWords } from "../core/words/wire.ts";
import { openApplication } from "../host/application.ts";
import { startLoopback } from "../host/loopback/server.ts";
import { KeptFile } from "../host/machine/kept.ts";
import { keptPath } from "../host/machine/kept-path.ts";
import { press } from "../host/paper/press.ts";
import { readPages, withWords } from "../host/window/pages.ts";
import { findBrowser } from "./browser.mjs";
import { buildElectron, buildRenderer } from "./build.ts";
import { demoCampus } from "./demo.ts";
import { electronAtHand, runElectron } from "./electron.ts";
import { hasScreen, openAppWindow, openSomewhere } from "./window.ts";

const USAGE = `npm start                      the demo campus, in a window
npm start -- FILE              a plant file of yours
npm start -- --browser         in a browser even where Electron is installed
npm start -- --no-window       serves it and prints the address to open in a browser`;

const say = (sentence: string): void => void process.stdout.write(`${sentence}\n`);

interface Wish {
  readonly file: string | null;
  readonly window: "any" | "browser" | "none";
}

function wished(words: readonly string[]): Wish | null {
  try {
    const { values, positionals } = parseArgs({
      args: [...words],
      allowPositionals: true,
      options: {
        "no-window": { type: "boolean" },
        browser: { type: "boolean" },
        help: { type: "boolean", short: "h" },
      },
    });
    if (values.help || positionals.length > 1) return null;
    // npm runs this in the project's folder; what was typed is meant from where it was typed.
    const folder = process.env.INIT_CWD ?? process.cwd();
    const file = positionals[0] === undefined ? null : resolve(folder, positionals[0]);
    return { file, window: values["no-window"] ? "none" : values.browser ? "browser" : "any" };
  } catch {
    return null;
  }
}

async function start(wish: Wish, words: WindowWords): Promise<number> {
  const file = wish.file ?? (await demoCampus(say));
  const renderer = await buildRenderer();
  if (wish.window === "any" && hasScreen()) {
    const electron = electronAtHand(say);
    if (electron) {
      const main = await buildElectron();
      const ended = await runElectron(electron, main, file);
      if (ended !== "could not start") return ended;
      say("Electron is installed but could not open its window here; a browser is used instead.");
    }
  }
  return serve(file, renderer, wish.window !== "none", words);
}

/** Serves the plant until the window closes or the user ends it; answers the exit code. */
async function serve(file: string, renderer: string, wantsWindow: boolean, words: WindowWords): Promise<number> {
  const application = await openApplication(file, {
    onDefect: (name, error) => console.error(`strandbook: defect in ${name}:`, error),
  });
  const kept = new KeptFile(keptPath());
  await kept.noteOpened(application.file.path, new Date().toISOString());
  const loopback = await startLoopback({
    session: application.session,
    pages: withWords(await readPages(renderer), words),
    press,
    kept,
    onDefect: (error) => console.error("strandbook: defect in serving:", error),
  });
  const ended = untilAsked();
  say(`\n${basename(file)} is served at\n\n  ${loopback.address}\n`);
  const opened = wantsWindow ? openWindow(loopback.address) : null;
  if (wantsWindow && !opened) say("No browser was found to show it in; open this address in one on this machine.");
  if (!wantsWindow) say("Open this address in a browser on this machine; no other machine reaches it.");
  say(opened?.closed ? "Close its window or press Ctrl+C to end." : "Press Ctrl+C to end.");

  await Promise.race([ended, ...(opened?.closed ? [opened.closed] : [])]);
  opened?.close();
  await loopback.close();
  await application.close();
  return 0;
}

interface OpenWindow {
  /** Resolves when the window is closed; null when that can't be known. */
  readonly closed: Promise<void> | null;
  close(): void;
}

function openWindow(address: string): OpenWindow | null {
  if (!hasScreen()) return null;
  const browser = findBrowser();
  if (browser) return openAppWindow(browser, address);
  return openSomewhere(address) ? { closed: null, close: () => {} } : null;
}

/** Until Ctrl+C or the system asks; a second Ctrl+C ends at once. */
function untilAsked(): Promise<void> {
  return new Promise((resolveAsked) => {
    let asked = false;
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) {
      process.on(signal, () => {
        if (asked) process.exit(130);
        asked = true;
        resolveAsked();
      });
    }
  });
}

/** Answers the exit code. */
export async function begin(line: readonly string[], words: WindowWords): Promise<number> {
  const wish = wished(line);
  if (!wish) {
    process.stderr.write(`${USAGE}\n`);
    return 2;
  }
  try {
    return await start(wish, words);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    process.stderr.write(`${error.message}\n`);
    for (const { reason } of error.failure.problems) process.stderr.write(`  ${reason}\n`);
    return 1;
  }
}
