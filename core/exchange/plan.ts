/** What would become of each row of a folder, by reading it twice: who is who, then what differs. */
import { KIND_NAMES, type KindName } from "../model/dictionary.ts";
import type { FolderPort } from "../ports.ts";
import type { Reader } from "../store/handle.ts";
import { Comparison } from "./compare.ts";
import { Taste } from "./fates.ts";
import { Folder, type ReadFile } from "./folder.ts";
import { Identities, READING_ORDER } from "./identify.ts";
import type { ChangedRow, Heard, NewRow, Sink } from "./told.ts";

export interface FolderPlan {
  readonly folder: Folder;
  readonly files: readonly ReadFile[];
  readonly identities: Identities;
  readonly changed: readonly ChangedRow[];
  readonly added: readonly NewRow[];
  /** Names this plan on this content: another folder, plant or fate gives another. */
  readonly digest: string;
}

export interface Ground {
  readonly reader: Reader;
  readonly port: FolderPort;
  readonly path: string;
  readonly revision: number;
  readonly newIds: (kind: KindName, count: number) => Promise<number>;
  readonly heard: Heard;
}

/**
 * Plans a folder. With a sink, what is planned is handed over chunk by chunk as long as no row was refused; the caller's
 * transaction takes it back when one is in the end.
 */
export async function planFolder(ground: Ground, sink: Sink | null): Promise<FolderPlan> {
  const { reader, port, path, revision, newIds, heard } = ground;
  const folder = await Folder.open(port, path);
  const starts = new Map<KindName, number>();
  for (const kind of KIND_NAMES) starts.set(kind, await newIds(kind, 0));
  const [plant] = await reader.rows<{ id: number }>("select id from plant order by id limit 1");
  const identities = new Identities(starts, plant?.id ?? null);
  await identities.directory.load(reader, READING_ORDER, async () => heard("reading what is on record", 0));

  const files = READING_ORDER.flatMap((kind) => folder.file(kind) ?? []);
  const taste = new Taste();
  for (const file of files) {
    await identities.read(folder, file, taste.text, (rows) => heard(`reading ${file.name}`, rows));
  }
  const comparison = new Comparison(reader, identities, folder, heard);
  for (const file of files) await comparison.file(file, sink);
  await comparison.refuseResting(files);
  taste.number(revision);
  for (const file of files) {
    taste.text(file.name);
    const { [file.kind]: fates } = identities.fates.fates;
    const { [file.kind]: ids } = identities.fates.ids;
    for (let i = 0; i < fates.length; i += 1) taste.number(fates.at(i) + 4 * ids.at(i));
  }
  return { folder, files, identities, changed: comparison.changed, added: comparison.added, digest: taste.toString() };
}

/** Writes what a plan says, leaving refused rows out. */
export async function writePlanned(ground: Ground, plan: FolderPlan, sink: Sink): Promise<void> {
  const comparison = new Comparison(ground.reader, plan.identities, plan.folder, ground.heard);
  for (const file of plan.files) await comparison.file(file, sink, true);
}
