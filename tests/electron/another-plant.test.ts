/** Another plant opened in the same window: named by the page, dropped, or by a second start of the program. */
import { symlinkSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { PAGE_URL } from "../../electron/security.ts";
import { createPlant } from "../../host/plant-file.ts";
import { app, world } from "./stand-in.ts";
import { begin, newWorld, startShell } from "./support.ts";

describe("another plant", () => {
  it("opened lately is opened again by the page, and is then the last of those", async () => {
    const { bridge, window, folder, file } = await startShell();
    const other = join(folder, "other.strandbook");
    await createPlant(other, "Other");
    await bridge.capabilities.openPlant(other);
    expect(window.title).toBe("other.strandbook – Strandbook");
    await bridge.capabilities.openPlant(file);
    expect(Object.entries((await bridge.kept()).recent ?? {}).map(([path, { name }]) => [path, name])).toEqual([
      [other, "other.strandbook"],
      [file, "campus.strandbook"],
    ]);
  });
  it("dropped on the window is opened from where it lies", async () => {
    const { bridge, window, folder } = await startShell();
    const other = join(folder, "dropped.strandbook");
    await createPlant(other, "Dropped");
    const dropped = new File([], "dropped.strandbook");
    world.dropped.set(dropped, other);
    expect(bridge.capabilities.pathOf(dropped)).toBe(other);
    expect(bridge.capabilities.pathOf(new File([], "made by a page"))).toBeNull();
    await bridge.capabilities.openDropped(dropped);
    expect(window.title).toBe("dropped.strandbook – Strandbook");
  });
  it("must be named like one where the page names it, or have been opened here before", async () => {
    const { bridge, window, folder } = await startShell();
    const unlike = join(folder, "campus of last year");
    await createPlant(unlike, "Last year");
    await bridge.capabilities.openPlant(unlike);
    expect(window.title).toBe("campus.strandbook – Strandbook");
    expect(world.dialogs.at(-1)?.options.message).toBe(
      "campus of last year is not named like a plant file (.strandbook), so it is not opened.",
    );
    world.dialogAnswers.push({ canceled: false, filePaths: [unlike] });
    await bridge.capabilities.openPlant();
    await bridge.capabilities.openPlant(join(folder, "campus.strandbook"));
    await bridge.capabilities.openPlant(unlike);
    expect(window.title).toBe("campus of last year – Strandbook");
  });
  it("answers only its own page: the one before is gone first, and back doesn't lead to it", async () => {
    const { bridge, window, folder } = await startShell();
    const other = join(folder, "other.strandbook");
    await createPlant(other, "Other");
    const loaded: string[] = [];
    const load = window.loadURL.bind(window);
    window.loadURL = async (url) => {
      await load(url);
      loaded.push(
        `${url} beside ${world.children.filter(({ process }) => process.exitCode === null).length} processes`,
      );
    };
    await bridge.capabilities.openPlant(other);
    expect(loaded).toEqual(["about:blank beside 2 processes", `${PAGE_URL} beside 1 processes`]);
    expect(window.webContents.cleared).toBe(1);
  });
  it("by another name of the same file is not opened beside itself", async () => {
    const { bridge, window, folder, file } = await startShell();
    const link = join(folder, "desk.strandbook");
    symlinkSync(file, link);
    await bridge.capabilities.openPlant(link);
    expect(world.children).toHaveLength(1);
    expect(window.title).toBe("campus.strandbook – Strandbook");
  });
});

describe("a page that holds what no file has yet", () => {
  it("is left for another plant only when the user says so, and stays with its own plant until then", async () => {
    const { bridge, window, folder, file } = await startShell();
    const other = join(folder, "other.strandbook");
    await createPlant(other, "Other");
    window.webContents.holds = true;
    world.dialogAnswers.push(0, 1);
    await bridge.capabilities.openPlant(other);
    expect(world.dialogs.at(-1)?.options.buttons).toEqual(["Stay", "Leave without them"]);
    expect(window.title).toBe("campus.strandbook – Strandbook");
    expect(await bridge.call({ id: "1", name: "plant.status" })).toMatchObject({ ok: true, value: { path: file } });
    await bridge.capabilities.openPlant(other);
    expect(window.title).toBe("other.strandbook – Strandbook");
  });
  it("is not closed without a word", async () => {
    const { window } = await startShell();
    const close = (): boolean => {
      let closes = false;
      window.webContents.emit("will-prevent-unload", { preventDefault: () => (closes = true) });
      return closes;
    };
    world.dialogAnswers.push(0, 1);
    expect([close(), close()]).toEqual([false, true]);
    expect(world.dialogs.map(({ options }) => options.message)).toEqual(
      Array(2).fill("Files dropped on this page are not in the plant file yet. Leaving now loses them."),
    );
  });
});

describe("a second start", () => {
  it("hands its file to the first and ends", async () => {
    const folder = newWorld();
    world.lockFree = false;
    begin(folder, ["other.strandbook"]);
    expect(world.lockData).toEqual({ file: join(process.cwd(), "other.strandbook") });
    expect(world.quit).toBe(1);
    expect(world.calls).not.toContain("whenReady");
  });
  it("brings the first to the front with the other file", async () => {
    const { window, folder } = await startShell();
    const other = join(folder, "other.strandbook");
    await createPlant(other, "Other");
    app.emit("second-instance", {}, [], "", { file: other });
    await expect.poll(() => window.title, { timeout: 20_000 }).toBe("other.strandbook – Strandbook");
    await expect.poll(() => window.focused).toBe(1);
    app.emit("second-instance", {}, [], "", "nonsense");
    expect(window.focused).toBe(2);
  });
  it("twice with one file opens it once, to be written", async () => {
    const { bridge, window, folder } = await startShell();
    const other = join(folder, "other.strandbook");
    await createPlant(other, "Other");
    app.emit("second-instance", {}, [], "", { file: other });
    app.emit("second-instance", {}, [], "", { file: other });
    expect(window.focused).toBe(2);
    // Comes after both.
    await bridge.capabilities.openPlant(other);
    expect(world.children).toHaveLength(2);
    expect(window.title).toBe("other.strandbook – Strandbook");
    expect(await bridge.call({ id: "3", name: "plant.status" })).toMatchObject({
      ok: true,
      value: { path: other, read_only: null },
    });
  });
  it("may come from the system's file window", async () => {
    const { window, folder } = await startShell();
    const other = join(folder, "other.strandbook");
    await createPlant(other, "Other");
    let prevented = false;
    app.emit("open-file", { preventDefault: () => (prevented = true) }, other);
    expect(prevented).toBe(true);
    await expect.poll(() => window.title, { timeout: 20_000 }).toBe("other.strandbook – Strandbook");
  });
});
