/**
 * Published examples, entered as plants and asked for like any other. Source keys are those of the project's table of
 * sources. Where a printed result is wrong, the arithmetic one stands and the test says why.
 */
import { describe, expect, it } from "vitest";
import { falseStep, modeFieldLoss, twoWayMean } from "../../core/light/mode-field.ts";
import { cable, cord, lossOf, module, type Own, optic, type Part, splice } from "./made-line.ts";

const FLAT = { method: "direct" };
const lands = [FLAT, FLAT] as const;

/** Two optics whose powers leave a budget. */
const budget = (db: number): [Part, Part] => [
  optic({ launch_min_dbm: 0, launch_max_dbm: 0, wavelength_nm: 1300 }),
  optic({ sensitivity_dbm: -db, overload_dbm: 10 }),
];

const power = async (parts: readonly Part[], own: Own) => {
  const { line } = await lossOf(parts, {}, own);
  const [there] = line.powers;
  if (!there) throw new Error("no light goes there");
  const penalties = there.penalties.reduce((sum, { db }) => sum + db, 0);
  return { ...there, loss_and_penalties: (there.loss_db ?? Number.NaN) + penalties };
};

const HALF = { "pair.limit": 0.5, "splice.limit": 0.5 };

describe("budgets in makers' manuals", () => {
  it("A [K-JUN1]: 2 km × 1.0, 5 × 0.5, 2 × 0.5, higher-order modes 0.5, of 13 dB: loss 6.0, margin 7.0", async () => {
    const [from, to] = budget(13);
    const parts = [
      ...[from, cord(0), module(0), cable(500, "om2", { lands }), splice(), cable(500, "om2", { lands }), splice()],
      ...[cable(500, "om2", { lands }), cord(0), cable(500, "om2", { lands }), cord(0), to],
    ];
    const own = { ...HALF, "attenuation.om2.1300": 1, "penalty.multimode.higher_order": 0.5 };
    const answer = await power(parts, own);
    expect(answer.loss_and_penalties).toBeCloseTo(6, 6);
    expect(answer.margin_db).toBeCloseTo(7, 6);
  });

  it("C [K-JUN1]: 8 km × 0.5, 7 × 0.5, of 13 dB: loss 7.5, margin 5.5", async () => {
    const [, to] = budget(13);
    const from = optic({ launch_min_dbm: 0, wavelength_nm: 1310 });
    const trunk = () => cable(8000 / 3, "g652d", { lands });
    const parts = [from, cord(0), module(0), trunk(), cord(0), trunk(), cord(0), trunk(), cord(0), to];
    const answer = await power(parts, { "pair.limit": 0.5, "attenuation.g652d.1310": 0.5 });
    expect(answer.loss_db).toBeCloseTo(7.5, 3);
    expect(answer.margin_db).toBeCloseTo(5.5, 3);
  });

  const third = () => cable(750, "om2", { lands });
  const partsD = (db: number) => {
    const [from, to] = budget(db);
    return [
      from,
      cord(0),
      third(),
      splice(),
      third(),
      splice(),
      third(),
      cord(0),
      cable(375, "om2", { lands }),
      splice(),
      cable(375, "om2", { lands }),
      cord(0),
      to,
    ];
  };
  const ownD = {
    ...HALF,
    "attenuation.om2.1300": 1,
    "penalty.multimode.higher_order": 0.5,
    "penalty.clock_recovery": 1,
  };

  it("D [K-CIS2600]: 3 km × 1.0, 4 × 0.5, 3 × 0.5, 0.5 and 1.0, of 10 dB: loss 8.0, margin 2.0", async () => {
    const answer = await power(partsD(10), ownD);
    expect(answer.loss_and_penalties).toBeCloseTo(8, 6);
    expect(answer.margin_db).toBeCloseTo(2, 6);
  });

  it("E [K-CIS7000]: as D of 11.5 dB is a margin of 3.5; the manual prints 2.5, which its own sum refutes", async () => {
    expect((await power(partsD(11.5), ownD)).margin_db).toBeCloseTo(3.5, 6);
  });

  it("G [K-PIT]: 10 km × 0.35, one splice of 0.01, 2 × 0.5, safety 3: 7.51", async () => {
    const [from, to] = [optic({ launch_min_dbm: 0, wavelength_nm: 1310 }), optic({ sensitivity_dbm: -20 })];
    const half = () => cable(5000, "g652d", { lands });
    const answer = await power([from, cord(0), half(), splice(), half(), cord(0), to], {
      "attenuation.g652d.1310": 0.35,
      "splice.limit": 0.01,
      "pair.limit": 0.5,
      "penalty.safety": 3,
    });
    expect(answer.loss_and_penalties).toBeCloseTo(7.51, 6);
  });

  it("F [K-IBM]: mean 11.05; by variances 12.82, where 12.86 is printed with 1.31 for 3 × √0.18 = 1.27", async () => {
    const [from, to] = [optic({ launch_min_dbm: 0, wavelength_nm: 1310 }), optic({ sensitivity_dbm: -20 })];
    const trunk = (m: number) => cable(m, "g652d", { lands });
    const jumper = () => cord(105, { fibre_class: "os1" });
    const mechanical = { method: "mechanical" };
    const parts = [
      from,
      jumper(),
      trunk(9000),
      splice(mechanical),
      trunk(9000),
      splice(mechanical),
      trunk(1760),
      jumper(),
      to,
    ];
    const answer = await power(parts, {
      "pair.typical": 0.35,
      "splice.typical.mechanical": 0.15,
      "attenuation.typical.os1.1310": 0.8,
      "attenuation.typical.g652d.1310": 0.5,
      "variance.pair": 0.06,
      "variance.splice": 0.01,
      "variance.system": 0.04,
      "penalty.fixed": 0.5,
    });
    expect(answer.statistical?.mean_db).toBeCloseTo(11.048, 6);
    expect(answer.statistical?.total_db).toBeCloseTo(12.82, 2);
  });
});

