/**
 * A clerk enters a new 96-strand cable from a crew's notes: its number, course, marks, opening, landings, splices, photos
 * and labels. By the keyboard alone, counted key by key, and held against what is then on record.
 */
import { readFileSync, writeFileSync } from "node:fs";
import type { Page } from "playwright";
import { describe, expect, it } from "vitest";
import type { Attached } from "../../core/attachments/attach.ts";
import type { CableAnswer } from "../../core/trace/cable-answer.ts";
import { exif, jpeg, png } from "../attachments/files.ts";
import { type ReadLabelPage, readLabels } from "../labels/read-labels.ts";
import type { TestPlant } from "../support/plant.ts";
import { newCampus } from "./support/campus.ts";
import { everyPage } from "./support/every-page.ts";
import { journeyOn } from "./support/journey.ts";
import { Keys } from "./support/keys.ts";
import { axeFindings, overflow, shown } from "./support/look.ts";
import { picture, pictures } from "./support/picture.ts";
import { ask } from "./support/window.ts";

/** The campus, with a short cable from the hole to the foundry that the new one is spliced to. */
async function plantBefore(): Promise<TestPlant> {
  const plant = await newCampus();
  await plant.run("cable.enter", {
    tag: "F-097",
    type: "LT-OS2",
    units: [{ kind: "tube", repeats: 2, strands: 12, coating_um: "250" }],
    stops: [{ space: "HH-11", closure: "HH-11/CL-11", way: { pathway: "DB-4" } }, { space: "FDY/0E" }],
  });
  return plant;
}

const journey = journeyOn(plantBefore);
let printed: readonly ReadLabelPage[] = [];

/** The steps and their keys as the written journey has them. */
const WRITTEN = [
  ...readFileSync(new URL("new-cable.md", import.meta.url), "utf8").matchAll(/^\| (.+?) \| (\d+) \|$/gm),
].map(([, what, keys]) => [what, Number(keys)]);

/** What the crew photographed; the telephone wrote its day into each. */
const PHOTOS = ["lid.jpg", "tray.jpg", "p9.jpg"].map((name, at) => ({
  ...{ name, mimeType: "image/jpeg" },
  buffer: jpeg(exif(`2026:04:03 1${at}:00:00`)),
}));

const field = (page: Page, name: string) => page.locator(`[data-field="${name}"]`);

