/** Mends of the line of `line.ts` as jobs: how tests plan them, carry them out, and ask whether the glass gets through. */
import type { JobAnswer } from "../../core/jobs/show.ts";
import { stillAsked } from "../../core/jobs/step.ts";
import { unescapeName } from "../../core/model/address.ts";
import type { MendAnswer } from "../../core/repair/answer.ts";
import type { CheckedPlant } from "../check/campus.ts";
import type { TestPlant } from "../support/plant.ts";

/** 40 m beyond H-1. */
export const CUT = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
export const NUMBERS = { job: "J-1", hole: "H-9", piece: "F-051" };

export interface Row {
  readonly [field: string]: string | number | null;
}
export const rowsOf = (plant: CheckedPlant, sql: string): Promise<Row[]> =>
  plant.store.read((reader) => reader.rows<Row>(sql));

/** The end of the trace from the first port of K-7's glass, and whether it gets to the other building. */
export async function reaches(plant: CheckedPlant): Promise<boolean> {
  const answer = await plant.run<object>("trace.walk", { what: "LIB/101/A:07#1" });
  return JSON.stringify(answer).includes("SCI/B01/P:07");
}

export const planOf = async (
  plant: CheckedPlant,
  wanted: (plan: MendAnswer["plans"][number]) => boolean,
  asked: object = CUT,
): Promise<number> => {
  const { plans } = await plant.run<MendAnswer>("mend.plans", asked);
  const index = plans.findIndex(wanted);
  if (index < 0) throw new Error(plans.map(({ sentence }) => sentence).join("\n"));
  return index + 1;
};
export const at = (name: string) => (plan: MendAnswer["plans"][number]) =>
  plan.kind === "one_point" && plan.points[0]?.words === name;

/** @param sever whoever answers for it has said that what the cut left alone may go down */
export async function choose(plant: CheckedPlant, plan: number, sever = false): Promise<JobAnswer> {
  const points = (await plant.run<MendAnswer>("mend.plans", CUT)).plans[plan - 1]?.points.length ?? 0;
  const cases = ["CL-1", "CL-2"].slice(0, points);
  await plant.run("job.plan_mend", { ...CUT, ...NUMBERS, plan, cases, ...(sever ? { sever } : {}) });
  return plant.run<JobAnswer>("job.show", { job: "J-1" });
}

/** What only the crew can say of a step: what became of the metal, and marks, read as they were worked out. */
export async function saidOf(plant: TestPlant, { input }: Pick<JobAnswer["steps"][number], "input">): Promise<object> {
  const asked = stillAsked(input);
  if (asked.length === 0) return {};
  if ("became" in (input as object)) return { otherwise: { became: "left" } };
  const { kind, id } = input as { readonly kind: string; readonly id: string };
  if (asked.includes("life")) return { otherwise: { values: { life: "in_stock" } } };
  if (kind === "cable") return { otherwise: { values: { mark_unit: "m" } } };
  const [cable = "", ordinal] = id.split("@");
  const [stop] = await plant.store.read((reader) =>
    reader.rows<Row>(
      "select st.mark_in, st.mark_open_from, st.mark_open_to, st.mark_out from stop st join cable c on c.id = st.cable_id where c.tag = ? and st.ordinal = ?",
      [unescapeName(cable), Number(ordinal)],
    ),
  );
  const values = asked.map((field) => [field, field === "metal" ? "bonded" : (stop?.[field] ?? null)]);
  return { otherwise: { values: Object.fromEntries(values) } };
}

/** Does one step, and says what is asked. */
export const doStep = async (
  plant: TestPlant,
  step: Omit<JobAnswer["steps"][number], "asks" | "cautions">,
  job = "J-1",
): Promise<unknown> => plant.run("job.do", { job, step: step.ordinal, ...(await saidOf(plant, step)) });

export async function carryOut(
  plant: CheckedPlant,
  { steps }: JobAnswer,
  upTo: (words: string) => boolean = () => false,
  job = "J-1",
) {
  for (const step of steps) {
    if (upTo(step.words)) return;
    await doStep(plant, step, job);
  }
}

export const KINDS: readonly (readonly [string, (plan: MendAnswer["plans"][number]) => boolean])[] = [
  ["one splice in a new hole at the cut", at("a new hole at the cut")],
  ["one splice in the hole before it", at("H-1")],
  ["two splices with a piece between", ({ kind }) => kind === "two_points"],
  ["a new cable", ({ kind }) => kind === "new_cable"],
];
