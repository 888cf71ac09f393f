/** The reverse of a break-out: the splices to the lateral are taken out, and the halves of each strand joined again. */
import { strandsToCut } from "../act/cable-open.ts";
import { endKey } from "../act/ends.ts";
import { type EndJoint, jointsAtEnds } from "../act/joints.ts";
import { shortRange } from "../act/numbering.ts";
import { byHand, type PlannedStep } from "../jobs/step.ts";
import { escapeName } from "../model/address.ts";
import { refuse } from "../result.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { type SectionFacts, sectionsOf } from "../trace/facts.ts";
import { placeOf } from "../trace/places.ts";
import { traced } from "../trace/trace.ts";
import type { ClosingAnswer, ClosingStrand } from "./answer.ts";
import { limitOf, stopOfCable } from "./breakout.ts";
import { casesFor, chooseCase } from "./cases.ts";
import { breakoutCautions, builtAs } from "./construction.ts";

export interface ClosingAsked {
  readonly cable: string | number;
  readonly at: string;
  /** As a list or range; null for all that are cut there and not joined again. */
  readonly strands: string | null;
  /** The case of splices that have no tray yet. */
  readonly closure: string | null;
}

interface CutStrand {
  readonly number: number;
  readonly near: SectionFacts;
  readonly far: SectionFacts;
  readonly joints: readonly EndJoint[];
  readonly refused: string | null;
}

/** Refuses `not_possible` where the cable isn't opened, `not_found` and `bad_input` as the names of strands do. */
export async function closing(reader: Reader, asked: ClosingAsked, today: string): Promise<ClosingAnswer> {
  const { stretch, stop, cable, cables } = await stopOfCable(reader, asked);
  const tag = escapeName(cable.ref.tag, "");
  const ref: RecordRef = { kind: "stop", id: stop.id, tag: `${tag}@${stop.ordinal}` };
  const place = placeOf(cables.spaces.get(stop.space_id ?? 0)).space;
  const cut = await cutStrandsAt(reader, cables, cable, stop.id);
  const named = asked.strands === null ? null : await strandsToCut(reader, stretch.cable.tag, asked.strands);
  const wanted = named && new Set(named.strands.map(({ number }) => number));
  const missing = [...(wanted ?? [])].filter((number) => !cut.some((one) => one.number === number));
  if (cut.length === 0 || missing.length > 0) {
    const reason =
      cut.length === 0
        ? `has no strand that is cut at ${stop.place}`
        : `${shortRange(missing)} ${missing.length === 1 ? "is" : "are"} not cut at ${stop.place}`;
    refuse("not_possible", `Nothing can be joined again: ${cable.ref.tag} ${reason}.`, [
      { field: cut.length === 0 ? "at" : "strands", record: cut.length === 0 ? ref.tag : cable.ref.tag, reason },
    ]);
  }
  const strands = cut.filter(({ number }) => wanted === null || wanted.has(number));
  const closable = strands.filter(({ refused }) => refused === null);
  const removed = [...new Map(closable.flatMap(({ joints }) => joints.map((one) => [one.id, one] as const))).values()];
  const lines = await linesOf(reader, closable, today);
  const laterals = await lateralsOf(reader, closable, removed, cable.ref.id, stop.space_id);
  const groups = await groupsOf(reader, closable, removed);
  const loose = groups.filter(({ tray }) => tray === null);
  const caseAsked = {
    place: place ?? ref,
    own: stop.closure_id,
    named: asked.closure,
    fresh: null,
    tray_splices: limitOf(await limitsInUse(reader), "breakout.tray_splices", 12),
    entering: false,
  };
  const held =
    loose.length === 0
      ? null
      : chooseCase(await casesFor(reader, caseAsked), caseAsked, [
          loose.reduce((sum, { numbers }) => sum + numbers.length, 0),
        ]);
  const trayed = [
    ...groups.flatMap(({ tray, numbers }) => (tray === null ? [] : [{ tray, numbers }])),
    ...(held?.placed[0] ?? []).map(({ tray, from, count }) => ({
      tray,
      numbers: loose.flatMap(({ numbers }) => numbers).slice(from, from + count),
    })),
  ];
  const built = await builtAs(reader, cable.ref.id);
  const told = await Promise.all(strands.map((one) => strandTold(reader, one, cables, tag)));
  const to_prove = closable.flatMap(({ number, near, far, joints }) =>
    [
      ...(near.b_stub === null && !joints.some(({ section_id }) => section_id === near.id) ? ["A"] : []),
      ...(far.a_stub === null && !joints.some(({ section_id }) => section_id === far.id) ? ["Z"] : []),
    ].map((side) => `whether a stub of ${tag}:${number} is left on its ${side} side`),
  );
  const { on_record: _, placed: __, ...caseTold } = held ?? { on_record: null, placed: [] };
  return {
    cable: cable.ref,
    stop: ref,
    place,
    strands: told,
    opened: removed.length,
    closed: closable.length,
    laterals,
    circuits: lines,
    case: held ? (caseTold as ClosingAnswer["case"]) : null,
    to_prove,
    steps:
      closable.length === 0
        ? []
        : closingSteps({ tag, stop: stop.ordinal, place, removed, trayed, laterals, circuits: lines }),
    sentence: sentenceOf(cable.ref.tag, stop.place, strands, closable, laterals, lines),
    cautions: breakoutCautions(built, cables.spaces.get(stop.space_id ?? 0), lines.length),
  };
}

