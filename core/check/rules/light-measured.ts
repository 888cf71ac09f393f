/** Rules of measurements: where one is missing since the line changed, and where one disagrees with what is on record. */
import { CORD, SPLICE, TERMINATION } from "../../glass/glass.ts";
import { type GlassPath, positionsOn, sectionsOn } from "../../glass/path.ts";
import type { PlantGlass } from "../../glass/plant-glass.ts";
import { doubtfulReadings } from "../../light/reading-bounds.ts";
import { spokenDecibel } from "../../light/spoken.ts";
import type { KindName } from "../../model/dictionary.ts";
import { say } from "../../words/say.ts";
import { disagreementsOf } from "../disagreements.ts";
import { lightBounds, limitsOf, wholeLines } from "../light-lines.ts";
import { SWITCHES } from "../policies.ts";
import { CannotTell, type Case, defineRule, type Ground, quote } from "../rule.ts";

export const lossDiffers = defineRule({
  name: "light.loss_differs",
  family: "light",
  severity: "warning",
  title: say`Measured loss differs from what is on record`,
  why: say`The line loses more than all on record can, or less than its glass must: a plug is dirty, a joint is not on record, or the reading is of another strand.`,
  source: say`The limits in use of glass and joints; the plant's tolerance.loss_db`,
  async find(ground) {
    const { classes } = await lightBounds(ground);
    const readings = await doubtfulReadings(ground.reader, await ground.glass(), await limitsOf(ground), classes);
    const found = await disagreementsOf(ground, readings);
    return readings.flatMap(({ id, subject_kind, subject_id }): Case[] => {
      const one = found.get(id)?.find(({ what }) => what === "loss");
      if (!one) return [];
      const { measured, least, most, look_first, why } = one;
      return [
        {
          records: [
            [subject_kind, subject_id],
            ["measurement", id],
            [look_first.kind as KindName, look_first.id],
          ],
          key: [
            [subject_kind, subject_id],
            ["measurement", id],
          ],
          inOrder: true,
          facts: { measured_db: measured, least_db: least, most_db: most, why },
        },
      ];
    });
  },
  say: ({ records: [subject, measurement, look], facts }, tag) => {
    const { measured_db, most_db, least_db, why } = facts as Record<string, number>;
    const bound =
      (measured_db as number) > (most_db as number)
        ? say`at most ${spokenDecibel(most_db as number, measured_db)} dB`
        : say`at least ${spokenDecibel(least_db as number, measured_db)} dB`;
    return {
      sentence: say`${quote(tag, subject)} was measured to lose ${measured_db} dB (${quote(tag, measurement)}); what is on record there loses ${bound}.`,
      repair: say`Look at ${quote(tag, look)} first: ${why}.`,
    };
  },
});

/** So many days back a change calls for a measurement; off where the plant sets no number. */
const POLICY = SWITCHES.changes;

export const notMeasured = defineRule({
  name: "light.not_measured",
  family: "light",
  severity: "advice",
  title: say`Not measured since the line changed`,
  why: say`A line that was newly spliced, terminated or patched is proved by a measurement after it.`,
  source: say`The plant's policy measure.changes_days, days in which a change is looked for; off where it sets no number`,
  async find(ground) {
    const days = (await limitsOf(ground)).get(POLICY)?.value;
    if (days === undefined) return [];
    if (!(days >= 0)) throw new CannotTell(say`the policy ${POLICY} must be a number from 0`);
    const cutoff = new Date(Date.parse(ground.today) - days * 86_400_000).toISOString().slice(0, 10);
    const changed = await changedSince(ground, cutoff);
    if (changed.size === 0) return [];
    const measured = await measuredOn(ground);
    const plant = await ground.glass();
    return [...(await wholeLines(ground))].flatMap(([id, lines]) => unmeasured(id, lines, changed, measured, plant));
  },
  say: ({ records: [circuit, joint], facts }, tag) => ({
    sentence: say`${quote(tag, circuit)} was changed on ${String(facts.changed_on)} at ${quote(tag, joint)}, and ${
      facts.measured_on === null
        ? say`no measurement of it is on record`
        : say`last measured on ${String(facts.measured_on)}`
    }.`,
    repair: say`Measure the line from end to end, and record the reading.`,
  }),
});

const JOINTS = [
  [SPLICE, "splice", "max(ifnull(made_on, ''), ifnull(life_from, ''))"],
  [TERMINATION, "termination", "max(ifnull(made_on, ''), ifnull(life_from, ''))"],
  [CORD, "cord", "ifnull(life_from, '')"],
] as const;
const KIND_OF = new Map<number, KindName>(JOINTS.map(([kind, name]) => [kind, name]));

/** Days on which joints were made, from a day on, by kind and id. */
async function changedSince({ reader, today }: Ground, cutoff: string): Promise<Map<string, string>> {
  const changed = new Map<string, string>();
  for (const [kind, name, day] of JOINTS) {
    const rows = await reader.lists(`select id, ${day} as day from ${name} where day >= ? and day <= ?`, [
      cutoff,
      today,
    ]);
    for (const [id, on] of rows as [number, string][]) changed.set(`${kind} ${id}`, on);
  }
  return changed;
}

/** The newest day on which each subject was measured. */
async function measuredOn({ reader }: Ground): Promise<Map<string, string>> {
  const rows = await reader.lists(
    `select subject_kind, subject_id, max(measured_on) from measurement
     where measured_on is not null and method <> 'visual' group by 1, 2`,
  );
  return new Map((rows as [string, number, string][]).map(([kind, id, on]) => [`${kind} ${id}`, on]));
}

interface Change {
  readonly kind: number;
  readonly id: number;
  readonly on: string;
}

function newestOn(path: GlassPath, changed: ReadonlyMap<string, string>): Change | null {
  let newest: Change | null = null;
  for (const [at, kind] of path.kinds.entries()) {
    const id = path.ids[at] as number;
    const on = changed.get(`${kind} ${id}`);
    if (on !== undefined && (newest === null || on > newest.on)) newest = { kind, id, on };
  }
  return newest;
}

function unmeasured(
  circuit: number,
  paths: readonly GlassPath[],
  changed: ReadonlyMap<string, string>,
  measured: ReadonlyMap<string, string>,
  { tables }: PlantGlass,
): Case[] {
  const lacking = paths.flatMap((path) => {
    const change = newestOn(path, changed);
    if (!change) return [];
    const subjects = [
      `circuit ${circuit}`,
      ...sectionsOn(path).flatMap((id) => [`section ${id}`, `strand ${tables.section.strand.get(id)}`]),
      ...positionsOn(path).map((id) => `port ${tables.position.port.get(id)}`),
    ];
    const last =
      subjects
        .flatMap((subject) => measured.get(subject) ?? [])
        .sort()
        .at(-1) ?? null;
    return last !== null && last >= change.on ? [] : [{ change, last }];
  });
  const [first] = lacking.sort((x, y) => (x.change.on < y.change.on ? 1 : -1));
  if (!first) return [];
  const { change, last } = first;
  return [
    {
      records: [
        ["circuit", circuit],
        [KIND_OF.get(change.kind) as KindName, change.id],
      ],
      count: lacking.length,
      facts: { changed_on: change.on, measured_on: last },
    },
  ];
}
