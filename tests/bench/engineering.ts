/** What an engineer asks: loss of every circuit, what breaks with a duct bank, ways into all buildings, free strands. */
import type { FreePairAnswer } from "../../core/free-pair/answer.ts";
import { ask, bare, type Ground, settled } from "./ground.ts";
import { interleaved, type Line, median, timed } from "./measure.ts";

const line = (
  ground: Ground,
  name: string,
  bound: number,
  against: string,
  { ours, theirs }: { ours: number; theirs: number },
): Line => ({ name, bound, against, strands: ground.strands, ratio: ours / theirs, ours, theirs, unit: "ms" });

/** So many circuits are traced to know what tracing all of them takes. */
const SAMPLE = 200;

/** Loss of every circuit in service. */
async function lossOfAll(ground: Ground): Promise<Line> {
  const application = await settled(ground.path);
  const db = bare(ground.path);
  const circuits = db
    .prepare<[], number>("select id from circuit where state = 'in_service' order by id")
    .pluck()
    .all();
  db.close();
  const step = Math.max(1, Math.floor(circuits.length / SAMPLE));
  const sample = circuits.filter((_, at) => at % step === 0);
  const traced = () =>
    timed(async () => {
      for (const id of sample) await ask(application, "trace.walk", { what: { kind: "circuit", id } });
    });
  await traced();
  // Tracing is warm by now; of a small plant the reckoning would else be mostly the engine's compiling of it.
  if (circuits.length < 2000) await ask(application, "light.circuits");
  const theirs = ((await traced()) / sample.length) * circuits.length;
  const ours = await timed(() => ask(application, "light.circuits"));
  await application.close();
  return line(ground, "loss of every circuit in service", 3, `tracing them, from ${sample.length}`, { ours, theirs });
}

/** What breaks with one pathway: it must cost what lies in it, whatever the size of the plant. */
async function pathwayLost(ground: Ground): Promise<Line> {
  const application = await settled(ground.path);
  const db = bare(ground.path);
  const rows = db.prepare(
    "select t.*, g.* from leg l join stop s on s.id = l.from_stop_id join strand t on t.cable_id = s.cable_id join section g on g.strand_id = t.id where l.pathway_id = 1",
  );
  const what = [{ kind: "pathway", id: 1 }];
  await ask(application, "impact.of", { what });
  const medians = await interleaved(
    7,
    () => timed(() => ask(application, "impact.of", { what })),
    () => {
      const start = performance.now();
      rows.all();
      return performance.now() - start;
    },
  );
  db.close();
  await application.close();
  return line(ground, "impact of a pathway", 250, "reading the strands' rows in it (a bound of our own)", medians);
}

/** Cut analysis for all buildings: linear in the plant's places and ways. */
async function waysIn(ground: Ground): Promise<Line> {
  const application = await settled(ground.path);
  const db = bare(ground.path);
  const tables = ["space", "pathway", "cable", "stop", "leg"].map((table) => db.prepare(`select * from ${table}`));
  const medians = await interleaved(
    9,
    () => timed(() => ask(application, "impact.ways_in")),
    () => {
      const start = performance.now();
      for (const table of tables) table.all();
      return performance.now() - start;
    },
  );
  db.close();
  await application.close();
  return line(ground, "ways into every building", 25, "reading places, ways and cables (a bound of our own)", medians);
}

/** A free pair between two buildings, the glass in memory: by candidate examined, against a trace. */
async function freePair(ground: Ground): Promise<Line> {
  const application = await settled(ground.path);
  const [from, to] = [ground.truth.buildings[0]?.tag, ground.truth.buildings.at(-1)?.tag];
  const input = { from, to, strands: 2 };
  const { examined } = await ask<FreePairAnswer>(application, "free_pair.find", input);
  const [known] = ground.truth.lines;
  const medians = await interleaved(
    5,
    () => timed(() => ask(application, "free_pair.find", input)),
    async () => {
      const took: number[] = [];
      for (let n = 0; n < 5; n += 1)
        took.push(await timed(() => ask(application, "trace.walk", { what: known?.from })));
      return median(took) * Math.max(1, examined);
    },
  );
  await application.close();
  return line(ground, "free pair, plant in memory", 10, `a trace for each of ${examined} candidates`, medians);
}

export async function engineering(ground: Ground): Promise<Line[]> {
  return [await lossOfAll(ground), await pathwayLost(ground), await waysIn(ground), await freePair(ground)];
}
