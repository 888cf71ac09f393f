/** Where a packet sends a crew that has never been there: the break on the ground, and the marks at which sheath is cut. */
import { describe, expect, it } from "vitest";
import { packetDocument } from "../../core/jobs/packet-document.ts";
import type { Document } from "../../core/paper/document.ts";
import { packet, planned } from "./packets.ts";

describe("a crew that has only the packet", () => {
  it("tells where the break is, by the line of its way, and draws the ground around it with the break marked", async () => {
    // The line runs due north; four tenths of it are 0.0004 degrees.
    const geometry = [
      [10, 50],
      [10, 50.001],
    ];
    const plant = await planned(({ edit }) => edit("pathway", "DB-2", { geometry, accuracy_m: 2 }));
    const { breaks } = await packet(plant);
    expect(breaks).toMatchObject([
      { pathway: { tag: "DB-2" }, cables: [{ tag: "F-050" }], from: "H-1", from_m: 40, spot: { accuracy_m: 2 } },
    ]);
    expect(breaks[0]?.spot?.latitude).toBeCloseTo(50.0004, 7);
    const { blocks } = await plant.run<Document>("job.print", { job: "J-1" });
    const drawn = blocks.flatMap((block) => (block.is === "campus" ? [block.drawing] : []));
    expect(drawn).toHaveLength(1);
    const [west = 0, south = 0, east = 0, north = 0] = drawn[0]?.extent_m ?? [];
    const [cross] = drawn[0]?.marks.filter(({ shape }) => shape === "break") ?? [];
    expect(cross?.at[0]).toBeGreaterThan(west);
    expect(cross?.at[0]).toBeLessThan(east);
    expect(cross?.at[1]).toBeGreaterThan(south);
    expect(cross?.at[1]).toBeLessThan(north);
    expect(JSON.stringify(blocks)).toContain("A plan does not replace locating");
  });

  it("sees the break by itself first where the places lie far apart", async () => {
    const geometry = [
      [10, 50],
      [10, 50.001],
    ];
    const plant = await planned(async ({ edit }) => {
      await edit("pathway", "DB-2", { geometry, accuracy_m: 2 });
      await edit("space", "LIB/101", { longitude: 10, latitude: 50.02 });
    });
    const { blocks } = await plant.run<Document>("job.print", { job: "J-1" });
    const drawn = blocks.flatMap((block) => (block.is === "campus" ? [block.drawing] : []));
    const [near, whole] = drawn.map(({ extent_m: [, south, , north] }) => north - south);
    expect(near).toBeLessThan(200);
    expect(whole).toBeGreaterThan(2000);
    for (const { marks, names } of drawn) {
      expect(marks.filter(({ shape }) => shape === "break")).toHaveLength(1);
      expect(names.map(({ text }) => text)).toContain("the break");
    }
    expect(drawn[0]?.names.map(({ text }) => text)).not.toContain("LIB/101");
    expect(drawn[1]?.names.map(({ text }) => text)).toContain("LIB/101");
  });

  it("draws no ground where nothing of it is on record", async () => {
    const { blocks } = await (await planned()).run<Document>("job.print", { job: "J-1" });
    expect(blocks.filter(({ is }) => is === "campus")).toEqual([]);
  });

  it("says at which marks the sheath is cut where it is spliced, and when a splice is good enough", async () => {
    const plant = await planned();
    const { steps, splice_limit } = await packet(plant);
    const move = steps.find(({ act }) => act === "cable.move_cut");
    const { places = [] } = (move?.input ?? {}) as {
      readonly places?: readonly { readonly mark_open_from?: number; readonly mark_open_to?: number }[];
    };
    const ends = places.find((one) => one.mark_open_from !== undefined);
    expect(move?.words.replaceAll("\u202f", "")).toContain(
      `to work with, cut at marks ${ends?.mark_open_from} and ${ends?.mark_open_to} m)`,
    );
    // TIA-568.3 and ISO/IEC 11801-1, as restated in a technician's course.
    expect(splice_limit?.db).toBe(0.3);
    expect(JSON.stringify(packetDocument(await packet(plant), null, null))).toMatch(
      /loses more than 0\.3 dB is made anew/,
    );
  });
});
