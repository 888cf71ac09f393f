import { describe, expect, it } from "vitest";
import { CHANNELS } from "../../electron/channels.ts";
import { isOurPage, mayLoad, PAGE_URL } from "../../electron/security.ts";
import { CONTENT_POLICY } from "../../host/window/pages.ts";
import { BrowserWindow, Contents, invoke, session, world } from "./stand-in.ts";
import { startShell } from "./support.ts";

describe("the window's page", () => {
  it("runs isolated, in a sandbox, without Node", async () => {
    const { window } = await startShell();
    expect(window.options.webPreferences).toEqual({
      preload: "/preload.cjs",
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false,
    });
    expect(window.loaded).toEqual([PAGE_URL]);
  });
  it("has its scheme and sandbox declared before Electron is ready", async () => {
    await startShell();
    expect(world.calls).toEqual(["enableSandbox", "registerSchemesAsPrivileged", "whenReady"]);
    expect(world.schemes).toEqual([
      {
        scheme: "strandbook",
        privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true },
      },
    ]);
  });
  it("is granted no permission and no device", async () => {
    await startShell();
    const { defaultSession } = session;
    for (const permission of [
      "media",
      "geolocation",
      "clipboard-read",
      "openExternal",
      "fullscreen",
      "notifications",
    ]) {
      let allowed = true;
      defaultSession.permissionRequest?.({}, permission, (answer) => {
        allowed = answer;
      });
      expect([permission, allowed]).toEqual([permission, false]);
    }
    expect(defaultSession.permissionCheck?.()).toBe(false);
    expect(defaultSession.devicePermission?.()).toBe(false);
  });
  it("loads nothing but our own files and what it made itself", async () => {
    await startShell();
    const cancelled = (url: string): boolean => {
      let cancel = false;
      session.defaultSession.beforeRequest?.({ url }, (answer) => {
        cancel = answer.cancel;
      });
      return cancel;
    };
    for (const url of [PAGE_URL, `${PAGE_URL}assets/x.js`, "data:image/png;base64,AA", `blob:${PAGE_URL}1-2`]) {
      expect([url, cancelled(url)]).toEqual([url, false]);
    }
    for (const url of [
      "https://plant.example/x.js",
      "http://127.0.0.1/",
      "file:///etc/passwd",
      "strandbook://elsewhere/",
      "blob:https://plant.example/1-2",
      "ws://127.0.0.1/",
      "devtools://devtools/x",
      "javascript:alert(1)",
    ]) {
      expect([url, cancelled(url)]).toEqual([url, true]);
    }
  });
  it("downloads only what it made itself", async () => {
    await startShell();
    const prevented = (url: string): boolean => {
      let stopped = false;
      session.defaultSession.emit(
        "will-download",
        {
          preventDefault: () => {
            stopped = true;
          },
        },
        { getURL: () => url },
      );
      return stopped;
    };
    expect(prevented(`blob:${PAGE_URL}1-2`)).toBe(false);
    expect(prevented("https://plant.example/x.zip")).toBe(true);
    expect(prevented("data:text/plain,x")).toBe(true);
  });
  it("stays where it is: no navigation, no embedded page, no further window", async () => {
    const { window } = await startShell();
    for (const event of ["will-navigate", "will-frame-navigate", "will-redirect", "will-attach-webview"]) {
      let prevented = 0;
      window.webContents.emit(event, { preventDefault: () => prevented++, url: PAGE_URL });
      expect([event, prevented]).toEqual([event, 1]);
    }
    expect(window.webContents.openHandler?.({ url: PAGE_URL })).toEqual({ action: "deny" });
  });
  it("and so does any other contents that should ever come to be", async () => {
    await startShell();
    const other = new BrowserWindow({}).webContents;
    expect(other.openHandler?.({ url: "https://plant.example" })).toEqual({ action: "deny" });
    expect(other.listenerCount("will-navigate")).toBe(1);
  });
});

