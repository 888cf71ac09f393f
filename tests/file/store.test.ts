/** The store over one file: what readers and writers see of each other. */
import { setTimeout as sleep, setImmediate as turn } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import type { Reader, Store } from "../../core/store/handle.ts";
import { newPlant } from "../support/plant.ts";

const nameOf = async (reader: Reader): Promise<string> => {
  const [row] = await reader.rows<{ name: string }>("SELECT name FROM plant");
  return row?.name ?? "";
};

const rename = (store: Store, name: string) => store.write((writer) => writer.run("UPDATE plant SET name = ?", [name]));

describe("a write", () => {
  it("is seen whole by the next read", async () => {
    const { store } = await newPlant();
    expect(await rename(store, "North")).toBe(1);
    expect(await store.read(nameOf)).toBe("North");
  });

  it("is taken back when its work throws", async () => {
    const { store } = await newPlant();
    const work = store.write(async (writer) => {
      await writer.run("UPDATE plant SET name = 'gone'");
      throw new Error("midway");
    });
    await expect(work).rejects.toThrow("midway");
    expect(await store.read(nameOf)).toBe("Test Campus");
  });

  it("may name records in any order: references are checked at the end", async () => {
    const { store } = await newPlant();
    await store.write(async (writer) => {
      await writer.run(
        "INSERT INTO space (id, rev, tag, kind, building_id, life) VALUES (1, 0, '101', 'telecom_room', 1, 'in_place')",
      );
      await writer.run("INSERT INTO building (id, rev, tag, life) VALUES (1, 0, 'LIB', 'in_place')");
    });
    expect(await store.read((reader) => reader.rows("SELECT id FROM space"))).toEqual([{ id: 1 }]);
  });

  it("is refused by the engine and taken back when a reference leads nowhere", async () => {
    const { store } = await newPlant();
    const work = store.write((writer) =>
      writer.run(
        "INSERT INTO space (id, rev, tag, kind, building_id, life) VALUES (1, 0, '101', 'telecom_room', 9, 'in_place')",
      ),
    );
    await expect(work).rejects.toThrow(/FOREIGN KEY/);
    expect(await store.read((reader) => reader.rows("SELECT id FROM space"))).toEqual([]);
    await rename(store, "still writable");
  });

  it("that takes its time is not seen half done, and writes wait for each other", async () => {
    const { store } = await newPlant();
    const seen: string[] = [];
    const slow = store.write(async (writer) => {
      for (const name of ["half", "whole"]) {
        await writer.run("UPDATE plant SET name = ?", [name]);
        for (let n = 0; n < 20; n++) await turn();
      }
    });
    const read = store.read(nameOf).then((name) => seen.push(name));
    const next = rename(store, "next");
    await Promise.all([slow, read, next]);
    expect(seen).toEqual(["whole"]);
    expect(await store.read(nameOf)).toBe("next");
  });

  it("inside another transaction is a defect, not a wait for ever", async () => {
    const { store } = await newPlant();
    await expect(store.read(() => rename(store, "no"))).rejects.toThrow("inside another transaction");
    await expect(store.write(() => rename(store, "no"))).rejects.toThrow("inside another transaction");
  });
});

describe("reads", () => {
  it("go on beside each other", async () => {
    const { store } = await newPlant();
    let together = 0;
    let most = 0;
    const one = () =>
      store.read(async (reader) => {
        most = Math.max(most, ++together);
        await turn();
        await nameOf(reader);
        together--;
      });
    await Promise.all([one(), one(), one()]);
    expect(most).toBe(3);
  });

  it("of one operation see one moment, though a write waits", async () => {
    const { store } = await newPlant();
    const names: string[] = [];
    const reading = store.read(async (reader) => {
      names.push(await nameOf(reader));
      await sleep(20);
      names.push(await nameOf(reader));
    });
    await turn();
    await Promise.all([reading, rename(store, "later")]);
    expect(names).toEqual(["Test Campus", "Test Campus"]);
  });

  it("within a read don't wait behind a write that waits for them", async () => {
    const { store } = await newPlant();
    const reading = store.read(async () => {
      await sleep(20);
      return store.read((inner) => store.read(() => nameOf(inner)));
    });
    await turn();
    const writing = rename(store, "later");
    expect(await reading).toBe("Test Campus");
    await writing;
    expect(await store.read(nameOf)).toBe("later");
  });

  it("that come after a waiting write wait behind it, so that writes get their turn", async () => {
    const { store } = await newPlant();
    const order: string[] = [];
    const first = store.read(async () => {
      await sleep(20);
      order.push("first read");
    });
    const write = store.write(async () => {
      order.push("write");
    });
    const second = store.read(async () => {
      order.push("second read");
    });
    await Promise.all([first, write, second]);
    expect(order).toEqual(["first read", "write", "second read"]);
  });

  it("inside a write see what is being written", async () => {
    const { store } = await newPlant();
    const name = await store.write(async (writer) => {
      await writer.run("UPDATE plant SET name = 'new'");
      return store.read(nameOf);
    });
    expect(name).toBe("new");
  });

  it("can't write, neither by text nor by the builder", async () => {
    const { store } = await newPlant();
    await store.read(async (reader) => {
      await expect(reader.rows("UPDATE plant SET name = 'x' RETURNING name")).rejects.toThrow("must not write");
      const builder = reader.db as unknown as import("kysely").Kysely<{ plant: { name: string } }>;
      await expect(builder.updateTable("plant").set({ name: "x" }).returning("name").execute()).rejects.toThrow(
        "must not write",
      );
      await expect(builder.updateTable("plant").set({ name: "x" }).execute()).rejects.toThrow();
    });
    expect(await store.read(nameOf)).toBe("Test Campus");
  });
});