describe("a new 96-strand cable from a crew's notes", () => {
  it("is typed by the keyboard alone, and drawn as it grows", { timeout: 480_000 }, async () => {
    const { page } = journey;
    const keys = new Keys(page);
    await ask(page, "#/run");
    await page.locator('[data-field="tag"]:focus').waitFor();
    await keys.step("number, type, strands, marks in feet, day", async () => {
      await keys.type("F-096");
      await keys.press("Tab");
      await keys.take("LT-OS");
      await keys.press("Tab");
      await keys.type("96");
      await keys.press("Tab", "Tab");
      await keys.type("f");
      await keys.press("Tab");
      await keys.type("3 Apr 2026");
    });
    await keys.step("LIB/2A, out 1000", async () => {
      await keys.press("Tab", "Tab", "Tab", "Tab", "Tab");
      await keys.type("LIB/2A");
      await keys.press("Enter");
      await page.locator('[data-field="stops.0.mark_out"]:focus').waitFor();
      await keys.type("1000");
      await keys.press("Enter");
    });
    await keys.step("DB-2/1 to MH-03, in 2352 out 2402", async () => {
      await keys.take("DB-2/");
      await page.locator('[data-field="stops.1.mark_in"]:focus').waitFor();
      await keys.type("2352");
      await keys.press("Tab");
      await keys.type("2402");
      await keys.press("Enter");
    });
    await keys.step("DB-3/1 to HH-11, in 6077 out 6137, CL-11, 73 to 96 cut", async () => {
      await keys.take("DB-3/");
      await page.locator('[data-field="stops.2.mark_in"]:focus').waitFor();
      await keys.type("6077");
      await keys.press("Tab");
      await keys.type("6137");
      await keys.press("Tab", "Tab");
      await keys.take("CL-1");
      await keys.press("Tab", "Tab", "Tab");
      await keys.type("73-96");
      await keys.press("Enter");
    });
    await keys.step("DB-5/1 to HH-12, in and out 6813", async () => {
      await keys.take("DB-5/");
      await page.locator('[data-field="stops.3.mark_in"]:focus').waitFor();
      await keys.type("6813");
      await keys.press("Tab");
      await keys.type("6813");
      await keys.press("Enter");
    });
    await keys.step("DB-6/1 to KLN/0E, in 8257", async () => {
      await keys.take("DB-6/");
      await page.locator('[data-field="stops.4.mark_in"]:focus').waitFor();
      await keys.type("8257");
    });
    const drawing = page.getByRole("img", { name: /F-096 along its length: LIB\/2A, MH-03, HH-11, HH-12, KLN\/0E/ });
    await drawing.waitFor();
    expect(await shown(page.locator(".answer"))).toContain("Kept unfinished in the plant file.");
    await picture(page, "run-growing");
    await keys.step("1 to 96 and 1 to 72 landed", async () => {
      await keys.tabTo('[data-field="landings.0.strands"]');
      await keys.type("1-96");
      await keys.press("Tab");
      await keys.type("P9");
      await keys.press("Tab");
      await keys.type("01-48");
      await keys.press("Enter");
      await page.locator('[data-field="landings.1.strands"]:focus').waitFor();
      await keys.type("1-72");
      await keys.press("Tab");
      await keys.type("P9");
      await keys.press("Tab");
      await keys.type("01-36");
    });
    await keys.step("73 to 96 spliced to F-097 in T4", async () => {
      await keys.tabTo('[data-field="splices.0.strands"]');
      await keys.type("73-96");
      await keys.press("Tab", "Tab");
      await keys.type("F-097:1-24");
      await keys.press("Tab");
      await keys.take("T4");
    });
    await keys.step("both panels made", async () => {
      for (const [at, address, ports] of [
        [0, "LIB/2A/P9", "01-48"],
        [1, "KLN/0E/P9", "01-36"],
      ] as const) {
        await page.getByRole("checkbox", { name: `make panel ${address}` }).waitFor();
        await keys.tabTo(".run-make input[type=checkbox]:not(:checked)");
        await keys.press("Space");
        await page.locator(`[data-field="make.${at}.numbers"]:focus`).waitFor();
        expect(await field(page, `make.${at}.numbers`).inputValue()).toBe(ports);
        await keys.press("Tab");
        await keys.pick("LC d");
      }
    });
    const enter = page.getByRole("button", { name: "Enter F-096" });
    await expect.poll(() => enter.isEnabled(), { timeout: 90_000 }).toBe(true);
    await page.locator(".run-labels div").nth(4).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    expect(await overflow(page)).toEqual({ x: 0, y: 0 });
    await picture(page, "run-whole");
    await keys.step("entered", async () => {
      await keys.press("Control+Enter");
      await page.getByText("F-096 is entered").first().waitFor();
      await page.locator(".run-entered input[type=file]:focus").waitFor();
    });
    await keys.step("the three photos chosen", async () => {
      await keys.choose(PHOTOS);
      await page.locator(".keep-staged li").nth(2).waitFor();
    });
    await keys.step("what each of them shows, and of what", async () => {
      for (const [of, words] of [
        ["H", "the lid"],
        ["HH-11/", "tray T4"],
        ["LIB/2A/", "P9, front"],
      ] as const) {
        await keys.tabTo(".keep-staged li select:not(.seen)");
        await page.evaluate(() => document.activeElement?.classList.add("seen"));
        await keys.pick(of);
        await keys.press("Tab");
        await keys.type(words);
      }
      await picture(page, "run-photos");
      expect(await axeFindings(page)).toEqual([]);
      await keys.tabTo(".keep-acts button");
      await keys.press("Enter");
      await page.getByText("3 files kept with HH-11, HH-11/CL-11 and LIB/2A/P9.").waitFor();
    });
    await keys.step("its five labels printed, and on record as printed", async () => {
      await keys.tabTo('.run-entered a[href="#/labels?of=F-096"]');
      await keys.press("Enter");
      await page.locator(".label-sheet").waitFor();
      const coming = page.waitForEvent("download");
      await keys.tabTo(".question .acts button.filled");
      await keys.press("Enter");
      printed = await readLabels(readFileSync(await (await coming).path()));
      await page.getByText("all of them on record already").waitFor();
    });
    picturedKeys(keys);
    expect(keys.steps.map(({ what, keys: own }) => [what, own])).toEqual(WRITTEN);
    // At a key a second, which is slow, little more than half of the ten minutes; and with what the program lets wait, not ten.
    expect(keys.count).toBeLessThan(330);
    const waited_s = keys.steps.reduce((sum, { ms }) => sum + ms, 0) / 1000;
    expect(keys.count + waited_s).toBeLessThan(10 * 60);
  });

  it("is on record as the notes say: every strand, landing, splice, label and metre", async () => {
    const { plant } = journey;
    const sheet = await plant.run<CableAnswer>("cable.show", { cable: "F-096" });
    expect(sheet.stops.map(({ place, marks, kind }) => [place.space?.tag, marks, kind])).toEqual([
      ["LIB/2A", [1000], "end"],
      ["MH-03", [2352, 2402], "passing"],
      ["HH-11", [6077, 6137], "opened"],
      ["HH-12", [6813, 6813], "passing"],
      ["KLN/0E", [8257], "end"],
    ]);
    expect(sheet.legs.map(({ conduit }) => conduit?.tag)).toEqual(["DB-2/1", "DB-3/1", "DB-5/1", "DB-6/1"]);
    expect(sheet).toMatchObject({ strands: 96, cut: 24, mark_unit: "ft" });
    const far = async (what: string) => JSON.stringify(await plant.run("trace.walk", { what }));
    expect(await far("LIB/2A/P9:01#1")).toContain("KLN/0E/P9:01");
    expect(await far("LIB/2A/P9:37#1")).toContain("F-097:1");
    const labels = await plant.store.read((reader) =>
      reader.rows<{ text: string; printed: number; place: string }>(
        `select l.text, l.printed_on is not null as printed, s.tag as place from label l join cable c on c.id = l.subject_id
           join space s on s.id = l.space_id where l.subject_kind = 'cable' and c.tag = 'F-096' order by l.id`,
      ),
    );
    expect(labels.map(({ place }) => place)).toEqual(["2A", "MH-03", "HH-11", "HH-12", "0E"]);
    expect(labels.every((one) => one.printed === 1)).toBe(true);
    // What is on record is what lies on the paper, line by line.
    const lines = printed.flatMap(({ texts }) => texts.map(({ text }) => text));
    expect(labels.flatMap(({ text }) => text.split("\n")).sort()).toEqual([...lines].sort());
  });

  it("has its photos on record, each with what it shows and the camera's day", async () => {
    const { plant } = journey;
    const kept = async (of: string) => (await plant.run<{ attached: Attached[] }>("attachment.list", { of })).attached;
    for (const [of, name, caption] of [
      ["HH-11", "lid.jpg", "the lid"],
      ["HH-11/CL-11", "tray.jpg", "tray T4"],
      ["LIB/2A/P9", "p9.jpg", "P9, front"],
    ] as const) {
      const [one, ...others] = await kept(of);
      expect(others).toEqual([]);
      expect(one).toMatchObject({ name, caption, taken_on: "2026-04-03", there: true });
    }
    const [tray] = await kept("HH-11/CL-11");
    const { content } = await plant.run<{ content: string }>("attachment.content", { id: tray?.id });
    expect(Buffer.from(content, "base64")).toEqual(PHOTOS[1]?.buffer);
  });

  it("is taken back whole by one undo, and what was typed is still there to be entered again", async () => {
    const { page, plant } = journey;
    // The labels printed and the three photos came after it.
    for (let act = 0; act < 4; act++) await plant.run("history.undo");
    await ask(page, "#/run");
    await page.getByRole("heading", { name: "Entered lately" }).waitFor();
    await page.getByRole("button", { name: /^Undo: Enter cable F-096/ }).click();
    await expect.poll(async () => (await plant.call("cable.show", { cable: "F-096" })).ok).toBe(false);
    await page.getByRole("link", { name: /F-096, LIB\/2A to KLN\/0E/ }).click();
    await expect
      .poll(() => page.getByRole("button", { name: "Enter F-096" }).isEnabled(), { timeout: 90_000 })
      .toBe(true);
    await page.getByRole("button", { name: "Enter F-096" }).click();
    await page.getByText("F-096 is entered").first().waitFor();
    await expect.poll(() => page.getByRole("button", { name: /^Undo: Enter cable F-096/ }).count()).toBe(1);
    expect((await plant.call("cable.show", { cable: "F-096" })).ok).toBe(true);
  });
});

