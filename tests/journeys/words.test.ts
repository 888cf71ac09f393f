/**
 * Every message goes through the catalogue: the program is started in the language nobody speaks, whose messages all stand in
 * brackets, and its pages are searched for words outside of them. What is left must be data: tags, numbers, units, what the
 * plant file says, and the few things listed here.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CLOSE, OPEN, PSEUDO_CODE, pseudoTranslation } from "../../core/words/pseudo.ts";
import { writeSample } from "../../host/cli/makers.ts";
import { readCatalogue } from "../../host/words/languages.ts";
import { newFolder } from "../support/plant.ts";
import { isMissed, type PlantTexts, textsOf } from "../words/missed.ts";
import { ask, countCalls, launch, SIZES } from "./support/window.ts";

const START = fileURLToPath(new URL("../../setup/start.ts", import.meta.url));

/** A page of the demo campus each, with what is waited for. */
const PAGES: Readonly<Record<string, string>> = {
  "the list of questions": "#/",
  "where a strand goes": "#/find?of=F-006:1",
  "what feeds a building": "#/feeds?of=BKR",
  "a cable": "#/cable?of=F-006",
  "a cable whose colours are not the usual ones": "#/cable?of=F-010",
  "strands and their colours in a table": "#/enter?kind=strand",
  "its loss": "#/loss?of=K-001",
  "a way's pipes": "#/pathway?of=DB-01",
  "the campus": "#/plan",
  "what is lost": "#/impact?of=F-006",
  "ways into buildings": "#/ways",
  "diverse circuits": "#/diverse?of=K-001%20diverse%20from%20K-006",
  "a free pair": "#/free?from=BKR&to=GLS&strands=2",
  "a table": "#/enter?kind=cable",
  "the acts": "#/acts",
  "an act": "#/acts?do=cord.patch",
  "a cable to be entered": "#/acts?do=cable.enter",
  "a range to be spliced": "#/acts?do=splice.range",
  "what fields mean": "#/fields?kind=cable",
  "a record": "#/record?kind=cable&tag=F-006",
  "a new run": "#/run",
  sheets: "#/sheet",
  notes: "#/notes",
  "a map to read": "#/map",
  "a folder to read": "#/import",
  "a folder to write": "#/export",
  history: "#/history",
  "two moments": "#/compare",
  "two files": "#/merge",
  findings: "#/check",
  fitness: "#/fitness?of=F-006",
  "whether a kind of cable would fit": "#/fit",
  limits: "#/limits",
  "where a break is": "#/locate?of=K-001&metres=300",
  "how a cut is mended": "#/mend?of=F-006&after=MH-04",
  "how a cut way is mended": "#/mend?of=DB-04",
  "what coils would cure": "#/coils",
  "a break-out": "#/breakout",
  jobs: "#/job",
  "a job": "#/job?of=J-5",
  labels: "#/labels",
  papers: "#/papers",
  keys: "#/keys",
  preferences: "#/prefs",
};

let program: ChildProcess;
let browser: Browser;
let page: Page;
/** Every text of the plant file, and every word of those that are tags or names. */
let data: PlantTexts;

beforeAll(async () => {
  const folder = newFolder();
  const file = join(folder, "demo.strandbook");
  await writeSample(file);
  data = await textsOf(file);
  const kept = join(folder, "kept");
  mkdirSync(join(kept, "words"), { recursive: true });
  writeFileSync(join(kept, "words", "pseudo.json"), JSON.stringify(pseudoTranslation(readCatalogue())));
  const settings = { language: PSEUDO_CODE, person: "Test Person" };
  writeFileSync(join(kept, "preferences.json"), JSON.stringify({ settings }));
  program = spawn(process.execPath, [START, "--no-window", file], { env: { ...process.env, STRANDBOOK_DATA: kept } });
  const address = await addressOf(program);
  browser = await launch();
  page = await browser.newPage({ viewport: SIZES.wide, reducedMotion: "reduce" });
  await page.addInitScript(countCalls);
  await page.goto(address);
  await page.getByRole("heading", { level: 1 }).waitFor();
});

afterAll(async () => {
  await browser?.close();
  program?.kill("SIGTERM");
});

/** The address a started program prints. */
function addressOf({ stdout, stderr }: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = "";
    const hear = (piece: unknown) => {
      said += piece;
      const found = /http:\S+#token=\S+/.exec(said);
      if (found) resolve(found[0]);
    };
    stdout?.on("data", hear);
    stderr?.on("data", hear);
    stdout?.on("end", () => reject(new Error(`no address; it said: ${said}`)));
  });
}

