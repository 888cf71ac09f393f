/** The clerk's desk: a search at each keystroke, and many cells pasted at once. */
import { KIND_NAMES } from "../../core/model/dictionary.ts";
import { ask, bare, copyOf, type Ground, settled } from "./ground.ts";
import { interleaved, type Line, timed } from "./measure.ts";

/** What somebody types on the way to a cable's tag, letter by letter. */
const KEYSTROKES = ["C", "C-", "C-0", "C-00", "C-000", "C-0001"] as const;
const OFFERED = 12;

export async function searching(ground: Ground): Promise<Line> {
  const application = await settled(ground.path);
  const db = bare(ground.path);
  const tagged = KIND_NAMES.filter((kind) =>
    db
      .prepare<[], { name: string }>(`pragma table_info("${kind}")`)
      .all()
      .some(({ name }) => name === "tag"),
  ).filter((kind) => kind !== "port" && kind !== "tray");
  const queries = tagged.map((kind) => db.prepare(`select id, tag from "${kind}" where tag like ? limit ${OFFERED}`));
  const typing = async (): Promise<void> => {
    for (const text of KEYSTROKES) await ask(application, "address.find", { text, limit: OFFERED });
  };
  // Whoever types has typed before: the engine has compiled what it runs.
  for (let turn = 0; turn < 40; turn += 1) await typing();
  const medians = await interleaved(
    21,
    () => timed(typing),
    () =>
      timed(() => {
        for (const text of KEYSTROKES) for (const query of queries) query.all(`%${text}%`);
      }),
  );
  await application.close();
  db.close();
  return {
    name: "search as one types, six letters",
    bound: 10,
    against: "bare queries for part of a tag over the tags' indexes",
    strands: ground.strands,
    ratio: medians.ours / medians.theirs,
    ...medians,
    unit: "ms",
  };
}

/** Two fields of so many strands make the ten thousand cells. */
const PASTED_ROWS = 5_000;

export async function pasting(ground: Ground): Promise<Line> {
  const application = await settled(await copyOf(ground, "pasted.strandbook"), false);
  const db = bare(await copyOf(ground, "pasted-bare.strandbook"), { write: true });
  const ids = db.prepare<[], { id: number }>(`select id from strand order by id limit ${PASTED_ROWS}`).all();
  const update = db.prepare("update strand set notes = ?, place = ? where id = ?");
  let turn = 0;
  const medians = await interleaved(
    5,
    () => {
      turn += 1;
      const changes = ids.map(({ id }, row) => ({
        op: "edit",
        kind: "strand",
        id,
        values: { notes: `pasted ${turn} ${row}`, place: row + 1 },
      }));
      return timed(() => ask(application, "record.change_many", { changes, summary: "Paste" }));
    },
    () =>
      timed(() => {
        db.transaction(() => {
          for (const [row, { id }] of ids.entries()) update.run(`pasted ${turn} ${row}`, row + 1, id);
        })();
      }),
  );
  await application.close();
  db.close();
  return {
    name: "10,000 cells pasted, with their history",
    bound: 5,
    against: "bare updates of the same rows and a commit",
    strands: ground.strands,
    ratio: medians.ours / medians.theirs,
    ...medians,
    unit: "ms",
  };
}