/** Strands of which two halves end at the stop and are not spliced to each other. */
async function cutStrandsAt(reader: Reader, cables: Cables, cable: CableFacts, stop: number): Promise<CutStrand[]> {
  const rows = await reader.rows<{ id: number; unit_id: number | null }>(
    `select s.id, t.unit_id from section s join strand t on t.id = s.strand_id
     where t.cable_id = ? and (s.a_stop_id = ? or s.b_stop_id = ?) order by t.number, s.ordinal`,
    [cable.ref.id, stop, stop],
  );
  await Cables.read(reader, [], new Set(rows.flatMap(({ unit_id }) => unit_id ?? [])), [], cables);
  const facts = await sectionsOf(
    reader,
    rows.map(({ id }) => id),
  );
  const sections = rows.flatMap(({ id }) => facts.get(id) ?? []);
  const joints = await jointsAtEnds(
    reader,
    sections.flatMap(({ id }) => (["A", "B"] as const).map((side) => ({ section_id: id, side }))),
  );
  return [...Map.groupBy(sections, ({ strand_id }) => strand_id).values()].flatMap((own): CutStrand[] => {
    const near = own.find(({ b_stop_id }) => b_stop_id === stop);
    const far = own.find(({ a_stop_id }) => a_stop_id === stop);
    if (!near || !far) return [];
    const [a, z] = [joints.get(endKey(near.id, "B")) ?? [], joints.get(endKey(far.id, "A")) ?? []];
    if (a.some(({ other_section_id }) => other_section_id === far.id)) return [];
    return [{ number: near.number, near, far, joints: [...a, ...z], refused: whyNot(near, far, a, z) }];
  });
}

function whyNot(near: SectionFacts, far: SectionFacts, a: readonly EndJoint[], z: readonly EndJoint[]): string | null {
  if ([...a, ...z].some(({ kind }) => kind === "termination")) return "one half is landed on a port here";
  const without = [
    ...(near.b_stub === "no" && a.length === 0 ? ["A"] : []),
    ...(far.a_stub === "no" && z.length === 0 ? ["Z"] : []),
  ];
  return without.length > 0
    ? `no stub is left on its ${without.join(" and ")} side: more sheath is to be opened there first`
    : null;
}

/** Circuits on the lines that are parted, the most urgent first. */
async function linesOf(
  reader: Reader,
  strands: readonly CutStrand[],
  today: string,
): Promise<ClosingAnswer["circuits"]> {
  const found = new Map<number, RecordRef>();
  for (const { near, far, joints } of strands) {
    for (const section of [near, far]) {
      if (!joints.some(({ section_id }) => section_id === section.id)) continue;
      const { answer } = await traced(reader, { kind: "section", id: section.id }, today);
      for (const line of answer.lines)
        for (const { circuits } of line.hops) for (const circuit of circuits) found.set(circuit.id, circuit);
    }
  }
  const rows = await reader.rows<{ id: number; priority: number | null }>(
    "select id, priority from circuit where id in (select value from json_each(?)) and state = 'in_service'",
    [JSON.stringify([...found.keys()])],
  );
  return rows
    .map(({ id, priority }) => ({ circuit: found.get(id) as RecordRef, priority }))
    .sort((a, b) => (a.priority ?? 1e9) - (b.priority ?? 1e9) || a.circuit.tag.localeCompare(b.circuit.tag));
}

