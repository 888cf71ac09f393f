/** Questions: trace, feeds, report, tables, memory. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { ask, bare, type Ground, opened, settled, tablesOf } from "./ground.ts";
import { interleaved, type Line, timed } from "./measure.ts";

/** All ends that one end is joined to, near and far: what any tracer must at least ask of the file. */
const COMPONENT = `with recursive reached (n) as (
    select ?
    union select (reached.n / 4) * 4 + case when reached.n % 4 < 2 then 1 - reached.n % 4 else 5 - reached.n % 4 end from reached
    union select b_section_id * 4 + (b_side = 'B') from reached join splice on a_section_id = reached.n / 4
      and a_side = case reached.n % 4 when 0 then 'A' else 'B' end and life in ('in_place', 'out_of_use') where reached.n % 4 < 2
    union select a_section_id * 4 + (a_side = 'B') from reached join splice on b_section_id = reached.n / 4
      and b_side = case reached.n % 4 when 0 then 'A' else 'B' end and life in ('in_place', 'out_of_use') where reached.n % 4 < 2
    union select position_id * 4 + 2 from reached join termination on section_id = reached.n / 4
      and side = case reached.n % 4 when 0 then 'A' else 'B' end and life in ('in_place', 'out_of_use') where reached.n % 4 < 2
    union select section_id * 4 + (side = 'B') from reached join termination on position_id = reached.n / 4
      and life in ('in_place', 'out_of_use') where reached.n % 4 = 2)
  select n from reached`;

const line = (
  ground: Ground,
  name: string,
  bound: number,
  against: string,
  medians: { ours: number; theirs: number },
): Line => ({
  name,
  bound,
  against,
  strands: ground.strands,
  ratio: medians.ours / medians.theirs,
  ...medians,
  unit: "ms",
});

export async function traceFresh(ground: Ground): Promise<Line> {
  const medians = await interleaved(
    41,
    async () => {
      const application = await opened(ground.path);
      const ms = await timed(() => ask(application, "trace.walk", { what: { kind: "position", id: 1 } }));
      await application.close();
      return ms;
    },
    () => {
      const db = bare(ground.path);
      const ms = performance.now();
      // The first position is where the first strand section lands.
      db.prepare(COMPONENT).all(4 + 2);
      const took = performance.now() - ms;
      db.close();
      return took;
    },
  );
  return line(ground, "trace, fresh file", 4, "the bare recursive query, fresh file", medians);
}

/** A strand on record is its own row and those of its sections. */
const ROWS_OF_BUILDING = `select t.*, g.* from strand t join section g on g.strand_id = t.id where t.cable_id in (
    select s.cable_id from stop s join space p on p.id = s.space_id join building b on b.id = p.building_id where b.tag = ?)`;

export async function feeds(ground: Ground): Promise<Line[]> {
  const [building] = [...ground.truth.buildings].sort(
    (a, b) => Math.abs(a.strands - 2000) - Math.abs(b.strands - 2000),
  );
  const what = building?.tag;
  const rows = (db: ReturnType<typeof bare>): number => {
    const start = performance.now();
    db.prepare(ROWS_OF_BUILDING).all(what);
    return performance.now() - start;
  };
  const cold = await interleaved(
    3,
    async () => {
      const application = await opened(ground.path);
      const ms = await timed(() => ask(application, "feeds.of", { what }));
      await application.close();
      return ms;
    },
    () => {
      const db = bare(ground.path);
      const ms = rows(db);
      db.close();
      return ms;
    },
  );
  const application = await settled(ground.path);
  // The first question that wants the whole plant holds it in memory from then on.
  await ask(application, "check.run", { rules: ["truth.joined_twice"] });
  await ask(application, "feeds.of", { what });
  const db = bare(ground.path);
  rows(db);
  const held = await interleaved(
    7,
    () => timed(() => ask(application, "feeds.of", { what })),
    () => rows(db),
  );
  db.close();
  await application.close();
  return [
    line(ground, "feeds, plant in memory", 12, "reading the strands' rows and their sections'", held),
    line(ground, "feeds, cold file", 70, "reading the strands' rows and their sections', fresh file", cold),
  ];
}

/** Reads every column of every table once. */
function readEverything(db: ReturnType<typeof bare>): number {
  const start = performance.now();
  for (const table of tablesOf(db)) {
    const columns = db.prepare<[], { name: string }>(`select name from pragma_table_info('${table}')`).all();
    const sums = columns.map(({ name }) => `sum(length("${name}"))`);
    db.prepare(`select ${sums.join(", ")} from "${table}" not indexed`).get();
  }
  return performance.now() - start;
}

export async function report(ground: Ground): Promise<Line> {
  const medians = await interleaved(
    3,
    async () => {
      const application = await opened(ground.path);
      const ms = await timed(() => ask(application, "check.run"));
      await application.close();
      return ms;
    },
    () => {
      const db = bare(ground.path);
      const ms = readEverything(db);
      db.close();
      return ms;
    },
  );
  return line(ground, "consistency report", 6, "one read of every column of every table", medians);
}

export async function tableWindow(ground: Ground): Promise<Line> {
  const application = await settled(ground.path);
  const db = bare(ground.path);
  const offset = (turn: number) => Math.floor(((turn * 37 + 5) % 97) * (ground.strands / 100));
  const window = (at: number) => ({
    kind: "strand",
    sort: [],
    filters: [{ field: "number", test: "at_most", value: 144 }],
    offset: at,
    limit: 60,
  });
  await ask(application, "record.window", window(0));
  const keyset = db.prepare(
    "select t.*, c.tag from strand t join cable c on c.id = t.cable_id where (t.cable_id, t.number) > (?, 0) and t.number <= 144 order by t.cable_id, t.number limit 60",
  );
  keyset.all(1);
  let turn = 0;
  const medians = await interleaved(
    41,
    () => timed(() => ask(application, "record.window", window(offset(turn++)))),
    () => {
      const start = performance.now();
      keyset.all(Math.floor(offset(turn) / 144) + 1);
      return performance.now() - start;
    },
  );
  db.close();
  await application.close();
  return line(ground, "a table's next window", 5, "a keyset query of as many rows", medians);
}

/** Peak memory of processes of their own: one asks the bulk questions, one reads the whole plant in from a folder. */
export async function memory(ground: Ground): Promise<Line[]> {
  const folder = join(ground.folder, "memory");
  const application = await opened(ground.path);
  await ask(application, "exchange.export", { folder });
  await application.close();
  return [
    peakOf(ground, "bulk questions", "ask", ground.path, ground.truth.buildings[0]?.tag ?? ""),
    peakOf(ground, "import, undo and redo", "import", join(ground.folder, "memory.strandbook"), folder),
  ];
}

function peakOf(ground: Ground, name: string, ...given: readonly string[]): Line {
  const child = fileURLToPath(new URL("./memory-child.ts", import.meta.url));
  const out = execFileSync(process.execPath, [child, ...given], { encoding: "utf8" });
  const peak = Number(out.trim().split("\n").at(-1));
  return {
    name: `peak memory, ${name}`,
    bound: 1,
    against: "600 MB",
    strands: ground.strands,
    ratio: peak / 600,
    ours: peak,
    theirs: 600,
    unit: "MB",
  };
}
