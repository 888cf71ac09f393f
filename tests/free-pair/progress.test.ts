/** What whoever waits for free strands is told meanwhile. */
import { join } from "node:path";
import { expect, it } from "vitest";
import type { Progress } from "../../core/operations/define.ts";
import { generatePlant } from "../../host/generate.ts";
import { newFolder, newPlant } from "../support/plant.ts";

it("is told while the plant's glass is read, while free glass is looked for, and while ways are reckoned", async () => {
  const path = join(newFolder(), "made.strandbook");
  const { buildings } = await generatePlant(path, { strands: 30_000, seed: 4 });
  const plant = await newPlant({ path });
  const told: Progress[] = [];
  const ask = () =>
    plant.session.dispatch(
      { name: "free_pair.find", input: { from: buildings[0]?.tag, to: buildings.at(-1)?.tag, strands: 2 } },
      { onProgress: (progress) => told.push(progress) },
    );
  expect(await ask()).toMatchObject({ ok: true });
  expect([...new Set(told.map(({ what }) => what))]).toEqual([
    "Reading the plant's glass",
    "Free glass",
    "Ways",
    "Loss",
  ]);
  const pages = told.filter(({ what }) => what === "Reading the plant's glass");
  expect(pages.length).toBeGreaterThan(10);
  expect(pages.at(-1)?.done).toBe(pages.length - 1);
  // Once it is read it is kept.
  told.length = 0;
  await ask();
  expect(told.filter(({ what }) => what === "Reading the plant's glass")).toHaveLength(1);
});

it("ends it when it is told to stop", async () => {
  const path = join(newFolder(), "made.strandbook");
  const { buildings } = await generatePlant(path, { strands: 10_000, seed: 4 });
  const plant = await newPlant({ path });
  const signal = { aborted: false };
  const reply = await plant.session.dispatch(
    { name: "free_pair.find", input: { from: buildings[0]?.tag, to: buildings.at(-1)?.tag, strands: 2 } },
    {
      signal: signal as AbortSignal,
      onProgress: ({ what }) => {
        if (what === "Free glass") signal.aborted = true;
      },
    },
  );
  expect(reply).toMatchObject({ ok: false, error: { code: "stopped" } });
});
