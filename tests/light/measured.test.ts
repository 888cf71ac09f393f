import { describe, expect, it } from "vitest";
import type { LossAnswer } from "../../core/light/answer.ts";
import type { AnyValues } from "../../core/model/dictionary.ts";
import { Made } from "../glass/made.ts";
import { cable, cord, kindsOf, loss, makeLine, optic, type Part, splice } from "./made-line.ts";

const DIRECT = { method: "direct" };
const lands = [DIRECT, DIRECT] as const;

/** Optic, cord, panel, two cables spliced, panel, cord, optic; every joint made on 2024-03-01. */
const PARTS: readonly Part[] = [
  optic(),
  cord(2),
  cable(500, "g652d", { lands: [{ ...DIRECT, made_on: "2024-03-01" }] }),
  splice({ made_on: "2024-03-01" }),
  cable(500, "g652d", { lands: [undefined, { ...DIRECT, made_on: "2024-03-01" }] }),
  cord(2),
  optic(),
];

/** What a line loses with readings from its first panel port to its last. */
async function withReadings(readings: readonly object[], asked: object = {}, parts = PARTS): Promise<LossAnswer> {
  const { made, what, ids } = makeLine(parts);
  for (const [at, reading] of readings.entries()) {
    const values = {
      tag: `M-${at + 1}`,
      method: "source_meter",
      subject_kind: "port",
      subject_id: ids.port[0],
      far_port_id: ids.port.at(-1),
      wavelength_nm: 1310,
      reference_method: "one_cord",
      measured_on: "2025-05-05",
      ...reading,
    };
    made.add("measurement", values as AnyValues);
  }
  return loss(await made.plant(), what, { wavelength_nm: 1310, ...asked });
}

describe("a measured stretch", () => {
  it("stands for its parts, both end pairs in by one cord, and names them", async () => {
    const answer = await withReadings([{ loss_db: 0.9 }]);
    expect(kindsOf(answer)).toBe("cord measured cord");
    expect(answer.terms[1]).toMatchObject({
      loss_db: 0.9,
      basis: "measured",
      record: { kind: "measurement", tag: "M-1" },
    });
    expect(answer.terms[1]?.replaces.map(({ kind }) => kind)).toEqual(["pair", "glass", "splice", "glass", "pair"]);
    expect(answer.terms[1]?.source).toBe("M-1, light source and meter, 5 May 2025, reference by one cord");
    expect(answer.lines[0]?.losses[0]?.by_basis.measured).toBe(0.9);
  });
  it("leaves pairs out that its reference left out: by two cords the far one, by three both", async () => {
    const two = await withReadings([{ loss_db: 0.9, reference_method: "two_cords", direction: "a_to_b" }]);
    expect(kindsOf(two)).toBe("cord measured pair cord");
    const back = await withReadings([{ loss_db: 0.9, reference_method: "two_cords", direction: "b_to_a" }]);
    expect(kindsOf(back)).toBe("cord pair measured cord");
    const three = await withReadings([{ loss_db: 0.9, reference_method: "three_cords" }]);
    expect(kindsOf(three)).toBe("cord pair measured pair cord");
  });
  it("holds the cords where they were included", async () => {
    expect(kindsOf(await withReadings([{ loss_db: 1.2, cords_included: "yes" }]))).toBe("measured");
  });
  it("is the mean of both ways", async () => {
    const answer = await withReadings([
      { loss_db: 3.42, direction: "a_to_b" },
      { loss_db: 3.68, direction: "b_to_a" },
    ]);
    // [K-OSP: 3.42 and 3.68 of a whole link are 3.55]
    expect(answer.terms[1]).toMatchObject({ loss_db: 3.55, rests_on: [{ tag: "M-2" }] });
    expect(answer.terms[1]?.source).toMatch(/^mean of both ways: M-1, .*; M-2, /);
    expect(answer.lines[0]?.acceptance[0]?.mean_db).toBe(3.55);
  });
  it("is the newest of several", async () => {
    const answer = await withReadings([
      { loss_db: 0.9, measured_on: "2024-09-01" },
      { loss_db: 1.1, measured_on: "2025-09-01" },
      { loss_db: 1, measured_on: "2025-02-01" },
    ]);
    expect(answer.terms[1]).toMatchObject({ loss_db: 1.1, record: { tag: "M-2" } });
  });
  it("of a section alone stands for its glass and the pair it lands on", async () => {
    const answer = await withReadings([
      { loss_db: 0.5, subject_kind: "section", subject_id: 1, far_port_id: undefined },
    ]);
    expect(kindsOf(answer)).toBe("cord measured splice glass pair cord");
  });
  it("of a circuit stands for its whole link", async () => {
    const { made, what, ids } = makeLine(PARTS);
    const circuit = made.circuit("K-1", ids.section);
    made.add("measurement", {
      tag: "M-1",
      method: "source_meter",
      subject_kind: "circuit",
      subject_id: circuit,
      wavelength_nm: 1310,
      loss_db: 0.7,
      measured_on: "2025-01-01",
    });
    const answer = await loss(await made.plant(), what, { wavelength_nm: 1310 });
    expect(kindsOf(answer)).toBe("cord measured cord");
    expect(answer.terms[1]?.source).toMatch(/reference not on record, taken as one cord$/);
  });
  it("makes whole what could not be reckoned", async () => {
    const parts: Part[] = [cable(undefined, "g652d", { lands })];
    const answer = await withReadings([{ loss_db: 0.6 }], {}, parts);
    expect(answer).toMatchObject({ loss_db: 0.6, complete: true, unknown: [] });
  });
});

