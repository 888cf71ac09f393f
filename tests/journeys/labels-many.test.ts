/** A stack of labels, more than a moment's work: how far it is stands on the page, and it can be stopped. */
import { statSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { ask } from "./support/window.ts";

const PANELS = 5;
const PORTS = 2000;
const ALL = PANELS * PORTS;

async function manyPorts(): Promise<TestPlant> {
  const plant = await newPlant();
  await plant.run("record.add", { kind: "building", values: { tag: "LIB" } });
  await plant.run("record.add", { kind: "space", values: { tag: "2A", building_id: "LIB", kind: "telecom_room" } });
  for (let panel = 1; panel <= PANELS; panel++) {
    await plant.run("panel.enter", {
      ...{ space: "LIB/2A", tag: `P${panel}` },
      ports: [{ numbers: `0001..${PORTS}`, connector: "lc_duplex", positions: 2 }],
    });
  }
  return plant;
}

const journey = journeyOn(manyPorts);

const printed = () =>
  journey.plant.store.read(async (reader) => {
    const [row] = await reader.rows<{ n: number }>("select count(*) as n from label where printed_on is not null");
    return row?.n;
  });
// A tape: each label is a page of its own, so that writing them is the longer part.
const ADDRESS = `#/labels?of=${encodeURIComponent(JSON.stringify({ kind: "port" }))}&sheet=tape%2024%20mm`;

describe(`${ALL} labels`, () => {
  it("tell how far they are, and are stopped: no file comes, and nothing is put on record", async () => {
    const { page } = journey;
    let files = 0;
    page.on("download", () => (files += 1));
    await ask(page, ADDRESS);
    await page.locator(".label-tape").waitFor();
    // Pressed in the page as soon as it is there: a quick machine is done before a person's hand gets to it.
    const stopped = page.evaluate(
      () =>
        new Promise<boolean>((resolve) => {
          const seen = new MutationObserver(() => {
            const far = document.querySelector(".labels-work progress");
            const stop = [...document.querySelectorAll("button")].find(({ textContent }) => textContent === "Stop");
            if (!far || !stop) return;
            seen.disconnect();
            stop.focus();
            const focused = document.activeElement === stop;
            stop.click();
            resolve(focused);
          });
          seen.observe(document.body, { childList: true, subtree: true });
        }),
    );
    await page.getByRole("button", { name: `Print ${ALL}` }).click();
    expect(await stopped).toBe(true);
    await page.getByText(/^Stopped\. Nothing was/).waitFor();
    await page.getByRole("button", { name: `Print ${ALL}` }).waitFor();
    expect([files, await printed()]).toEqual([0, 0]);
  });

  it("are all printed and all on record where nobody stops them", async () => {
    const { page } = journey;
    const coming = page.waitForEvent("download");
    await page.getByRole("button", { name: `Print ${ALL}` }).click();
    await page.getByRole("progressbar", { name: "Pages of labels" }).waitFor();
    expect(statSync(await (await coming).path()).size).toBeGreaterThan(ALL * 100);
    await until("the printed labels on record", async () => (await printed()) === ALL);
  });
});
