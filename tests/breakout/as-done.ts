/** Steps done as a crew would note them: marks that are asked for are read as they were worked out. */
import { ASKED, filledIn, type PlannedStep } from "../../core/jobs/step.ts";
import { unescapeName } from "../../core/model/address.ts";
import type { TestPlant } from "../support/plant.ts";

/** A step as `job.show` tells it. */
export interface JobStep {
  readonly ordinal: number;
  readonly input: unknown;
  readonly words: string;
}

/** Does a step of a job; marks that it asks for are those worked out. */
export async function doStep(plant: TestPlant, job: string, { ordinal, input }: JobStep): Promise<void> {
  const asked = JSON.stringify(input ?? null).includes(ASKED);
  const otherwise = asked ? { otherwise: { values: ((await asRead(plant, input)) as Edit).values } } : {};
  await plant.run("job.do", { job, step: ordinal, ...otherwise });
}

interface Edit {
  readonly id: string;
  readonly values: Readonly<Record<string, unknown>>;
}

/** Carries out those of the steps that change the record, in order; answers how many. */
export async function carryOut(plant: TestPlant, steps: readonly PlannedStep[], day: string): Promise<number> {
  let done = 0;
  for (const { act, input } of steps) {
    if (act === null) continue;
    await plant.run(act, await asRead(plant, filledIn(input, day, "Test Person")));
    done += 1;
  }
  return done;
}

async function asRead(plant: TestPlant, input: unknown): Promise<unknown> {
  if (!JSON.stringify(input).includes(ASKED)) return input;
  const { id, values } = input as Edit;
  const [cable, ordinal] = id.split("@");
  const [row] = await plant.store.read((reader) =>
    reader.rows<Record<string, unknown>>(
      "select s.* from stop s join cable c on c.id = s.cable_id where c.tag = ? and s.ordinal = ?",
      [unescapeName(cable ?? ""), Number(ordinal)],
    ),
  );
  const read = Object.entries(values).map(([field, value]) => [field, value === ASKED ? row?.[field] : value]);
  return { ...(input as Edit), values: Object.fromEntries(read) };
}
