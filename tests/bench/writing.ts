/** Writing: one edit, import, export, history, undo. */
import { readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import Papa from "papaparse";
import { openApplication } from "../../host/application.ts";
import { ask, bare, copyOf, type Ground, opened, settled, tablesOf } from "./ground.ts";
import { interleaved, type Line, median, timed } from "./measure.ts";

const line = (ground: Ground, name: string, bound: number, against: string, ours: number, theirs: number): Line => ({
  name,
  bound,
  against,
  strands: ground.strands,
  ratio: ours / theirs,
  ours,
  theirs,
  unit: "ms",
});

/** So many edits in a run. */
const EDITS = 20;

export async function oneEdit(ground: Ground): Promise<Line> {
  const ours = await settled(await copyOf(ground, "edited.strandbook"), false);
  const db = bare(await copyOf(ground, "edited-bare.strandbook"), { write: true });
  const update = db.prepare("update strand set notes = ? where id = ?");
  const strand = { ours: 0, theirs: 0 };
  // In runs of their own, or each side would pay for what the other left the disk to do: the file system writes the
  // deletion of the bare side's journal at the next sync, whoever asks for it.
  const medians = await interleaved(
    61,
    async () => {
      const took: number[] = [];
      for (let n = 0; n < EDITS; n += 1) {
        const id = 1 + strand.ours++;
        took.push(await timed(() => ask(ours, "record.edit", { kind: "strand", id, values: { notes: `seen ${id}` } })));
      }
      return median(took);
    },
    () => {
      const took: number[] = [];
      for (let n = 0; n < EDITS; n += 1) {
        const id = 1 + strand.theirs++;
        const start = performance.now();
        update.run(`seen ${id}`, id);
        took.push(performance.now() - start);
      }
      return median(took);
    },
  );
  db.close();
  await ours.close();
  return line(ground, "one edit with its history", 1.5, "a bare update and commit", medians.ours, medians.theirs);
}

export async function exchange(ground: Ground): Promise<Line[]> {
  const folder = join(ground.folder, "exchange");
  const application = await opened(ground.path);
  // What takes long is measured once.
  const turns = ground.strands > 100_000 ? 1 : 5;
  const exports: number[] = [];
  for (let turn = 0; turn < turns; turn += 1) {
    rmSync(folder, { recursive: true, force: true });
    exports.push(await timed(() => ask(application, "exchange.export", { folder })));
  }
  const exported = median(exports);
  await application.close();

  const source = bare(ground.path);
  const tables = tablesOf(source);
  let selected = 0;
  let inserted = 0;
  const target = bare(join(ground.folder, "bare.strandbook"), { write: true });
  target.pragma("foreign_keys = OFF");
  for (const { sql } of source
    .prepare<[], { sql: string }>("select sql from sqlite_master where sql is not null and name not like 'sqlite_%'")
    .all()) {
    target.exec(sql);
  }
  target.pragma("foreign_keys = ON");
  target.exec("begin; pragma defer_foreign_keys = on");
  for (const table of tables) {
    const start = performance.now();
    const rows = source.prepare<[], Record<string, unknown>>(`select * from "${table}"`).all();
    selected += performance.now() - start;
    const [first] = rows;
    if (!first) continue;
    const columns = Object.keys(first);
    const insert = target.prepare(
      `insert into "${table}" (${columns.map((name) => `"${name}"`).join(", ")}) values (${columns.map(() => "?").join(", ")})`,
    );
    const values = rows.map((row) => columns.map((name) => row[name]));
    const began = performance.now();
    for (const row of values) insert.run(row);
    inserted += performance.now() - began;
  }
  const began = performance.now();
  target.exec("commit");
  inserted += performance.now() - began;
  target.close();
  source.close();
  let parsed = 0;
  for (const name of readdirSync(folder).filter((file) => file.endsWith(".csv"))) {
    const text = readFileSync(join(folder, name), "utf8");
    parsed += await timed(() => Papa.parse(text, { header: false }));
  }

  const path = join(ground.folder, "imported.strandbook");
  const imported = await openApplication(path, { create: { name: "bench" }, backupAtClose: false, backupEvery_min: 0 });
  const importing = await timed(() => ask(imported, "exchange.import", { folder }));
  const undoing = await timed(() => ask(imported, "history.undo"));
  await ask(imported, "history.redo");
  await imported.close();
  const db = bare(path);
  const size = (names: string): number =>
    db.prepare<[], { n: number }>(`select coalesce(sum(pgsize), 0) as n from dbstat where name ${names}`).get()?.n ?? 0;
  const history = size("in ('change_set', 'change_entry', 'change_entry_by_record')") / 1_000_000;
  const plant = size("not in ('change_set', 'change_entry', 'change_entry_by_record')") / 1_000_000;
  db.close();
  rmSync(folder, { recursive: true, force: true });
  const bytes = statSync(path).size;
  if (bytes === 0) throw new Error("nothing was imported");
  return [
    line(
      ground,
      "import of a folder",
      4,
      "papaparse and bare prepared inserts of the same rows",
      importing,
      parsed + inserted,
    ),
    line(ground, "export to a folder", 3, "bare selects of the same rows", exported, selected),
    line(ground, "undo of the import", 1.5, "its inserts with their history", undoing, importing),
    {
      ...line(ground, "history, imported and undone and redone", 1, "the plant itself", history, plant),
      unit: "MB",
    },
  ];
}