describe("photos of a cable that was just entered", () => {
  it("are dropped as well as chosen, and the cursor stays where the next are chosen", async () => {
    const { page, plant } = journey;
    const data = await page.evaluateHandle((content) => {
      const transfer = new DataTransfer();
      const bytes = Uint8Array.from(atob(content), (letter) => letter.charCodeAt(0));
      transfer.items.add(new File([bytes], "drum.png", { type: "image/png" }));
      return transfer;
    }, png(30, 20).toString("base64"));
    await page.dispatchEvent(".run-entered .keep-files", "drop", { dataTransfer: data });
    await page.getByRole("button", { name: "Keep 1 file" }).click();
    await page.getByText("1 file kept with F-096.").waitFor();
    await page.locator(".run-entered input[type=file]:focus").waitFor();
    const { attached } = await plant.run<{ attached: Attached[] }>("attachment.list", { of: "F-096" });
    expect(attached).toMatchObject([{ name: "drum.png", there: true }]);
  });

  it("stand above the next cable until that is begun", async () => {
    const { page } = journey;
    await field(page, "tag").fill("F-098");
    await page.locator(".run-entered").waitFor({ state: "detached" });
    await field(page, "tag").fill("");
    await page.locator(".run-entered").waitFor();
    // What is typed keeps the cursor.
    expect(await page.locator('[data-field="tag"]:focus').count()).toBe(1);
    await ask(page, "#/run");
  });
});

