/** Which labels are made, and what stands on them. Wordings: common practice, no source; the plant may have its own. */
import { describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { type Listed, listed, street } from "./street.ts";

const template = (plant: TestPlant, tag: string, place: string, text: string) =>
  plant.run("record.add", { kind: "label_template", values: { tag, place, text } });
const of = (labels: readonly Listed[]) => labels.map(({ record, place }) => `${record} at ${place}`);

describe("a cable", () => {
  it("gets a label at each end and at each place where it can be reached", async () => {
    const plant = await street();
    expect(of(await listed(plant, { of: ["F-014"] }))).toEqual([
      "F-014 at LIB/101",
      "F-014 at MH-03",
      "F-014 at SCI/B01",
    ]);
  });

  it("is named in the street with its strands and whom to call, never with what it serves", async () => {
    const plant = await street();
    await plant.run("record.add", {
      kind: "party",
      values: {
        tag: "CAMPUS",
        name: "Campus plant office",
        role: "self",
        contact_day: "5 0100",
        contact_night: "5 0199",
      },
    });
    const [hole] = await listed(plant, { of: ["F-014"], at: "MH-03" });
    expect(hole).toMatchObject({ class: "outdoor", says: "sbok:cable:F-014", left_out: ["fibre"] });
    expect(hole?.lines).toEqual(["F-014", "48 strands", "Campus plant office", "Emergency 5 0199"]);
  });

  it("says indoors where it comes from and goes, and once it branches which strands go where", async () => {
    const plant = await street();
    const [first, last] = await listed(plant, { of: ["F-014"], only: ["indoor"] });
    expect(first?.lines).toEqual(["F-014", "48 strands", "LIB/101 to SCI/B01", "1-10 to SCI/B01; 25-34 to LIB/102"]);
    // Seen from the far end every landed strand goes back to the one other end: there is nothing to tell apart.
    expect(last?.lines).toEqual(["F-014", "48 strands", "LIB/101 to SCI/B01"]);
    const [branch] = await listed(plant, { of: ["F-021"], at: "LIB/102" });
    expect(branch?.lines).toEqual(["F-021", "12 strands", "MH-03 to LIB/102", "1-10 to LIB/101"]);
  });

  it("leaves out what nobody knows, and says what was left out", async () => {
    const plant = await street();
    await plant.run("cable.enter", { tag: "F-090", units: [], stops: [{ space: "LIB/101" }, { space: "SCI/B01" }] });
    const [first] = await listed(plant, { of: ["F-090"] });
    expect(first?.lines).toEqual(["F-090", "LIB/101 to SCI/B01"]);
    expect(first?.left_out).toEqual(["count", "fibre", "ranges"]);
  });
});

describe("other things", () => {
  it("are labelled with their parts: a panel with its ports, a closure with its trays", async () => {
    const plant = await street();
    const panel = await listed(plant, { of: ["LIB/102/B"] });
    expect(panel.map(({ class: at, record }) => `${at} ${record}`).slice(0, 3)).toEqual([
      "panel LIB/102/B",
      "port LIB/102/B:1",
      "port LIB/102/B:2",
    ]);
    expect(panel[1]?.lines).toEqual(["1", "F-021:1-2", "to LIB/101"]);
    expect(panel.at(-1)?.lines).toEqual(["6"]);
    expect(of(await listed(plant, { of: ["MH-03/CL-1"] }))).toEqual(["MH-03/CL-1 at MH-03", "MH-03/CL-1/T1 at MH-03"]);
  });

  it("get a label at each end of a pathway and its pipes, and firestops and busbars one each", async () => {
    const plant = await street();
    for (const [kind, values] of [
      ["pathway", { tag: "DB-04", from_space_id: "MH-03", to_space_id: "SCI/B01" }],
      ["conduit", { tag: "2", pathway_id: "DB-04" }],
      ["firestop", { tag: "FS-1", pathway_id: "DB-04", rating: "2 h" }],
      ["busbar", { tag: "PBB", space_id: "SCI/B01" }],
    ] as const)
      await plant.run("record.add", { kind, values });
    expect((await listed(plant, { of: ["DB-04"] })).map(({ record, place, lines }) => [record, place, lines])).toEqual([
      ["DB-04", "MH-03", ["DB-04", "MH-03 to SCI/B01"]],
      ["DB-04", "SCI/B01", ["DB-04", "MH-03 to SCI/B01"]],
      ["DB-04/2", "MH-03", ["2", "DB-04/2", "MH-03 to SCI/B01"]],
      ["DB-04/2", "SCI/B01", ["2", "DB-04/2", "MH-03 to SCI/B01"]],
      ["DB-04/FS-1", null, ["FS-1", "DB-04/FS-1", "2 h", "Do not open without making it good"]],
    ]);
    const room = await listed(plant, { of: ["SCI/B01"] });
    expect(room.map(({ record, class: at }) => `${at} ${record}`)).toEqual([
      "space SCI/B01",
      "panel SCI/B01/S",
      "busbar SCI/B01/PBB",
      "indoor F-014",
      "pathway DB-04",
    ]);
  });

  it("are the rows of a table, filtered", async () => {
    const plant = await street();
    const table = { kind: "port", filters: [{ field: "panel_id", test: "is", value: "LIB/101/A" }], text: "03" };
    expect(of(await listed(plant, { table }))).toEqual(["LIB/101/A:03 at LIB/101"]);
  });

  it("that can't carry a label are refused by their kind", async () => {
    const plant = await street();
    expect(await plant.call("label.list", { table: { kind: "circuit" } })).toMatchObject({
      ok: false,
      error: { code: "bad_input", problems: [{ field: "table.kind" }] },
    });
    expect(await plant.call("label.list", { of: ["F-999"] })).toMatchObject({
      ok: false,
      error: { code: "not_found" },
    });
  });
});

describe("without a name, what needs a label", () => {
  it("is what the plant's policy asks for and nobody printed or saw, and what is due", async () => {
    const plant = await street();
    await plant.run("record.edit", { kind: "plant", id: 1, values: { label_due: "ends", port_labels: "none" } });
    expect(of(await listed(plant))).toEqual([
      "F-014 at LIB/101",
      "F-014 at SCI/B01",
      "F-021 at MH-03",
      "F-021 at LIB/102",
    ]);
    await plant.run("label.write_due", { cable: "F-014", printed_on: "2026-03-01" });
    await plant.run("label.sight", { subject: "F-014", space: "SCI/B01", state: "illegible" });
    expect((await listed(plant)).map(({ record, place, needed }) => [record, place, needed])).toEqual([
      ["F-014", "SCI/B01", "can't be read"],
      ["F-021", "MH-03", "none is on record"],
      ["F-021", "LIB/102", "none is on record"],
    ]);
  });
});

describe("a template of the plant", () => {
  it("takes the place of the usual wording for its class", async () => {
    const plant = await street();
    await template(plant, "hole tag", "outdoor", "{tag} / {count}F");
    const labels = await listed(plant, { of: ["F-014"] });
    expect(labels.map(({ wording }) => wording)).toEqual(["usual indoor", "hole tag", "usual indoor"]);
    expect(labels[1]?.lines).toEqual(["F-014 / 48F"]);
  });

  it("in the street that says what the cable serves is refused, naming the blank", async () => {
    const plant = await street();
    await template(plant, "too much", "outdoor", "{tag} to {to}");
    expect(await plant.call("label.list", { of: ["F-014"] })).toMatchObject({
      ok: false,
      error: { problems: [{ record: "too much", reason: expect.stringContaining("{to}") }] },
    });
  });

  it("that is only being tried is refused when a blank refers to nothing", async () => {
    const plant = await street();
    const draft = { place: "indoor", text: "{tag} {serves}", code: "qr" };
    expect(await plant.call("label.list", { of: ["F-014"], draft })).toMatchObject({
      ok: false,
      error: { problems: [{ field: "text", reason: "has the blank {serves}, which refers to nothing" }] },
    });
    expect(await listed(plant, { of: ["F-014"], draft: { ...draft, text: "{tag} {from}" } })).toMatchObject([
      { lines: ["F-014 LIB/101"] },
      { wording: "usual outdoor" },
      { lines: ["F-014 LIB/101"] },
    ]);
  });

  it("asked for by a name that isn't in use is refused with those that are", async () => {
    const plant = await street();
    await template(plant, "hole tag", "outdoor", "{tag}");
    const reply = await plant.call("label.list", { of: ["F-014"], template: "usual outdoor" });
    expect(reply).toMatchObject({
      ok: false,
      error: { problems: [{ field: "template", reason: expect.stringContaining("hole tag") }] },
    });
  });
});

describe("what is printed and what the check compares", () => {
  const findings = async (plant: TestPlant) =>
    (await plant.run<{ findings: { key: string }[] }>("check.run", { rules: ["labels.contradicts"] })).findings;
  const stick = async (plant: TestPlant, labels: readonly Listed[]) => {
    for (const { record, place, lines, kind } of labels) {
      const text = lines?.join("\n");
      await plant.run("label.write", { subject: record, kind, space: place, text, printed_on: "2026-03-01" });
    }
  };

  it("agree, whichever wording of the plant is printed", async () => {
    const plant = await street();
    await plant.run("record.edit", {
      kind: "plant",
      id: 1,
      values: { label_patterns: '{"cable":["{tag} {from} - {to} {strands}F"]}' },
    });
    await template(plant, "hole tag", "outdoor", "{tag}\n{count} fibres");
    await template(plant, "port tag", "port", "{port} <{strand}>");
    await stick(plant, await listed(plant, { of: ["F-014", "LIB/102/B"] }));
    expect(await findings(plant)).toEqual([]);
  });

  it("differ as soon as the record says something else, and the label is to be made again", async () => {
    const plant = await street();
    await template(plant, "room tag", "indoor", "{tag} <{ranges}>");
    await stick(plant, await listed(plant, { of: ["F-014"], at: "LIB/101" }));
    expect(await findings(plant)).toEqual([]);
    await plant.run("strand.land", { strands: "F-014:11-12", ports: "SCI/B01/S:6", method: "pigtail" });
    expect((await findings(plant)).map(({ key }) => key)).toEqual(["cable F-014"]);
    const [label] = await listed(plant, { of: ["F-014"], at: "LIB/101" });
    expect(label?.needed).toBe("the record says something else now");
  });
});
