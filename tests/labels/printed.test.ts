/** Labels recorded as printed: one change, undone in one. A sighting afterwards confirms or contradicts. */
import { describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { listed, street } from "./street.ts";

interface Row {
  readonly space_id: number;
  readonly text: string | null;
  readonly printed_on: string | null;
  readonly state: string | null;
  readonly due_on: string | null;
}
const onRecord = async (plant: TestPlant): Promise<Row[]> =>
  (await plant.run<{ rows: { values: Row }[] }>("record.window", { kind: "label", text: "" })).rows.map(
    ({ values }) => values,
  );
const keys = async (plant: TestPlant, input: object) =>
  (
    await plant.run<{ labels: { kind: string; id: number; space_id: number | null }[] }>("label.list", input)
  ).labels.map(({ kind, id, space_id }) => ({ kind, id, space_id }));

describe("printed labels", () => {
  it("are put on record with what was printed, the old ones made anew, and nothing is needed any more", async () => {
    const plant = await street();
    await plant.run("label.write", { subject: "F-014", space: "MH-03", text: "F-014 old", printed_on: "2020-01-01" });
    await plant.run("label.sight", { subject: "F-014", space: "MH-03", state: "illegible" });
    const before = await onRecord(plant);
    const labels = await keys(plant, { of: ["F-014"] });
    await plant.run("label.printed", { labels, printed_on: "2026-03-02" });
    const after = (await onRecord(plant)).filter(({ printed_on }) => printed_on === "2026-03-02");
    expect(after.map(({ text, state, due_on }) => [text, state, due_on])).toEqual([
      ["F-014\n48 strands\nTest Campus", null, null],
      ["F-014\n48 strands\nLIB/101 to SCI/B01\n1-10 to SCI/B01; 25-34 to LIB/102", null, null],
      ["F-014\n48 strands\nLIB/101 to SCI/B01", null, null],
    ]);
    expect(await listed(plant, { of: ["F-014"], needed: true })).toEqual([]);
    await plant.run("history.undo", {});
    expect(await onRecord(plant)).toEqual(before);
  });

  it("are one entry of the history, however many they are", async () => {
    const plant = await street();
    const labels = await keys(plant, { of: ["LIB/101/A"] });
    const written = await plant.run<{ summary: string }>("label.printed", { labels });
    expect(written).toMatchObject({ summary: "Print 13 labels" });
    const { items } = await plant.run<{ items: { act: string }[] }>("history.list", { act: "label.printed" });
    expect(items.length).toBe(1);
  });

  it("are contradicted by a sighting that reads something else", async () => {
    const plant = await street();
    await plant.run("label.printed", { labels: await keys(plant, { of: ["F-014"] }) });
    const sight = { subject: "F-014", space: "LIB/101", state: "present", text_read: "F-041 LIB/101 to SCI/B01" };
    await plant.run("label.sight", sight);
    const { findings } = await plant.run<{ findings: { key: string }[] }>("check.run", {
      rules: ["labels.contradicts"],
    });
    expect(findings.map(({ key }) => key)).toEqual(["cable F-014"]);
  });

  it("can't have been printed tomorrow", async () => {
    const plant = await street();
    const labels = await keys(plant, { of: ["F-014"] });
    expect(await plant.call("label.printed", { labels, printed_on: "2999-01-01" })).toMatchObject({
      ok: false,
      error: { problems: [{ field: "printed_on" }] },
    });
  });
});
