import { beforeEach, describe, expect, it } from "vitest";
import { TESTER } from "../support/plant.ts";
import { act, type Campus, campus, refused } from "./campus.ts";

let plant: Campus;
beforeEach(async () => {
  plant = await campus();
  await act(plant, "panel.enter", { tag: "A", space: "LIB/101", ports: [{ numbers: "01..04", connector: "lc" }] });
});

const tags = async () => (await plant.find("port")).map(({ tag }) => tag);
const former = async () => (await plant.find("port")).map(({ former_tags }) => former_tags);

describe("renumbering the ports of a panel", () => {
  it("shifts numbers that overlap the old ones, and keeps the old ones findable", async () => {
    const { answer } = await act(plant, "panel.renumber", { panel: "LIB/101/A", ports: "02..05" });
    expect(await tags()).toEqual(["02", "03", "04", "05"]);
    expect(await former()).toEqual(['["01"]', '["02"]', '["03"]', '["04"]']);
    expect(answer).toMatchObject({ ports: [{ from: "01", to: "02" }, {}, {}, { from: "04", to: "05" }] });
    // 01 is nobody's number now, so the old one finds its port; 02 is the new number of another.
    const landed = await act<{ pairs: { position: string }[] }>(plant, "strand.land", {
      strands: "F-014:1",
      ports: "LIB/101/A:01",
    });
    expect(landed.answer.pairs[0]?.position).toBe("LIB/101/A:02#1");
  });
  it("swaps two numbers", async () => {
    await act(plant, "panel.renumber", {
      panel: "LIB/101/A",
      ports: [
        { from: "01", to: "02" },
        { from: "02", to: "01" },
      ],
    });
    expect(await tags()).toEqual(["02", "01", "03", "04"]);
  });
  it("forgets a former number that comes back", async () => {
    await act(plant, "panel.renumber", { panel: "LIB/101/A", ports: [{ from: "04", to: "99" }] });
    await act(plant, "panel.renumber", { panel: "LIB/101/A", ports: [{ from: "99", to: "04" }] });
    expect((await former())[3]).toBe('["99"]');
  });
  it("refuses another count, an unknown port, a number taken twice, and nothing at all", async () => {
    const count = await refused(plant, "panel.renumber", { panel: "LIB/101/A", ports: "01..06" });
    expect(count).toMatchObject({ code: "not_possible", message: "LIB/101/A has 4 ports; 01..06 is 6." });
    const unknown = await refused(plant, "panel.renumber", { panel: "LIB/101/A", ports: [{ from: "09", to: "10" }] });
    expect(unknown).toMatchObject({ code: "not_found", problems: [{ row: 1, record: "LIB/101/A:09" }] });
    const taken = await refused(plant, "panel.renumber", { panel: "LIB/101/A", ports: [{ from: "01", to: "02" }] });
    expect(taken.code).toBe("duplicate");
    expect((await refused(plant, "panel.renumber", { panel: "LIB/101/A" })).code).toBe("bad_input");
    expect(await tags()).toEqual(["01", "02", "03", "04"]);
  });
});

describe("labels after renumbering", () => {
  it("are due on what was renumbered, with the day and why", async () => {
    await act(plant, "label.write", { subject: "LIB/101/A:01" });
    await act(plant, "panel.renumber", { panel: "LIB/101/A", ports: "11..14" }, { ...TESTER, day: "2031-05-02" });
    const labels = await plant.find("label");
    // The plant asks for one label a panel: the panel's is due too, the other ports have none.
    expect(labels.map(({ subject_kind, due_on, due_why }) => [subject_kind, due_on, due_why])).toEqual([
      ["port", "2031-05-02", "renumbered from 01 to 11"],
      ["panel", "2031-05-02", "its ports were renumbered"],
    ]);
  });
  it("are due on each port where the plant asks for that", async () => {
    const [row] = await plant.find("plant");
    await plant.change("plant", row?.id ?? 0, { port_labels: "port" });
    const { answer } = await act(plant, "panel.renumber", { panel: "LIB/101/A", ports: "11..14" });
    expect(answer).toMatchObject({ labels_due: 4 });
    expect((await plant.find("label")).every(({ due_on, text }) => due_on !== null && text === null)).toBe(true);
  });
  it("are not due when only the record had been wrong", async () => {
    await act(plant, "panel.renumber", { panel: "LIB/101/A", tag: "B" }, { ...TESTER, meaning: "correction" });
    expect(await plant.find("label")).toEqual([]);
    expect((await plant.find("panel"))[0]).toMatchObject({ tag: "B", former_tags: '["A"]' });
  });
});
