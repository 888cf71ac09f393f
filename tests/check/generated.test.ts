/** What the checks find in synthetic plants is what these were made with: their truth comes from how they were made. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { generatePlant } from "../../host/generate.ts";
import { newFolder } from "../support/plant.ts";
import { checkedPlant } from "./campus.ts";

describe.each([
  [1, 4_000],
  [2, 9_000],
  [3, 30_000],
])("a plant made from seed %i with %i strands", (seed, strands) => {
  it("has exactly the strands assigned twice and the broken strands in service that it was made with", async () => {
    const path = join(newFolder(), "made.strandbook");
    const truth = await generatePlant(path, { strands, seed });
    const plant = await checkedPlant(path);
    const { findings } = await plant.check();
    const tags = (rule: string, kind: string) =>
      findings
        .filter((finding) => finding.rule === rule)
        .flatMap(({ records }) => records.filter((record) => record.kind === kind).map(({ tag }) => tag))
        .toSorted();
    expect(tags("truth.assigned_twice", "section")).toEqual(truth.assigned_twice.toSorted());
    const broken = new Set(truth.broken);
    const inService = tags("truth.broken_in_service", "strand");
    expect(inService.filter((tag) => !broken.has(tag))).toEqual([]);
    const given = await plant.store.read((reader) =>
      reader.rows<{ tag: string }>(
        `select distinct c.tag || ':' || t.number as tag from strand t join cable c on c.id = t.cable_id
           join section e on e.strand_id = t.id join assignment a on a.section_id = e.id
           join circuit k on k.id = a.circuit_id where k.state = 'in_service'`,
      ),
    );
    const expected = given.map(({ tag }) => tag).filter((tag) => broken.has(tag));
    expect(new Set(inService)).toEqual(new Set(expected));
    const errors = new Set(findings.filter(({ severity }) => severity === "error").map(({ rule }) => rule));
    expect([...errors].filter((rule) => rule !== "truth.assigned_twice" && rule !== "truth.broken_in_service")).toEqual(
      [],
    );
  });
});
