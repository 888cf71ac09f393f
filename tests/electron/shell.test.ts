import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { MenuItemConstructorOptions } from "electron";
import { describe, expect, it } from "vitest";
import type { WireEvent } from "../../core/operations/wire.ts";
import { ENDING, fileFromWords } from "../../electron/files.ts";
import { PAGE_URL } from "../../electron/security.ts";
import { openingBounds } from "../../electron/window-state.ts";
import { createPlant, EXTENSION } from "../../host/plant-file.ts";
import { nativeTheme, world } from "./stand-in.ts";
import { begin, newWorld, quit, startShell, windowAt } from "./support.ts";

const revise = { name: "record.edit", occasion: { author: "Test Person" } };

describe("the bridge to the page", () => {
  it("has one call, one stop, one subscription and the capabilities", async () => {
    const { bridge } = await startShell();
    expect(Object.keys(bridge).sort()).toEqual(["call", "capabilities", "keep", "kept", "paper", "stop", "subscribe"]);
    expect(Object.keys(bridge.capabilities).sort()).toEqual([
      "chooseFile",
      "chooseFolder",
      "openDropped",
      "openPlant",
      "pathOf",
      "print",
      "reveal",
      "theme",
    ]);
    expect([...world.exposed.keys()]).toEqual(["strandbook"]);
  });
  it("carries a call to the plant's process and back", async () => {
    const { bridge } = await startShell();
    const reply = await bridge.call({ id: "1", name: "plant.read", input: {} });
    expect(reply).toMatchObject({ ok: true, revision: 0 });
    expect(await bridge.stop("1")).toEqual({ stopped: false });
  });
  it("tells the page what happened without Electron's own event", async () => {
    const { bridge, window } = await startShell();
    const heard: unknown[][] = [];
    const end = bridge.subscribe((...words: unknown[]) => heard.push(words));
    window.webContents.send("strandbook:event", { type: "menu", command: "undo" });
    end();
    window.webContents.send("strandbook:event", { type: "menu", command: "redo" });
    expect(heard).toEqual([[{ type: "menu", command: "undo" }]]);
  });
  it("asks the system for files and folders", async () => {
    const { bridge } = await startShell();
    world.dialogAnswers.push({ canceled: false, filePaths: ["/plants/a.csv"] }, { canceled: true, filePaths: [] });
    expect(await bridge.capabilities.chooseFile("Choose a drawing")).toBe("/plants/a.csv");
    expect(await bridge.capabilities.chooseFolder("Choose a folder to import")).toBe(null);
    expect(world.dialogs.map(({ options }) => [options.title, options.properties])).toEqual([
      ["Choose a drawing", ["openFile"]],
      ["Choose a folder to import", ["openDirectory", "createDirectory"]],
    ]);
  });
  it("shows a file where it lies, prints, and sets light or dark", async () => {
    const { bridge, window, file } = await startShell();
    await bridge.capabilities.reveal(file);
    await bridge.capabilities.print();
    await bridge.capabilities.theme("dark");
    expect(world.revealed).toEqual([file]);
    expect(window.webContents.printed).toBe(1);
    expect(nativeTheme.themeSource).toBe("dark");
  });
});

describe("what this machine keeps for its user", () => {
  it("is written beside no plant, told to the page, and there at the next start", async () => {
    const { bridge, folder } = await startShell();
    const heard: WireEvent[] = [];
    bridge.subscribe((event) => heard.push(event));
    await bridge.keep({ name: "settings", change: { person: "A. Clerk" } });
    expect(heard).toEqual([{ type: "kept", name: "settings", change: { person: "A. Clerk" } }]);
    await quit();
    newWorld();
    begin(folder, [join(folder, "campus.strandbook")]);
    await windowAt(0);
    expect((await bridge.kept()).settings).toEqual({ person: "A. Clerk" });
  });
  it("takes nothing but what is known", async () => {
    const { bridge } = await startShell();
    await expect(bridge.keep({ name: "secrets", change: {} } as never)).rejects.toThrow("preferences");
    await expect(
      bridge.keep({ name: "recent", change: { "/etc/x": { name: "x", at: "" } } } as never),
    ).rejects.toThrow();
    expect(Object.keys(await bridge.kept())).toEqual(["recent"]);
  });
});

