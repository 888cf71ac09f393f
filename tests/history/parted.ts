/** An office copy of a plant and one that went to the field, each going its own way, and what a merge says of them. */
import { join } from "node:path";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";
import { contents } from "./contents.ts";
import { add } from "./story.ts";

export type Comparison = AnswerOf<"merge.compare">;
export type Applied = AnswerOf<"merge.apply">;
const FIELD = "field.strandbook";
export type Choices = { choices?: { key: string; take: string; tag?: string }[]; rest?: string };

/** Each copy has its own clerk: the same change by the same person in one millisecond would be one and the same change. */
export const run = (
  plant: TestPlant,
  [name, input]: [string, object],
  author = plant.path.endsWith(FIELD) ? "Fay" : "Ada",
) => plant.run(name, input, { author });
export const compare = (into: TestPlant, from: TestPlant, more: Choices = {}) =>
  into.run<Comparison>("merge.compare", { file: from.path, ...more });
export const merge = (into: TestPlant, from: TestPlant, more: Choices = {}) =>
  into.run<Applied>("merge.apply", { file: from.path, ...more }, { author: "Clerk" });

/** A plant, and a copy of it that goes its own way. */
export async function parted(
  enter: (plant: TestPlant) => Promise<unknown>,
): Promise<{ office: TestPlant; field: TestPlant }> {
  const office = await newPlant();
  await enter(office);
  const path = join(newFolder(), FIELD);
  await office.application.file.saveCopy(path);
  return { office, field: await newPlant({ path }) };
}
export const threeCables = async (plant: TestPlant) => {
  for (const tag of ["F-1", "F-2", "F-3"]) await run(plant, add("cable", { tag, name: `${tag} as laid` }));
};
export const said = async (plant: TestPlant, kind: string, field: string) =>
  ((await contents(plant))[kind] ?? []).map((row) => (row as Record<string, unknown>)[field]);
