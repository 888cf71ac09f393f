import { describe, expect, it } from "vitest";
import type { ApplicationVerdict } from "../../core/light/answer.ts";
import { Refusal } from "../../core/result.ts";
import {
  cable,
  cord,
  type Given,
  loss,
  lossOf,
  makeLine,
  module,
  type Own,
  optic,
  type Part,
  splice,
} from "./made-line.ts";

const DIRECT = { method: "direct" };
const lands = [DIRECT, DIRECT] as const;
const channel = (...cables: readonly Part[]): Part[] => [optic(), cord(0), ...cables, cord(0), optic()];

async function verdict(application: string, parts: readonly Part[], own: Own = {}): Promise<ApplicationVerdict> {
  const { line } = await lossOf(parts, { application }, own);
  return line.applications[0] as ApplicationVerdict;
}

describe("an application", () => {
  it("runs where loss, length and class are met, with a margin in decibels and metres", async () => {
    // 0.3 km at 3.0 and two pairs of 0.75, of 2.6 dB at worst; pairs of 0.5 as usual.
    expect(await verdict("10gbase-sr", channel(cable(290, "om3", { lands })))).toMatchObject({
      application: "10GBASE-SR",
      runs: "yes",
      runs_at_worst: "yes",
      fibre_class: "om3",
      wavelengths_nm: [850],
      loss_db: 1.87,
      margin_db: 0.73,
      worst_loss_db: 2.37,
      worst_margin_db: 0.23,
      margin_m: 10,
      reasons: [],
    });
  });
  it("does not run on glass it isn't made for", async () => {
    expect(await verdict("10GBASE-LR", channel(cable(100, "om3", { lands })))).toMatchObject({
      runs: "no",
      reasons: ["it isn't made for OM3 50/125"],
    });
  });
  it("has the length of the lowest of mixed classes", async () => {
    const mixed = channel(cable(50, "om4", { lands }), cord(0), cable(50, "om2", { lands }));
    expect(await verdict("10GBASE-SR", mixed)).toMatchObject({
      fibre_class: "om2",
      limit_m: 82,
      runs: "no",
      reasons: expect.arrayContaining(["length 100 m is more than 82 m"]),
    });
  });
  it("uses the next lower class of the same core where a class has no row", async () => {
    expect(await verdict("10GBASE-SR", channel(cable(100, "om5", { lands })))).toMatchObject({ limit_m: 400 });
  });
  it("does not run where single-mode and multimode glass are joined", async () => {
    const mixed = channel(cable(50, "om4", { lands }), cord(0), cable(50, "os2", { lands }));
    expect((await verdict("10GBASE-SR", mixed)).reasons).toEqual(["single-mode and multimode glass are joined on it"]);
  });
  it("can't be told where a part isn't known, and fails in any case where what is known is too much", async () => {
    const unknown = channel(cable(undefined, "om3", { lands }));
    expect(await verdict("10GBASE-SR", unknown)).toMatchObject({
      runs: "cannot_tell",
      margin_db: null,
      margin_m: null,
      reasons: ["not all of the loss is known", "not all of the length is known"],
    });
    const longer = channel(cable(undefined, "om3", { lands }), cord(0), cable(400, "om3", { lands }));
    expect(await verdict("10GBASE-SR", longer)).toMatchObject({ runs: "no" });
    expect(await verdict("10GBASE-SR", channel(cable(100, undefined, { lands })))).toMatchObject({
      runs: "cannot_tell",
      reasons: ["the class of some of its fibre is not on record"],
    });
  });
  it("is told of what is on record where a cord is to come: that is said, and the length isn't complete", async () => {
    const bare = [optic(), cord(0), cable(290, "om3", { lands })];
    const lit = await verdict("10GBASE-SR", channel(cable(290, "om3", { lands })));
    expect(lit).toMatchObject({ length_complete: true, margin_m: 10, assumptions: [] });
    const to_come = "No cord is on record in front of B/END/P3:01: its pair is counted, its glass isn't.";
    for (const as of ["link", "channel"]) {
      const { line } = await lossOf(bare, { application: "10GBASE-SR", as });
      expect(line.applications).toMatchObject([
        { runs: "yes", loss_db: 1.87, length_m: 290, length_complete: false, margin_m: null, assumptions: [to_come] },
      ]);
      expect(line.assumptions).toContain(to_come);
      expect(line.assumptions.join(" ")).toMatch(/equipment/i);
      // The link itself ends at its ports: nothing is to come there.
      expect(line.ends_bare).toBe(as === "channel");
    }
  });
  it("that needs some loss does not run where there is less", async () => {
    const verdictOf = (db: number) =>
      verdict("GPON B+", [
        optic(),
        cord(0),
        module(db, "attenuator"),
        cable(1000, "g652d", { lands }),
        cord(0),
        optic(),
      ]);
    // At 1490 nm no least attenuation is on record: only the attenuator is sure. Plugs and glass may lose next to nothing.
    expect((await verdictOf(2)).reasons[0]).toBe(
      "it may lose no more than 2 dB, which is less than the 13 dB it needs",
    );
    expect(await verdictOf(12.9)).toMatchObject({ runs: "no", runs_at_worst: "no", worst_loss_db: 15.55 });
    expect(await verdictOf(13)).toMatchObject({ runs: "yes", runs_at_worst: "yes" });
  });
  it("may be the plant's own, and rests on its records", async () => {
    const own = { "application.OURS.om4.loss_db": 3, "application.OURS.om4.length_m": 500 };
    const answer = await verdict("ours", channel(cable(100, "om4", { lands })), own);
    expect(answer).toMatchObject({ application: "OURS", runs: "yes", limit_db: 3 });
    expect(answer.rests_on.map(({ tag }) => tag)).toEqual([
      "application.OURS.om4.loss_db",
      "application.OURS.om4.length_m",
    ]);
  });
  it("is refused where no limits are on record", async () => {
    const asked = lossOf([cable(1, "om3")], { application: "NONESUCH" });
    await expect(asked).rejects.toThrow(Refusal);
    await expect(asked).rejects.toMatchObject({
      failure: { code: "bad_input", problems: [{ field: "application", record: "NONESUCH" }] },
    });
  });
});