describe("limits", () => {
  it("MIL-STD-2042-6B [K-MIL2042]: 0.5 km at 4.5, two connections at 0.75, one untuned splice at 0.6: 4.35", async () => {
    const half = () => cable(250, "om2", { lands });
    const asked = { wavelength_nm: 850, edition: "mil_std_2042_6b" };
    const { line } = await lossOf([half(), splice({ method: "mechanical" }), half()], asked);
    expect(line.acceptance).toMatchObject([{ limit_db: 4.35, complete: true }]);
    expect(line.acceptance[0]?.formula).toBe(
      "MIL-STD-2042-6B, reference by one cord: 500 m of glass at 4.5 dB/km + 2 end joints at 0.75 dB + 1 splice at 0.6 dB",
    );
  });

  it("MIL-STD-2042-6B says nothing of fused splices: another's value stands in, and is named as such", async () => {
    const PIGTAIL = { method: "pigtail" };
    const half = () => cable(250, "om2", { lands: [PIGTAIL, PIGTAIL] });
    const asked = { wavelength_nm: 850, edition: "mil_std_2042_6b" };
    const { line } = await lossOf([half(), splice({ method: "fusion" }), half()], asked);
    const [accepted] = line.acceptance;
    expect(accepted?.parts.map(({ words }) => words)).toEqual([
      "500 m of glass at 4.5 dB/km",
      "2 end joints at 0.75 dB",
      "1 splice at 0.3 dB",
      "2 pigtail splices at 0.3 dB",
    ]);
    const stands_in = /; of which edition is not on record: MIL-STD-2042-6B has no value of its own here$/;
    expect(accepted?.parts.map(({ source }) => stands_in.test(source))).toEqual([false, false, true, true]);
  });

  it("of another edition are named as such in an acceptance limit, and the edition's own aren't", async () => {
    const parts = [cable(500, "om3", { lands }), cord(2), cable(500, "om3", { lands })];
    const sources = async (edition: string, own: Own = {}) =>
      (await lossOf(parts, { wavelength_nm: 850, edition }, own)).line.acceptance[0]?.parts.map(({ source }) =>
        / has no value of its own here/.test(source),
      );
    // Glass, end joints, pairs: the -D edition has all three.
    expect(await sources("tia_568_3_d")).toEqual([false, false, false]);
    expect(await sources("tia_568_3_e")).toEqual([true, false, true]);
    expect(await sources("tia_568_3_e", { "pair.limit": 0.75 })).toEqual([true, false, false]);
  });

  it("100GBASE-FR1 [K-FOTC-FR1]: 2 km × 0.5 + 3.0 and 1 km × 1.0 + 3.0 are both 4.0 and pass; 2.1 km fails on both", async () => {
    const of = async (metres: number, fibre: string, environment?: string) => {
      const half = () => cable(metres / 2, fibre, { lands, type: { environment } });
      const parts = [optic(), cord(0), half(), cord(0), half(), cord(0), optic()];
      const { line } = await lossOf(parts, { application: "100GBASE-FR1" });
      return line.applications[0];
    };
    expect(await of(2000, "os2", "indoor_outdoor")).toMatchObject({
      worst_loss_db: 4,
      limit_db: 4,
      runs_at_worst: "yes",
      worst_margin_db: 0,
      margin_m: 0,
    });
    expect(await of(1000, "os1a")).toMatchObject({ worst_loss_db: 4, runs_at_worst: "yes", limit_m: 1000 });
    const longer = await of(2100, "os2", "indoor_outdoor");
    expect(longer).toMatchObject({ worst_loss_db: 4.05, runs: "no", runs_at_worst: "no" });
    expect(longer?.reasons).toEqual(["length 2100 m is more than 2000 m", "at worst: loss 4.05 dB is more than 4 dB"]);
  });

  it("400GBASE-SR4.2 [K-FOTC-42] on OM4: 100 m and 1.8 dB pass, 101 m fails, 1.81 dB fails", async () => {
    const of = async (metres: number, db: number) => {
      const pair = { method: "direct", loss_db: db / 2, loss_basis: "both_ways" };
      const parts = [optic(), cord(0), cable(metres, "om4", { lands: [pair, pair] }), cord(0), optic()];
      // So little that no digit of it shows.
      const own = { "attenuation.om4.850": 1e-6, "attenuation.typical.om4.850": 1e-6 };
      const { line } = await lossOf(parts, { application: "400GBASE-SR4.2" }, own);
      const { runs, runs_at_worst, reasons } = line.applications[0] ?? {};
      return [runs, runs_at_worst, ...(reasons ?? [])];
    };
    expect(await of(100, 1.8)).toEqual(["yes", "yes"]);
    expect(await of(101, 1.8)).toEqual(["no", "no", "length 101 m is more than 100 m"]);
    expect(await of(100, 1.81)).toEqual(["no", "no", "loss 1.81 dB is more than 1.8 dB"]);
  });
});

