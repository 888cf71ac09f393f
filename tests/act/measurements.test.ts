import { describe, expect, it } from "vitest";
import type { LossAnswer } from "../../core/light/answer.ts";
import type { Problem } from "../../core/result.ts";
import { cable, makeLine } from "../light/made-line.ts";

const DIRECT = { method: "direct" };

/** One cable between two panels, and what taking readings over answers. */
async function plantOf() {
  const { made } = makeLine([cable(500, "g652d", { lands: [DIRECT, DIRECT] })]);
  const plant = await made.plant();
  const read = (csv: string, more: object = {}) =>
    plant.call<{ answer: object; notices: string[] }>("measurement.read", { csv, measured_on: "2026-01-02", ...more });
  const problems = async (csv: string, more: object = {}): Promise<Pick<Problem, "row" | "field" | "reason">[]> => {
    const reply = await read(csv, more);
    if (reply.ok) throw new Error("was taken over");
    return reply.error.problems.map(({ row, field, reason }) => ({
      ...(row ? { row } : {}),
      ...(field ? { field } : {}),
      reason,
    }));
  };
  const rows = (kind: string) =>
    plant.read((reader) => reader.rows<Record<string, unknown>>(`select * from ${kind} order by id`));
  return { plant, read, problems, rows };
}

describe("readings of a light source and meter", () => {
  it("become measurements with the next free numbers, and stand for what they measured", async () => {
    const { plant, read, rows } = await plantOf();
    const csv = "of,wavelength_nm,direction,loss_db\r\nF-0:1,1310,A to B,0.61\r\nF-0:1,1310,b_to_a,0.65\r\n";
    expect(await read(csv, { reference_method: "one_cord", measured_by: "crew 3" })).toMatchObject({
      ok: true,
      value: { answer: { added: 2, known: 0, tags: ["M-0001", "M-0002"] } },
    });
    expect(await rows("measurement")).toMatchObject([
      {
        tag: "M-0001",
        method: "source_meter",
        direction: "a_to_b",
        loss_db: 0.61,
        measured_by: "crew 3",
        basis: "measured",
      },
      { tag: "M-0002", direction: "b_to_a", reference_method: "one_cord", measured_on: "2026-01-02" },
    ]);
    const answer = await plant.run<LossAnswer>("light.loss", { what: "F-0:1", wavelength_nm: 1310 });
    expect(answer).toMatchObject({ loss_db: 0.63, terms: [{ kind: "measured" }] });
  });
  it("are found under what an instrument calls them", async () => {
    const { read, rows } = await plantOf();
    const csv = "\uFEFFFiber,IL (dB),Nm\nF-0:1,0.4,1550\n";
    await read(csv, { columns: { of: "fiber", loss_db: "IL (dB)", wavelength_nm: "nm" } });
    expect(await rows("measurement")).toMatchObject([{ loss_db: 0.4, wavelength_nm: 1550 }]);
  });
  it("that are on record are left out, and that is said", async () => {
    const { read, rows } = await plantOf();
    const csv = "of,wavelength_nm,loss_db\nF-0:1,1310,0.5\n";
    await read(csv);
    expect(await read(`${csv}F-0:1,1550,0.4\n`)).toMatchObject({
      value: {
        answer: { added: 1, known: 1, tags: ["M-0002"] },
        notices: ["Row 2 is on record as M-0001 and is left out."],
      },
    });
    expect(await rows("measurement")).toHaveLength(2);
  });
  it("may be parted by semicolons or tabs, with decimal commas", async () => {
    const { read, rows } = await plantOf();
    await read('sep=;\r\nof;wavelength_nm;loss_db;length_m\r\nF-0:1;1310;0,61;501,5\r\nF-0:1;1550;"1,234";500\r\n');
    await read("of\twavelength_nm\tloss_db\nF-0:1\t1300\t0,7\n");
    await read("of;loss_db\nF-0:1;0.8\n", { wavelength_nm: 850 });
    expect(await rows("measurement")).toMatchObject([
      { wavelength_nm: 1310, loss_db: 0.61, length_m: 501.5 },
      { wavelength_nm: 1550, loss_db: 1.234, length_m: 500 },
      { wavelength_nm: 1300, loss_db: 0.7 },
      { wavelength_nm: 850, loss_db: 0.8 },
    ]);
  });
  it("are refused where decimals are written in two ways, or with a comma between commas", async () => {
    const { problems, rows } = await plantOf();
    const two = "writes its decimals otherwise than the rows above: with a comma, and with a point";
    expect(await problems("of;loss_db\nF-0:1;0.5\nF-0:1;1,234\n")).toEqual([{ row: 3, field: "loss_db", reason: two }]);
    expect(await problems("of;loss_db\nF-0:1;1.234,5\n")).toEqual([
      { row: 2, field: "loss_db", reason: "is not a number" },
    ]);
    expect(await problems('of,loss_db\nF-0:1,"0,5"\n')).toEqual([
      { row: 2, field: "loss_db", reason: "is not a number" },
    ]);
    expect(await rows("measurement")).toEqual([]);
  });
  it("are refused as a whole, with each row, column and reason", async () => {
    const { problems, rows } = await plantOf();
    const csv = "of,loss_db,direction\nF-404:1,0.5,\nF-0:1,much,\nF-0:1,-0.3,sideways\n,0.2,\n";
    expect(await problems(csv)).toEqual([
      { row: 2, field: "of", reason: expect.any(String) },
      { row: 3, field: "loss_db", reason: "is not a number" },
      { row: 4, field: "loss_db", reason: "is below zero: a link gives no light, so the reference was not kept" },
      { row: 4, field: "direction", reason: "must be one of a_to_b, b_to_a, both" },
      { row: 5, field: "of", reason: "is missing" },
    ]);
    expect(await rows("measurement")).toEqual([]);
  });
  it("are refused where the heading lacks a column, or nothing follows it", async () => {
    const { problems } = await plantOf();
    expect(await problems("of,level\nF-0:1,1\n")).toEqual([
      { row: 1, field: "loss_db", reason: 'has no column "loss_db" in the heading' },
    ]);
    expect(await problems("of,loss_db\n")).toEqual([{ row: 1, field: "csv", reason: "has no rows below the heading" }]);
  });
  it("are refused where a value breaks its field's rule", async () => {
    const { problems } = await plantOf();
    expect(await problems("of,loss_db,measured_on\nF-0:1,900,2026-13-40\n")).toEqual(
      expect.arrayContaining([expect.objectContaining({ row: 2, reason: expect.stringMatching(/80/) })]),
    );
  });
});

