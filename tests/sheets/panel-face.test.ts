/** A panel's face: ports in their layout from both sides, what is in them, and where they lead. */
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { type FacePort, layFace } from "../../core/paper/face.ts";
import type { ReadText } from "../paper/read-pdf.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { plain, printedBack } from "./case-plant.ts";

/**
 * LIB/101/A: ports 01 to 03 in the upper row, 04 to 06 in the lower. F-1 from there to SCI/B01/B: strands 1-4 landed on 01 and
 * 02, both ways. 01 is patched to equipment and carries C-1, 02 was seen empty, nobody looked at the rest.
 */
let plant: TestPlant;
beforeAll(async () => {
  plant = await newPlant();
  const add = (kind: string, values: object) => plant.run("record.add", { kind, values });
  for (const [building, room] of [
    ["LIB", "101"],
    ["SCI", "B01"],
  ]) {
    await add("building", { tag: building, name: building });
    await add("space", { tag: room, building_id: building, kind: "telecom_room" });
  }
  await plant.run("cable.enter", {
    ...{
      tag: "F-1",
      colour_sequence: "tia_598",
      units: [{ kind: "tube", repeats: 1, strands: 12, coating_um: "250" }],
    },
    stops: [{ space: "LIB/101" }, { space: "SCI/B01" }],
  });
  const lc = { connector: "lc_duplex", positions: 2 };
  await plant.run("panel.enter", {
    ...{ tag: "A", space: "LIB/101", rows: 2 },
    ports: [
      { numbers: "01..03", ...lc, face_row: 1 },
      { numbers: "04..06", ...lc, face_row: 2 },
    ],
  });
  await plant.run("panel.enter", { tag: "B", space: "SCI/B01", ports: [{ numbers: "1..6", ...lc }] });
  await plant.run("device.enter", { tag: "SW-1", space: "LIB/101", ports: [{ numbers: "1", ...lc }] });
  await plant.run("strand.land", { strands: "F-1:1-4", ports: "LIB/101/A:01-02", method: "pigtail" });
  await plant.run("strand.land", { strands: "F-1:1-4", ports: "SCI/B01/B:1-2", method: "pigtail" });
  await plant.run("cord.patch", { from: "LIB/101/A:01", to: "LIB/101/SW-1:1", tag: "K-7" });
  await plant.run("port.sight_front", { ports: "LIB/101/A:02", front: "empty" });
  await plant.run("circuit.enter", { tag: "C-1", strands: 2, state: "in_service" });
  await plant.run("circuit.assign", { circuit: "C-1", what: ["F-1:1-2"] });
});

const face = () => printedBack(plant, "paper.panel_face", { panel: "LIB/101/A" });