describe("the application menu", () => {
  const items = (list: readonly MenuItemConstructorOptions[]): MenuItemConstructorOptions[] =>
    list.flatMap((item) => [item, ...(Array.isArray(item.submenu) ? items(item.submenu) : [])]);

  const choose = (item: MenuItemConstructorOptions | undefined): MenuItemConstructorOptions => {
    if (!item?.click) throw new Error("the menu has no such item");
    (item.click as () => void)();
    return item;
  };
  const press = (label: string) => choose(items(world.menu).find((one) => one.label === label));

  it("sends undo and redo to the page instead of the text field's own", async () => {
    const { bridge } = await startShell();
    const heard: WireEvent[] = [];
    bridge.subscribe((event) => heard.push(event));
    const all = items(world.menu);
    expect(
      all.map((item) => item.role).filter((role) => role === "undo" || role === "redo" || role === "editMenu"),
    ).toEqual([]);
    for (const label of ["Undo", "Redo", "Print…", "Back up now"]) {
      const item = press(label);
      // The page hears the keys itself, so the menu must not take them.
      if (item.accelerator) expect(item.registerAccelerator).toBe(false);
    }
    expect(heard).toEqual([
      { type: "menu", command: "undo" },
      { type: "menu", command: "redo" },
      { type: "menu", command: "print" },
      { type: "menu", command: "backup" },
    ]);
  });
  it("opens again what was opened here before, the last one first", async () => {
    const { folder, window, file } = await startShell();
    const again = () =>
      items(world.menu)
        .find(({ label }) => label === "Open again")
        ?.submenu?.valueOf() as MenuItemConstructorOptions[];
    expect(again()).toEqual([]);
    const other = join(folder, "a & b.strandbook");
    await createPlant(other, "Other");
    world.dialogAnswers.push({ canceled: false, filePaths: [other] });
    press("Open plant…");
    await expect.poll(() => window.title, { timeout: 20_000 }).toBe("a & b.strandbook – Strandbook");
    await expect.poll(() => again().map(({ label }) => label)).toEqual([`campus.strandbook – ${file}`]);
    choose(again()[0]);
    await expect.poll(() => window.title, { timeout: 20_000 }).toBe("campus.strandbook – Strandbook");
    await expect
      .poll(() => again().map(({ label }) => label))
      .toEqual([`a && b.strandbook – ${other.replaceAll("&", "&&")}`]);
    expect(world.recentDocuments).toEqual([file, other, file]);
  });
  it("has no way to developer tools or to load the page anew", async () => {
    await startShell();
    const roles = items(world.menu).map((item) => item.role);
    for (const role of ["toggleDevTools", "reload", "forceReload", "viewMenu"]) expect(roles).not.toContain(role);
  });
  it("makes a new plant and opens it in the same window", async () => {
    const { folder, window } = await startShell();
    const fresh = join(folder, "fresh.strandbook");
    world.dialogAnswers.push({ canceled: false, filePath: fresh });
    press("New plant…");
    await expect.poll(() => window.title, { timeout: 20_000 }).toBe("fresh.strandbook – Strandbook");
    expect(existsSync(fresh)).toBe(true);
    expect(world.windows).toHaveLength(1);
  });
});

describe("plant files", () => {
  it("end as the host says", () => {
    expect(ENDING).toBe(EXTENSION);
  });
  it("are named by the first plain word", () => {
    expect(fileFromWords(["--no-sandbox", "a b.strandbook", "c"], "/plants")).toBe("/plants/a b.strandbook");
    expect(fileFromWords(["--x"], "/plants")).toBe(null);
  });
  it("are let go of before the program ends", async () => {
    const { child } = await startShell();
    const exited = new Promise((resolve) => child.process.on("exit", resolve));
    await quit();
    expect(await exited).toBe(0);
  });
  it("are chosen when none was named", async () => {
    const folder = newWorld();
    const file = join(folder, "chosen.strandbook");
    await createPlant(file, "Chosen");
    world.dialogAnswers.push({ canceled: false, filePaths: [file] });
    begin(folder, []);
    const window = await windowAt(0);
    expect(window.title).toBe("chosen.strandbook – Strandbook");
  });
  it("that can't be opened are said to be so, and the program ends", async () => {
    const folder = newWorld();
    const file = join(folder, "letter.strandbook");
    writeFileSync(file, "Dear colleague");
    begin(folder, [file]);
    await expect.poll(() => world.quit, { timeout: 20_000 }).toBe(1);
    expect(world.dialogs[0]?.options.message).toContain("letter.strandbook");
    expect(readFileSync(file, "utf8")).toBe("Dear colleague");
  });
  it("that can't be opened leave the open one as it is", async () => {
    const { bridge, window, folder, file } = await startShell();
    const broken = join(folder, "broken.strandbook");
    writeFileSync(broken, "Dear colleague");
    world.dialogAnswers.push({ canceled: false, filePaths: [broken] });
    await bridge.capabilities.openPlant();
    expect(world.dialogs.at(-1)?.kind).toBe("message");
    expect(window.loaded).toHaveLength(1);
    expect(await bridge.call({ id: "2", name: "plant.status" })).toMatchObject({ ok: true, value: { path: file } });
  });
});