describe("joints of unlike mode fields", () => {
  it("of 4.6 and 4.2 µm lose 0.036 dB, the same both ways [K-OSP]", () => {
    expect(modeFieldLoss(4.6, 4.2)).toBeCloseTo(0.036, 3);
    expect(modeFieldLoss(4.2, 4.6)).toBe(modeFieldLoss(4.6, 4.2));
    expect(modeFieldLoss(4.6, 4.6)).toBeCloseTo(0, 12);
  });
  it("show a step of 0.29 dB from 9.2 to 8.6 µm, which both ways cancel [derived from K-AN3060]", () => {
    expect(falseStep(9.2, 8.6)).toBeCloseTo(0.29, 2);
    expect(twoWayMean(0.05 + falseStep(9.2, 8.6), 0.05 + falseStep(8.6, 9.2))).toBeCloseTo(0.05, 12);
  });
  it("are reckoned where grades of known fields are spliced, and not where that splice was measured", async () => {
    const parts = (more: object) => [cable(10, "g652d"), splice(more as never), cable(10, "g657a2")];
    const kinds = async (more: object) =>
      (await lossOf(parts(more), { wavelength_nm: 1310 })).answer.terms.map(
        ({ kind, loss_db }) => `${kind} ${loss_db}`,
      );
    expect(await kinds({})).toContain("mode_field 0.0197");
    expect((await kinds({ loss_ab_db: 0.04, loss_ba_db: 0.06 })).join()).not.toContain("mode_field");
  });
});