describe("a panel's face", () => {
  it("has its rows from the top, and from behind each row the other way round", async () => {
    const { pages } = await face();
    const pieces = pages.flatMap((page, index) =>
      page.pieces.map((piece) => ({ ...piece, foot: piece.foot - index * 1000 })),
    );
    const split = pieces.findIndex(({ text }) => text === "Back");
    const spot = (side: readonly ReadText[], tag: string) => {
      const found = side.find(({ text }) => text === tag);
      if (!found) throw new Error(`${tag} is not drawn`);
      return found;
    };
    const [front, back] = [pieces.slice(0, split), pieces.slice(split)];
    const tags = ["01", "02", "03"];
    const lefts = (side: readonly ReadText[]) => tags.map((tag) => spot(side, tag).left);
    expect(lefts(front)).toEqual(lefts(front).toSorted((a, b) => a - b));
    expect(lefts(back)).toEqual(lefts(back).toSorted((a, b) => b - a));
    for (const side of [front, back]) {
      expect(spot(side, "04").foot).toBeLessThan(spot(side, "01").foot);
      expect(spot(side, "04").left).toBeCloseTo(spot(side, "01").left, 1);
    }
  });

  it("tells a plug, a port seen empty and one that nobody looked at apart by sign and by word", async () => {
    const { pages, text } = await face();
    const signs = (sign: string) => pages[0]?.pieces.filter((piece) => piece.text === sign).length;
    expect([signs("●"), signs("○"), signs("?")]).toEqual([1, 1, 4]);
    for (const words of ["cord K-7 to LIB/101/SW-1:1#1", "seen empty", "not looked at"])
      expect(plain(text)).toContain(words);
  });

  it("puts a circuit that is not in service into brackets, where the box of a port is too small for its state", async () => {
    const other = await newPlant();
    for (const tag of ["ER", "CR"])
      await other.run("record.add", { kind: "space", values: { tag, kind: "telecom_room" } });
    await other.run("cable.enter", {
      ...{ tag: "F-1", units: [{ kind: "tube", repeats: 1, strands: 12, coating_um: "250" }] },
      stops: [{ space: "ER" }, { space: "CR" }],
    });
    const ports = [{ numbers: "01..24", connector: "lc_duplex", positions: 2 }];
    await other.run("panel.enter", { tag: "Z", space: "ER", rows: 1, ports });
    await other.run("strand.land", { strands: "F-1:1-4", ports: "ER/Z:01-02", method: "pigtail" });
    for (const [tag, state, what] of [
      ["K-006", "reserved", "F-1:1-2"],
      ["K-007", "in_service", "F-1:3-4"],
    ]) {
      await other.run("circuit.enter", { tag, strands: 2, state });
      await other.run("circuit.assign", { circuit: tag, what: [what] });
    }
    const read = await printedBack(other, "paper.panel_face", { panel: "ER/Z" });
    const pieces = read.pages[0]?.pieces.map(({ text }) => text) ?? [];
    expect(pieces).toEqual(expect.arrayContaining(["(K-006)", "K-007"]));
    expect(pieces.filter((text) => text.includes("…"))).toEqual([]);
    expect(plain(read.text)).toContain("in brackets one that is not in service");
    expect(plain(read.text)).toContain("K-006 (reserved)");
  });

  it("says position by position what is landed, in its colours, what rides, and the far end of its glass", async () => {
    const text = plain((await face()).text);
    expect(text).toContain("F-1:1 tube 1 blue BL, strand 1 blue BL");
    expect(text).toContain("12 positions: 4 landed behind, 2 given to circuits");
    expect(text).toMatch(/SCI\/B01\/B:2#2: front not looked at/);
    expect(text).toMatch(/C-1 F-1:1/);
  });

  it("says so where rows aren't on record, instead of making them up", async () => {
    const said = "Rows of ports are not on record";
    expect(plain((await face()).text)).not.toContain(said);
    const other = await newPlant();
    await other.run("panel.enter", { tag: "Z", ports: [{ numbers: "1..4", connector: "lc_duplex" }] });
    const { text } = await printedBack(other, "paper.panel_face", { panel: "Z" });
    expect(plain(text)).toContain(said);
    expect(plain(text)).toContain("Stands in nobody knows where");
  });
});

describe("the face of a panel of 72 duplex ports", () => {
  /** Landed on both ends of a cable of 144 strands in 12 tubes. */
  async function wide(): Promise<TestPlant> {
    const other = await newPlant();
    for (const tag of ["ER", "CR"])
      await other.run("record.add", { kind: "space", values: { tag, kind: "telecom_room" } });
    const units = [{ kind: "tube", repeats: 12, strands: 12, coating_um: "250" }];
    const stops = [{ space: "ER" }, { space: "CR" }];
    await other.run("cable.enter", { tag: "F-1", colour_sequence: "tia_598", units, stops });
    const ports = [{ numbers: "01..72", connector: "lc_duplex", positions: 2 }];
    for (const space of ["ER", "CR"]) {
      await other.run("panel.enter", { tag: "Z", space, rows: 3, ports });
      await other.run("strand.land", { strands: "F-1:1-144", ports: `${space}/Z:*`, method: "pigtail" });
    }
    return other;
  }

  it("has front and back on the first page, and its positions on five more, a line each", async () => {
    const { pages } = await printedBack(await wide(), "paper.panel_face", { panel: "ER/Z" });
    expect(pages).toHaveLength(6);
    expect(pages[0]?.text).toMatch(/Seen from the front.*Seen from behind/s);
    const pieces = pages.slice(1).flatMap((page) => page.pieces.map(({ text }) => text));
    expect(pieces.filter((text) => /^tube \d+ \w+ [A-Z]{2}, strand \d+ \w+ [A-Z]{2}$/.test(text))).toHaveLength(144);
    expect(pieces.filter((text) => /^CR\/Z:\d\d#[12]: front not looked at$/.test(text))).toHaveLength(144);
  });

  it("says once what each of its ports takes, and by row where they differ", async () => {
    const other = await wide();
    const heads = async () => (await printedBack(other, "paper.panel_face", { panel: "ER/Z" })).text;
    expect(await heads()).toContain("each port takes LC duplex");
    expect(await heads()).not.toContain("Takes");
    await other.run("record.edit", { kind: "port", id: "ER/Z:05", values: { condition: "damaged" } });
    expect(await heads()).toContain("Takes");
    expect(await heads()).toContain("LC duplex, damaged");
  });
});

describe("a layout of any face", () => {
  it("gives each port its own place on the sheet", () => {
    const port: FacePort = { tag: "1", sign: "?", lines: [] };
    const rows = fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(rows, fc.constantFrom("front" as const, "back" as const), (lengths, seen) => {
        const drawing = {
          panel: "A",
          seen,
          legend: "",
          rows: lengths.map((length) => Array.from({ length }, () => port)),
        };
        const { ports, cell, width, height } = layFace(drawing, 700);
        expect(ports).toHaveLength(lengths.reduce((sum, length) => sum + length, 0));
        expect(new Set(ports.map(({ x, y }) => `${Math.round(x)} ${Math.round(y)}`)).size).toBe(ports.length);
        for (const { x, y } of ports) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x + cell.width).toBeLessThanOrEqual(width + 1e-9);
          expect(y + cell.height).toBeLessThanOrEqual(height);
        }
        expect(width).toBeLessThanOrEqual(700);
      }),
    );
  });
});
