/** The folder in `samples/exchange` is read without a doubt, and is the plant that its page says it is. */
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { newPlant } from "../support/plant.ts";
import { exported, filesOf, rehearsed } from "./support.ts";

const EXAMPLE = fileURLToPath(new URL("../../samples/exchange/boathouse", import.meta.url));

it("is one cable of four strands between two buildings, landed at both ends", async () => {
  const plant = await newPlant();
  await plant.run("exchange.import", { folder: EXAMPLE });
  const { lines } = await plant.run<TraceAnswer>("trace.walk", { what: "BOAT/ER/P1:02#1" });
  const [line] = lines;
  expect([line?.from.record?.tag, line?.to.record?.tag]).toEqual(["BOAT/ER/P1:02#1", "MILL/ER/P1:02#1"]);
  // Marks 1000 to 1148, 4 m of coil, 1152 to 1380.
  expect(line?.totals.length_m).toBe(380);
  expect((await rehearsed(plant, EXAMPLE)).totals).toMatchObject({ new: 0, changed: 0, refused: 0 });
  const files = filesOf(await exported(plant));
  expect(Object.keys(filesOf(EXAMPLE)).every((name) => name in files)).toBe(true);
});
