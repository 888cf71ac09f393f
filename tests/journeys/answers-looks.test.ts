/** Pages of light, loss and what breaks: readable by everybody, in both themes and at both sizes. */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { enterCampus } from "./support/campus.ts";
import { axeFindings, overflow } from "./support/look.ts";
import { ask, type OpenWindow, openWindow, SIZES } from "./support/window.ts";

let plant: TestPlant;

beforeAll(async () => {
  plant = await newPlant();
  await enterCampus((name, input) => plant.run(name, input));
});

const PAGES: Readonly<Record<string, { readonly address: string; readonly shows: string }>> = {
  limits: { address: "#/limits", shows: ".limits tbody tr" },
  "impact, empty": { address: "#/impact", shows: ".teach" },
  "impact of a duct bank": { address: "#/impact?of=DB-6", shows: ".impact-circuits tbody tr" },
  "impact of a cable": { address: "#/impact?of=F-033", shows: ".impact-stretch" },
  "impact, refused": { address: "#/impact?of=F-021 1..2", shows: ".refused" },
  "ways into each building": { address: "#/ways", shows: ".ways-table tbody tr" },
  "ways into one": { address: "#/ways?of=KLN", shows: ".way" },
  diverse: { address: "#/diverse", shows: ".diverse-ledger" },
  "pathway, empty": { address: "#/pathway", shows: ".teach" },
  "a pathway": { address: "#/pathway?of=DB-2", shows: ".bank-pipes tbody tr" },
  "fitness, empty": { address: "#/fitness", shows: ".teach" },
  "fitness of a cable": { address: "#/fitness?of=F-033", shows: ".fitness-matrix tbody tr" },
  "fitness, refused": { address: "#/fitness?of=F-999", shows: ".refused" },
  "would it fit": { address: "#/fit?type=LT-OS2&ways=DB-5 %2B DB-6", shows: ".fit-order" },
  "limits, none fits": { address: "#/limits?named=nosuchglass", shows: ".limits-none" },
};

describe.each(["light", "dark"] as const)("each page in the %s theme", (theme) => {
  let open: OpenWindow;
  beforeAll(async () => {
    open = await openWindow(plant, { theme });
  });
  afterAll(() => open?.close());

  it.each(Object.keys(PAGES))("%s: axe finds nothing, and it doesn't scroll sideways", async (name) => {
    const { address, shows } = PAGES[name] as { address: string; shows: string };
    await ask(open.page, address);
    await open.page.locator(shows).first().waitFor();
    expect(await axeFindings(open.page)).toEqual([]);
    for (const size of Object.values(SIZES)) {
      await open.page.setViewportSize(size);
      expect(await overflow(open.page)).toEqual({ x: 0, y: 0 });
    }
    await open.page.setViewportSize(SIZES.laptop);
    expect(open.complaints.filter((words) => !/status of 40[04]/.test(words))).toEqual([]);
  });
});
