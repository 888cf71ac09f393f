/** What this machine keeps for its user: one file for every start and every plant. */
import { existsSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { TOKEN_HEADER } from "../../core/operations/wire.ts";
import { Refusal } from "../../core/result.ts";
import { KEPT_LIMIT, KeptFile } from "../../host/machine/kept.ts";
import { keptPath } from "../../host/machine/kept-path.ts";
import { newFolder } from "../support/plant.ts";
import { startHost } from "./support.ts";

const fileIn = (folder: string): string => join(folder, "deep", "preferences.json");

describe("preferences of a machine", () => {
  it("are there at the next start, whatever port it has, and for another plant", async () => {
    const path = fileIn(newFolder());
    const first = await startHost({ kept: path });
    expect((await first.raw({ path: "/kept", headers: { [TOKEN_HEADER]: first.token } })).json).toEqual({});
    const done = await first.call({ name: "settings", change: { person: "A. Clerk", unit: "ft" } }, { path: "/kept" });
    expect([done.status, done.json]).toEqual([200, { ok: true }]);
    await first.close();
    const second = await startHost({ kept: path });
    expect(second.port).not.toBe(first.port);
    const { json } = await second.raw({ path: "/kept", headers: { [TOKEN_HEADER]: second.token } });
    expect(json).toEqual({ settings: { person: "A. Clerk", unit: "ft" } });
  });
  it("change entry by entry, and every window of the program is told", async () => {
    const host = await startHost();
    const events = await host.events();
    await host.call({ name: "views", change: { cable: [1], port: [2] } }, { path: "/kept" });
    await host.call({ name: "views", change: { cable: null, splice: [3] } }, { path: "/kept" });
    const { json } = await host.raw({ path: "/kept", headers: { [TOKEN_HEADER]: host.token } });
    expect(json).toEqual({ views: { port: [2], splice: [3] } });
    expect(await events.next("kept")).toEqual({ type: "kept", name: "views", change: { cable: [1], port: [2] } });
  });
  it("are for the program's own page alone", async () => {
    const host = await startHost();
    expect((await host.raw({ path: "/kept" })).status).toBe(401);
    const keep = { name: "settings", change: { person: "X" } };
    expect((await host.call(keep, { path: "/kept", headers: { origin: "http://elsewhere" } })).status).toBe(403);
    expect((await host.call(keep, { path: "/kept", headers: { [TOKEN_HEADER]: "no" } })).status).toBe(401);
    expect((await host.raw({ path: "/kept", headers: { [TOKEN_HEADER]: host.token } })).json).toEqual({});
  });
  it("refuse what is not known, and more than fits, and stay as they were", async () => {
    const host = await startHost();
    const asked = (body: unknown) => host.call(body, { path: "/kept" });
    expect((await asked({ name: "passwords", change: {} })).status).toBe(400);
    expect((await asked({ name: "settings", change: [] })).status).toBe(400);
    const large = await asked({ name: "notes", change: { text: "x".repeat(KEPT_LIMIT) } });
    expect([large.status, large.json.error.message]).toEqual([400, expect.stringContaining("1024 kB in all")]);
    expect((await host.raw({ path: "/kept", headers: { [TOKEN_HEADER]: host.token } })).json).toEqual({});
  });
});

describe("the file of preferences", () => {
  it("lies where the system keeps a user's settings", () => {
    // XDG Base Directory Specification 0.8: $XDG_CONFIG_HOME, else ~/.config; a relative path is ignored.
    expect(keptPath({}, "linux")).toBe(join(homedir(), ".config", "strandbook", "preferences.json"));
    expect(keptPath({ XDG_CONFIG_HOME: "/c" }, "linux")).toBe("/c/strandbook/preferences.json");
    expect(keptPath({ XDG_CONFIG_HOME: "c" }, "linux")).toBe(
      join(homedir(), ".config", "strandbook", "preferences.json"),
    );
    expect(keptPath({ APPDATA: "/r" }, "win32")).toBe(join("/r", "Strandbook", "preferences.json"));
    expect(keptPath({}, "darwin")).toContain(join("Library", "Application Support", "Strandbook"));
    expect(keptPath({ STRANDBOOK_DATA: "/d" }, "linux")).toBe("/d/preferences.json");
  });
  it("is the user's own, and whole after many changes at once", async () => {
    const path = fileIn(newFolder());
    const file = new KeptFile(path);
    await Promise.all(
      Array.from({ length: 20 }, (_, at) => file.keep({ name: "tables", change: { [`kind ${at}`]: at } })),
    );
    expect(Object.keys(JSON.parse(readFileSync(path, "utf8")).tables)).toHaveLength(20);
    expect(statSync(path).mode & 0o077).toBe(0);
  });
  it("takes what another start of the program kept meanwhile into account", async () => {
    const path = fileIn(newFolder());
    const [one, other] = [new KeptFile(path), new KeptFile(path)];
    await one.keep({ name: "settings", change: { person: "A" } });
    await other.keep({ name: "settings", change: { unit: "ft" } });
    await one.keep({ name: "settings", change: { theme: "dark" } });
    expect(await other.read()).toEqual({ settings: { person: "A", unit: "ft", theme: "dark" } });
  });
  it("that somebody mistyped counts as empty and is set aside, not written over", async () => {
    const folder = newFolder();
    const path = join(folder, "preferences.json");
    writeFileSync(path, '{"settings": {"person": "A",}');
    const file = new KeptFile(path);
    expect(await file.read()).toEqual({});
    await file.keep({ name: "settings", change: { person: "B" } });
    expect(readFileSync(`${path}.unreadable`, "utf8")).toContain('"A",');
    expect(JSON.parse(readFileSync(path, "utf8"))).toEqual({ settings: { person: "B" } });
  });
  it("that can't be written is remembered until the program ends", async () => {
    const folder = newFolder();
    // A file stands where the folder should be.
    writeFileSync(join(folder, "deep"), "");
    const file = new KeptFile(fileIn(folder));
    await file.keep({ name: "settings", change: { person: "A" } });
    expect(await file.read()).toEqual({ settings: { person: "A" } });
    expect(existsSync(fileIn(folder))).toBe(false);
  });
  it("remembers which plants were opened, the last one last, and forgets the oldest of many", async () => {
    const file = new KeptFile(fileIn(newFolder()));
    for (let n = 1; n <= 14; n += 1) await file.noteOpened(`/plants/${n}.strandbook`, "2026-01-05T12:00:00Z");
    await file.noteOpened("/plants/5.strandbook", "2026-01-06T12:00:00Z");
    const recent = Object.entries((await file.read()).recent ?? {});
    expect(recent).toHaveLength(12);
    expect(recent[0]?.[0]).toBe("/plants/3.strandbook");
    expect(recent.at(-1)).toEqual(["/plants/5.strandbook", { name: "5.strandbook", at: "2026-01-06T12:00:00Z" }]);
  });
  it("refuses in words", async () => {
    const file = new KeptFile(fileIn(newFolder()));
    await expect(file.keep({ name: "settings" })).rejects.toThrow(Refusal);
  });
});