describe("what a line can carry", () => {
  it("is told for every application made for its glass, those that are wanted first", async () => {
    const { line } = await lossOf([
      optic({ application: "40GBASE-SR4" }),
      ...channel(cable(50, "om3", { lands })).slice(1),
    ]);
    expect(line.applications[0]).toMatchObject({ application: "40GBASE-SR4", wanted: true });
    expect(line.applications.some(({ application }) => application === "10GBASE-SR")).toBe(true);
    expect(line.applications.some(({ application }) => application === "10GBASE-LR")).toBe(false);
  });
  it("says where equipment names what has no limits on record", async () => {
    const { line } = await lossOf([optic({ application: "Telex" }), ...channel(cable(50, "om3", { lands })).slice(1)]);
    expect(line.doubts).toContain('"Telex" is on record as an application, and has no limits on record.');
  });
});

describe("light between two optics", () => {
  const powered = async (from: Given, to: Given, parts: readonly Part[] = [cable(300, "g652d", { lands })]) => {
    const line = [optic({ wavelength_nm: 1310, ...from }), cord(0), ...parts, cord(0), optic(to)];
    return (await lossOf(line)).line.powers[0];
  };
  it("is too much where launch less least loss is above what the receiver bears: a warning, with an attenuator", async () => {
    // 300 m at 0.31 dB/km is all that is sure: 4.0 less 0.093 arrives.
    const power = await powered({ launch_max_dbm: 4, launch_min_dbm: 0 }, { overload_dbm: -1, sensitivity_dbm: -15.8 });
    expect(power?.overload).toMatchObject({
      severity: "warning",
      arrives_dbm: 3.907,
      over_db: 4.907,
      attenuator_db: 5,
    });
    expect(power?.overload.words).toBe(
      "Too much light: up to 3.91 dBm arrives (least loss 0.09 dB, worked out), and the receiver bears -1 dBm. An attenuator of 5 dB brings it down.",
    );
  });
  it("is an error where the loss was measured", async () => {
    const pair = { method: "direct", loss_db: 0.2, loss_basis: "both_ways" };
    const own = { "attenuation.g652d.1310": 0.4 };
    const { made, what, ids } = makeLine(
      [
        optic({ wavelength_nm: 1310, launch_max_dbm: 4, launch_min_dbm: 0 }),
        cord(0),
        cable(300, "g652d", { lands: [pair, pair] }),
        cord(0),
        optic({ overload_dbm: -1, sensitivity_dbm: -15.8 }),
      ],
      own,
    );
    made.add("measurement", {
      tag: "M-1",
      method: "source_meter",
      subject_kind: "port",
      subject_id: ids.port[0],
      far_port_id: ids.port[1],
      wavelength_nm: 1310,
      loss_db: 0.6,
      measured_on: "2025-01-01",
      cords_included: "yes",
    });
    const answer = await loss(await made.plant(), what);
    expect(answer.lines[0]?.powers[0]?.overload).toMatchObject({ severity: "error", over_db: 4.4, attenuator_db: 5 });
  });
  it("gets no attenuator where the least launch would no longer reach the receiver", async () => {
    const power = await powered({ launch_max_dbm: 4, launch_min_dbm: -9 }, { overload_dbm: -1, sensitivity_dbm: -12 });
    expect(power?.overload).toMatchObject({ severity: "warning", attenuator_db: null });
    expect(power?.overload.words).toMatch(/No attenuator fits/);
  });
  it("is fine at the edge, and can't be told without powers on record", async () => {
    const edge = await powered({ launch_max_dbm: 0 }, { overload_dbm: -0.093 });
    expect(edge?.overload).toMatchObject({ severity: "none", over_db: 0 });
    const blank = await powered({}, {});
    expect(blank).toMatchObject({ budget_db: null, margin_db: null, overload: { severity: "cannot_tell" } });
    expect(blank?.lacks).toEqual(["the least launch is not on record", "the sensitivity is not on record"]);
  });
  it("leaves a margin: least launch less sensitivity, loss and penalties", async () => {
    const power = await powered({ launch_min_dbm: -8 }, { sensitivity_dbm: -14 });
    // Two pairs of 0.75 and 0.3 km at 0.4.
    expect(power).toMatchObject({ budget_db: 6, loss_db: 1.62, margin_db: 4.38 });
  });
  it("is not reckoned on a strand that the optic receives on", async () => {
    const parts = [
      optic({ transmit_position: 2 }),
      cord(0),
      cable(10, "g652d"),
      cord(0),
      optic({ transmit_position: 1 }),
    ];
    const { line } = await lossOf(parts);
    expect(line.powers.map(({ direction }) => direction)).toEqual(["b_to_a"]);
  });
});

