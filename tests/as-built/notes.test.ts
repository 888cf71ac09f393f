/** Crews' lines as they write them, each with the act it is understood as; asked where it can be read two ways. */
import { describe, expect, it } from "vitest";
import type { NotesRehearsal } from "../../core/as-built/notes/rehearse.ts";
import type { TestPlant } from "../support/plant.ts";
import { count, lines, sheetPlant } from "./plant.ts";

const notes = (plant: TestPlant, text: string, more: object = {}): Promise<NotesRehearsal> =>
  plant.run<NotesRehearsal>("notes.rehearse", { text, ...more });

const understood = async (plant: TestPlant, text: string, more: object = {}) =>
  (await notes(plant, text, more)).lines.map(({ fate, words }) => `${fate}: ${words}`);

describe("the lines crews write", () => {
  it("are understood beside the cable and place that the lines above name", async () => {
    const plant = await sheetPlant();
    await plant.run("cable.enter", {
      tag: "F-033",
      colour_sequence: "tia_598",
      units: [{ kind: "tube", repeats: 4, strands: 12 }],
      stops: [{ space: "LIB/101" }, { space: "MH-03" }, { space: "SCI/B01" }],
    });
    const text = lines(
      "F-014 IN 1234 OUT 1267 MH-03",
      "25-36 → F-021 1-12 T2",
      "F-033 GR express",
      "37-48 dead",
      "1-2 spare",
      "",
      "in LIB/101:",
      "1-12 -> A 01-06",
    );
    expect(await understood(plant, text)).toEqual([
      "changed: F-014@2 in MH-03: mark in 1234, mark out 1267",
      "new: Splice F-014:25-36 to F-021:1-12 in MH-03/CL-1/T2",
      "same: F-033:25-36 runs through MH-03 uncut",
      "changed: F-033:37-48 is broken",
      "same: F-033:1-2: spare, nothing to record",
      "about: From here on: F-033 in LIB/101",
      "new: Land F-033:1-12 on LIB/101/A 01-06",
    ]);
  });

  it("are of the cable that a line above named in passing, and say so", async () => {
    const plant = await sheetPlant();
    const { lines: read } = await notes(plant, lines("F-014 1-12 dead", "13-24 dead", "F-021 1 dead", "2 dead"));
    expect(read.map(({ words, notices }) => [words, ...notices])).toEqual([
      ["F-014:1-12 is broken"],
      ["F-014:13-24 is broken", "F-014 is taken from line 1."],
      ["F-021:1 is broken"],
      ["F-021:2 is broken", "F-021 is taken from line 3."],
    ]);
  });

  it("stay of the cable that a line of its own named, whatever is named in passing", async () => {
    const plant = await sheetPlant();
    expect(await understood(plant, lines("F-014:", "F-021 1 dead", "2 dead"))).toEqual([
      "about: From here on: F-014",
      "changed: F-021:1 is broken",
      "changed: F-014:2 is broken",
    ]);
  });

  it("are of the cable of a line above that is still asked", async () => {
    const plant = await sheetPlant();
    await plant.run("cable.add_stop", { cable: "F-014", after: "F-014@1", space: "MH-07" });
    await plant.run("cable.add_stop", { cable: "F-014", after: "F-014@2", space: "MH-07" });
    const { lines: read } = await notes(plant, lines("F-014 IN 1234 OUT 1267 MH-07", "37-48 dead"));
    expect(read.map(({ fate, words, notices }) => [fate, words, ...notices])).toEqual([
      ["ask", "Which is meant?"],
      ["changed", "F-014:37-48 is broken", "F-014 is taken from line 1."],
    ]);
  });

  it("are carried out as one change, and taken back by one undo", async () => {
    const plant = await sheetPlant();
    const text = lines("F-014 IN 1234 OUT 1267 MH-03", "1-12 → F-021 1-12 T1", "13 dead: crushed");
    const { digest } = await notes(plant, text);
    const done = await plant.run<{ change_set: number }>("notes.apply", { text, digest });
    expect(await count(plant, "splice")).toBe(12);
    const [state] = await plant.store.read((reader) =>
      reader.rows(
        "select s.condition, s.condition_why from strand s join cable c on c.id = s.cable_id where c.tag = 'F-014' and s.number = 13",
      ),
    );
    expect(state).toEqual({ condition: "broken", condition_why: "crushed" });
    await plant.run("history.undo", { change_set: done.change_set });
    expect(await count(plant, "splice")).toBe(0);
  });

  it.each(["F-014 MH-03", "MH-03 F-014:", "F-014, MH-03"])(
    "are about the cable and the place of “%s”",
    async (head) => {
      const plant = await sheetPlant();
      expect(await understood(plant, lines(head, "1-12 → F-021 1-12 T2"))).toEqual([
        "about: From here on: F-014 in MH-03",
        "new: Splice F-014:1-12 to F-021:1-12 in MH-03/CL-1/T2",
      ]);
    },
  );

  it("swap tubes of the cable that only the first names", async () => {
    const plant = await sheetPlant();
    await plant.run("notes.apply", { text: lines("F-014 in MH-03", "1-24 → F-021 1-24 T1") });
    expect(await understood(plant, "F-014 BL & OR swapped at CL-1")).toEqual([
      "new: Swap F-014:1-12 and F-014:13-24 in MH-03/CL-1",
    ]);
  });

  it("swap two tubes at a case", async () => {
    const plant = await sheetPlant();
    const text = lines("F-014 in MH-03", "1-24 → F-021 1-24 T1");
    await plant.run("notes.apply", { text });
    expect(await understood(plant, "BL & OR swapped at CL-1", { cable: "F-014" })).toEqual([
      "new: Swap F-014:1-12 and F-014:13-24 in MH-03/CL-1",
    ]);
    const correction = { author: "Test Person", meaning: "correction" } as const;
    const corrected = await plant.run<NotesRehearsal>(
      "notes.rehearse",
      { text: "BL & OR swapped at CL-1", cable: "F-014" },
      correction,
    );
    expect(corrected.lines.map(({ fate }) => fate)).toEqual(["changed"]);
  });

  it("add a stop where the cable has none, between the two it must lie between", async () => {
    const plant = await sheetPlant();
    expect(await understood(plant, "F-014 IN 500 OUT 520 MH-07")).toEqual([
      "new: New stop of F-014 in MH-07, between LIB/101 and MH-03: mark in 500, mark out 520",
    ]);
  });
});