describe("the events of a trace", () => {
  it("become one measurement with its events, as long as its end is far", async () => {
    const { plant, rows } = await plantOf();
    const csv = "kind,distance_m,loss_db,reflectance_db\nlaunch,0,,-52\ngain,210.5,-0.08,\nend,500.9,,-40\n";
    const input = { of: "F-0:1", csv, wavelength_nm: 1310, direction: "a_to_b", group_index: 1.4677, loss_db: 0.4 };
    expect(await plant.run("measurement.read_events", input)).toMatchObject({
      answer: { tag: "M-0001", events: 3, length_m: 500.9 },
    });
    expect(await rows("measurement")).toMatchObject([{ method: "otdr", length_m: 500.9, group_index: 1.4677 }]);
    expect(await rows("measurement_event")).toMatchObject([
      { ordinal: 1, kind: "launch", distance_m: 0, reflectance_db: -52 },
      { ordinal: 2, kind: "gain", loss_db: -0.08 },
      { ordinal: 3, kind: "end" },
    ]);
  });
  it("are refused where distances go back or below zero", async () => {
    const { plant } = await plantOf();
    const csv = "distance_m\n-1\n300\n200\nfar\n";
    const reply = await plant.call("measurement.read_events", { of: "F-0:1", csv });
    expect(reply).toMatchObject({
      ok: false,
      error: {
        code: "bad_input",
        problems: [
          { row: 2, reason: "is below zero" },
          { row: 4, record: "200 m", reason: "comes before the 300 m above it" },
          { row: 5, record: "far", reason: "is not a number" },
        ],
      },
    });
  });
});