describe("the plant's process dies", () => {
  it("and what was asked is answered, and it is started again", async () => {
    const { bridge, child, window } = await startShell();
    child.process.kill("SIGSTOP");
    const waiting = bridge.call({ id: "1", name: "plant.read" });
    // The message is on its way before the end comes.
    await new Promise((resolve) => setTimeout(resolve, 50));
    child.kill();
    expect(await waiting).toMatchObject({ ok: false, error: { code: "internal" } });
    await expect.poll(() => window.loaded, { timeout: 20_000 }).toEqual([PAGE_URL, "about:blank", PAGE_URL]);
    expect(await bridge.call({ id: "2", name: "plant.read" })).toMatchObject({ ok: true });
  });
  it("again and again, and the program ends with a sentence", async () => {
    const { window } = await startShell();
    for (let death = 1; death <= 3; death++) {
      await expect.poll(() => world.children.length, { timeout: 20_000 }).toBe(death);
      await expect.poll(() => window.loaded.filter((url) => url === PAGE_URL).length, { timeout: 20_000 }).toBe(death);
      world.children.at(-1)?.kill();
    }
    await expect.poll(() => world.quit, { timeout: 20_000 }).toBe(1);
    expect(world.dialogs.at(-1)?.options.message).toContain("stops again and again");
  });
});

describe("the window's page dies", () => {
  it("and is loaded again; again and again, and the program ends with a sentence", async () => {
    const { window } = await startShell();
    const crash = () => window.webContents.emit("render-process-gone", {}, { reason: "crashed" });
    crash();
    crash();
    expect(window.loaded).toHaveLength(3);
    window.webContents.emit("render-process-gone", {}, { reason: "clean-exit" });
    crash();
    await expect.poll(() => world.quit, { timeout: 20_000 }).toBe(1);
    expect(window.loaded).toHaveLength(3);
    expect(world.dialogs.at(-1)?.options.message).toContain("page stops again and again");
  });
});

describe("the window's place", () => {
  const screen = { x: 0, y: 0, width: 1920, height: 1040 };

  it("is kept between starts, and so is light or dark", async () => {
    const { bridge, window } = await startShell();
    await bridge.capabilities.theme("dark");
    window.maximized = true;
    window.close();
    const kept = JSON.parse(readFileSync(join(world.userData, "window.json"), "utf8"));
    expect(kept).toEqual({ bounds: { x: 10, y: 20, width: 1300, height: 800 }, maximized: true, theme: "dark" });
  });
  it("is forgotten when it can't be read", async () => {
    const folder = newWorld();
    const file = join(folder, "campus.strandbook");
    await createPlant(file, "Test Campus");
    writeFileSync(join(world.userData, "window.json"), '{"bounds":{"x":"left"},"theme":"pink"');
    begin(folder, [file]);
    expect((await windowAt(0)).options.width).toBe(1440);
  });
  it("is the last one when that still lies on a screen", () => {
    const last = { x: 200, y: 100, width: 1300, height: 800 };
    expect(openingBounds(last, [screen])).toEqual(last);
    expect(openingBounds({ ...last, x: 5000 }, [screen])).toEqual({ width: 1300, height: 800 });
    expect(openingBounds({ ...last, width: 3 }, [screen])).toEqual({ width: 1440, height: 900 });
    expect(openingBounds(null, [{ ...screen, width: 1280, height: 760 }])).toEqual({ width: 1280, height: 760 });
  });
});

// The edit goes through the whole shell: page, main, the plant's process and back as an event.
describe("a change in one place", () => {
  it("is told to the page", async () => {
    const { bridge } = await startShell();
    const heard: WireEvent[] = [];
    bridge.subscribe((event) => heard.push(event));
    const before = await bridge.call({ id: "1", name: "record.page", input: { kind: "plant", id: 1 } });
    expect(before.ok).toBe(true);
    const reply = await bridge.call({
      ...revise,
      id: "2",
      input: { kind: "plant", id: 1, rev: 0, values: { notes: "seen" } },
    });
    expect(reply).toMatchObject({ ok: true });
    await expect.poll(() => heard.filter((event) => event.type === "changed")).toHaveLength(1);
  });
});
