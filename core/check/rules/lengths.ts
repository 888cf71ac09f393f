/** Measured length of glass held against what the record adds up to. */
import { idOf, isPosition, positionEnd } from "../../glass/end.ts";
import { CORD } from "../../glass/glass.ts";
import { walk } from "../../glass/walk.ts";
import { spokenMetres } from "../../light/spoken.ts";
import type { KindName, Row } from "../../model/dictionary.ts";
import { Cables } from "../../trace/cables.ts";
import { toMillimetre } from "../../trace/totals.ts";
import { say } from "../../words/say.ts";
import { disagreementsOf } from "../disagreements.ts";
import { CannotTell, type Case, defineRule, type Ground, quote } from "../rule.ts";

interface Measured extends Pick<Row<"measurement">, "id" | "far_port_id"> {
  readonly length_m: number;
  readonly subject_id: number;
}
/** What an instrument saw as one length: sections of glass, and cords between them. */
interface Seen {
  readonly sections: readonly number[];
  readonly cords: readonly number[];
}
interface Section {
  readonly id: number;
  readonly cable_id: number;
  readonly a_stop_id: number | null;
  readonly b_stop_id: number | null;
}

/** The newest measured length of each subject: an older one may be of glass that was shortened since. */
const MEASURED = `select id, subject_id, length_m, far_port_id from measurement m
  where length_m is not null and subject_kind = ? and not exists (select 1 from measurement n
    where n.subject_kind = m.subject_kind and n.subject_id = m.subject_id and n.length_m is not null
      and (coalesce(n.measured_on, ''), n.id) > (coalesce(m.measured_on, ''), m.id)) order by id`;

const SUBJECTS = ["strand", "section", "port"] as const;
type Subject = (typeof SUBJECTS)[number];

/** What lies along each measured subject; one that has no single length is left out. */
async function seenBy(ground: Ground, kind: Subject, measured: readonly Measured[]): Promise<Map<number, Seen>> {
  const ids = JSON.stringify(measured.map(({ subject_id }) => subject_id));
  if (kind === "section") {
    return new Map(measured.map(({ subject_id }) => [subject_id, { sections: [subject_id], cords: [] }]));
  }
  if (kind === "strand") {
    const rows = await ground.reader.rows<{ strand_id: number; id: number }>(
      "select strand_id, id from section where strand_id in (select value from json_each(?)) order by strand_id, ordinal",
      [ids],
    );
    // An instrument sees one piece of glass: a strand that is cut has no length of its own.
    const whole = [...Map.groupBy(rows, ({ strand_id }) => strand_id)].filter(([, own]) => own.length === 1);
    return new Map(whole.map(([strand, own]) => [strand, { sections: own.map(({ id }) => id), cords: [] }]));
  }
  const glass = await ground.glass();
  const rows = await ground.reader.rows<{ port_id: number; id: number }>(
    "select port_id, id from position where ordinal = 1 and port_id in (select value from json_each(?))",
    [ids],
  );
  const first = new Map(rows.map(({ port_id, id }) => [port_id, id]));
  const seen = new Map<number, Seen>();
  for (const { subject_id, far_port_id } of measured) {
    const position = first.get(subject_id);
    if (position === undefined) continue;
    const walked = walk(glass, positionEnd(position, "back"));
    if (!walked.isStraight || walked.lastStop !== "end") continue;
    const far = walked.to.findIndex(
      (to) => far_port_id !== null && isPosition(to) && glass.tables.position.port.get(idOf(to)) === far_port_id,
    );
    const steps = far < 0 ? walked.steps : far + 1;
    const sections = walked.to.slice(0, steps).flatMap((to) => (isPosition(to) || to === 0 ? [] : [idOf(to)]));
    const cords = walked.id.slice(0, steps).filter((_, step) => walked.kind[step] === CORD);
    if (sections.length > 0) seen.set(subject_id, { sections, cords });
  }
  return seen;
}

