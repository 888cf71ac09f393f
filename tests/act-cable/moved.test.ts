/** The ends of a cut brought elsewhere, a cable in the place of another, and a way divided by a hole set into it. */
import { describe, expect, it } from "vitest";
import { newYard, type Yard } from "./yard.ts";

/** F-012, two tubes of 12, from LIB/101 over the three holes to SCI/B01, cut after MH-02. */
async function cutYard(more: Record<string, unknown> = {}): Promise<Yard> {
  const yard = await newYard();
  await yard.act("cable.enter", {
    tag: "F-012",
    units: [{ kind: "tube", repeats: 2, strands: 12, coating_um: "250" }],
    mark_unit: "m",
    stops: [
      { space: "LIB/101", mark_out: 1000, way: { pathway: "BE-1" } },
      { space: "MH-01", mark_in: 1050, mark_out: 1060, way: { conduit: "DB-1/1" } },
      { space: "MH-02", mark_in: 1160, mark_out: 1170, way: { conduit: "DB-2/1" } },
      { space: "MH-03", mark_in: 1270, mark_out: 1280, way: { pathway: "BE-2" } },
      { space: "SCI/B01", mark_in: 1330 },
    ],
  });
  await yard.act("cable.sever", { cable: "F-012", after: "MH-02", mark_open_from: 1210, mark_open_to: 1220, ...more });
  return yard;
}

const stopsOf = async (yard: Yard): Promise<string[]> => {
  const spaces = new Map((await yard.find("space")).map(({ id, tag }) => [id, tag]));
  const stops = (await yard.find("stop")).toSorted((a, b) => Number(a.ordinal) - Number(b.ordinal));
  return stops.map(({ ordinal, space_id, kind }) => `${ordinal} ${spaces.get(Number(space_id)) ?? "?"} ${kind}`);
};
const move = (yard: Yard, more: Record<string, unknown>) =>
  yard.act("cable.move_cut", { cable: "F-012", stop: 4, ...more });

describe("the ends of a cut", () => {
  it("at one place leave no stop where it was cut, and the way is one leg again", async () => {
    const yard = await cutYard();
    await move(yard, {
      left_to: "MH-02",
      right_to: "MH-02",
      places: [{ stop: "MH-02", mark_in: 1160, mark_open_from: 1168, mark_open_to: 1230, mark_out: 1236 }],
      even_if_marks_disagree: true,
    });
    expect(await stopsOf(yard)).toEqual([
      "1 101 end",
      "2 MH-01 passing",
      "3 MH-02 severed",
      "4 MH-03 passing",
      "5 B01 end",
    ]);
    const legs = await yard.find("leg", { life: "in_place" });
    expect(legs).toHaveLength(4);
    const [severed] = await yard.find("stop", { kind: "severed" });
    expect(severed).toMatchObject({ mark_open_from: 1168, mark_open_to: 1230, marks_basis: "computed" });
    const sections = await yard.find("section");
    expect(sections.filter(({ b_stop_id, b_stub }) => b_stop_id === severed?.id && b_stub === "yes")).toHaveLength(24);
    expect(sections.filter(({ a_stop_id, a_stub }) => a_stop_id === severed?.id && a_stub === "yes")).toHaveLength(24);
  });

  it("in a hole dug for it have glass left to be joined, as where they were brought elsewhere", async () => {
    const yard = await cutYard();
    await yard.act("record.add", { kind: "space", values: { tag: "HH-9", kind: "hand_hole" } });
    await move(yard, { space: "HH-9" });
    const [severed] = await yard.find("stop", { kind: "severed" });
    const sections = await yard.find("section");
    expect(sections.filter(({ b_stop_id, b_stub }) => b_stop_id === severed?.id && b_stub === "yes")).toHaveLength(24);
    expect(sections.filter(({ a_stop_id, a_stub }) => a_stop_id === severed?.id && a_stub === "yes")).toHaveLength(24);
  });

  it("at two places leave a gap between them, which stays on record as a way that was taken out", async () => {
    const yard = await cutYard();
    const { answer } = await move(yard, { left_to: "MH-01", right_to: "MH-03" });
    expect(answer).toEqual({ left: "F-012@2", right: "F-012@3", gone: ["MH-02", "@4"] });
    expect(await stopsOf(yard)).toEqual(["1 101 end", "2 MH-01 severed", "3 MH-03 severed", "4 B01 end"]);
    const [gap] = await yard.find("leg", { life: "removed" });
    const stops = await yard.find("stop", { kind: "severed" });
    expect([gap?.from_stop_id, gap?.to_stop_id]).toEqual(stops.map(({ id }) => id));
    expect(await yard.find("leg", { life: "in_place" })).toHaveLength(2);
  });

  it("that stay get a place: the hole that was dug there", async () => {
    const yard = await cutYard();
    await yard.put("space", { tag: "HH-9", kind: "hand_hole" });
    await move(yard, { space: "HH-9" });
    expect((await stopsOf(yard))[3]).toBe("4 HH-9 severed");
  });

  it("are undone exactly", async () => {
    const yard = await cutYard();
    const before = await yard.content();
    await move(yard, { left_to: "MH-01", right_to: "MH-03" });
    await yard.run("history.undo", {});
    expect(await yard.content()).toEqual(before);
  });

  it.each([
    ["where it isn't severed", { stop: "MH-01" }, /the cable is not severed there/],
    ["to an end of the cable", { stop: 4, left_to: 1, right_to: 1 }, /the cable is at its end at LIB\/101/],
    ["past each other", { stop: 4, left_to: "MH-03", right_to: "MH-02" }, /MH-03 lies beyond MH-02/],
  ])("can't be moved %s", async (_, more, words) => {
    const yard = await cutYard();
    const before = await yard.content();
    const error = await yard.refused("cable.move_cut", { cable: "F-012", ...more });
    expect(error.code).toBe("not_possible");
    expect(error.message).toMatch(words);
    expect(await yard.content()).toEqual(before);
  });

  it("can't be moved while strands run on uncut: they hold the sheath", async () => {
    const yard = await cutYard({ cut: "1-12" });
    const error = await yard.refused("cable.move_cut", {
      cable: "F-012",
      stop: 4,
      left_to: "MH-02",
      right_to: "MH-02",
    });
    expect(error.message).toMatch(/strands run on there uncut/);
  });
});