/** Cables whose glass is parted from this one; `whole`: nothing joins them in this place any more. */
async function lateralsOf(
  reader: Reader,
  strands: readonly CutStrand[],
  removed: readonly EndJoint[],
  own: number,
  space: number | null,
): Promise<ClosingAnswer["laterals"]> {
  const others = new Set(
    strands.flatMap(({ joints }) => joints.flatMap(({ other_section_id }) => other_section_id ?? [])),
  );
  const rows = await reader.rows<{ cable_id: number; number: number }>(
    `select distinct t.cable_id, t.number from section s join strand t on t.id = s.strand_id
     where s.id in (select value from json_each(?)) and t.cable_id <> ? order by t.cable_id, t.number`,
    [JSON.stringify([...others]), own],
  );
  const byCable = Map.groupBy(rows, ({ cable_id }) => cable_id);
  const ids = [...byCable.keys()];
  const still = await reader.rows<{ cable_id: number }>(
    `select distinct t.cable_id from stop st
       join section s on s.a_stop_id = st.id or s.b_stop_id = st.id join strand t on t.id = s.strand_id
       join splice x on (x.a_section_id = s.id and (x.a_side = 'A' and s.a_stop_id = st.id or x.a_side = 'B' and s.b_stop_id = st.id))
         or (x.b_section_id = s.id and (x.b_side = 'A' and s.a_stop_id = st.id or x.b_side = 'B' and s.b_stop_id = st.id))
     where st.space_id = ? and t.cable_id in (select value from json_each(?)) and x.life in ('in_place', 'out_of_use')
       and x.id not in (select value from json_each(?))`,
    [space, JSON.stringify(ids), JSON.stringify(removed.map(({ id }) => id))],
  );
  const joined = new Set(still.map(({ cable_id }) => cable_id));
  const names = await addressesOf(reader, "cable", ids);
  return ids.map((id) => {
    const tag = names.get(id) ?? `cable ${id}`;
    const numbers = (byCable.get(id) ?? []).map(({ number }) => number);
    return { cable: { kind: "cable", id, tag }, strands: `${tag}:${shortRange(numbers)}`, whole: !joined.has(id) };
  });
}

/** Strands by the tray in which they lie now; null for those that lie in none. */
async function groupsOf(
  reader: Reader,
  strands: readonly CutStrand[],
  removed: readonly EndJoint[],
): Promise<{ tray: string | null; numbers: number[] }[]> {
  const rows = await reader.rows<{ id: number; tray_id: number }>(
    "select id, tray_id from splice where id in (select value from json_each(?)) and tray_id is not null",
    [JSON.stringify(removed.map(({ id }) => id))],
  );
  const trayOf = new Map(rows.map(({ id, tray_id }) => [id, tray_id]));
  const names = await addressesOf(reader, "tray", new Set(trayOf.values()));
  const byTray = Map.groupBy(strands, ({ joints }) => joints.flatMap(({ id }) => trayOf.get(id) ?? [])[0] ?? null);
  return [...byTray].map(([tray, own]) => ({
    tray: tray === null ? null : (names.get(tray) ?? null),
    numbers: own.map(({ number }) => number),
  }));
}

async function strandTold(reader: Reader, one: CutStrand, cables: Cables, tag: string): Promise<ClosingStrand> {
  const colours = cables.coloursOf(one.near);
  const to = async (section: SectionFacts, stub: string | null): Promise<string> => {
    const [joint] = one.joints.filter(({ section_id }) => section_id === section.id);
    if (!joint) return stub === "yes" ? "bare, with a stub" : stub === "no" ? "bare, without a stub" : "bare";
    if (joint.kind === "termination") return "landed on a port";
    const [other] = await reader.rows<{ tag: string; number: number }>(
      `select c.tag, t.number from section s join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
       where s.id = ?`,
      [joint.other_section_id],
    );
    return other ? `spliced to ${escapeName(other.tag, "")}:${other.number}` : "spliced";
  };
  return {
    strand: {
      record: { kind: "strand", id: one.near.strand_id, tag: `${tag}:${one.number}` },
      tag: `${tag}:${one.number}`,
      number: one.number,
      colours,
      words: colours.map(({ words }) => words).join(", "),
    },
    a: await to(one.near, one.near.b_stub),
    z: await to(one.far, one.far.a_stub),
    refused: one.refused,
  };
}

