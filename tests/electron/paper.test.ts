/** The desktop window prints: the plant's process makes the PDF, the system's dialog says where it goes. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { PAGE_URL } from "../../electron/security.ts";
import { readPdf } from "../paper/read-pdf.ts";
import { world } from "./stand-in.ts";
import { type RunningShell, startShell } from "./support.ts";

const asked = { id: "p1", name: "job.print", input: { job: "J-1" }, size: "a4" } as const;
async function withJob(): Promise<RunningShell> {
  const shell = await startShell();
  const input = { job: "J-1", steps: [{ words: "Look at the hole." }] };
  const occasion = { author: "Test Person" };
  expect(await shell.bridge.call({ id: "e", name: "job.enter", input, occasion })).toMatchObject({ ok: true });
  return shell;
}
const saveAs = (filePath: string) => world.dialogAnswers.push({ canceled: false, filePath });

describe("a job's packet printed from the desktop window", () => {
  it("is saved where the dialog says, under the name it proposes", async () => {
    const { bridge, folder } = await withJob();
    const path = join(folder, "mine.pdf");
    saveAs(path);
    expect(await bridge.paper(asked)).toEqual({ ok: true, value: { name: "mine.pdf", pages: 1, missing: [], path } });
    expect(world.dialogs.map(({ kind, options }) => [kind, options.defaultPath])).toEqual([
      ["save", "Packet for job J-1.pdf"],
    ]);
    expect((await readPdf(readFileSync(path))).text).toContain("Look at the hole.");
  });
  it("comes to nothing when the user thinks better of it", async () => {
    const { bridge, folder } = await withJob();
    const before = readdirSync(folder);
    world.dialogAnswers.push({ canceled: true, filePath: "" });
    expect(await bridge.paper(asked)).toEqual({ ok: true, value: null });
    expect(readdirSync(folder)).toEqual(before);
  });
  it("replaces an older PDF that the dialog was told to replace, and nothing else", async () => {
    const { bridge, folder } = await withJob();
    const older = join(folder, "older.pdf");
    const letter = join(folder, "letter.txt");
    writeFileSync(older, "%PDF-1.4 older");
    writeFileSync(letter, "Dear colleague");
    saveAs(older);
    saveAs(letter);
    expect(await bridge.paper(asked)).toMatchObject({ ok: true });
    expect((await readPdf(readFileSync(older))).pages.length).toBe(1);
    expect(await bridge.paper(asked)).toMatchObject({
      ok: false,
      error: { code: "file", message: "letter.txt is not a PDF, so it is not replaced. Choose another name." },
    });
    expect(readFileSync(letter, "utf8")).toBe("Dear colleague");
  });
  it("that isn't on record, or can't be saved there, is refused in words", async () => {
    const { bridge, folder } = await withJob();
    expect(await bridge.paper({ ...asked, input: { job: "J-9" } })).toMatchObject({
      ok: false,
      error: { code: "not_found" },
    });
    expect(world.dialogs).toEqual([]);
    saveAs(join(folder, "no", "x.pdf"));
    expect(await bridge.paper(asked)).toMatchObject({ ok: false, error: { code: "file" } });
    expect(existsSync(join(folder, "no"))).toBe(false);
  });
  it("is refused what is no call for paper", async () => {
    const { bridge } = await withJob();
    expect(await bridge.paper({ ...asked, size: "a3" } as never)).toMatchObject({
      ok: false,
      error: { code: "bad_input" },
    });
    expect(await bridge.paper({ ...asked, document: {} } as never)).toMatchObject({
      ok: false,
      error: { code: "bad_input" },
    });
    expect(await bridge.paper({ ...asked, name: "plant.read", input: {} })).toMatchObject({
      ok: false,
      error: { message: "plant.read answers nothing that could be printed." },
    });
  });
  it("is told as lost when the plant's process ends meanwhile", async () => {
    const { bridge, child, window } = await withJob();
    child.process.kill("SIGSTOP");
    const reply = bridge.paper(asked);
    // The message is on its way before the end comes.
    await new Promise((resolve) => setTimeout(resolve, 50));
    child.kill();
    expect(await reply).toMatchObject({ ok: false, error: { code: "internal" } });
    expect(world.dialogs).toEqual([]);
    await expect.poll(() => window.loaded, { timeout: 20_000 }).toEqual([PAGE_URL, "about:blank", PAGE_URL]);
  });
});
