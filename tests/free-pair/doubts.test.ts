/** What stands against free glass: damaged ports are never offered, unproven strands and dirty ports are said. */
import { expect, it } from "vitest";
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import { type CheckedPlant, campus } from "../check/campus.ts";

const find = (plant: CheckedPlant) =>
  plant.run<FreePairAnswer>("free_pair.find", { from: "LIB", to: "SCI", strands: 2, most: 1 });
const offered = ({ ways }: FreePairAnswer): string[] =>
  ways.flatMap(({ stretches }) => stretches.flatMap(({ strands }) => strands.map(({ from }) => from.tag)));

it("a damaged port is passed over for the next that is whole", async () => {
  const plant = await campus();
  const [first = "", ...others] = offered(await find(plant));
  const port = first.replace(/#\d+$/, "");
  expect(others.every((tag) => tag.startsWith(port))).toBe(true);
  await plant.edit("port", port, { condition: "damaged" });
  const next = offered(await find(plant));
  expect(next).toHaveLength(2);
  expect(next.some((tag) => tag.startsWith(port))).toBe(false);
});

it("unproven strands and dirty ports are offered, and said", async () => {
  const plant = await campus();
  const before = await find(plant);
  expect(before.ways[0]?.doubts).toEqual([]);
  const port = (offered(before)[0] ?? "").replace(/#\d+$/, "");
  const section = before.ways[0]?.stretches[0]?.strands[0]?.sections[0]?.tag ?? "";
  await plant.edit("port", port, { condition: "dirty" });
  await plant.edit("strand", section.replace(/#\d+$/, ""), { condition: "unproven" });
  expect((await find(plant)).ways[0]?.doubts).toEqual([
    `unproven on record: ${section}`,
    `dirty on record, to be cleaned first: ${port}#1, ${port}#2`,
  ]);
});