/** Texts of the page, attributes among them, that stand outside every bracket. */
const outside = (): Promise<string[]> =>
  page.evaluate(
    ([open, close]) => {
      const found: string[] = [];
      let depth = 0;
      const strip = (text: string): string => {
        let rest = "";
        for (const letter of text) {
          if (letter === open) depth += 1;
          else if (letter === close) depth -= 1;
          else if (depth === 0) rest += letter;
        }
        return rest.trim();
      };
      // What no line may part is in elements of its own, and one text with what stands beside it.
      const held = (element: Element | null): boolean =>
        element?.querySelector(":scope > .nowrap") != null &&
        [...element.children].every((child) => child.matches(".nowrap"));
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT | NodeFilter.SHOW_ELEMENT);
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        if (node instanceof Text) {
          // A label says the same in every language: what is printed on it is data.
          if (node.parentElement?.closest("script, style, .label-line")) continue;
          const [own, around] = [node.parentElement, node.parentElement?.parentElement ?? null];
          if (!held(own) && !(own?.matches(".nowrap") && held(around))) found.push(strip(node.data));
          continue;
        }
        const before = depth;
        for (const name of ["aria-label", "title", "placeholder", "alt", "aria-description"]) {
          depth = 0;
          found.push(strip((node as Element).getAttribute(name) ?? ""));
        }
        depth = before;
        if (held(node as Element)) found.push(strip(node.textContent ?? ""));
      }
      return [...found.filter(Boolean), ...(depth === 0 ? [] : ["brackets that don't close"])];
    },
    [OPEN, CLOSE] as const,
  );

describe("in the language nobody speaks, nothing of the program's own stands outside a message", () => {
  it.each(Object.entries(PAGES))("%s", async (_name, address) => {
    await ask(page, address);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await page.waitForFunction(() => document.querySelector(".waiting") === null);
    const texts = await outside();
    expect(texts.length).toBeGreaterThan(0);
    expect([...new Set(texts.filter((text) => isMissed(text, data)))].join("\n")).toBe("");
  });

  it("the keys below a table, and what each does", async () => {
    await page.evaluate(() => {
      location.hash = "#/enter?kind=cable";
    });
    await page.locator("[role=grid] [data-row] .tag").first().waitFor();
    for (let turn = 0; turn < 8 && (await page.locator("[role=grid] :focus").count()) === 0; turn += 1) {
      await page.keyboard.press("F6");
    }
    for (const [key, keys] of [
      ["ArrowRight", "F2"],
      ["Shift+ArrowDown", "Ctrl C"],
      ["F2", "Esc"],
    ] as const) {
      await page.keyboard.press(key);
      // As a keyboard has them: between brackets of their own.
      await page
        .locator(".hint-keys kbd", { hasText: keys.split(" ").at(-1) ?? "" })
        .first()
        .waitFor();
      expect((await outside()).filter((text) => isMissed(text, data)).join("\n")).toBe("");
    }
    await page.keyboard.press("Escape");
  });

  it("finds words that were never sent through", async () => {
    await page.evaluate(() => document.querySelector("h1")?.append("written past the catalogue"));
    expect((await outside()).filter((text) => isMissed(text, data))).toContain("written past the catalogue");
  });
});

describe("in the language nobody speaks, keys are heard as in every other", () => {
  const goTo = (hash: string) =>
    page.evaluate((wanted) => {
      location.hash = wanted;
    }, hash);

  it("everywhere: Ctrl K finds, Alt 3 checks", async () => {
    await goTo("#/plan");
    await page.keyboard.press("Control+k");
    await page.locator("[data-search]:focus").waitFor();
    await page.keyboard.press("Escape");
    await page.keyboard.press("Alt+3");
    await page.locator('.tabs [aria-current][href*="check"], .questions-tab:focus').first().waitFor();
  });

  it("in a table: Ctrl A takes all of it, Ctrl Shift L asks for its columns", async () => {
    await goTo("#/enter?kind=building");
    await page.locator("[role=grid] [data-row] .tag").first().waitFor();
    for (let turn = 0; turn < 8 && (await page.locator("[role=grid] :focus").count()) === 0; turn += 1) {
      await page.keyboard.press("F6");
    }
    await page.keyboard.press("Control+a");
    await page.locator('[role=gridcell][aria-selected="true"]').nth(9).waitFor();
    await page.keyboard.press("Control+Shift+l");
    await page.getByRole("dialog").waitFor();
    await page.keyboard.press("Escape");
  });
});
