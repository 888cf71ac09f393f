/** Every act: a rehearsal shows what is done and writes nothing; undo restores the content, redo brings it back. */
import { copyFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { ChangeView } from "../../core/operations/define.ts";
import { OPERATIONS } from "../../core/operations/list.ts";
import { newFolder, newPlant, type TestPlant } from "../support/plant.ts";
import { contentOf, refused } from "./campus.ts";
import { ACT_EXAMPLES, SETUP } from "./examples.ts";

let model: TestPlant;
beforeAll(async () => {
  model = await newPlant();
  for (const [name, input] of SETUP) await model.run(name, input);
  await model.close();
});
afterAll(() => rmSync(model.folder, { recursive: true, force: true }));

/** The plant that `SETUP` makes, as a file of its own. */
function furnished(): Promise<TestPlant> {
  const path = join(newFolder(), "campus.strandbook");
  copyFileSync(model.path, path);
  return newPlant({ path });
}

interface Outcome {
  readonly change_set: number | null;
  readonly summary: string;
  readonly counts: readonly object[];
  readonly changes: readonly ChangeView[];
  readonly notices: readonly string[];
}

/** What people see of changes: all but the ids that new records will get. */
const shown = ({ summary, counts, changes, notices }: Outcome) => ({
  summary,
  counts,
  notices,
  changes: changes.map(({ op, kind, fields }) => ({ op, kind, fields: fields.length })),
});

describe.each(ACT_EXAMPLES)("$name", ({ name, input, refused: not }) => {
  it("does what its rehearsal shows, in one change that can be undone and redone", async () => {
    const plant = await furnished();
    const before = await contentOf(plant.store);
    const rehearsed = await plant.rehearse<Outcome>(name, input);
    expect(rehearsed.change_set).toBeNull();
    expect(rehearsed.counts.length).toBeGreaterThan(0);
    expect(await contentOf(plant.store)).toEqual(before);

    const done = await plant.run<Outcome>(name, input);
    expect(done.change_set).not.toBeNull();
    expect(shown(done)).toEqual(shown(rehearsed));
    const after = await contentOf(plant.store);
    expect(after).not.toEqual(before);

    await plant.run("history.undo", {});
    expect(await contentOf(plant.store)).toEqual(before);
    await plant.run("history.redo", {});
    expect(await contentOf(plant.store)).toEqual(after);
  });

  it(`is refused as ${not.code}, and changes nothing`, async () => {
    const plant = await furnished();
    const before = await contentOf(plant.store);
    const error = await refused(plant, name, not.input);
    expect(error.code).toBe(not.code);
    expect(error.message).toMatch(/^[^a-z].*[.?]$/);
    expect(error.problems.length).toBeGreaterThan(0);
    expect(await contentOf(plant.store)).toEqual(before);
  });
});

it("has an example of every act here", () => {
  const subjects = [
    "panel",
    "device",
    "closure",
    "module",
    "strand",
    "splice",
    "cord",
    "port",
    "circuit",
    "label",
    "measurement",
  ];
  const acts = OPERATIONS.filter(
    ({ name, effect }) => effect === "write" && subjects.includes(name.split(".")[0] ?? ""),
  );
  expect(ACT_EXAMPLES.map(({ name }) => name).toSorted()).toEqual(acts.map(({ name }) => name).toSorted());
});
