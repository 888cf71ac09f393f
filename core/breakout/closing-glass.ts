/** What is cut at a stop and could be joined again: its halves, what they are spliced to, and what runs on that. */
import { endKey } from "../act/ends.ts";
import { type EndJoint, jointsAtEnds } from "../act/joints.ts";
import { shortRange } from "../act/numbering.ts";
import { escapeName } from "../model/address.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { ColourLayer, RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { type SectionFacts, sectionsOf } from "../trace/facts.ts";
import { traced } from "../trace/trace.ts";
import { say } from "../words/say.ts";
import type { ClosingAnswer, ClosingStrand } from "./answer.ts";

export interface CutStrand {
  readonly number: number;
  readonly near: SectionFacts;
  readonly far: SectionFacts;
  readonly joints: readonly EndJoint[];
  readonly refused: string | null;
  /** The ribbon it lies in, and how many strands that has; null where it lies in none. */
  readonly ribbon: { readonly id: number; readonly size: number; readonly words: string } | null;
}

/** Strands of which two halves end at the stop and are not spliced to each other. */
export async function cutStrandsAt(
  reader: Reader,
  cables: Cables,
  cable: CableFacts,
  stop: number,
): Promise<CutStrand[]> {
  const rows = await reader.rows<{ id: number; strand_id: number; unit_id: number | null; ribbon: number | null }>(
    `select s.id, s.strand_id, t.unit_id,
       case when u.kind = 'ribbon' then (select count(*) from strand r where r.unit_id = u.id) end as ribbon
     from section s join strand t on t.id = s.strand_id left join unit u on u.id = t.unit_id
     where t.cable_id = ? and (s.a_stop_id = ? or s.b_stop_id = ?) order by t.number, s.ordinal`,
    [cable.ref.id, stop, stop],
  );
  await Cables.read(reader, [], new Set(rows.flatMap(({ unit_id }) => unit_id ?? [])), [], cables);
  const facts = await sectionsOf(
    reader,
    rows.map(({ id }) => id),
  );
  const sections = rows.flatMap(({ id }) => facts.get(id) ?? []);
  const ribbons = new Map(
    rows.flatMap(({ strand_id, unit_id, ribbon }) =>
      unit_id !== null && ribbon !== null && ribbon > 1 ? [[strand_id, { id: unit_id, size: ribbon }] as const] : [],
    ),
  );
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
    const lies = ribbons.get(near.strand_id);
    const ribbon = lies ? { ...lies, words: ribbonNamed(cables.coloursOf(near)) } : null;
    return [{ number: near.number, near, far, joints: [...a, ...z], refused: whyNot(near, far, a, z), ribbon }];
  });
}

/** `tube 1 blue, ribbon 2 orange`: all layers but the strand's own. */
const ribbonNamed = (layers: readonly ColourLayer[]): string =>
  layers
    .slice(0, -1)
    .map(({ words }) => words)
    .join(", ");

function whyNot(near: SectionFacts, far: SectionFacts, a: readonly EndJoint[], z: readonly EndJoint[]): string | null {
  if ([...a, ...z].some(({ kind }) => kind === "termination")) return say`one half is landed on a port here`;
  const without = [
    ...(near.b_stub === "no" && a.length === 0 ? ["A"] : []),
    ...(far.a_stub === "no" && z.length === 0 ? ["Z"] : []),
  ];
  return without.length > 0
    ? say`no stub is left on its ${without.join(say` and `)} side: more sheath is to be opened there first`
    : null;
}

/** Circuits on the lines that are parted, the most urgent first. */
export async function linesOf(
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
export async function lateralsOf(
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
    const tag = names.get(id) ?? say`cable ${id}`;
    const numbers = (byCable.get(id) ?? []).map(({ number }) => number);
    return { cable: { kind: "cable", id, tag }, strands: `${tag}:${shortRange(numbers)}`, whole: !joined.has(id) };
  });
}

/** What is spliced in one go: strands in their turn one by one, or a whole ribbon at once. */
export interface ClosingRun {
  readonly numbers: readonly number[];
  /** In words; null for single strands. */
  readonly ribbon: string | null;
  /** Null where its splices lie in no tray yet. */
  readonly tray: string | null;
  /** Of a ribbon, the place in the tray that it takes: that of what is taken out. */
  readonly first_place: number | null;
}

/**
 * Strands by the tray in which they lie now, a whole ribbon of them by itself: both its halves are of one cable, so they
 * match. Of a ribbon of which some strands stay as they are the others are spliced one by one.
 */
export async function runsOf(
  reader: Reader,
  strands: readonly CutStrand[],
  removed: readonly EndJoint[],
): Promise<ClosingRun[]> {
  const rows = await reader.rows<{ id: number; tray_id: number; place: number | null }>(
    "select id, tray_id, place from splice where id in (select value from json_each(?)) and tray_id is not null",
    [JSON.stringify(removed.map(({ id }) => id))],
  );
  const lies = new Map(rows.map((row) => [row.id, row]));
  const names = await addressesOf(reader, "tray", new Set(rows.map(({ tray_id }) => tray_id)));
  const own = ({ joints }: CutStrand) => joints.flatMap(({ id }) => lies.get(id) ?? []);
  const byTray = Map.groupBy(strands, (one) => own(one)[0]?.tray_id ?? null);
  return [...byTray].flatMap(([tray_id, all]): ClosingRun[] => {
    const tray = tray_id === null ? null : (names.get(tray_id) ?? null);
    const byRibbon = Map.groupBy(all, ({ ribbon }) => ribbon?.id ?? null);
    const whole = [...byRibbon.values()].filter(([first, ...more]) => first?.ribbon?.size === more.length + 1);
    const single = all.filter((one) => !whole.some((ribbon) => ribbon.includes(one)));
    const numbersOf = (some: readonly CutStrand[]): number[] => some.map(({ number }) => number);
    return [
      ...whole.map((ribbon) => {
        const places = ribbon.flatMap((one) => own(one).flatMap((row) => (row.tray_id === tray_id && row.place) || []));
        return {
          numbers: numbersOf(ribbon),
          ribbon: ribbon[0]?.ribbon?.words ?? null,
          tray,
          first_place: places.length > 0 ? Math.min(...places) : null,
        };
      }),
      ...(single.length > 0 ? [{ numbers: numbersOf(single), ribbon: null, tray, first_place: null }] : []),
    ];
  });
}

export async function strandTold(reader: Reader, one: CutStrand, cables: Cables, tag: string): Promise<ClosingStrand> {
  const colours = cables.coloursOf(one.near);
  const to = async (section: SectionFacts, stub: string | null): Promise<string> => {
    const own = one.joints.filter(({ section_id }) => section_id === section.id);
    if (own.length === 0)
      return stub === "yes" ? say`bare, with a stub` : stub === "no" ? say`bare, without a stub` : say`bare`;
    if (own.some(({ kind }) => kind === "termination")) return say`landed on a port`;
    // An end on record as spliced twice is told with both: each of them is taken out.
    const others = await reader.rows<{ tag: string; number: number }>(
      `select c.tag, t.number from section s join strand t on t.id = s.strand_id join cable c on c.id = t.cable_id
       where s.id in (select value from json_each(?)) order by c.tag_key, t.number`,
      [JSON.stringify(own.map(({ other_section_id }) => other_section_id))],
    );
    const names = others.map((other) => `${escapeName(other.tag, "")}:${other.number}`);
    return names.length > 0 ? say`spliced to ${names.join(say` and `)}` : say`spliced`;
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
