/**
 * Where the strands of a cable that takes another's place are joined, place by place: at its ends, and where glass branches
 * off. As long as a step is open that is what the old one is joined to; once it is done, what the new one is.
 */
import { facing, type SectionRow, sectionsByNumber } from "../act/cable-facing.ts";
import { type CableStretch, cableStretch, stopNamed } from "../act/cable-stretch.ts";
import { fieldOf } from "../model/dictionary.ts";
import { shownValue } from "../model/wording.ts";
import { Refusal } from "../result.ts";
import { addressesOf, refsOf, resolveStrands } from "../store/addresses.ts";
import { sectionWords } from "../store/describe.ts";
import { sectionColours, strandColours } from "../store/glass-colours.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { type OuterJoint, outerJoints } from "./outer-joints.ts";
import type { SheetEnd, SheetRow, SpliceSheet } from "./splice-sheet.ts";
import type { JobStep } from "./stored.ts";

type Circuits = (strands: readonly number[]) => Promise<ReadonlyMap<number, readonly RecordRef[]>>;

interface Side {
  readonly stretch: CableStretch;
  readonly joints: readonly OuterJoint[];
  readonly sections: ReadonlyMap<number, readonly SectionRow[]>;
}

interface Landing {
  readonly step: JobStep;
  readonly joint: OuterJoint;
  readonly by: CableStretch["cable"];
  /** The strand of the new cable. */
  readonly number: number;
}

/** One sheet a place, in the order of the steps and of the strands' numbers; strands joined to nothing are left out. */
export async function landingSheets(
  reader: Reader,
  steps: readonly JobStep[],
  circuits: Circuits,
): Promise<SpliceSheet[]> {
  const sides = new Map<string, Side>();
  const sideOf = async (text: string): Promise<Side> => {
    const known = sides.get(text);
    if (known) return known;
    const stretch = await cableStretch(reader, text);
    const ids = stretch.stops.map(({ id }) => id);
    const { id } = stretch.cable;
    const side = {
      stretch,
      joints: await outerJoints(reader, id, ids),
      sections: await sectionsByNumber(reader, id),
    };
    sides.set(text, side);
    return side;
  };
  const sheets = new Map<string, { place: RecordRef | null; landings: Landing[] }>();
  for (const step of steps) {
    if (step.act !== "cable.replace") continue;
    const found = await landingsOf(reader, step, sideOf);
    if (!found) continue;
    const sheet = sheets.get(found.words) ?? { place: step.place, landings: [] };
    sheet.landings.push(...found.landings);
    sheets.set(found.words, sheet);
  }
  const all = [...sheets.values()].flatMap(({ landings }) => landings);
  const rowOf = await rowsTold(reader, all, circuits);
  return [...sheets].flatMap(([tray, { place, landings }]) => {
    const rows = landings.flatMap((one) => rowOf(one) ?? []);
    return rows.length === 0 ? [] : [{ tray, case: tray, place, later: [], rows }];
  });
}

/** The joints a step makes. Null where what it names is not on record. */
async function landingsOf(
  reader: Reader,
  step: JobStep,
  sideOf: (text: string) => Promise<Side>,
): Promise<{ readonly words: string; readonly landings: Landing[] } | null> {
  const { cable, by, at, strands, onto } = step.input as Readonly<Record<string, unknown>>;
  if (typeof cable !== "string" || typeof by !== "string") return null;
  try {
    const [old, other] = [await sideOf(cable), await sideOf(by)];
    const stop =
      typeof at === "number" || typeof at === "string" ? await stopNamed(reader, other.stretch, at, "at") : null;
    const named = async (tag: string, list: string): Promise<number[]> =>
      (await resolveStrands(reader, `${tag}:${list}`, { field: "strands" })).strands.map(({ number }) => number);
    const numbers = typeof strands === "string" ? await named(cable, strands) : null;
    // Where they go on in others, in the same order.
    const others = typeof onto === "string" ? await named(by, onto) : numbers;
    const into = new Map((numbers ?? []).map((number, nth) => [number, others?.[nth] ?? number]));
    const faced = facing(old.stretch.stops, other.stretch.stops, old.sections);
    const done = step.state === "done";
    const own = done ? other : old;
    const index = stop && (done ? other.stretch.stops.indexOf(stop) : faced.get(stop.id));
    const meant = done ? others : numbers;
    const joints = own.joints.filter(
      (joint) => (stop === null || joint.at === index) && (meant === null || meant.includes(joint.number)),
    );
    const where = stop === null ? "" : `${stop.place}: `;
    return {
      words: say`${where}${other.stretch.cable.tag} in the place of ${old.stretch.cable.tag}`,
      landings: joints.map((joint) => ({
        ...{ step, joint, by: other.stretch.cable },
        number: done ? joint.number : (into.get(joint.number) ?? joint.number),
      })),
    };
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

/** "pigtail spliced on". */
function howOf(method: string | null): string {
  const field = fieldOf("termination", "method");
  return (method !== null && field ? shownValue(field, method, String) : null) ?? say`how is not on record`;
}

/** How a landing reads as a row of a sheet; null where what it is joined to is not on record any more. */
async function rowsTold(
  reader: Reader,
  all: readonly Landing[],
  circuits: Circuits,
): Promise<(landing: Landing) => SheetRow | null> {
  const joints = all.map(({ joint }) => joint);
  const lit = await circuits([...new Set(joints.map(({ strand_id }) => strand_id))]);
  const positions = await refsOf(
    reader,
    "position",
    joints.flatMap(({ position_id }) => position_id ?? []),
  );
  const sections = [...new Set(joints.flatMap(({ section_id }) => section_id ?? []))];
  const names = await sectionWords(reader, sections);
  const others = await sectionColours(reader, sections);
  const trays = await addressesOf(
    reader,
    "tray",
    joints.flatMap(({ tray_id }) => tray_id ?? []),
  );
  const news = await reader.rows<{ id: number; cable_id: number; number: number }>(
    "select id, cable_id, number from strand where cable_id in (select value from json_each(?))",
    [JSON.stringify([...new Set(all.map(({ by }) => by.id))])],
  );
  const newOf = new Map(news.map(({ id, cable_id, number }) => [`${cable_id} ${number}`, id]));
  const colours = await strandColours(
    reader,
    news.map(({ id }) => id),
  );
  const words = (layers: readonly { readonly words: string }[] | undefined): string =>
    (layers ?? []).map((layer) => layer.words).join(", ");
  const toOf = ({ position_id, section_id, tray_id, method }: OuterJoint): SheetEnd | null => {
    const tray = trays.get(tray_id ?? 0);
    const kept = tray === undefined ? "" : say`; in ${tray}`;
    const position = positions.get(position_id ?? 0);
    if (position) return { strand: position, colours: say`the back of the port, ${howOf(method)}${kept}` };
    if (section_id === null) return null;
    const strand = { kind: "section" as const, id: section_id, tag: names.get(section_id) ?? "…" };
    return { strand, colours: `${words(others.get(section_id))}${kept}` };
  };
  return ({ step, joint, by, number }) => {
    const [to, id] = [toOf(joint), newOf.get(`${by.id} ${number}`)];
    if (!to || id === undefined) return null;
    return {
      step: step.ordinal,
      done: step.state === "done",
      from: { strand: { kind: "strand", id, tag: `${by.tag}:${number}` }, colours: words(colours.get(id)) },
      to,
      circuits: lit.get(joint.strand_id) ?? [],
    };
  };
}
