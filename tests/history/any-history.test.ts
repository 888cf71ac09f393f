/** Whatever is written on whatever days: moments, pictures and merges agree with copies that were kept. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { expect, it } from "vitest";
import { KIND_NAMES, type KindName } from "../../core/model/dictionary.ts";
import type { Reply } from "../../core/operations/dispatch.ts";
import type { AnswerOf } from "../../core/operations/list.ts";
import { REFERENCES } from "../../core/store/relations.ts";
import { type Application, openApplication } from "../../host/application.ts";

const KINDS = ["party", "building", "space", "cable", "label"] as const;
type Kind = (typeof KINDS)[number];

const act = fc.record({
  do: fc.constantFrom("add", "add", "edit", "edit", "remove", "undo"),
  kind: fc.constantFrom(...KINDS),
  pick: fc.nat(20),
  other: fc.nat(20),
  value: fc.nat(4),
  meaning: fc.constantFrom("change" as const, "correction" as const),
  /** Days that pass before it. */
  days: fc.nat(1),
});
type Act = typeof act extends fc.Arbitrary<infer T> ? T : never;
type Row = { id: number } & Record<string, unknown>;
type Content = Record<string, Row[]>;

class Clocked {
  day = "2026-03-01";
  #seconds = 0;
  now = () => new Date(Date.parse(`${this.day}T08:00:00Z`) + this.#seconds++ * 1000).toISOString();
  today = () => this.day;
  pass(days: number): void {
    this.day = new Date(Date.parse(`${this.day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
  }
}

const open = (path: string, clock: Clocked, create = false): Promise<Application> =>
  openApplication(path, {
    ...(create ? { create: { name: "Test Campus" } } : {}),
    clock,
    unsynced: true,
    backupEvery_min: 0,
    backupAtClose: false,
  });

const call = async <T = unknown>(
  on: Application,
  name: string,
  input: object,
  meaning: "change" | "correction" = "change",
) => {
  const reply = (await on.session.dispatch({ name, input, occasion: { author: "Ada", meaning } })) as Reply<T>;
  if (!reply.ok && reply.error.code === "internal") throw new Error(reply.error.message);
  return reply;
};

const content = (on: Application): Promise<Content> =>
  on.store.read(async (reader) => {
    const all: Content = {};
    for (const kind of KINDS) {
      const rows = await reader.rows<Row & { rev: number; tag_key?: unknown }>(`SELECT * FROM "${kind}" ORDER BY id`);
      all[kind] = rows.map(({ rev: _, tag_key: __, ...row }) => row as Row);
    }
    return all;
  });

async function perform(on: Application, { do: what, kind, pick, other, value, meaning }: Act): Promise<void> {
  const now = await content(on);
  const one = (of: Kind, at: number) => now[of]?.[at % Math.max(1, now[of].length)]?.id ?? null;
  const labelled = KINDS[value % 4] as Kind;
  const values: Record<Kind, object> = {
    party: { tag: `P${value}` },
    building: { tag: `B${value}`, owner_id: one("party", other) },
    space: { tag: `${value}`, building_id: one("building", other), kind: "telecom_room" },
    cable: { tag: `F-${value}`, owner_id: one("party", other), notes: `${other % 3}` },
    label: { subject_kind: labelled, subject_id: one(labelled, other), text: `${value}` },
  };
  const id = one(kind, pick);
  if (what === "undo") await call(on, "history.undo", {});
  else if (what === "add") await call(on, "record.add", { kind, values: values[kind] }, meaning);
  else if (id === null) return;
  else if (what === "edit") await call(on, "record.edit", { kind, id, values: values[kind] }, meaning);
  else await call(on, "record.remove", { kind, ids: [id], along: true }, meaning);
}

async function expectSound(on: Application): Promise<void> {
  const now = await content(on);
  const there = (kind: string, id: unknown) => id === null || now[kind]?.some((row) => row.id === id);
  for (const kind of KINDS)
    for (const row of now[kind] ?? []) {
      for (const { field, to } of REFERENCES[kind as KindName])
        expect([kind, row, field, there(to, row[field])]).toContain(true);
      if (kind === "label") expect([row, there(String(row.subject_kind), row.subject_id)]).toContain(true);
    }
}

async function inFolder(work: (folder: string) => Promise<void>): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "strandbook-any-"));
  try {
    await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const RUNS = { numRuns: 25 };

it("two moments differ by exactly what differs between copies of both", { timeout: 240_000 }, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(act, { minLength: 5, maxLength: 25 }), fc.nat(), fc.nat(), (acts, a, b) =>
      inFolder(async (folder) => {
        const clock = new Clocked();
        const on = await open(join(folder, "a.strandbook"), clock, true);
        const kept: Content[] = [await content(on)];
        for (const one of acts) {
          await perform(on, one);
          const revision = (await call(on, "plant.status", {})).revision;
          if (revision === kept.length) kept.push(await content(on));
        }
        const [from, to] = [a % kept.length, b % kept.length].sort((x, y) => x - y) as [number, number];
        const reply = await call<AnswerOf<"history.compare">>(on, "history.compare", {
          from: { change_set: from },
          to: { change_set: to },
          limit: 2000,
        });
        if (!reply.ok) throw new Error(reply.error.message);
        const told = reply.value.changes.map(({ op, kind, id, fields }) => [
          kind,
          id,
          op,
          op === "update" ? fields.map(({ field }) => field).sort() : null,
        ]);
        const found: unknown[] = [];
        for (const kind of KIND_NAMES) {
          const [was, is] = [kept[from]?.[kind] ?? [], kept[to]?.[kind] ?? []];
          for (const id of [...new Set([...was, ...is].map((row) => row.id))].sort((x, y) => x - y)) {
            const [before, after] = [was.find((row) => row.id === id), is.find((row) => row.id === id)];
            if (!before) found.push([kind, id, "insert", null]);
            else if (!after) found.push([kind, id, "delete", null]);
            else {
              const fields = Object.keys(before).filter((field) => before[field] !== after[field]);
              if (fields.length > 0) found.push([kind, id, "update", fields.sort()]);
            }
          }
        }
        expect(told).toEqual(found);
        await on.close();
      }),
    ),
    RUNS,
  );
});

it("a picture as recorded is the copy of that day; one by all that is known now holds together", {
  timeout: 240_000,
}, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(act, { minLength: 5, maxLength: 25 }), fc.nat(), (acts, pick) =>
      inFolder(async (folder) => {
        const clock = new Clocked();
        const on = await open(join(folder, "a.strandbook"), clock, true);
        const days = new Map<string, Content>([["2026-02-28", await content(on)]]);
        for (const one of acts) {
          clock.pass(one.days);
          await perform(on, one);
          days.set(clock.day, await content(on));
        }
        const day = [...days.keys()][pick % days.size] as string;
        const path = (knowledge: string) => join(folder, `${knowledge}.strandbook`);
        expect(await call(on, "history.as_of", { day, knowledge: "recorded", path: path("recorded") })).toMatchObject({
          ok: true,
        });
        const recorded = await open(path("recorded"), clock);
        expect(await content(recorded)).toEqual(days.get(day));
        await recorded.close();
        const made = await call(on, "history.as_of", { day, knowledge: "known", path: path("known") });
        // A name that later work gave up and a correction took can't be told; that is refused.
        if (!made.ok) expect(made.error.code).toBe("duplicate");
        else {
          const known = await open(path("known"), clock);
          await expectSound(known);
          await known.close();
        }
        await on.close();
      }),
    ),
    RUNS,
  );
});

it("a merge holds together, is nothing the second time, and is undone as one; so is one after it", {
  timeout: 240_000,
}, async () => {
  const acts = fc.array(act, { maxLength: 12 });
  const either = fc.constantFrom("ours", "theirs");
  await fc.assert(
    fc.asyncProperty(acts, acts, acts, acts, acts, either, either, (first, here, there, here2, there2, rest, rest2) =>
      inFolder(async (folder) => {
        const clock = new Clocked();
        const [ours, theirs] = [join(folder, "a.strandbook"), join(folder, "b.strandbook")];
        const office = await open(ours, clock, true);
        await call(office, "record.add", { kind: "party", values: { tag: "FIRST" } });
        for (const one of first) await perform(office, { ...one, do: one.do === "undo" ? "add" : one.do });
        const parting = (await call(office, "plant.status", {})).revision;
        await office.file.saveCopy(theirs);
        const field = await open(theirs, clock);
        expect(parting).toBeGreaterThan(0);
        const goOn = async (on: Application, acts: typeof here) => {
          for (const one of acts) await perform(on, { ...one, do: one.do === "undo" ? "edit" : one.do });
        };
        await goOn(office, here);
        await goOn(field, there);
        await mergedOnce(office, theirs, rest);
        await goOn(office, here2);
        await goOn(field, there2);
        const isLast = await mergedOnce(office, theirs, rest2);
        await mergedBack(field, office, ours, isLast || here2.length === 0);
        await field.close();
        await office.close();
      }),
    ),
    RUNS,
  );
});

/**
 * What the office settled of both, the field takes over without a question; then both say the same. What the office changed
 * after its last merge may be asked where it had settled it otherwise than the field has it.
 */
async function mergedBack(field: Application, office: Application, ours: string, isSettled: boolean): Promise<void> {
  const reply = await call<AnswerOf<"merge.compare">>(field, "merge.compare", { file: ours });
  if (!reply.ok) throw new Error(reply.error.message);
  if (reply.value.merged_before?.in !== "there" || reply.value.hindrances.length > 0) return;
  if (isSettled) expect(reply.value.conflicts).toEqual([]);
  const rest = isSettled ? {} : { rest: "theirs" };
  expect(await call(field, "merge.apply", { file: ours, ...rest })).toMatchObject({ ok: true });
  await expectSound(field);
  expect(named(await content(field))).toEqual(named(await content(office)));
}

/** Records without their numbers, by tags where they refer to others. */
function named(all: Content): unknown {
  const tag = (kind: string, id: unknown) => all[kind]?.find((row) => row.id === id)?.tag ?? id;
  return KINDS.map((kind) =>
    (all[kind] ?? [])
      .map(({ id: _, ...row }) => {
        const out: Record<string, unknown> = { ...row };
        for (const { field, to } of REFERENCES[kind as KindName])
          if (typeof row[field] === "number") out[field] = tag(to, row[field]);
        if (kind === "label") out.subject_id = tag(String(row.subject_kind), row.subject_id);
        return JSON.stringify(out);
      })
      .toSorted(),
  );
}

/** Whether it wrote anything: only then is it kept how far it saw the other file. */
async function mergedOnce(office: Application, theirs: string, rest: "ours" | "theirs"): Promise<boolean> {
  const before = await content(office);
  const merged = await call<AnswerOf<"merge.apply">>(office, "merge.apply", { file: theirs, rest });
  if (!merged.ok) {
    // Names that both gave to different records are told, and nothing is written.
    expect(["duplicate", "rests_on"]).toContain(merged.error.code);
    expect(await content(office)).toEqual(before);
  } else {
    await expectSound(office);
    const once = await content(office);
    const again = await call<AnswerOf<"merge.compare">>(office, "merge.compare", { file: theirs });
    expect(again).toMatchObject({ ok: true, value: { open: 0, would: { counts: [] } } });
    expect(await content(office)).toEqual(once);
    if (merged.value.change_set !== null) {
      await call(office, "history.undo", {});
      expect(await content(office)).toEqual(before);
      await call(office, "history.redo", {});
      expect(await content(office)).toEqual(once);
    }
  }
  return merged.ok && merged.value.change_set !== null;
}