describe("an application that sends where no attenuation is on record", () => {
  // 1270 nm upstream, from memory of ITU-T G.9807.1 and IEEE 802.3av.
  it.each([
    [
      "XGS-PON N1",
      /^XGS-PON N1 sends upstream at 1270 nm.*not reckoned, and glass loses more there than at 1310 nm\.$/,
    ],
    ["10G-EPON PR20", /^10G-EPON PR20 sends upstream at 1270 nm.*not reckoned/],
    ["GPON B+", null],
  ] as const)("says what is not reckoned: %s", async (application, words) => {
    const { answer } = await lossOf(channel(cable(1000, "os2", { lands })), { application });
    const [line] = answer.lines;
    const told = (all: readonly string[] | undefined) => all?.filter((one) => one.includes("upstream"));
    const said = words === null ? [] : [expect.stringMatching(words)];
    expect(told(line?.applications[0]?.assumptions)).toEqual(said);
    expect(told(line?.assumptions)).toEqual(said);
  });

  const upstream = async (own: Record<string, number>, length_m = 10_000) => {
    const { answer } = await lossOf(channel(cable(length_m, "os2", { lands })), { application: "XGS-PON N1" }, own);
    const [line] = answer.lines;
    const verdict = line?.applications[0];
    return { verdict, said: [...(line?.assumptions ?? []), ...(verdict?.assumptions ?? [])].join(" ") };
  };
  it("is reckoned there as soon as the plant has an attenuation for it, and then says nothing", async () => {
    const before = (await upstream({})).verdict;
    expect([before?.wavelengths_nm, before?.runs_at_worst]).toEqual([[1577], "no"]);
    const { verdict, said } = await upstream({ "attenuation.os2.1270": 3 }, 10_000);
    expect(said).not.toContain("1270");
    expect(verdict?.wavelengths_nm).toEqual([1270, 1577]);
    // 10 km at 3 dB/km instead of 0.4 dB/km: the harder of the two decides.
    expect(verdict?.worst_loss_db).toBeCloseTo((before?.worst_loss_db as number) + 10 * (3 - 0.4), 6);
    expect(verdict).toMatchObject({ runs: "no", reasons: expect.arrayContaining([expect.stringMatching(/^loss 3/)]) });
  });
  it("goes by the plant's own wavelength in place of the published one", async () => {
    expect((await upstream({ "wavelength.XGS-PON N1.up": 1310 })).verdict?.wavelengths_nm).toEqual([1310, 1577]);
    const odd = await upstream({ "wavelength.XGS-PON N1.up": 1358 });
    expect(odd.said).toContain(
      "XGS-PON N1 sends upstream at 1358 nm, for which no attenuation is on record: that light is not reckoned.",
    );
  });
  it("can't be told to run where none of its light can be reckoned", async () => {
    const own = { "wavelength.XGS-PON N1.up": 1271, "wavelength.XGS-PON N1.down": 1578 };
    const { verdict } = await upstream({ ...own, "application.XGS-PON N1.single_mode.least_db": 0 });
    expect(verdict).toMatchObject({ runs: "cannot_tell", wavelengths_nm: [1271, 1578] });
  });
});

