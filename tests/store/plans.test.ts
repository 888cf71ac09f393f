/** What the gateway and the pages ask of the engine must follow an index, whatever the size of the plant. */
import { describe, expect, it } from "vitest";
import { KIND_NAMES, type KindName } from "../../core/model/dictionary.ts";
import { NOTHING } from "../../core/store/doubts.ts";
import type { Draft } from "../../core/store/draft.ts";
import { entriesOf } from "../../core/store/entries.ts";
import type { Reader } from "../../core/store/handle.ts";
import { restingGroups } from "../../core/store/record-page.ts";
import { missingTargets } from "../../core/store/references.ts";
import { REFERENCES, SQL, UNIQUE_KEY } from "../../core/store/relations.ts";
import { resting } from "../../core/store/resting.ts";
import { keyLookup } from "../../core/store/unique.ts";
import { newPlant } from "../support/plant.ts";

/** Steps of the engine's plan that read a whole table, for each statement that `work` runs. */
const scansOf = async (work: (reader: Reader) => Promise<unknown>) => (await planOf(work)).scans;

async function planOf(work: (reader: Reader) => Promise<unknown>): Promise<{ scans: string[]; steps: string[] }> {
  const plant = await newPlant();
  return plant.store.read(async (reader) => {
    const statements = new Map<string, readonly (string | number | null)[]>();
    await work({
      db: reader.db,
      lists: (sql, parameters) => reader.lists(sql, parameters),
      rows: <T>(sql: string, parameters?: readonly (string | number | null)[]) => {
        statements.set(sql, parameters ?? []);
        return reader.rows<T>(sql, parameters);
      },
    });
    const scans: string[] = [];
    const steps: string[] = [];
    for (const [sql, parameters] of statements)
      for (const { detail } of await reader.rows<{ detail: string }>(`EXPLAIN QUERY PLAN ${sql}`, parameters)) {
        steps.push(detail);
        if (/^SCAN (?!json_each|j |j$)/.test(detail)) scans.push(`${detail}: ${sql}`);
      }
    expect(statements.size).toBeGreaterThan(0);
    return { scans, steps };
  });
}

describe("no table is read as a whole", () => {
  it("to find what rests on a record of any kind", async () => {
    const scans = await scansOf(async (reader) => {
      for (const kind of KIND_NAMES) {
        await resting(reader, new Map([[kind, [1]]]), () => false);
        await restingGroups(reader, kind, 1, 50);
      }
    });
    expect(scans).toEqual([]);
  });

  it("to find who has a key", async () => {
    const scans = await scansOf(async (reader) => {
      for (const kind of KIND_NAMES) {
        const key = UNIQUE_KEY[kind];
        if (key) await reader.rows(keyLookup(kind, key), ["[]"]);
      }
    });
    expect(scans).toEqual([]);
  });

  it("to find records by id, or whether what is referred to is there", async () => {
    const scans = await scansOf(async (reader) => {
      for (const kind of KIND_NAMES) {
        await reader.rows(SQL[kind].rows, ["[1]"]);
        const values = Object.fromEntries(REFERENCES[kind].map((reference) => [reference.field, 7]));
        const insert = { id: 1, row: undefined, values: { ...values, subject_kind: "cable", subject_id: 7 } };
        const draft: Draft = new Map<KindName, never>();
        draft.set(kind, { kind, inserts: new Map([[1, insert]]), updates: new Map(), deletes: new Map() });
        await missingTargets(reader, draft, NOTHING);
      }
    });
    expect(scans).toEqual([]);
  });

  it("to find a record's history", async () => {
    const { scans, steps } = await planOf((reader) => entriesOf(reader, "strand", 5_000_000));
    expect(scans).toEqual([]);
    // Not all entries of the kind: only those that begin near the record.
    expect(steps).toContainEqual(expect.stringContaining("(kind=? AND record_id>? AND record_id<?)"));
  });
});