describe("a line that can be read two ways", () => {
  async function twoCases() {
    const plant = await sheetPlant();
    await plant.run("closure.enter", { tag: "CL-2", space: "MH-03", trays: [{ numbers: "T1", capacity: 24 }] });
    return plant;
  }
  const text = lines("F-014 in MH-03", "1-12 → F-021 1-12 T1");

  it("is asked with its ways, and nothing is done before it is answered", async () => {
    const plant = await twoCases();
    const { lines: read, open } = await notes(plant, text);
    expect(open).toBe(1);
    expect(read[1]).toMatchObject({
      fate: "ask",
      ways: ["Splice F-014:1-12 to F-021:1-12 in MH-03/CL-1/T1", "Splice F-014:1-12 to F-021:1-12 in MH-03/CL-2/T1"],
    });
    expect(await plant.call("notes.apply", { text })).toMatchObject({
      error: { code: "ambiguous", problems: [{ row: 2 }, { row: 2 }] },
    });
  });

  it("is done as it was answered", async () => {
    const plant = await twoCases();
    await plant.run("notes.apply", { text, answers: { 2: 2 } });
    const trays = await plant.store.read((reader) =>
      reader.rows(
        "select distinct c.tag from splice s join tray t on t.id = s.tray_id join closure c on c.id = t.closure_id",
      ),
    );
    expect(trays).toEqual([{ tag: "CL-2" }]);
  });

  it("asks for the end where a strand is cut and both ends lie there", async () => {
    const plant = await sheetPlant();
    await plant.run("cable.add_stop", { cable: "F-014", after: "F-014@1", space: "MH-07" });
    await plant.run("cable.open", { cable: "F-014", stop: "F-014@2", cut: "25-36" });
    await plant.run("cable.enter", {
      tag: "H-3",
      units: [{ kind: "tube", repeats: 1, strands: 12 }],
      stops: [{ space: "MH-07" }, { space: "SCI/B01" }],
    });
    const cut = lines("F-014 in MH-07", "25-36 → H-3 1-12");
    const { lines: read } = await notes(plant, cut);
    expect(read[1]).toMatchObject({
      fate: "ask",
      words: "Which end is meant?",
      ways: [expect.stringContaining("end A"), expect.stringContaining("end B")],
    });
    expect((await notes(plant, cut, { answers: { 2: 2 } })).lines[1]?.fate).toBe("new");
  });
});

