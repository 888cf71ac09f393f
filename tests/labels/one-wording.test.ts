/**
 * One wording only: a label that is written on the record says what the same label would say on paper, whatever it is on,
 * wherever it hangs, and whoever words it: nobody, the plant's wording for the kind, or a label template.
 */
import { describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { type Listed, listed, street } from "./street.ts";

const OF = ["F-014", "LIB/101/A", "LIB/102/B", "MH-03"];
const SEVERAL = new Set(["cable", "pathway", "conduit"]);

/** What the record says after each of these labels was written by itself. */
async function written(plant: TestPlant, labels: readonly Listed[]): Promise<string[]> {
  const texts: string[] = [];
  for (const { record, kind, place } of labels) {
    const input = { subject: record, kind, even_if_there: true, ...(SEVERAL.has(kind) ? { space: place } : {}) };
    const { answer } = await plant.run<{ answer: { text: string } }>("label.write", input);
    texts.push(answer.text);
  }
  return texts;
}
const onPaper = (labels: readonly Listed[]) => labels.map(({ lines }) => lines?.join("\n"));

describe("labels written on the record", () => {
  it.each([
    ["the usual wordings", {}, []],
    ["the plant's wordings for kinds", { cable: ["{tag} {count}F <{from}>"], port: ["{panel} {port}"] }, []],
    [
      "label templates",
      { cable: ["{tag} {count}F"] },
      [
        ["outdoor", "{tag}\n{owner}"],
        ["indoor", "{tag} from {from}\n<{ranges}>"],
        ["port", "{port} <to {to}>"],
        ["panel", "{address} in {place}"],
      ],
    ],
  ] as const)("say what is printed by %s", async (_, patterns, templates) => {
    const plant = await street();
    await plant.run("record.edit", {
      ...{ kind: "plant", id: 1, values: { label_patterns: JSON.stringify(patterns) } },
    });
    for (const [place, text] of templates)
      await plant.run("record.add", { kind: "label_template", values: { tag: `own ${place}`, place, text } });
    const labels = await listed(plant, { of: OF });
    expect(new Set(labels.map(({ kind }) => kind)).size).toBeGreaterThan(4);
    expect(await written(plant, labels)).toEqual(onPaper(labels));
  });

  it("name rooms as their doors do, where a number holds a stroke or another sign that parts addresses", async () => {
    const plant = await street();
    for (const [id, tag] of [
      ["LIB/101", "1/01"],
      ["SCI/B01", "B@01"],
    ] as const)
      await plant.run("record.edit", { kind: "space", id, values: { tag } });
    const [label] = await listed(plant, { of: ["F-014"] });
    expect(label?.place).toBe("LIB/1%2F01");
    expect(label?.lines).toEqual(expect.arrayContaining(["LIB/1/01 to SCI/B@01"]));
    expect(label?.lines?.join("|")).not.toContain("%");
  });

  it("differ by place along one cable: what it serves is said indoors only", async () => {
    const plant = await street();
    const { answer } = await plant.run<{ answer: { written: { place: string; text: string }[] } }>("label.write_due", {
      cable: "F-014",
    });
    const labels = await listed(plant, { of: ["F-014"] });
    const byPlace = new Map(answer.written.map(({ place, text }) => [place, text]));
    expect(labels.map(({ place }) => byPlace.get(place ?? ""))).toEqual(onPaper(labels));
    expect(byPlace.get("MH-03")).not.toContain("LIB/101");
    expect(byPlace.get("LIB/101")).toContain("LIB/101 to SCI/B01");
  });

  it("are worded anew by the wording in use at their place", async () => {
    const plant = await street();
    await plant.run("label.write_due", { cable: "F-014" });
    await plant.run("record.add", {
      ...{ kind: "label_template", values: { tag: "hole", place: "outdoor", text: "{tag} {count}" } },
    });
    const { answer } = await plant.run<{ answer: { written: { text: string }[] } }>("label.relabel", {
      ...{ subject: "F-014", space: "MH-03" },
    });
    expect(answer.written).toMatchObject([{ text: "F-014 48" }]);
  });
});