describe("our own scheme", () => {
  const ask = (url: string, init?: RequestInit): Response | undefined =>
    world.protocolHandlers.get("strandbook")?.(new Request(url, init));

  it("answers the built files with the content policy", async () => {
    await startShell();
    const page = ask(PAGE_URL);
    expect(page?.status).toBe(200);
    expect(page?.headers.get("content-type")).toBe("text/html; charset=utf-8");
    expect(page?.headers.get("content-security-policy")).toBe(CONTENT_POLICY);
    expect(page?.headers.get("x-content-type-options")).toBe("nosniff");
    expect(await page?.text()).toContain("<title>Strandbook</title>");
    expect(ask(`${PAGE_URL}window.js?x`)?.status).toBe(200);
  });
  it("answers nothing else", async () => {
    await startShell();
    for (const url of [
      `${PAGE_URL}../index.html/..`,
      `${PAGE_URL}index.html`,
      `${PAGE_URL}%2e%2e/campus.strandbook`,
      "strandbook://elsewhere/",
      "strandbook://window:8080/",
    ]) {
      const expected = new URL(url).pathname === "/" && new URL(url).host === "window" ? 200 : 404;
      expect([url, ask(url)?.status]).toEqual([url, expected]);
    }
    expect(ask(PAGE_URL, { method: "POST" })?.status).toBe(405);
  });
  it("is told from look-alikes by its parts", () => {
    for (const url of [
      "strandbook://window.example/",
      "strandbook://windows/",
      "strandbook://user@window/",
      "strandbook:window/",
      "strandbook-x://window/",
      "https://window/",
      "",
      "not an address",
    ]) {
      expect([url, isOurPage(url)]).toEqual([url, false]);
      expect([url, mayLoad(url)]).toEqual([url, false]);
    }
    expect(isOurPage(`${PAGE_URL}#find`)).toBe(true);
  });
});

describe("a message to the program", () => {
  const call = { id: "1", name: "no.such" };

  it("is answered when it comes from the top frame of our page", async () => {
    await startShell();
    expect(JSON.parse(String(await invoke(CHANNELS.call, [call])))).toMatchObject({
      ok: false,
      error: { code: "unknown_operation" },
    });
  });
  it("is refused from anywhere else, on every channel", async () => {
    const { window } = await startShell();
    const stranger = new Contents();
    const top = window.webContents.mainFrame;
    for (const from of [
      { sender: stranger },
      { senderFrame: null },
      { senderFrame: { url: PAGE_URL, parent: top } },
      { senderFrame: { url: "https://plant.example/", parent: null } },
      { senderFrame: { url: "strandbook://elsewhere/", parent: null } },
    ]) {
      for (const channel of Object.values(CHANNELS)) {
        await expect(invoke(channel, [call], from)).rejects.toThrow("Only Strandbook's own page may ask this.");
      }
    }
  });
  it("is refused when it doesn't have its channel's form", async () => {
    await startShell();
    for (const input of [undefined, null, "x", [], {}, { id: "" }, { id: 1, name: "x" }]) {
      const reply = JSON.parse(String(await invoke(CHANNELS.call, [input])));
      expect([input, reply.ok, reply.error.code]).toEqual([input, false, "bad_input"]);
    }
    await expect(invoke(CHANNELS.stop, [{ id: 3 }])).rejects.toThrow();
    await expect(invoke(CHANNELS.stop, [{ id: "x", more: 1 }])).rejects.toThrow();
    await expect(invoke(CHANNELS.chooseFile, [{}])).rejects.toThrow();
    await expect(invoke(CHANNELS.chooseFolder, [""])).rejects.toThrow();
    await expect(invoke(CHANNELS.reveal, [["/etc"]])).rejects.toThrow();
    await expect(invoke(CHANNELS.theme, ["pink"])).rejects.toThrow();
    await expect(invoke(CHANNELS.call, [call, call])).rejects.toThrow("One input at most.");
    expect(world.dialogs).toEqual([]);
    expect(world.revealed).toEqual([]);
  });
  it("can reach only the channels that the preload knows", async () => {
    await startShell();
    expect([...world.handlers.keys()].sort()).toEqual(Object.values(CHANNELS).sort());
  });
});