describe("a reading of a port with two positions", () => {
  it("is of the first: the other strand is reckoned, and that is said", async () => {
    const made = new Made();
    const [a, b] = [made.room("A", null), made.room("B", null)];
    const type = made.add("cable_type", {
      tag: "T",
      colour_sequence: "tia_598",
      fibre_class: "g652d",
      excess_ratio: 0,
    });
    const { sections } = made.cable("F", [a, b], 2, {
      values: { type_id: type },
      ways: [made.pathway("W", a, b, 100)],
    });
    const [near, far] = [made.panel("P", a, 1, 2), made.panel("P", b, 1, 2)];
    for (const n of [0, 1]) {
      made.land(sections[n], "A", near.positions[n], DIRECT);
      made.land(sections[n], "B", far.positions[n], DIRECT);
    }
    const reading = { method: "source_meter", wavelength_nm: 1310, loss_db: 0.4, measured_on: "2026-01-01" };
    made.add("measurement", {
      tag: "M-1",
      subject_kind: "port",
      subject_id: near.ports[0],
      far_port_id: far.ports[0],
      ...reading,
    });
    const circuit = made.circuit("K", sections, { strands: 2 });
    const plant = await made.plant();
    const [first, second] = (await loss(plant, "A/P:01", { wavelength_nm: 1310 })).lines;
    expect(first?.losses[0]?.terms.map(({ kind }) => kind)).toEqual(["measured"]);
    expect(first?.doubts).toEqual([
      "Nothing M-1 ran through has a day on record: it is used as if nothing had changed since.",
    ]);
    expect(second?.losses[0]?.by_basis.measured).toBe(0);
    expect(second?.doubts).toEqual(["M-1 is of A/P:01 and counts for its first position; this is another."]);

    await plant.write([
      { op: "update", kind: "measurement", id: 1, values: { subject_kind: "circuit", subject_id: circuit } },
    ]);
    const whole = (await loss(plant, "K", { wavelength_nm: 1310 })).lines;
    expect(whole.map(({ losses }) => losses[0]?.by_basis.measured)).toEqual([0.4, 0]);
  });
});

