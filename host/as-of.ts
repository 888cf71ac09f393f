/** The plant as it stood on a day, in a file of its own: a copy by the engine's backup from which later changes are taken back. */
import { existsSync, rmSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { AS_OF_ACT, type Knowledge, planAsOf } from "../core/history/as-of.ts";
import type { Clock, Picture } from "../core/ports.ts";
import { Gateway } from "../core/store/gateway.ts";
import { openPlant } from "./plant-file.ts";
import type { Connection } from "./sqlite-connection.ts";
import { SqliteStore } from "./sqlite-store.ts";
import { makeWhole } from "./whole-file.ts";

export interface AsOfRequest {
  readonly day: string;
  readonly knowledge: Knowledge;
  readonly author: string;
  readonly path?: string;
}

interface Copied {
  readonly path: string;
  saveCopy(path: string): Promise<void>;
}

const EXTENSION = ".strandbook";

/** Writes the file; whatever goes wrong, nothing is left, and the plant it is made from is only copied. */
export async function writeAsOf(from: Copied, clock: Clock, request: AsOfRequest): Promise<Picture> {
  const { day, knowledge, author } = request;
  const path = request.path === undefined ? freeBeside(from.path, day, knowledge) : resolve(request.path);
  let picture: Omit<Picture, "path"> | undefined;
  await makeWhole(path, async (unfinished) => {
    // The name was only tried; the copy wants to be the first of it.
    rmSync(unfinished);
    await from.saveCopy(unfinished);
    picture = await takeBack(unfinished, clock, { day, knowledge, author });
  });
  if (!picture) throw new Error("a file was made without saying what it shows");
  return { path, ...picture };
}

async function takeBack(
  path: string,
  clock: Clock,
  { day, knowledge, author }: AsOfRequest,
): Promise<Omit<Picture, "path">> {
  const plant = await openPlant(path, { unsynced: true });
  // A picture of a picture would say of a day what holds of another.
  const store = new SqliteStore(plant.connection, () => plant.readOnly ?? shownPast(plant.connection));
  try {
    const gateway = new Gateway(store, clock);
    const written = await gateway.carryOut(AS_OF_ACT, { author }, (reader) =>
      planAsOf(reader, day, knowledge, clock.today()),
    );
    const records = written.counts.reduce((sum, one) => sum + one.added + one.changed + one.deleted, 0);
    return { summary: written.summary, ...written.answer, records, notices: written.notices };
  } finally {
    await store.close();
    plant.close();
  }
}

function freeBeside(plant: string, day: string, knowledge: Knowledge): string {
  const stem = `${basename(plant, EXTENSION)}-${day}${knowledge === "recorded" ? "-as-recorded" : ""}`;
  const named = (n: number) => join(dirname(plant), `${stem}${n === 1 ? "" : `-${n}`}${EXTENSION}`);
  let n = 1;
  while (existsSync(named(n))) n++;
  return named(n);
}

/** What a file of the past shows, in words; null for a plant. */
export function shownPast(connection: Connection): string | null {
  const [last] = connection.rows<{ act: string; summary: string }>(
    "SELECT act, summary FROM change_set ORDER BY id DESC LIMIT 1",
  );
  return last?.act === AS_OF_ACT ? last.summary : null;
}
