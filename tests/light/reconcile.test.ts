import { describe, expect, it } from "vitest";
import type { AnyValues } from "../../core/model/dictionary.ts";
import { cable, type Given, loss, makeLine, type Own, type Part } from "./made-line.ts";

const DIRECT = { method: "direct" };
const PIGTAIL = { method: "pigtail" };
const DAY = "2026-01-01";

/** How readings of one cable between two panels disagree with the record. */
async function disagreements(reading: object, more: { lands?: Given; type?: Given; metres?: number; own?: Own } = {}) {
  const lands = more.lands ?? DIRECT;
  const parts: Part[] = [cable(more.metres ?? 1000, "g652d", { lands: [lands, lands], type: more.type ?? {} })];
  const { made, what, ids } = makeLine(parts, more.own);
  const values = {
    tag: "M-1",
    method: "source_meter",
    subject_kind: "port",
    subject_id: ids.port[0],
    far_port_id: ids.port[1],
    wavelength_nm: 1310,
    measured_on: DAY,
    ...reading,
  };
  made.add("measurement", values as AnyValues);
  const answer = await loss(await made.plant(), what, { wavelength_nm: 1310 });
  return answer.lines[0]?.disagreements ?? [];
}

describe("a measured loss", () => {
  it("above all the record allows points to plugs that nobody measured", async () => {
    // 1 km at 0.4 and two pairs of 0.75 are 1.9 at most; instruments differ by 0.25.
    expect(await disagreements({ loss_db: 2.15 })).toEqual([]);
    expect(await disagreements({ loss_db: 2.16 })).toMatchObject([
      {
        what: "loss",
        measured: 2.16,
        most: 1.9,
        tolerance: 0.25,
        look_first: { kind: "port", tag: "B/R0/P0:01" },
        why: "plugs get dirty: clean and measure them first",
      },
    ]);
  });
  it("points to a joint where the plugs were measured, and to the reading where all was", async () => {
    const measured = { ...DIRECT, loss_db: 0.2, loss_basis: "both_ways" };
    const own = { "attenuation.g652d.1310": 0.4 };
    const [all] = await disagreements({ loss_db: 3 }, { lands: measured, own });
    expect(all).toMatchObject({ look_first: { kind: "measurement", tag: "M-1" } });
    const [one] = await disagreements({ loss_db: 3, reference_method: "three_cords" }, { lands: PIGTAIL });
    expect(one).toMatchObject({ look_first: { kind: "termination" }, why: "it is a joint that nobody measured" });
  });
  it("below what the glass alone must lose points to the glass", async () => {
    // 10 km lose 3.1 dB at least.
    expect(await disagreements({ loss_db: 2.9 }, { metres: 10_000 })).toEqual([]);
    expect(await disagreements({ loss_db: 2.8 }, { metres: 10_000 })).toMatchObject([
      { what: "loss", least: 3.1, look_first: { kind: "section" } },
    ]);
  });
});

describe("a measured length", () => {
  it("within metres and ratio of the recorded one agrees, beyond them it points to the way that stands in for marks", async () => {
    expect(await disagreements({ length_m: 1025 })).toEqual([]);
    expect(await disagreements({ length_m: 1025.1 })).toMatchObject([
      { what: "length", measured: 1025.1, most: 1000, tolerance: 25, look_first: { kind: "pathway", tag: "W0" } },
    ]);
  });
  it("by a wrong index points to the reading, with the length by the cable's own", async () => {
    const type = { index_1310: 1.4677 };
    const [found] = await disagreements({ length_m: 1030, group_index: 1.43 }, { type });
    expect(found?.look_first).toMatchObject({ kind: "measurement" });
    expect(found?.why).toMatch(
      /^the instrument was set to index 1\.43; by the cable's own index 1\.4677 it would be 1003\.\d+ m/,
    );
    const [other] = await disagreements({ length_m: 1200, group_index: 1.43 }, { type });
    expect(other?.look_first).toMatchObject({ kind: "pathway" });
  });
  it("says nothing where the record lacks a length, or the plant's tolerance allows it", async () => {
    expect(await disagreements({ length_m: 3000 }, { type: { excess_ratio: undefined } })).toEqual([]);
    expect(await disagreements({ length_m: 1200 }, { own: { "tolerance.length_m": 500 } })).toEqual([]);
  });
});
