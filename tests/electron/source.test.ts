import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { filesBelow } from "../../setup/digest.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

/** What must never stand in the shell's or the window's source, and why. */
const FORBIDDEN: readonly { readonly what: RegExp; readonly why: string }[] = [
  { what: /nodeIntegration\w*:\s*true/, why: "gives the page Node" },
  { what: /contextIsolation:\s*false/, why: "lets the page reach the preload" },
  { what: /sandbox:\s*false/, why: "lets the page's process reach the system" },
  { what: /webSecurity:\s*false/, why: "lets the page load from anywhere" },
  { what: /allowRunningInsecureContent:\s*true/, why: "lets the page load from anywhere" },
  { what: /experimentalFeatures:\s*true|enableBlinkFeatures/, why: "switches on what isn't finished" },
  { what: /webviewTag:\s*true|<webview/, why: "embeds foreign pages" },
  { what: /openExternal\s*\(|openPath\s*\(/, why: "hands text to the system to open" },
  { what: /executeJavaScript\s*\(|insertCSS\s*\(/, why: "runs text in the page" },
  { what: /sendSync\s*\(|ipcMain\.on\s*\(/, why: "bypasses the checked answers" },
  { what: /\beval\s*\(|new Function\s*\(/, why: "runs text as code" },
  {
    what: /dangerouslySetInnerHTML|\.innerHTML\s*=|insertAdjacentHTML|document\.write\s*\(/,
    why: "puts text in as page",
  },
  { what: /unsafe-inline|unsafe-eval/, why: "opens the content policy" },
  { what: /loadURL\((?!PAGE_URL|NO_PAGE)/, why: "loads another page" },
  { what: /disable-web-security|ignore-certificate-errors|remote-debugging/, why: "opens the window to others" },
  { what: /fetch\(\s*["'`]https?:|XMLHttpRequest|new WebSocket/, why: "talks to the network" },
];

const forbiddenIn = (text: string): string[] => FORBIDDEN.filter(({ what }) => what.test(text)).map(({ why }) => why);

describe("the source of the shell and the window", () => {
  it("has none of what opens a door", () => {
    const files = ["electron", "renderer", "host/loopback", "host/window"].flatMap((place) =>
      filesBelow(`${ROOT}/${place}`),
    );
    expect(files.length).toBeGreaterThan(20);
    const found = files
      .filter((file) => /\.(ts|tsx|html|mjs)$/.test(file))
      .flatMap((file) => forbiddenIn(readFileSync(file, "utf8")).map((why) => `${file.slice(ROOT.length)} ${why}`));
    expect(found).toEqual([]);
  });
  it("would be caught with any of it", () => {
    for (const bad of [
      "nodeIntegration: true",
      "nodeIntegrationInWorker:true",
      "contextIsolation: false",
      "sandbox: false",
      "webSecurity: false",
      "allowRunningInsecureContent: true",
      "enableBlinkFeatures: 'x'",
      "<webview src=x>",
      "shell.openExternal(url)",
      "contents.executeJavaScript(text)",
      "ipcMain.on('x', y)",
      "eval(text)",
      "dangerouslySetInnerHTML={{}}",
      "script-src 'unsafe-inline'",
      'window.loadURL("https://plant.example")',
      '"--remote-debugging-port=1"',
      'fetch("https://plant.example")',
    ]) {
      expect([bad, forbiddenIn(bad).length]).toEqual([bad, 1]);
    }
  });
});