describe("a cable in the place of another", () => {
  async function two(): Promise<Yard> {
    const yard = await cutYard();
    await yard.act("cable.enter", {
      tag: "F-112",
      units: [{ kind: "tube", repeats: 2, strands: 12, coating_um: "250" }],
      stops: [{ space: "LIB/101" }, { space: "SCI/B01" }],
    });
    await yard.act("panel.enter", { tag: "A", space: "LIB/101", ports: [{ numbers: "1..2", connector: "lc_duplex" }] });
    await yard.act("strand.land", { strands: "F-012:1-4", ports: "LIB/101/A:1-2" });
    await yard.act("circuit.enter", { tag: "K-1", strands: 1, state: "in_service" });
    await yard.act("circuit.assign", { circuit: "K-1", what: ["F-012:3#1"] });
    return yard;
  }

  it("has what was joined at its ends, and its circuits; the old one is out of use", async () => {
    const yard = await two();
    const { answer } = await yard.act("cable.replace", { cable: "F-012", by: "F-112" });
    expect(answer).toEqual({ moved: 4, circuits: 1 });
    const [old, by] = await yard.find("cable");
    expect([old?.life, by?.life]).toEqual(["out_of_use", "in_place"]);
    const strandOf = new Map(
      (await yard.find("strand")).map(({ id, cable_id, number }) => [id, `${cable_id}:${number}`]),
    );
    const sectionOf = new Map(
      (await yard.find("section")).map(({ id, strand_id }) => [id, strandOf.get(Number(strand_id))]),
    );
    const landed = async (life: "in_place" | "removed") =>
      (await yard.find("termination", { life })).map(({ section_id }) => sectionOf.get(Number(section_id)));
    expect(await landed("in_place")).toEqual([1, 2, 3, 4].map((number) => `${by?.id}:${number}`));
    // What was cut off stays on record as removed.
    expect(await landed("removed")).toEqual([1, 2, 3, 4].map((number) => `${old?.id}:${number}`));
    const open = (await yard.find("assignment")).filter(({ until_on }) => until_on === null);
    expect(open.map(({ section_id }) => sectionOf.get(Number(section_id)))).toEqual([`${by?.id}:3`]);
  });

  it("leaves with the old one what is spliced to it on the way, and says so", async () => {
    const yard = await two();
    await yard.act("cable.enter", {
      tag: "L-1",
      units: [{ kind: "tube", repeats: 1, strands: 2, coating_um: "250" }],
      stops: [{ space: "MH-01" }, { space: "SCI/B01" }],
    });
    await yard.act("cable.open", { cable: "F-012", stop: "MH-01", cut: "5-6" });
    await yard.act("splice.range", { from: "F-012:5-6#1", to: "L-1:1-2", at: "MH-01", from_end: "B" });
    const { notices } = await yard.act("cable.replace", { cable: "F-012", by: "F-112" });
    expect(notices.join()).toContain("2 splices of F-012 to other cables, at places where it is opened, stay with it");
  });

  it("is refused where it is joined already", async () => {
    const yard = await two();
    await yard.act("panel.enter", { tag: "B", space: "SCI/B01", ports: [{ numbers: "1", connector: "lc_duplex" }] });
    await yard.act("strand.land", { strands: "F-112:1-2", ports: "SCI/B01/B:1" });
    const error = await yard.refused("cable.replace", { cable: "F-012", by: "F-112" });
    expect(error.message).toMatch(/is joined already at 2 ends/);
  });
});

