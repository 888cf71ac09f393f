/** What is typed and not entered lies on the desk in the plant file: it outlives window and program, and is no history. */
import { describe, expect, it } from "vitest";
import { newPlant } from "../support/plant.ts";
import { RUN, runPlant } from "./plant.ts";

interface Kept {
  readonly id: number;
  readonly kept: number;
}
interface Listed {
  readonly items: readonly { readonly name: string; readonly kept: number; readonly entered: number | null }[];
}

const typed = (tag: string) => ({ form: "run", name: tag, content: { tag, stops: [{ space: "LIB/1" }] } });

describe("a run kept unfinished", () => {
  it("is there word for word after the program was closed and the file opened again", async () => {
    const plant = await runPlant();
    const { id } = await plant.run<Kept>("desk.keep", typed("F-03"));
    await plant.run("desk.keep", { ...typed("F-030"), id });
    await plant.close();
    const again = await newPlant({ path: plant.path });
    expect((await again.run<Listed>("desk.list", { form: "run" })).items).toMatchObject([{ name: "F-030", kept: 2 }]);
    expect(await again.run("desk.open", { form: "run", id })).toMatchObject({ content: typed("F-030").content });
  });

  it("is no change of the plant: nothing of it stands in the history, and an undo takes back what was done before", async () => {
    const plant = await runPlant();
    const history = () => plant.run<{ items: readonly unknown[] }>("history.list", { limit: 500 });
    const before = await history();
    await plant.run("desk.keep", typed("F-030"));
    expect(await history()).toEqual(before);
    await plant.run("history.undo", {});
    expect((await plant.run<Listed>("desk.list", { form: "run" })).items).toHaveLength(1);
  });

  it("isn't written over by a window that hasn't seen what another typed since", async () => {
    const plant = await runPlant();
    const first = await plant.run<Kept>("desk.keep", typed("F-030"));
    await plant.run("desk.keep", { ...typed("F-031"), id: first.id, seen: first.kept });
    const late = await plant.call("desk.keep", { ...typed("F-032"), id: first.id, seen: first.kept });
    expect(late).toMatchObject({ error: { code: "stale" } });
    expect(await plant.run("desk.open", { form: "run", id: first.id })).toMatchObject({ content: { tag: "F-031" } });
  });

  it("is told as entered once it is, and still holds what was typed, should the entry be undone", async () => {
    const plant = await runPlant();
    const { id } = await plant.run<Kept>("desk.keep", { form: "run", name: "F-030", content: RUN });
    const { change_set } = await plant.run<{ change_set: number }>("run.enter", { ...RUN, draft: id });
    expect((await plant.run<Listed>("desk.list", { form: "run" })).items).toMatchObject([{ entered: change_set }]);
    await plant.run("history.undo", {});
    expect(await plant.run("desk.open", { form: "run", id })).toMatchObject({ content: RUN });
  });

  it("goes when it is thrown away, and only that", async () => {
    const plant = await runPlant();
    const { id } = await plant.run<Kept>("desk.keep", typed("F-030"));
    await plant.run("desk.keep", typed("F-031"));
    await plant.run("desk.throw_away", { form: "run", id });
    expect((await plant.run<Listed>("desk.list", { form: "run" })).items).toMatchObject([{ name: "F-031" }]);
    expect(await plant.call("desk.open", { form: "run", id })).toMatchObject({ error: { code: "not_found" } });
  });
});

describe("cells that were typed and not written", () => {
  it("are kept also when a whole block of ten thousand was refused, each with its reason", async () => {
    const plant = await runPlant();
    const cells = Array.from({ length: 10_000 }, (_, row) => ({
      ...{ row: `#${row + 1}`, field: "type_id" },
      cell: { text: "Alpha", state: "refused", reason: "is Alpha, which is not on record" },
    }));
    const content = { window: "w", tables: [["cable", cells]] };
    const { id } = await plant.run<Kept>("desk.keep", { form: "typed", name: "cells", content });
    expect(await plant.run("desk.open", { form: "typed", id })).toMatchObject({ content });
  });

  it("are refused beyond what any block could be, and what was kept before stays", async () => {
    const plant = await runPlant();
    const kept = await plant.run<Kept>("desk.keep", { form: "typed", name: "cells", content: { window: "w" } });
    const content = { window: "x".repeat(16_000_001) };
    const over = await plant.call("desk.keep", { form: "typed", name: "cells", id: kept.id, content });
    expect(over).toMatchObject({ error: { code: "bad_input", problems: [{ field: "content" }] } });
    expect(await plant.run("desk.open", { form: "typed", id: kept.id })).toMatchObject({ content: { window: "w" } });
  });
});

describe("how sheets of one source are read", () => {
  it("is kept once for each source", async () => {
    const plant = await runPlant();
    const profile = (delimiter: string) => ({ form: "sheet", name: "Crew 4", one: true, content: { delimiter } });
    await plant.run("desk.keep", profile(";"));
    const { id } = await plant.run<Kept>("desk.keep", profile("|"));
    expect((await plant.run<Listed>("desk.list", { form: "sheet" })).items).toHaveLength(1);
    expect(await plant.run("desk.open", { form: "sheet", id })).toMatchObject({ content: { delimiter: "|" } });
  });
});
