/** As-built sheets: whether a row costs the same however long the sheet, and no more than its act by itself. */
import type { Application } from "../../host/application.ts";
import { ask, copyOf, type Ground, settled } from "./ground.ts";
import { interleaved, type Line, timed } from "./measure.ts";

const LONG = 960;
const SHORT = LONG / 4;
const TRAY = 24;

const tubes = [{ kind: "tube", repeats: LONG / 12, strands: 12 }];

/** Two cables that meet in a hole with a case, so that each of their strands can be spliced. */
async function readied(application: Application): Promise<void> {
  await ask(application, "record.add", { kind: "space", values: { tag: "SHEETS", kind: "hand_hole" } });
  for (const tag of ["SHEET-1", "SHEET-2"])
    await ask(application, "cable.enter", { tag, units: tubes, stops: [{ space: "SHEETS" }, {}] });
  const trays = [{ numbers: `T1..T${LONG / TRAY}`, capacity: TRAY }];
  await ask(application, "closure.enter", { tag: "CL-S", space: "SHEETS", trays });
}

const trayOf = (row: number): string => `SHEETS/CL-S/T${Math.floor(row / TRAY) + 1}`;

const splices = (rows: number): string =>
  [
    "tray;position;cable A strand;cable B strand;loss",
    ...Array.from(
      { length: rows },
      (_, row) => `${trayOf(row)};${(row % TRAY) + 1};SHEET-1:${row + 1};SHEET-2:${row + 1};0,03`,
    ),
  ].join("\n");

export async function sheets(ground: Ground): Promise<Line[]> {
  const application = await settled(await copyOf(ground, "sheets.strandbook"), false);
  await readied(application);
  const rehearse = async (rows: number): Promise<void> => {
    const { totals } = await ask<{ totals: { new: number } }>(application, "sheet.rehearse", { text: splices(rows) });
    if (totals.new !== rows) throw new Error(`${totals.new} of ${rows} rows are new`);
  };
  const acts = async (): Promise<void> => {
    for (let row = 0; row < SHORT; row++) {
      const input = {
        from: `SHEET-1:${row + 1}`,
        to: `SHEET-2:${row + 1}`,
        tray: trayOf(row),
        first_place: (row % TRAY) + 1,
      };
      const reply = await application.session.dispatch({ name: "splice.range", input, rehearse: true });
      if (!reply.ok) throw new Error(`${reply.error.message} ${JSON.stringify(reply.error.problems)}`);
    }
  };
  await rehearse(SHORT);
  await acts();
  const growth = await interleaved(
    5,
    async () => (await timed(() => rehearse(LONG))) / LONG,
    async () => (await timed(() => rehearse(SHORT))) / SHORT,
  );
  const single = await interleaved(
    5,
    () => timed(() => rehearse(SHORT)),
    () => timed(acts),
  );
  await application.close();
  const common = { strands: ground.strands, unit: "ms" as const };
  return [
    {
      name: "a row of a long sheet rehearsed",
      bound: 1.5,
      against: `a row of a sheet a quarter as long, ${SHORT} rows`,
      ratio: growth.ours / growth.theirs,
      ...growth,
      ...common,
    },
    {
      name: `${SHORT} rows of splices rehearsed`,
      bound: 1.5,
      against: "the same acts rehearsed one by one",
      ratio: single.ours / single.theirs,
      ...single,
      ...common,
    },
  ];
}