describe("a handle", () => {
  it("is worth nothing after its transaction", async () => {
    const { store } = await newPlant();
    let kept: Reader | null = null;
    await store.read(async (reader) => {
      kept = reader;
    });
    const reader = kept as unknown as Reader;
    await expect(reader.rows("SELECT 1 AS one")).rejects.toThrow("after its transaction had ended");
    await expect(reader.db.selectFrom("plant").select("name").execute()).rejects.toThrow("had ended");
  });

  it("opens no transactions of its own", async () => {
    const { store } = await newPlant();
    await store.write(async (writer) => {
      await expect(writer.writes.transaction().execute(async () => {})).rejects.toThrow("opens no transactions");
      await expect(writer.run("COMMIT")).rejects.toThrow("the store's");
    });
  });

  it("binds numbered places, also one that stands twice", async () => {
    const { store } = await newPlant();
    const rows = await store.read((reader) =>
      reader.rows("SELECT ?1 AS a, ?2 AS b, ?1 AS c, 'what?3' AS d", ["one", 2]),
    );
    expect(rows).toEqual([{ a: "one", b: 2, c: "one", d: "what?3" }]);
  });

  it("answers rows as lists in the order of their columns, and then again by name", async () => {
    const { store } = await newPlant();
    const sql = "SELECT ? AS b, NULL AS a, 1.5 AS b";
    expect(await store.read((reader) => reader.lists(sql, ["x"]))).toEqual([["x", null, 1.5]]);
    expect(await store.read((reader) => reader.rows(sql, ["x"]))).toEqual([{ b: 1.5, a: null }]);
    await expect(store.read((reader) => reader.lists("DELETE FROM plant RETURNING id"))).rejects.toThrow(
      "must not write",
    );
  });

  it("builds inserts of many rows and answers what they changed", async () => {
    const { store } = await newPlant();
    const result = await store.write((writer) =>
      writer.writes
        .insertInto("building")
        .values([1, 2, 3].map((id) => ({ id, rev: 0, tag: `B${id}`, life: "in_place" }) as never))
        .executeTakeFirst(),
    );
    expect(result.numInsertedOrUpdatedRows).toBe(3n);
  });
});

describe("a closed store", () => {
  it("refuses in words", async () => {
    const plant = await newPlant();
    await plant.close();
    await expect(plant.store.read(nameOf)).rejects.toThrow("The plant file is closed.");
    await expect(rename(plant.store, "x")).rejects.toThrow("The plant file is closed.");
    const reply = await plant.call("plant.read");
    expect(reply).toMatchObject({ ok: false, error: { code: "file" } });
  });
});

describe("statistics for the planner", () => {
  const samples = (plant: { store: Store }) =>
    plant.store.read((reader) =>
      reader.rows<{ name: string }>("SELECT name FROM sqlite_schema WHERE name IN ('sqlite_stat1', 'sqlite_stat4')"),
    );

  it("are made after a large write, without the samples that make every look-up be prepared again", async () => {
    const plant = await newPlant();
    expect(await samples(plant)).toEqual([]);
    await plant.store.write(async (writer) => {
      for (let id = 1; id <= 3000; id++) {
        const values = [id, `B${id}`, `K${id}`];
        await writer.run("INSERT INTO building (id, rev, tag, tag_key, life) VALUES (?, 0, ?, ?, 'in_place')", values);
      }
      await writer.rows("SELECT id FROM building WHERE tag = 'B7'");
    });
    const tables = (await samples(plant)).map((row) => row.name);
    expect(tables).toContain("sqlite_stat1");
    const count = (table: string) =>
      plant.store.read((reader) => reader.rows<{ n: number }>(`SELECT count(*) AS n FROM ${table}`));
    expect((await count("sqlite_stat1"))[0]?.n).toBeGreaterThan(0);
    if (tables.includes("sqlite_stat4")) expect((await count("sqlite_stat4"))[0]?.n).toBe(0);
  });
});
