/** The plant's process as it is built for Electron: what it leaves out of the bundle is found again when it runs. */
import { fork } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, it, onTestFinished } from "vitest";
import { type Child, PlantClient } from "../../electron/plant-client.ts";
import { createPlant } from "../../host/plant-file.ts";
import { buildElectron } from "../../setup/build.ts";
import { readPdf } from "../paper/read-pdf.ts";
import { newFolder } from "../support/plant.ts";

describe("the built plant's process", () => {
  it("opens a plant and prints: driver, fonts and the writers of PDF and codes are at hand", {
    timeout: 240_000,
  }, async () => {
    const file = join(newFolder(), "campus.strandbook");
    await createPlant(file, "Test Campus");
    const bundles = await buildElectron();
    const built = fork(fileURLToPath(new URL("bundled-child.ts", import.meta.url)), [file], {
      execArgv: [],
      serialization: "advanced",
      env: { ...process.env, PLANT_PROCESS: pathToFileURL(join(bundles, "plant-process.js")).href },
    });
    const child: Child = Object.assign(built, { postMessage: (message: unknown) => built.send(message as object) });
    const opened = await PlantClient.open(child, { event: () => {}, died: () => {} });
    if (!opened.ok) throw new Error(opened.message);
    const { plant } = opened;
    onTestFinished(() => plant.close());
    const input = { job: "J-1", steps: [{ words: "Look at the hole." }] };
    await plant.call({ id: "1", name: "job.enter", input, occasion: { author: "Test Person" } });
    const printed = await plant.paper({ id: "2", name: "job.print", input: { job: "J-1" }, size: "letter" });
    if (!printed.ok) throw new Error(printed.error.message);
    const read = await readPdf(printed.value.bytes);
    expect(read.text).toContain("Look at the hole.");
    expect(read.pages[0]?.width).toBe(612);
  });
});