interface ClosingFacts {
  readonly tag: string;
  readonly stop: number;
  readonly place: RecordRef | null;
  readonly removed: readonly EndJoint[];
  readonly trayed: readonly { readonly tray: string; readonly numbers: readonly number[] }[];
  readonly laterals: ClosingAnswer["laterals"];
  readonly circuits: ClosingAnswer["circuits"];
}

function closingSteps({ tag, stop, place, removed, trayed, laterals, circuits }: ClosingFacts): PlannedStep[] {
  const all = trayed.flatMap(({ numbers }) => numbers).sort((a, b) => a - b);
  const urgent = circuits.map(({ circuit }) => circuit.tag).join(", ");
  return [
    byHand(
      `Identify ${tag} at ${place?.tag ?? "the place"} by two independent signs; measure that ${tag}:${shortRange(all)} ${all.length === 1 ? "is" : "are"} dark on both sides${urgent ? `; first move or end ${urgent}, and release the glass on record` : ""}`,
      place,
    ),
    ...(removed.length === 0
      ? []
      : [
          {
            act: "record.change_many",
            input: {
              changes: removed.map(({ id }) => ({ op: "edit", kind: "splice", id, values: { life: "removed" } })),
              summary: `Take ${removed.length} splices of ${tag} out`,
            },
            words: `Take out ${removed.length} ${removed.length === 1 ? "splice" : "splices"} of ${tag}:${shortRange(all)}`,
            place,
          },
        ]),
    ...trayed.map(
      ({ tray, numbers }): PlannedStep => ({
        act: "splice.close",
        input: { strands: `${tag}:${shortRange(numbers)}`, stop, tray, method: "fusion" },
        words: `Splice both halves of ${tag}:${shortRange(numbers)} through again in ${tray}`,
        place,
      }),
    ),
    ...laterals.flatMap(({ cable, whole }): PlannedStep[] =>
      whole
        ? [
            {
              act: "record.edit",
              input: { kind: "cable", id: cable.id, values: { life: "out_of_use" } },
              words: `${cable.tag} is out of use: take it out, or hang a label on it that keeps it for later, as the local code asks`,
              place,
            },
          ]
        : [],
    ),
    byHand(
      `Measure ${tag}:${shortRange(all)} from end to end and enter the readings; close the case, hang labels`,
      place,
    ),
  ];
}

function sentenceOf(
  tag: string,
  place: string,
  strands: readonly CutStrand[],
  closable: readonly CutStrand[],
  laterals: ClosingAnswer["laterals"],
  circuits: ClosingAnswer["circuits"],
): string {
  const numbers = closable.map(({ number }) => number).sort((a, b) => a - b);
  if (numbers.length === 0)
    return strands.length === 1
      ? `${tag} at ${place}: strand ${strands[0]?.number} can't be joined again as it is.`
      : `${tag} at ${place}: none of the ${strands.length} strands cut there can be joined again as they are.`;
  const out = laterals.flatMap(({ cable, whole }) => (whole ? [cable.tag] : []));
  const left = strands.length - closable.length;
  return [
    `${tag} at ${place}: ${tag}:${shortRange(numbers)} ${numbers.length === 1 ? "is" : "are"} joined again`,
    out.length > 0 ? `${out.join(", ")} ${out.length === 1 ? "goes" : "go"} out of use` : "no lateral goes out of use",
    circuits.length === 0
      ? "no circuit in service goes down"
      : `${circuits.length} ${circuits.length === 1 ? "circuit" : "circuits"} in service ${circuits.length === 1 ? "goes" : "go"} down`,
    ...(left > 0 ? [`${left} can't be joined as they are`] : []),
  ]
    .join("; ")
    .concat(".");
}