describe("ways to read a line that the record rules out", () => {
  it("say so before one is chosen", async () => {
    const plant = await sheetPlant();
    await plant.run("cable.enter", {
      tag: "F-050",
      mark_unit: "m",
      units: [{ kind: "tube", repeats: 1, strands: 12 }],
      stops: [
        { space: "LIB/101", mark_out: 100 },
        { space: "MH-03", mark_in: 200, mark_out: 210 },
        { space: "SCI/B01", mark_in: 400 },
      ],
    });
    const [line] = (await notes(plant, "F-050 IN 150 OUT 160 MH-07")).lines;
    expect(line?.fate).toBe("ask");
    expect(line?.ways[0]).toBe("New stop of F-050 in MH-07, between LIB/101 and MH-03: mark in 150, mark out 160");
    expect(line?.ways[1]).toMatch(/between MH-03 and SCI\/B01: .* \(can't be: .*marks/);
  });
});

describe("ways to read a swap that the record rules out", () => {
  /** F-014's first two tubes are cut in MH-07 and only their ends B are spliced there. */
  async function cutPlant() {
    const plant = await sheetPlant();
    await plant.run("cable.add_stop", { cable: "F-014", after: "F-014@1", space: "MH-07" });
    await plant.run("cable.open", { cable: "F-014", stop: "F-014@2", cut: "1-24" });
    await plant.run("cable.enter", {
      tag: "H-3",
      units: [{ kind: "tube", repeats: 2, strands: 12 }],
      stops: [{ space: "MH-07" }, { space: "SCI/B01" }],
    });
    await plant.run("splice.range", { from: "F-014:1-24", to: "H-3:1-24", at: "MH-07", from_end: "B" });
    return plant;
  }

  it("say so where the end is open too, which is asked with the reading", async () => {
    const plant = await cutPlant();
    const text = "F-014 BL & OR swapped at MH-07";
    const [line] = (await notes(plant, text, { cable: "F-021" })).lines;
    const within = "Swap F-014:1-12 and F-014:13-24 in MH-07, by end";
    expect(line?.ways).toEqual([
      expect.stringMatching(new RegExp(`^${within} A of the first, by end A of the second \\(can't be: `)),
      expect.stringMatching(new RegExp(`^${within} A of the first, by end B of the second \\(can't be: `)),
      expect.stringMatching(new RegExp(`^${within} B of the first, by end A of the second \\(can't be: `)),
      `${within} B of the first, by end B of the second`,
      expect.stringMatching(/^Swap F-014:1-12 and F-021:13-24 in MH-07 \(can't be: /),
    ]);
    const answered = await notes(plant, text, { cable: "F-021", answers: { 1: 4 } });
    expect(answered.lines[0]).toMatchObject({ fate: "new", words: `${within} B of the first, by end B of the second` });
    expect((await plant.call("notes.apply", { text, cable: "F-021", answers: { 1: 4 } })).ok).toBe(true);
  });

  it("say so of ends that aren't spliced there; the ends of both are asked at once", async () => {
    const plant = await cutPlant();
    const text = "F-014 BL & OR swapped at MH-07";
    const [line] = (await notes(plant, text)).lines;
    expect(line).toMatchObject({ fate: "ask", words: "Which end is meant?" });
    const swap = "Swap F-014:1-12 and F-014:13-24 in MH-07, by end";
    const loose = (strand: number) => `(can't be: F-014:${strand}#2 isn't spliced there on record)`;
    expect(line?.ways).toEqual([
      `${swap} A of the first, by end A of the second ${loose(1)}`,
      `${swap} A of the first, by end B of the second ${loose(1)}`,
      `${swap} B of the first, by end A of the second ${loose(13)}`,
      `${swap} B of the first, by end B of the second`,
    ]);
    expect((await notes(plant, text, { answers: { 1: 4 } })).lines[0]?.fate).toBe("new");
    expect((await notes(plant, text, { answers: { 1: 1 } })).lines[0]?.fate).toBe("refused");
  });
});

describe("a line that isn't understood", () => {
  it("is kept as told, word for word, in the notes of a visit, with what the lines were about", async () => {
    const plant = await sheetPlant();
    const text = lines(
      "F-014 in MH-03",
      "the lid is cracked, water to the knee",
      "12 dead",
      "GR swapped twice, ask Ines",
    );
    const rehearsal = await notes(plant, text);
    expect(rehearsal.lines.map(({ fate }) => fate)).toEqual(["about", "told", "changed", "told"]);
    expect(rehearsal.visit).toBe("N-001");
    await plant.run("notes.apply", { text }, { author: "Test Person", day: "2026-05-02" });
    const [visit] = await plant.store.read((reader) =>
      reader.rows("select v.tag, v.made_on, s.tag as space, v.notes from visit v join space s on s.id = v.space_id"),
    );
    expect(visit).toEqual({
      tag: "N-001",
      made_on: "2026-05-02",
      space: "MH-03",
      notes: "Told by the crew:\nthe lid is cracked, water to the knee\nGR swapped twice, ask Ines",
    });
  });

  it("is told that its form isn't known, with the form that comes nearest", async () => {
    const plant = await sheetPlant();
    const { lines: read } = await notes(
      plant,
      lines("F-014 in MH-03", "lid broken", "tube 3 1-4 swapped with 5-8", "water in the hole by the gate"),
    );
    expect(read.slice(1).map(({ fate, problems }) => [fate, problems[0]?.reason])).toEqual([
      ["told", "is written in no form that is known; the nearest is “37-48 dead”"],
      ["told", "names no strands on record with “tube 3 1-4”"],
      ["told", "is written in no form that is known"],
    ]);
  });

  it("is refused in words of its own where the strands have no end there", async () => {
    const plant = await sheetPlant();
    const { lines: read } = await notes(plant, lines("F-014 in LIB/101", "GR & BR swapped at MH-07"));
    expect(read[1]).toMatchObject({ fate: "refused" });
    expect(read[1]?.problems).toEqual([
      { record: "F-014:25-36", reason: "has no end in MH-07, but end A in LIB/101, end B in MH-03" },
    ]);
  });

  it("says why it isn't", async () => {
    const plant = await sheetPlant();
    const { lines: read } = await notes(
      plant,
      lines("1-12 → F-021 1-12 T9", "F-014 IN 12 MH-99", "F-014 in MH-03", "1-2 → F-021 1-2 T9"),
    );
    expect(read.map(({ problems }) => problems[0]?.reason)).toEqual([
      "names no strands on record with “1-12”: no cable is known yet; write the cable above",
      "names MH-99, which is not a cable or place on record",
      undefined,
      "names tray T9, which MH-03 hasn't",
    ]);
  });

  it("says that no cable is known yet, where neither it nor a line above names one", async () => {
    const plant = await sheetPlant();
    const { lines: read } = await notes(plant, lines("37-48 dead", "GR 1-12 express", "F-999 1-12 dead"));
    expect(read.map(({ problems }) => problems[0]?.reason)).toEqual([
      "names no strands on record with “37-48”: no cable is known yet; write the cable above",
      ...["doesn't say where they run through", "names no strands on record with “F-999 1-12”"],
    ]);
  });

  it("is refused, and not lost, where the visit it should be kept in can't be made", async () => {
    const plant = await sheetPlant();
    await plant.run("notes.apply", { text: "the lid is cracked" });
    const second = { text: "water to the knee", visit: "N-001" };
    expect((await plant.run<NotesRehearsal>("notes.rehearse", second)).lines[0]).toMatchObject({
      fate: "refused",
      words: "To be kept as told",
      problems: [{ reason: expect.stringMatching(/^can't be kept in visit N-001: .*N-001/) }],
    });
    expect(await plant.call("notes.apply", second)).toMatchObject({ error: { problems: [{ row: 1 }] } });
    expect(await count(plant, "visit")).toBe(1);
  });

  it("is refused, and not cut off, where the notes of one visit hold no more", async () => {
    const plant = await sheetPlant();
    const text = lines(
      "the lid is cracked",
      ...Array.from({ length: 3 }, () => `the water ${"stands high ".repeat(150)}`),
    );
    const { lines: read } = await notes(plant, text);
    expect(read.map(({ fate }) => fate)).toEqual(["told", "told", "told", "refused"]);
    expect(read[3]?.problems[0]?.reason).toContain("4000 letters");
  });

  it("is told of in the history as kept, not as taken over", async () => {
    const plant = await sheetPlant();
    const summaryOf = async (text: string) => {
      await plant.run("notes.apply", { text });
      const [last] = await plant.store.read((reader) =>
        reader.rows<{ summary: string }>("select summary from change_set order by id desc limit 1"),
      );
      return last?.summary;
    };
    expect(await summaryOf(lines("F-014 in MH-03", "the lid is cracked", "water to the knee"))).toBe(
      "Keep 2 lines of a crew's notes as told in visit N-001",
    );
    expect(await summaryOf(lines("F-014 in MH-03", "12 dead", "the lid is cracked"))).toBe(
      "Take over 1 line of a crew's notes, keep 1 line as told in visit N-002",
    );
  });

  it("refuses a line that says what can't be, with its reason, and does none of the others", async () => {
    const plant = await sheetPlant();
    const text = lines("F-014 in MH-03", "1-12 → F-021 1-11 T1", "13 dead");
    const reply = await plant.call("notes.apply", { text });
    expect(reply).toMatchObject({ error: { code: "bad_input", problems: [{ row: 2 }, { row: 2 }] } });
  });
});

describe("what is no notes", () => {
  it("is refused by the line that holds what nobody writes, and changes nothing", async () => {
    const plant = await sheetPlant();
    const text = lines("F-014 IN 1234 OUT 1267 MH-03", "F-014 37-48 d\u007fead", "");
    for (const name of ["notes.rehearse", "notes.apply"])
      expect(await plant.call(name, { text })).toMatchObject({
        error: { code: "bad_input", message: expect.stringContaining("line 2"), problems: [{ row: 2, field: "text" }] },
      });
    expect(await count(plant, "visit")).toBe(0);
  });
});