/** Glass metres of what was seen; null where a part of it is not known. */
async function recordedLengths(ground: Ground, seen: Iterable<Seen>): Promise<(one: Seen) => number | null> {
  const { reader } = ground;
  const all = [...seen];
  const sections = await reader.rows<Section>(
    `select e.id, t.cable_id, e.a_stop_id, e.b_stop_id from section e join strand t on t.id = e.strand_id
     where e.id in (select value from json_each(?))`,
    [JSON.stringify(all.flatMap((one) => one.sections))],
  );
  const cords = await reader.rows<{ id: number; length_m: number | null }>(
    "select id, length_m from cord where id in (select value from json_each(?))",
    [JSON.stringify(all.flatMap((one) => one.cords))],
  );
  const cables = await Cables.read(reader, new Set(sections.map(({ cable_id }) => cable_id)), []);
  const byId = new Map(sections.map((section) => [section.id, section]));
  const cordOf = new Map(cords.map(({ id, length_m }) => [id, length_m]));
  const lengthOf = (id: number): number | null => {
    const section = byId.get(id);
    if (!section) return null;
    const { glass_m, lacks } = cables.lengthOf(section.cable_id, section.a_stop_id, section.b_stop_id);
    return lacks.length > 0 ? null : glass_m;
  };
  return (one) => {
    const parts = [...one.sections.map(lengthOf), ...one.cords.map((id) => cordOf.get(id) ?? null)];
    if (parts.some((part) => part === null)) return null;
    return toMillimetre(parts.reduce<number>((sum, part) => sum + (part ?? 0), 0));
  };
}

async function measuredCases(ground: Ground): Promise<Case[]> {
  const { reader, policies } = ground;
  const metres = policies["tolerance.length_m"];
  const ratio = policies["tolerance.length_ratio"];
  const differing: Differing[] = [];
  for (const kind of SUBJECTS) {
    const measured = await reader.rows<Measured>(MEASURED, [kind]);
    if (measured.length === 0) continue;
    if (!(metres >= 0) || !(ratio >= 0)) {
      throw new CannotTell(say`the policies tolerance.length_m and tolerance.length_ratio must be numbers from 0`);
    }
    const seen = await seenBy(ground, kind, measured);
    const recorded = await recordedLengths(ground, seen.values());
    for (const { id, length_m, subject_id } of measured) {
      const own = seen.get(subject_id);
      const recorded_m = own ? recorded(own) : null;
      if (recorded_m === null || Math.abs(length_m - recorded_m) <= metres + ratio * recorded_m) continue;
      differing.push({ id, subject_kind: kind, subject_id, measured_m: length_m, recorded_m });
    }
  }
  const found = await disagreementsOf(ground, differing);
  return differing.map(({ id, subject_kind, subject_id, measured_m, recorded_m }): Case => {
    const told = found.get(id)?.find(({ what }) => what === "length");
    const look = told ? ([told.look_first.kind as KindName, told.look_first.id] as const) : null;
    const records = [[subject_kind, subject_id] as const, ["measurement", id] as const];
    return {
      records: look && look[0] !== "measurement" ? [...records, look] : records,
      facts: { measured_m, recorded_m, ...(told ? { why: told.why } : {}) },
      key: [[subject_kind, subject_id]],
      inOrder: true,
    };
  });
}

interface Differing {
  readonly id: number;
  readonly subject_kind: Subject;
  readonly subject_id: number;
  readonly measured_m: number;
  readonly recorded_m: number;
}

export const lengthDiffers = defineRule({
  name: "truth.length_differs",
  family: "truth",
  severity: "warning",
  title: say`Measured length differs from the recorded one`,
  why: say`The glass is longer or shorter than marks and ways add up to: a mark was misread, a coil or a way is not on record, or the measurement is of another strand.`,
  source: say`The plant's tolerances; common practice, no source`,
  find: measuredCases,
  say: ({ records: [glass, measurement, look], facts }, tag) => ({
    sentence: say`${quote(tag, glass)} was measured as ${String(facts.measured_m)} m of glass (${quote(tag, measurement)}); the record adds up to ${spokenMetres(Number(facts.recorded_m), Number(facts.measured_m))} m.`,
    repair:
      facts.why === undefined
        ? say`Read the marks again, or measure again with the cable's own index.`
        : say`Look at ${quote(tag, look ?? measurement)} first: ${String(facts.why)}.`,
  }),
});
