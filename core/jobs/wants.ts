/** What a job's open steps will take up: strands, coils, splice trays, ports; and which other jobs want the same. */
import type { KindName } from "../model/dictionary.ts";
import { Refusal } from "../result.ts";
import { refsOf, resolveOne, resolvePorts, resolveStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { listed } from "../words/phrase.ts";
import { type Job, type JobStep, jobNamed } from "./stored.ts";

/** `strand 12`, `stop 7`: what is wanted, by kind and id. */
type Key = string;

/** Fields of acts' inputs that name strands, ports or trays, as far as they are addresses. */
const NAMING: readonly (readonly [field: string, kind: "strand" | "port" | "tray"])[] = [
  ["strands", "strand"],
  ["from", "strand"],
  ["to", "strand"],
  ["from", "port"],
  ["to", "port"],
  ["ports", "port"],
  ["tray", "tray"],
];

export interface Clash {
  readonly job: RecordRef;
  /** What both want, as records; of many the first few. */
  readonly wanted: readonly RecordRef[];
  readonly count: number;
  /** What follows "the same": "12 strands, coil". */
  readonly words: string;
}

/** Names that lead nowhere yet, or not any more, want nothing. */
async function quiet<T>(read: () => Promise<T>, none: T): Promise<T> {
  try {
    return await read();
  } catch (error) {
    if (error instanceof Refusal) return none;
    throw error;
  }
}

async function wantsOf(reader: Reader, step: JobStep, keys: Set<Key>, pulls = true): Promise<void> {
  if (step.act === null || typeof step.input !== "object" || step.input === null) return;
  const input = step.input as Readonly<Record<string, unknown>>;
  const add = (kind: KindName, ids: readonly number[]) => {
    for (const id of ids) keys.add(`${kind} ${id}`);
  };
  for (const [field, kind] of NAMING) {
    const text = input[field];
    if (typeof text !== "string") continue;
    if (kind === "strand") {
      const found = await quiet(async () => (await resolveStrands(reader, text, { field })).strands, []);
      add(
        "strand",
        found.map(({ id }) => id),
      );
    } else if (kind === "port") {
      add(
        "port",
        (await quiet(() => resolvePorts(reader, text, { field }), [])).map(({ id }) => id),
      );
    } else {
      const tray = await quiet(async () => [await resolveOne(reader, text, { kinds: ["tray"], field })], []);
      add(
        "tray",
        tray.map(({ id }) => id),
      );
    }
  }
  if (step.act === "record.change_many" && Array.isArray(input.changes)) {
    for (const change of input.changes as readonly Readonly<Record<string, unknown>>[]) {
      if (change.kind !== "stop" || typeof change.id !== "string") continue;
      const named = change.id;
      const stop = await quiet(async () => [await resolveOne(reader, named, { kinds: ["stop"], field: "id" })], []);
      add(
        "stop",
        stop.map(({ id }) => id),
      );
    }
  }
  const { cable } = input;
  if (typeof cable !== "string") return;
  if (
    step.act === "cable.sever" ||
    step.act === "cable.open" ||
    step.act === "cable.replace" ||
    step.act === "cable.replace_end"
  ) {
    const named = input.cut ?? (step.act === "cable.replace" ? input.strands : undefined);
    const cut = typeof named === "string" ? `${cable}:${named}` : null;
    const strands = await quiet(
      async () =>
        cut !== null
          ? (await resolveStrands(reader, cut, { field: "cut" })).strands
          : step.act === "cable.open"
            ? []
            : await reader.rows<{ id: number }>("select id from strand where cable_id = ?", [
                (await resolveOne(reader, cable, { kinds: ["cable"], field: "cable" })).id,
              ]),
      [],
    );
    add(
      "strand",
      strands.map(({ id }) => id),
    );
  }
  // The coils that sheath is drawn from; a plan that pulls nothing wants none.
  if (pulls && step.act === "cable.move_cut" && Array.isArray(input.places)) {
    const { id } = await quiet(() => resolveOne(reader, cable, { kinds: ["cable"], field: "cable" }), {
      id: 0,
    } as RecordRef);
    const stops = await reader.rows<{ id: number }>("select id from stop where cable_id = ? order by ordinal", [id]);
    if (input.places.length > 0)
      add(
        "stop",
        stops.map((stop) => stop.id),
      );
  }
}

/** The strands that one step's act names. */
export async function strandsOfStep(reader: Reader, step: JobStep): Promise<number[]> {
  const keys = new Set<Key>();
  await wantsOf(reader, step, keys);
  return [...keys].flatMap((key) => (key.startsWith("strand ") ? [Number(key.split(" ")[1])] : []));
}

async function wantsOfJob(reader: Reader, job: Job): Promise<ReadonlySet<Key>> {
  const keys = new Set<Key>();
  // Of several mends in one job it isn't told which of them pulls.
  const pulled = job.steps.flatMap(({ act, input }) => {
    const kept = act === null ? (input as { readonly pulled_m?: number } | null) : null;
    return kept?.pulled_m ?? [];
  });
  const pulls = pulled.length === 0 || pulled.some((metres) => metres > 0.05);
  for (const step of job.steps) if (step.state === "open") await wantsOf(reader, step, keys, pulls);
  const reserved = await reader.rows<{ id: number }>(
    `select distinct s.strand_id as id from circuit c join assignment a on a.circuit_id = c.id
       join section s on s.id = a.section_id where c.job_id = ? and c.state = 'planned'`,
    [job.ref.id],
  );
  for (const { id } of reserved) keys.add(`strand ${id}`);
  return keys;
}

/** Strands that jobs which are not ended want, by their ids; of several jobs the first by number. */
export async function strandsPromised(reader: Reader): Promise<ReadonlyMap<number, RecordRef>> {
  const jobs = await reader.rows<{ id: number }>(
    "select id from job where state not in ('done', 'abandoned') order by tag_key, id",
  );
  const promised = new Map<number, RecordRef>();
  for (const { id } of jobs) {
    const job = await jobNamed(reader, id);
    for (const key of await wantsOfJob(reader, job)) {
      const [kind, strand] = key.split(" ");
      if (kind === "strand" && !promised.has(Number(strand))) promised.set(Number(strand), job.ref);
    }
  }
  return promised;
}

/** What follows "the same". */
const SAME = {
  strand: (n: number) => plural(n, "strand", "{0} strands"),
  stop: (n: number) => plural(n, "coil", "{0} coils"),
  tray: (n: number) => plural(n, "splice tray", "{0} splice trays"),
  port: (n: number) => plural(n, "port", "{0} ports"),
};
const FIRST = 6;

/** Other jobs that are not ended and want the same, in order of their numbers. */
export async function clashesOf(reader: Reader, job: Job): Promise<Clash[]> {
  if (job.row.state === "done" || job.row.state === "abandoned") return [];
  const mine = await wantsOfJob(reader, job);
  if (mine.size === 0) return [];
  const others = await reader.rows<{ id: number }>(
    "select id from job where id <> ? and state not in ('done', 'abandoned') order by tag_key, id",
    [job.ref.id],
  );
  const clashes: Clash[] = [];
  for (const { id } of others) {
    const other = await jobNamed(reader, id);
    const both = [...(await wantsOfJob(reader, other))].filter((key) => mine.has(key));
    if (both.length === 0) continue;
    const byKind = Map.groupBy(both, (key) => key.split(" ")[0] as keyof typeof SAME);
    const words = [...byKind].map(([kind, own]) => SAME[kind](own.length));
    const wanted: RecordRef[] = [];
    for (const [kind, own] of byKind) {
      const refs = await refsOf(
        reader,
        kind,
        own.slice(0, FIRST - wanted.length).map((key) => Number(key.split(" ")[1])),
      );
      wanted.push(...refs.values());
    }
    clashes.push({ job: other.ref, wanted, count: both.length, words: listed(words) });
  }
  return clashes;
}