describe("a run that is left unfinished", () => {
  it("is there to the last letter when the page is loaded anew, and in the list when another is begun", async () => {
    const { page } = journey;
    await ask(page, "#/ask");
    await ask(page, "#/run");
    await page.locator('[data-field="tag"]:focus').waitFor();
    await page.keyboard.type("F-200");
    await field(page, "stops.0.space").focus();
    await page.keyboard.type("OBS/1A");
    await page.keyboard.press("Enter");
    await page.locator('[data-field="stops.0.mark_out"]:focus').waitFor();
    await page.keyboard.type("17 f");
    await page.getByText("Kept unfinished in the plant file.").waitFor();
    await page.reload();
    await expect.poll(() => field(page, "stops.0.mark_out").inputValue()).toBe("17 f");
    expect(await field(page, "tag").inputValue()).toBe("F-200");
    await page.getByRole("button", { name: "Begin another" }).click();
    await expect.poll(() => field(page, "tag").inputValue()).toBe("");
    await page.getByRole("link", { name: "F-200, OBS/1A" }).click();
    await expect.poll(() => field(page, "tag").inputValue()).toBe("F-200");
  });

  it("shows beside its field what can't be read, and what is doubtful without holding it up", async () => {
    const { page } = journey;
    const row = page.locator("#told-stops-0");
    expect(await shown(row)).toContain("mark out");
    expect(await field(page, "stops.0.mark_out").getAttribute("aria-invalid")).toBe("true");
    expect(await field(page, "stops.0.mark_out").getAttribute("aria-describedby")).toBe("told-stops-0");
    await field(page, "stops.0.mark_out").fill("1000 m");
    await field(page, "strands").fill("12");
    await field(page, "stops.1.space").fill("DB-10/1");
    await page.locator(".choices .choice").first().waitFor();
    await page.keyboard.press("Enter");
    await page.locator('[data-field="stops.1.mark_in"]:focus').waitFor();
    await page.keyboard.type("2000");
    // DB-10 is 634 m long; 1,000 m of sheath in it are too much.
    await page.locator("#told-stops-1").filter({ hasText: "too much" }).waitFor();
    expect(await page.getByRole("button", { name: "Enter F-200" }).isEnabled()).toBe(true);
    await journey.looks();
    await picture(page, "run-doubts");
  });
});

describe("a place that is typed and left", () => {
  it("is taken by Tab as by Enter, and as the focus goes elsewhere; until then the page says so", async () => {
    const { page } = journey;
    await ask(page, "#/run");
    const next = (at: number) => field(page, `stops.${at}.space`);
    await next(0).fill("LIB/2A");
    await page.keyboard.press("Tab");
    await page.locator('[data-field="stops.0.mark_out"]:focus').waitFor();
    expect(await next(0).inputValue()).toBe("LIB/2A");
    await next(1).fill("MH-03");
    await page.getByText("Enter or Tab takes it").waitFor();
    await page.keyboard.press("Control+Enter");
    await page.getByText("MH-03 is not taken as the next place yet").first().waitFor();
    await field(page, "name").click();
    await page.locator('[data-field="name"]:focus').waitFor();
    await page.getByRole("img", { name: /along its length: LIB\/2A, MH-03/ }).waitFor();
    expect(await next(1).inputValue()).toBe("MH-03");
    expect(await next(2).inputValue()).toBe("");
    await page.getByRole("button", { name: "Take out stop 2" }).click();
    await page.getByRole("button", { name: "Take out stop 1" }).click();
  });
});

everyPage(
  {
    "a run before anything is typed": { address: "#/run", shows: ".run-next input" },
    "a run on the desk": { address: "#/run?draft=3", shows: ".run-course svg" },
  },
  ["a run before anything is typed", "a run on the desk"],
  () => journey.plant,
);

/** How many keys each step took and how long the program let the clerk wait, for whoever reads the journey. */
function picturedKeys({ steps, count }: Keys): void {
  const folder = pictures();
  if (!folder) return;
  const lines = steps.map(
    ({ what, keys, ms }) => `${String(keys).padStart(4)} keys ${String(ms).padStart(6)} ms  ${what}`,
  );
  writeFileSync(`${folder}/run-keys.txt`, [...lines, `${String(count).padStart(4)} keys in all`, ""].join("\n"));
}