describe("unlike cores", () => {
  const mixed = (turned: boolean) => {
    const [wide, narrow] = [cable(100, "om1", { lands }), cable(100, "om3", { lands })];
    return channel(...(turned ? [narrow, splice(), wide] : [wide, splice(), narrow]));
  };
  const at = { wavelength_nm: 850 };
  it("lose light from the wider into the narrower, and nothing to speak of back", async () => {
    const there = await lossOf(mixed(false), at);
    const back = await lossOf(mixed(false), { ...at, direction: "b_to_a" });
    expect(there.answer.terms.find(({ kind }) => kind === "core_mismatch")).toMatchObject({
      loss_db: 1.6,
      basis: "limit",
    });
    expect(back.answer.terms.some(({ kind }) => kind === "core_mismatch")).toBe(false);
    expect((there.answer.loss_db ?? 0) - (back.answer.loss_db ?? 0)).toBeCloseTo(1.6, 6);
  });
  it.each(["a_to_b", "b_to_a"] as const)(
    "lose it once where glass of unknown class lies between: %s",
    async (direction) => {
      const parts = channel(
        cable(100, "om1", { lands }),
        splice(),
        cable(50, undefined),
        splice(),
        cable(100, "om3", { lands }),
      );
      const { answer } = await lossOf(parts, { ...at, direction });
      const own = answer.terms.filter(({ kind }) => kind === "core_mismatch");
      expect(own.map(({ loss_db }) => loss_db)).toEqual(direction === "a_to_b" ? [1.6] : []);
      // What the unknown glass loses is not known, and said.
      expect(answer.complete).toBe(false);
    },
  );
  it("are the same glass entered the other way round", async () => {
    const there = await lossOf(mixed(false), at);
    const turned = await lossOf(mixed(true), { ...at, direction: "b_to_a" });
    expect(turned.answer.loss_db).toBe(there.answer.loss_db);
  });
  it("of a splice read both ways lose what was read the way light goes", async () => {
    const parts = channel(
      cable(100, "om1", { lands }),
      splice({ loss_ab_db: 2, loss_ba_db: 0.1 }),
      cable(100, "om3", { lands }),
    );
    const of = async (direction: string) =>
      (await lossOf(parts, { ...at, direction })).answer.terms.find(({ kind }) => kind === "splice")?.loss_db;
    expect([await of("a_to_b"), await of("b_to_a")]).toEqual([2, 0.1]);
  });
  it("lose it still where the splice has an estimate, or was read the other way only", async () => {
    const of = async (more: Given, direction = "a_to_b", turned = false) => {
      const [wide, narrow] = [cable(100, "om1", { lands }), cable(100, "om2", { lands })];
      const { answer } = await lossOf(channel(wide, splice(more, turned), narrow), { ...at, direction });
      const own = answer.terms.filter(({ kind }) => kind === "splice" || kind === "core_mismatch");
      return own.map(({ kind, loss_db }) => `${kind} ${loss_db}`).sort();
    };
    const estimate = { loss_ab_db: 0.05, loss_basis: "estimate" };
    expect(await of(estimate)).toEqual(["core_mismatch 1.6", "splice 0.05"]);
    expect(await of(estimate, "b_to_a")).toEqual(["splice 0.05"]);
    const back = { loss_ba_db: 0.05, loss_basis: "one_way" };
    expect(await of(back)).toEqual(["core_mismatch 1.6", "splice 0.3"]);
    expect(await of(back, "b_to_a")).toEqual(["splice 0.05"]);
    // The splice's own A may be the narrow side.
    expect(await of(back, "a_to_b", true)).toEqual(["splice 0.05"]);
    const there = { loss_ab_db: 2, loss_basis: "one_way" };
    expect(await of(there)).toEqual(["splice 2"]);
    expect(await of(there, "b_to_a")).toEqual(["splice 0.3"]);
    expect(await of({ loss_ab_db: 1, loss_basis: "both_ways" }, "b_to_a")).toEqual(["splice 1"]);
  });
  it("of multimode and single-mode glass lose most of it one way", async () => {
    const parts = channel(cable(100, "om3", { lands }), cord(0), cable(100, "os2", { lands }));
    const { answer } = await lossOf(parts, { wavelength_nm: 1310 });
    expect(answer.terms.find(({ kind }) => kind === "core_mismatch")).toMatchObject({ loss_db: 20 });
  });
});
