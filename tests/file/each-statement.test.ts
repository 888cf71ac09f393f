/** Each statement of a large write failed in turn: nothing is changed, and the next write goes through. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import { Gateway } from "../../core/store/gateway.ts";
import type { Reader } from "../../core/store/handle.ts";
import type { Change } from "../../core/store/plan.ts";
import { machineClock } from "../../host/clock.ts";
import { newPlant, TESTER } from "../support/plant.ts";

class Fault extends Error {}

/** A plant whose statements can be counted and made to fail. */
async function faulty() {
  let failAt = -1;
  let count = 0;
  const plant = await newPlant({
    beforeStatement: (sql) => {
      if (count++ === failAt) throw new Fault(`failed on purpose: ${sql}`);
    },
  });
  return {
    ...plant,
    gateway: new Gateway(plant.store, machineClock),
    /** How many statements an act takes. */
    async counted(act: () => Promise<unknown>): Promise<number> {
      count = 0;
      await act();
      return count;
    },
    async failing(statement: number, act: () => Promise<unknown>): Promise<unknown> {
      count = 0;
      failAt = statement;
      try {
        return await act().then(
          () => null,
          (error: unknown) => error,
        );
      } finally {
        failAt = -1;
      }
    },
  };
}

/** Everything on record, history too, as text. */
async function contentOf(reader: Reader): Promise<string> {
  const tables = [...KIND_NAMES, "change_set", "change_entry"];
  const content: unknown[] = [];
  for (const table of tables) content.push(table, await reader.rows(`SELECT * FROM "${table}"`));
  return JSON.stringify(content);
}

type Faulty = Awaited<ReturnType<typeof faulty>>;

/** Fails an act at each of its statements; the content must not change. Then lets it through and answers it. */
async function failEach(plant: Faulty, act: () => Promise<unknown>, statements: number): Promise<void> {
  const before = await plant.store.read(contentOf);
  for (let statement = 0; statement < statements; statement++) {
    const error = await plant.failing(statement, act);
    expect(error, `statement ${statement} of ${statements}`).toBeInstanceOf(Fault);
    expect(await plant.store.read(contentOf), String(error)).toBe(before);
  }
  expect(await plant.failing(statements, act), "there were more statements than were failed").toBeNull();
  expect(await plant.store.read(contentOf)).not.toBe(before);
}

/** An import of new buildings with spaces, beside changes of what was there. */
const load = (plant: Faulty) => () =>
  plant.gateway.stream("test.load", "Load a campus", TESTER, async (bulk) => {
    const first = await plant.gateway.newIds(bulk.reader, "building", 12);
    const space = await plant.gateway.newIds(bulk.reader, "space", 12);
    const numbers = Array.from({ length: 12 }, (_, n) => n);
    await bulk.insertMany(
      "building",
      numbers.map((n) => ({ id: first + n, values: { tag: `N${first + n}` } })),
    );
    await bulk.insertMany(
      "space",
      numbers.map((n) => ({ id: space + n, values: { tag: "1", kind: "telecom_room", building_id: first + n } })),
    );
    await bulk.apply([
      { op: "update", kind: "building", id: 1, values: { name: "Renamed", tag: "OLD" } },
      { op: "delete", kind: "building", id: 2 },
    ]);
  });

async function prepared(): Promise<Faulty> {
  const plant = await faulty();
  await plant.gateway.carryOut("test.begin", TESTER, async () => ({
    summary: "Begin",
    answer: null,
    changes: [1, 2, 3].map((id): Change => ({ op: "insert", kind: "building", id, values: { tag: `B${id}` } })),
  }));
  return plant;
}

/** How many statements the act takes, found on a plant of its own. */
async function statementsOf(
  before: (plant: Faulty) => Promise<unknown>,
  act: (plant: Faulty) => () => Promise<unknown>,
) {
  const plant = await prepared();
  await before(plant);
  return plant.counted(act(plant));
}

const restore = (verb: "undo" | "redo") => (plant: Faulty) => () =>
  plant.gateway.carryOut(`history.${verb}`, TESTER, async () => ({
    summary: verb,
    changes: [],
    answer: null,
    restores: { verb },
  }));

const nothing = async () => {};

describe("an import failed at each of its statements", () => {
  it("changes nothing", async () => {
    const plant = await prepared();
    const count = await statementsOf(nothing, load);
    expect(count).toBeGreaterThan(30);
    await failEach(plant, load(plant), count);
  });

  it("leaves the file byte for byte as it was", async () => {
    const plant = await prepared();
    const count = await statementsOf(nothing, load);
    const bytes = readFileSync(plant.path);
    for (const statement of [3, Math.floor(count / 2), count - 1]) {
      expect(await plant.failing(statement, load(plant))).toBeInstanceOf(Fault);
    }
    expect(readFileSync(plant.path).equals(bytes)).toBe(true);
  });
});

describe("the undo of an import failed at each of its statements", () => {
  it("changes nothing", async () => {
    const plant = await prepared();
    await load(plant)();
    const count = await statementsOf((other) => load(other)(), restore("undo"));
    expect(count).toBeGreaterThan(10);
    await failEach(plant, restore("undo")(plant), count);
  });
});

describe("its redo failed at each of its statements", () => {
  it("changes nothing", async () => {
    const plant = await prepared();
    await load(plant)();
    await restore("undo")(plant)();
    const undone = async (other: Faulty) => {
      await load(other)();
      await restore("undo")(other)();
    };
    const count = await statementsOf(undone, restore("redo"));
    await failEach(plant, restore("redo")(plant), count);
  });
});