describe("a way divided by a hole set into it", () => {
  async function divided(): Promise<Yard> {
    const yard = await newYard();
    await yard.put("space", { tag: "HH-9", kind: "hand_hole" });
    await yard.run("record.edit", {
      kind: "pathway",
      id: "DB-1",
      values: {
        length_m: 100,
        geometry: [
          [10, 50],
          [10.001, 50],
        ],
      },
    });
    await yard.act("cable.enter", {
      tag: "F-013",
      units: [],
      stops: [{ space: "MH-02", way: { conduit: "DB-1/2" } }, { space: "MH-01" }],
    });
    await yard.act("pathway.divide", { pathway: "DB-1", at: "HH-9", from_m: 25, tag: "DB-1b" });
    return yard;
  }

  it("is two ways, as long together as before, and the line on the map is divided with it", async () => {
    const yard = await divided();
    const [near] = await yard.find("pathway", { tag: "DB-1" });
    const [far] = await yard.find("pathway", { tag: "DB-1b" });
    const [hole] = await yard.find("space", { tag: "HH-9" });
    expect([near?.length_m, far?.length_m]).toEqual([25, 75]);
    expect([near?.to_space_id, far?.from_space_id]).toEqual([hole?.id, hole?.id]);
    const [one, other] = [near, far].map((row) => JSON.parse(String(row?.geometry)) as [number, number][]);
    expect(one?.at(-1)).toEqual(other?.[0]);
    expect(one?.at(-1)?.[0]).toBeCloseTo(10.00025, 7);
  });

  it("has its pipes run on, coupled where nobody opened them, and its cables pass the hole", async () => {
    const yard = await divided();
    const [far] = await yard.find("pathway", { tag: "DB-1b" });
    const [near] = await yard.find("pathway", { tag: "DB-1" });
    const pipes = await yard.find("conduit", { pathway_id: far?.id ?? 0 });
    const before = await yard.find("conduit", { pathway_id: near?.id ?? 0 });
    expect(pipes.map(({ tag }) => tag)).toEqual(before.map(({ tag }) => tag));
    expect(pipes.map(({ from_coupled_id }) => from_coupled_id)).toEqual(before.map(({ id }) => id));
    expect(before.map(({ to_coupled_id }) => to_coupled_id)).toEqual(pipes.map(({ id }) => id));
    expect(await stopsOf(yard)).toEqual(["1 MH-02 end", "2 HH-9 passing", "3 MH-01 end"]);
    // The cable runs from MH-02 to MH-01, against the way: it meets the far part first.
    const legs = (await yard.find("leg")).toSorted((a, b) => Number(a.from_stop_id) - Number(b.from_stop_id));
    expect(legs.map(({ pathway_id }) => pathway_id)).toEqual([far?.id, near?.id]);
  });

  it("leaves every mark on a sheath where it was: at the hole it is worked out from those beside it", async () => {
    const yard = await newYard();
    await yard.put("space", { tag: "HH-9", kind: "hand_hole" });
    await yard.run("record.edit", { kind: "pathway", id: "DB-1", values: { length_m: 100 } });
    const enter = (tag: string, conduit: string, from: object, to: object, more = {}) =>
      yard.act("cable.enter", {
        ...{ tag, units: [], mark_unit: "m", ...more },
        stops: [{ ...from, way: { conduit } }, to],
      });
    // With the way, against it, with a print that begins anew on it, and with one mark alone.
    await enter("F-021", "DB-1/1", { space: "MH-01", mark_out: 1060 }, { space: "MH-02", mark_in: 1164 });
    await enter("F-022", "DB-1/2", { space: "MH-02", mark_out: 500 }, { space: "MH-01", mark_in: 396 });
    await enter(
      "F-023",
      "DB-1/1",
      { space: "MH-01", mark_out: 950 },
      { space: "MH-02", mark_in: 54 },
      {
        mark_breaks: [{ at_mark: 1000, jumps_to: 0 }],
      },
    );
    await enter("F-024", "DB-1/2", { space: "MH-01", mark_out: 10 }, { space: "MH-02" });
    await yard.act("pathway.divide", { pathway: "DB-1", at: "HH-9", from_m: 25, tag: "DB-1b" });
    const [hole] = await yard.find("space", { tag: "HH-9" });
    const cables = new Map((await yard.find("cable")).map(({ id, tag }) => [id, tag]));
    const stops = await yard.find("stop", { space_id: hole?.id ?? 0 });
    expect(
      stops.map(({ cable_id, mark_in, mark_out, marks_basis }) => [
        cables.get(Number(cable_id)),
        mark_in,
        mark_out,
        marks_basis,
      ]),
    ).toEqual([
      ["F-021", 1086, 1086, "computed"],
      ["F-022", 422, 422, "computed"],
      ["F-023", null, null, null],
      ["F-024", null, null, null],
    ]);
  });
});
