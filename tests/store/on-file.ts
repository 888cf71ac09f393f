/** A gateway on a real file, and short ways to write with it. */
import type { KindName } from "../../core/model/dictionary.ts";
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import { Refusal, type RefusalCode } from "../../core/result.ts";
import { Gateway } from "../../core/store/gateway.ts";
import type { Change, Restores } from "../../core/store/plan.ts";
import type { Written } from "../../core/store/written.ts";
import { machineClock } from "../../host/clock.ts";
import { newPlant, TESTER, type TestPlant, type TestPlantOptions } from "../support/plant.ts";

export interface OnFile {
  readonly plant: TestPlant;
  readonly gateway: Gateway;
  write(changes: readonly Change[], summary?: string): Promise<Written<null>>;
  restore(verb: Restores["verb"], target?: number): Promise<Written<null>>;
  add(kind: KindName, values: Record<string, string | number | null>): Promise<number>;
  rows<T = Record<string, unknown>>(sql: string, parameters?: readonly (string | number | null)[]): Promise<T[]>;
  /** Every record without `rev`, by kind. */
  content(kinds?: readonly KindName[]): Promise<Record<string, unknown[]>>;
}

export async function onFile(options: TestPlantOptions = {}): Promise<OnFile> {
  const plant = await newPlant(options);
  const gateway = new Gateway(plant.store, machineClock);
  const write = (changes: readonly Change[], summary = "Test") =>
    gateway.carryOut("test", TESTER, async () => ({ summary, changes, answer: null }));
  const rows = <T>(sql: string, parameters: readonly (string | number | null)[] = []) =>
    plant.store.read((reader) => reader.rows<T>(sql, parameters));
  return {
    plant,
    gateway,
    write,
    restore: (verb, target) =>
      gateway.carryOut("history", TESTER, async () => ({
        summary: "",
        changes: [],
        answer: null,
        restores: { verb, ...(target === undefined ? {} : { target }) },
      })),
    async add(kind, values) {
      const id = await plant.store.read((reader) => gateway.newIds(reader, kind, 1));
      await write([{ op: "insert", kind, id, values }], `Add ${kind} ${values.tag ?? id}`);
      return id;
    },
    rows,
    async content(kinds = KIND_NAMES) {
      const all: Record<string, unknown[]> = {};
      for (const kind of kinds) {
        const found = await rows<Record<string, unknown>>(`SELECT * FROM "${kind}" ORDER BY id`);
        all[kind] = found.map(({ rev: _, ...row }) => row);
      }
      return all;
    },
  };
}

/** The refusal that `work` ends in; anything else fails the test. */
export async function refusalOf(work: Promise<unknown>, code: RefusalCode) {
  try {
    await work;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    if (error.failure.code !== code) throw new Error(`refused as ${error.failure.code}: ${error.message}`);
    return error.failure;
  }
  throw new Error(`was carried out instead of being refused as ${code}`);
}
