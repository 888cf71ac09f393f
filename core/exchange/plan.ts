/** What would become of each row of a folder, by reading it twice: who is who, then what differs. */
import { KIND_NAMES, type KindName } from "../model/dictionary.ts";
import type { FolderPort } from "../ports.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { Comparison } from "./compare.ts";
import { Contents } from "./contents.ts";
import { NEW, Taste } from "./fates.ts";
import { Folder } from "./folder.ts";
import { Identities, READING_ORDER } from "./identify.ts";
import type { ChangedRow, Heard, NewRow, Sink } from "./told.ts";

export interface FolderPlan {
  readonly folder: Folder;
  readonly identities: Identities;
  readonly changed: readonly ChangedRow[];
  readonly added: readonly NewRow[];
  readonly contents: Contents;
  /** Names this plan on this content: another folder, plant or fate gives another. */
  readonly digest: string;
}

/** What a plan stands on. */
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
  const { reader, port, path, newIds, heard } = ground;
  const folder = await Folder.open(port, path);
  const contents = await Contents.open(port, path);
  const starts = new Map<KindName, number>();
  for (const kind of KIND_NAMES) starts.set(kind, await newIds(kind, 0));
  const [plant] = await reader.rows<{ id: number }>("select id from plant order by id limit 1");
  const identities = new Identities(starts, plant?.id ?? 0);
  await identities.directory.load(reader, READING_ORDER, async () => heard(say`reading what is on record`, 0));

  const files = READING_ORDER.flatMap((kind) => folder.file(kind) ?? []);
  const taste = new Taste();
  for (const file of files) {
    await identities.read(folder, file, taste.text, (rows) => heard(say`reading ${file.name}`, rows));
  }
  identities.finish();
  const comparison = new Comparison(reader, identities, folder, contents, heard);
  for (const file of files) await comparison.file(file, sink);
  await comparison.refuseResting(files);
  await contents.check(reader, heard);
  return {
    folder,
    identities,
    contents,
    changed: comparison.changed,
    added: comparison.added,
    digest: digestOf(ground, identities, contents, taste, folder),
  };
}

/** Of the revision, every character of the files, every row's fate and record. */
function digestOf(
  { revision }: Ground,
  identities: Identities,
  contents: Contents,
  taste: Taste,
  folder: Folder,
): string {
  taste.number(revision);
  for (const { kind, name } of folder.files) {
    taste.text(name);
    const rows = identities.fates.rows[kind];
    const firstNew = identities.firstNew(kind);
    for (let i = 0; i < rows.length; i += 1) {
      const fate = rows.fate(i);
      const id = rows.ids.at(i);
      // Ids of new records may begin elsewhere when others were only promised meanwhile: their order is what counts.
      taste.number(4 * (fate === NEW ? id - firstNew : id) + (fate ?? 0));
    }
  }
  taste.text(contents.there.join(" "));
  return taste.toString();
}

/** Writes what a plan says, leaving refused rows out. */
export async function writePlanned(ground: Ground, plan: FolderPlan, sink: Sink): Promise<void> {
  const { folder, identities, contents } = plan;
  const comparison = new Comparison(ground.reader, identities, folder, contents, ground.heard);
  for (const kind of READING_ORDER) {
    const file = folder.file(kind);
    if (file) await comparison.file(file, sink, true);
  }
}
