/** A plant with a story: who did what on which day, told by a clock that the test moves. */
import type { Occasion } from "../../core/store/plan.ts";
import { newPlant, type TestPlant, type TestPlantOptions } from "../support/plant.ts";

export interface Story extends TestPlant {
  /** Carries out an operation at noon (UTC) of a day. */
  on(day: string, name: string, input: object, occasion?: Partial<Occasion>): Promise<number>;
}

export async function newStory(options: TestPlantOptions = {}): Promise<Story> {
  let day = "2026-01-05";
  let minutes = 0;
  const now = () => new Date(Date.parse(`${day}T12:00:00Z`) + minutes++ * 1000).toISOString();
  const plant = await newPlant({ ...options, clock: { now, today: () => day } });
  return {
    ...plant,
    async on(on, name, input, occasion = {}) {
      day = on;
      const written = await plant.run<{ change_set: number }>(name, input, { author: "Ada", ...occasion });
      return written.change_set;
    },
  };
}

export const add = (kind: string, values: object): [string, object] => ["record.add", { kind, values }];
export const edit = (kind: string, id: string, values: object): [string, object] => [
  "record.edit",
  { kind, id, values },
];
export const remove = (kind: string, ...ids: string[]): [string, object] => ["record.remove", { kind, ids }];
