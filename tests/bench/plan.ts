/** The plan of a campus of many places and ways: whether drawing grows with them, and whether it moves under the hand. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { createPlant } from "../../host/plant-file.ts";
import { built, FRAME_MS } from "./felt.ts";
import { ask, type Ground, opened, settled } from "./ground.ts";
import { interleaved, type Line, median, timed } from "./measure.ts";
import type { PlanFelt } from "./plan-felt.ts";

const MANY = 10_000;
const FEW = MANY / 4;
/**
 * Four times as many may cost twice as much each: what outlives the collector's first round is moved by it once more
 * (measured: 4.3 µs each of 2,500, 6.4 of 10,000, 6.8 of 40,000). Anything quadratic would be at four.
 */
const GROWTH = 2;
const CHILD = fileURLToPath(new URL("../journeys/support/plan-child.ts", import.meta.url));

/** So far apart stand neighbours, in degrees: some 40 m. */
const STEP = 0.0004;

/** A campus of so many footprints and ways, half of each, in rows: each way leads from one hole past two bends to the next. */
async function campusOf(folder: string, things: number): Promise<string> {
  const path = join(folder, `campus-${things}.strandbook`);
  await createPlant(path, "Rows");
  const application = await opened(path, false);
  const half = things / 2;
  const side = Math.ceil(Math.sqrt(half));
  const at = (n: number) => [11 + (n % side) * STEP, 54 + Math.floor(n / side) * STEP] as const;
  const add = (kind: string, of: (n: number) => object, count = half) =>
    ask(application, "record.change_many", {
      changes: Array.from({ length: count }, (_, n) => ({ op: "add", kind, values: of(n) })),
    });
  await add("building", (n) => {
    const [x, y] = at(n);
    const [e, w, top, low] = [x + 0.00025, x + 0.00005, y + 0.0003, y + 0.00015];
    const outline = [
      [w, low],
      [e, low],
      [e, top],
      [w, top],
      [w, low],
    ];
    return { tag: `B${n + 1}`, name: `Block ${n + 1}`, outline };
  });
  const hole = (n: number) => ({
    tag: `MH-${n + 1}`,
    kind: "maintenance_hole",
    longitude: at(n)[0],
    latitude: at(n)[1],
  });
  await add("space", hole, half + 1);
  await add("pathway", (n) => {
    const [[x, y], [u, v]] = [at(n), at(n + 1)];
    const bends = [0.3, 0.7].map((part) => [x + (u - x) * part, y + (v - y) * part + 0.00003]);
    return {
      tag: `DB-${n + 1}`,
      kind: "duct_bank",
      from_space_id: n + 1,
      to_space_id: n + 2,
      geometry: [[x, y], ...bends, [u, v]],
    };
  });
  await application.close();
  return path;
}

const felt = (path: string): PlanFelt =>
  JSON.parse(execFileSync(process.execPath, [CHILD, path], { encoding: "utf8" })) as PlanFelt;

export async function planning(ground: Ground): Promise<Line[]> {
  built();
  const [many, few] = [await campusOf(ground.folder, MANY), await campusOf(ground.folder, FEW)];
  const [large, small] = [await settled(many), await settled(few)];
  const growth = await interleaved(
    9,
    async () => (await timed(() => ask(large, "campus.plan"))) / MANY,
    async () => (await timed(() => ask(small, "campus.plan"))) / FEW,
  );
  await large.close();
  await small.close();
  const [wide, narrow] = [felt(many), felt(few)];
  // What else the machine does only adds: the least is what drawing takes.
  const [ours, theirs] = [Math.min(...wide.drawn) / MANY, Math.min(...narrow.drawn) / FEW];
  const common = { strands: ground.strands, unit: "ms" as const };
  const middle = median(wide.frames);
  return [
    {
      name: `a footprint or way of ${MANY.toLocaleString("en")} read for the plan`,
      bound: GROWTH,
      against: "one of a quarter as many",
      ratio: growth.ours / growth.theirs,
      ...growth,
      ...common,
    },
    {
      name: `a footprint or way of ${MANY.toLocaleString("en")} drawn`,
      bound: GROWTH,
      against: "one of a quarter as many, from the question to the picture",
      ratio: ours / theirs,
      ours,
      theirs,
      ...common,
    },
    {
      name: "a frame while the plan is zoomed and moved",
      bound: 1.5,
      against: `60 frames a second, ${MANY.toLocaleString("en")} footprints and ways`,
      ratio: middle / FRAME_MS,
      ours: middle,
      theirs: FRAME_MS,
      ...common,
    },
  ];
}