describe("a reading is not used", () => {
  const unused = async (reading: object, parts = PARTS) => {
    const answer = await withReadings([reading], {}, parts);
    expect(kindsOf(answer)).not.toContain("measured");
    return answer.lines[0]?.doubts;
  };
  it("where something on its stretch is newer", async () => {
    expect(await unused({ loss_db: 0.9, measured_on: "2023-01-01" })).toEqual([
      expect.stringMatching(/^M-1 of 1 Jan 2023 is older than .* of 1 Mar 2024: it isn't used\.$/),
    ]);
  });
  it("where a cord within it came later", async () => {
    const parts = [...PARTS];
    parts[1] = cord(2, { life_from: "2025-08-01" });
    expect(await unused({ loss_db: 0.9, cords_included: "yes" }, parts)).toEqual([
      expect.stringMatching(/^M-1 of 5 May 2025 is older than cord .* of 1 Aug 2025/),
    ]);
    expect(kindsOf(await withReadings([{ loss_db: 0.9 }], {}, parts))).toBe("cord measured cord");
  });
  it("where the cable was laid since, though nothing else says so", async () => {
    const { made, what, ids } = makeLine([cable(500, "g652d", { lands })]);
    const reading = { method: "source_meter", wavelength_nm: 1310, loss_db: 0.4, measured_on: "2023-01-01" };
    made.add("measurement", {
      tag: "M-1",
      subject_kind: "section",
      subject_id: ids.section[0],
      ...reading,
    } as AnyValues);
    const plant = await made.plant();
    const ask = async () => (await loss(plant, what, { wavelength_nm: 1310 })).lines[0];
    expect((await ask())?.losses[0]?.terms.map(({ kind }) => kind)).toEqual(["measured"]);
    expect((await ask())?.doubts).toEqual([
      "Nothing M-1 ran through has a day on record: it is used as if nothing had changed since.",
    ]);
    const laid = async (installed_on: string) =>
      plant.write([{ op: "update", kind: "cable", id: 1, values: { installed_on } }]);
    await laid("2022-11-01");
    expect((await ask())?.losses[0]?.by_basis.measured).toBe(0.4);
    expect((await ask())?.doubts).toEqual([]);
    await laid("2024-06-01");
    expect((await ask())?.losses[0]?.by_basis.measured).toBe(0);
    expect((await ask())?.doubts).toEqual(["M-1 of 1 Jan 2023 is older than F-0:1 of 1 Jun 2024: it isn't used."]);
  });
  it("without a day, where parts have one", async () => {
    expect(await unused({ loss_db: 0.9, measured_on: undefined })).toEqual([expect.stringMatching(/^M-1 has no day/)]);
  });
  it("at another wavelength, and silently; without one it is said", async () => {
    expect(await unused({ loss_db: 0.9, wavelength_nm: 1550 })).toEqual([]);
    expect(await unused({ loss_db: 0.9, wavelength_nm: undefined })).toEqual([
      "M-1 names no wavelength: it isn't used.",
    ]);
  });
  it("where it says that glass gives light", async () => {
    expect(await unused({ loss_db: -0.2 })).toEqual([
      "M-1 says -0.2 dB, a gain: no stretch of glass adds light, so it isn't used.",
    ]);
  });
});

describe("contradictory readings", () => {
  it("of one stretch are told; the newer is used, or the greater of one day", async () => {
    const answer = await withReadings([{ loss_db: 1.5 }, { loss_db: 0.9 }]);
    expect(answer.terms[1]).toMatchObject({ loss_db: 1.5 });
    expect(answer.lines[0]?.doubts).toEqual([
      "M-1 (1.5 dB) and M-2 (0.9 dB) contradict each other by 0.6 dB over one stretch; the newer is used, or the greater of one day.",
    ]);
  });
  it("within what instruments differ by are none", async () => {
    expect((await withReadings([{ loss_db: 1 }, { loss_db: 1.25 }])).lines[0]?.doubts).toEqual([]);
  });
});

describe("acceptance", () => {
  it("holds a reading against the limit by its own reference method", async () => {
    const answer = await withReadings([{ loss_db: 1.5 }, { loss_db: 0.8, reference_method: "three_cords" }], {
      edition: "tia_568_3_d",
    });
    const [accepted] = answer.lines[0]?.acceptance ?? [];
    // 1 km at 0.4, one splice of 0.3, and by one cord two end joints of 0.5.
    expect(accepted?.limit_db).toBe(1.7);
    expect(accepted?.measurements).toMatchObject([
      { loss_db: 1.5, limit_db: 1.7, passes: true, margin_db: 0.2 },
      { loss_db: 0.8, limit_db: 0.7, passes: false, margin_db: -0.1 },
    ]);
  });
  it("counts no loss on record: the formula is the same whatever was measured", async () => {
    const parts = [...PARTS];
    parts[3] = splice({ loss_ab_db: 0.01, loss_ba_db: 0.01, loss_basis: "both_ways" });
    const answer = await withReadings([], { edition: "tia_568_3_d" }, parts);
    expect(answer.lines[0]?.acceptance[0]?.limit_db).toBe(1.7);
  });
  it("is what its printed formula adds up to, with the source of each value, whatever the cores", async () => {
    const parts = [cable(500, "om1", { lands }), splice(), cable(300, "om2", { lands })];
    const answer = await withReadings([], { wavelength_nm: 850, edition: "tia_568_3_d" }, parts);
    expect(answer.terms.some(({ kind }) => kind === "core_mismatch")).toBe(true);
    const [accepted] = answer.lines[0]?.acceptance ?? [];
    expect(accepted?.formula).toBe(
      "TIA-568.3-D, reference by one cord: 800 m of glass at 3.5 dB/km + 2 end joints at 0.3 dB + 1 splice at 0.3 dB" +
        "; what light loses from one core into another is not in it",
    );
    expect(accepted?.limit_db).toBe(3.7);
    expect(accepted?.parts.map(({ loss_db }) => loss_db)).toEqual([2.8, 0.6, 0.3]);
    expect(accepted?.parts[0]?.source).toMatch(/ISO\/IEC 11801, as restated.*ISO\/IEC 11801 \(from memory\)/);
    expect(accepted?.parts[1]?.source).toMatch(/^An instrument maker's note/);
  });
  it("says what it lacks where a length is not on record", async () => {
    const answer = await withReadings([], {}, [cable(undefined, "g652d", { lands })]);
    const [accepted] = answer.lines[0]?.acceptance ?? [];
    expect(accepted).toMatchObject({ limit_db: null, complete: false });
    expect(accepted?.formula).toMatch(/: glass of unknown length at 0\.4 dB\/km \+ 2 end joints at 0\.5 dB$/);
  });
  it("is by the edition the plant chose", async () => {
    const { made, what } = makeLine(PARTS);
    made.add("limit_value", {
      tag: "acceptance.edition",
      edition: "ISO/IEC 14763-3:2014, corrected 2015",
      reason: "the contract names it",
    });
    const answer = await loss(await made.plant(), what, { wavelength_nm: 1310, as: "link" });
    expect(answer.edition).toBe("iso_14763_3_2015");
    expect(answer.edition_words).toBe(
      "ISO/IEC 14763-3:2014, corrected 2015, the plant's choice: the contract names it",
    );
    expect(answer.sentence).toContain(" By ISO/IEC 14763-3:2014, corrected 2015, reference by one cord.");
    expect(answer.lines[0]?.acceptance[0]?.limit_db).toBe(2.2);
  });
  it("says where the plant's choice is no edition on the list", async () => {
    const { made, what } = makeLine(PARTS);
    made.add("limit_value", { tag: "acceptance.edition", edition: "Ours" });
    const answer = await loss(await made.plant(), what, { wavelength_nm: 1310, as: "link" });
    expect(answer.sentence).toMatch(/ By TIA-568\.3-E, reference by one cord\.$/);
    expect(answer.edition_words).toBe(`TIA-568.3-E; the plant's choice "Ours" is not an edition on the list`);
  });
});
