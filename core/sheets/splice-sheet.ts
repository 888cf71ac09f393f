/**
 * The splice sheet of a case: each joint in the order of the trays, and of each unit of each cable what became of its
 * strands there. Whoever has the case open must account for every strand, express and stored ones too.
 */

import { shortRange } from "../act/numbering.ts";
import type { Fate } from "../as-built/shapes/splice-fates.ts";
import { joinAddress } from "../model/address.ts";
import { choiceWords } from "../model/wording.ts";
import type { Layer } from "../standards/strand-colours.ts";
import { addressesOf, refsOf } from "../store/addresses.ts";
import { strandColours } from "../store/glass-colours.ts";
import type { Reader } from "../store/handle.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import {
  type CaseEnd,
  type CaseGlass,
  type CaseJoint,
  caseGlass,
  caseNamed,
  compareEnds,
  endKeyOf,
} from "./case-glass.ts";

export interface SheetEnd {
  /** `F-012:25`, with `#1` where the strand is cut. */
  readonly strand: string;
  /** On which side of the case its glass lies, where both halves end here: the place at that end of the cable. */
  readonly side: string | null;
  readonly layers: readonly Layer[];
}

export interface SheetLine {
  readonly fate: Extract<Fate, "spliced" | "landed">;
  /** The splice tray's address; null where nobody knows it. */
  readonly tray: string | null;
  readonly place: number | null;
  readonly from: SheetEnd;
  /** The other strand; of a landed one null, and `port` names the position. */
  readonly to: SheetEnd | null;
  readonly port: string | null;
  readonly circuits: readonly string[];
  /** From the first strand to the second, and back; null is not measured. */
  readonly loss_ab_db: number | null;
  readonly loss_ba_db: number | null;
  readonly loss_basis: CaseJoint["loss_basis"];
  readonly method: string | null;
  readonly made_on: string | null;
  readonly made_by: string | null;
  readonly notes: string | null;
}

export interface SheetUnit {
  readonly cable: string;
  /** Its colours, the outermost first; none where strands lie in the sheath alone. */
  readonly layers: readonly Layer[];
  /** Strands of one fate, as an address: `F-012:1-12`. */
  readonly strands: string;
  readonly numbers: readonly number[];
  readonly side: string | null;
  readonly fate: Fate;
  /** Trays that keep its joints, as tags. */
  readonly where: readonly string[];
  /** What else must be said of its glass: broken, joined more than once. */
  readonly remarks: readonly string[];
  readonly circuits: readonly string[];
}

export interface SheetCable {
  readonly cable: string;
  readonly what: string;
  readonly strands: number;
  readonly from: string | null;
  readonly to: string | null;
  readonly metal: string | null;
}

export interface SpliceSheet {
  readonly glass: CaseGlass;
  readonly cables: readonly SheetCable[];
  readonly units: readonly SheetUnit[];
  readonly lines: readonly SheetLine[];
  /** Ends that more than one joint takes: one of them is wrong. */
  readonly twice: readonly string[];
}

const KINDS = {
  end: say`ends here`,
  passing: say`passes, unopened`,
  opened: say`opened`,
  severed: say`severed`,
} as const;

/** @param asked a case, one of its trays, or the place where it hangs alone. Refuses `not_found` and `ambiguous`. */
export async function spliceSheet(reader: Reader, asked: string, today: string): Promise<SpliceSheet> {
  const glass = await caseGlass(reader, await caseNamed(reader, asked));
  const facts = await SheetFacts.read(reader, glass, today);
  const joints = inTrayOrder(glass);
  const byEnd = Map.groupBy(
    joints.flatMap((joint) => [joint.a, ...(joint.b ? [joint.b] : [])].map((end) => ({ end, joint }))),
    ({ end }) => endKeyOf(end),
  );
  const twice = [...byEnd.values()].filter((all) => all.length > 1);
  return {
    glass,
    cables: glass.stops.map((stop): SheetCable => {
      const cable = facts.cable(stop.cable_id);
      const words = { cable: cable.tag, strands: cable.strands, from: cable.from, to: cable.to };
      return { ...words, what: KINDS[stop.kind], metal: stop.metal };
    }),
    units: unitsOf(glass, facts, (end) => byEnd.get(endKeyOf(end))?.map(({ joint }) => joint) ?? [], joints),
    lines: joints.map((joint) => facts.line(joint)),
    twice: twice.map((all) => facts.words((all[0] as { end: CaseEnd }).end)),
  };
}

/** By tray from the bottom, then by place; what is kept elsewhere or nobody knows where comes last. */
function inTrayOrder({ trays, joints }: CaseGlass): CaseJoint[] {
  const order = new Map(trays.map(({ id }, index) => [id, index]));
  const rank = ({ tray_id }: CaseJoint): number =>
    tray_id === null ? trays.length + 1 : (order.get(tray_id) ?? trays.length);
  const far = Number.MAX_SAFE_INTEGER;
  return joints.toSorted(
    (x, y) => rank(x) - rank(y) || (x.place ?? far) - (y.place ?? far) || compareEnds(x.a, y.a) || x.id - y.id,
  );
}

interface CableWords {
  readonly tag: string;
  readonly strands: number;
  readonly from: string | null;
  readonly to: string | null;
}

/** Names, colours and circuits of all that lies in the case. */
class SheetFacts {
  readonly #cables: ReadonlyMap<number, CableWords>;
  readonly #colours: ReadonlyMap<number, readonly Layer[]>;
  readonly #circuits: ReadonlyMap<number, readonly string[]>;
  readonly #trays: ReadonlyMap<number, string>;
  readonly #ports: ReadonlyMap<number, string>;
  /** Stops at which both halves of a cut strand end. */
  readonly #middle: ReadonlySet<number>;

  private constructor(parts: {
    cables: ReadonlyMap<number, CableWords>;
    colours: ReadonlyMap<number, readonly Layer[]>;
    circuits: ReadonlyMap<number, readonly string[]>;
    trays: ReadonlyMap<number, string>;
    ports: ReadonlyMap<number, string>;
    middle: ReadonlySet<number>;
  }) {
    this.#cables = parts.cables;
    this.#colours = parts.colours;
    this.#circuits = parts.circuits;
    this.#trays = parts.trays;
    this.#ports = parts.ports;
    this.#middle = parts.middle;
  }

  static async read(reader: Reader, glass: CaseGlass, today: string): Promise<SheetFacts> {
    const ends = [...glass.ends, ...glass.joints.flatMap(({ a, b }) => (b ? [a, b] : [a]))];
    const strands = [...ends, ...glass.through].map(({ strand_id }) => strand_id);
    const sections = [...ends, ...glass.through].flatMap(({ section_id }) => section_id ?? []);
    const trays = glass.joints.flatMap(({ tray_id }) => tray_id ?? []);
    return new SheetFacts({
      cables: await cableWords(
        reader,
        [...ends, ...glass.through, ...glass.stops].map((one) => one.cable_id),
      ),
      colours: await strandColours(reader, [...new Set(strands)]),
      circuits: await circuitsOf(reader, sections, today),
      trays: await addressesOf(reader, "tray", new Set(trays)),
      ports: await addressesOf(
        reader,
        "position",
        glass.joints.flatMap(({ position_id }) => position_id ?? []),
      ),
      middle: new Set(glass.stops.flatMap(({ id, kind }) => (kind === "end" ? [] : [id]))),
    });
  }

  cable = (id: number): CableWords =>
    this.#cables.get(id) ?? { tag: say`cable ${id}`, strands: 0, from: null, to: null };
  colours = (strand: number): readonly Layer[] => this.#colours.get(strand) ?? [];
  circuits = (section: number | null): readonly string[] => this.#circuits.get(section ?? 0) ?? [];
  tray = (id: number | null): string | null => (id === null ? null : (this.#trays.get(id) ?? null));

  words({ cable_id, number, parts, ordinal }: CaseEnd): string {
    return joinAddress(this.cable(cable_id).tag, ":", number) + (parts > 1 ? `#${ordinal}` : "");
  }

  side({ cable_id, stop_id, side }: CaseEnd): string | null {
    if (!this.#middle.has(stop_id ?? 0)) return null;
    const { from, to } = this.cable(cable_id);
    return side === "B" ? from : to;
  }

  end = (end: CaseEnd): SheetEnd => ({
    strand: this.words(end),
    side: this.side(end),
    layers: this.colours(end.strand_id),
  });

  line(joint: CaseJoint): SheetLine {
    const { a, b, is, tray_id, position_id, place, loss_ab_db, loss_ba_db, loss_basis } = joint;
    const { method, made_on, made_by, notes } = joint;
    const on = new Set([...this.circuits(a.section_id), ...this.circuits(b?.section_id ?? null)]);
    return {
      fate: is === "splice" ? "spliced" : "landed",
      tray: this.tray(tray_id),
      place,
      from: this.end(a),
      to: b && this.end(b),
      port: position_id === null ? null : (this.#ports.get(position_id) ?? null),
      circuits: [...on],
      ...{ loss_ab_db, loss_ba_db, loss_basis, method, made_on, made_by, notes },
    };
  }
}

async function cableWords(reader: Reader, ids: readonly number[]): Promise<Map<number, CableWords>> {
  const rows = await reader.rows<{ id: number; strands: number; from_id: number | null; to_id: number | null }>(
    `select c.id, (select count(*) from strand t where t.cable_id = c.id) as strands,
       (select space_id from stop st where st.cable_id = c.id order by ordinal limit 1) as from_id,
       (select space_id from stop st where st.cable_id = c.id order by ordinal desc limit 1) as to_id
     from cable c where c.id in (select value from json_each(?))`,
    [JSON.stringify([...new Set(ids)])],
  );
  const tags = await addressesOf(
    reader,
    "cable",
    rows.map(({ id }) => id),
  );
  const spaces = await addressesOf(
    reader,
    "space",
    rows.flatMap(({ from_id, to_id }) => [from_id ?? 0, to_id ?? 0]),
  );
  return new Map(
    rows.map(({ id, strands, from_id, to_id }) => [
      id,
      { tag: tags.get(id) ?? "", strands, from: spaces.get(from_id ?? 0) ?? null, to: spaces.get(to_id ?? 0) ?? null },
    ]),
  );
}

/** Circuits that run over sections or are kept for them, the most urgent first; what isn't in service says so. */
async function circuitsOf(reader: Reader, sections: readonly number[], today: string): Promise<Map<number, string[]>> {
  const rows = await reader.rows<{ section_id: number; id: number; state: string }>(
    `select distinct a.section_id, c.id, c.state, c.priority, c.tag_key from assignment a join circuit c on c.id = a.circuit_id
     where a.section_id in (select value from json_each(?)) and c.state <> 'retired'
       and (a.until_on is null or a.until_on > ?)
     order by c.state = 'in_service' desc, c.priority is null, c.priority, c.tag_key, c.id`,
    [JSON.stringify([...new Set(sections)]), today],
  );
  const refs = await refsOf(reader, "circuit", new Set(rows.map(({ id }) => id)));
  const found = new Map<number, string[]>();
  for (const { section_id, id, state } of rows) {
    const tag = `${refs.get(id)?.tag ?? id}${state === "in_service" ? "" : ` (${choiceWords("circuit", "state", state)})`}`;
    found.set(section_id, [...(found.get(section_id) ?? []), tag]);
  }
  return found;
}

const fateOf = (end: CaseEnd, joint: CaseJoint | undefined): Fate => {
  if (joint) return joint.is === "splice" ? "spliced" : "landed";
  return end.stub === null ? "not_known" : end.stub === "yes" ? "stored" : "no_stub";
};

interface Told {
  readonly cable_id: number;
  readonly unit_id: number | null;
  readonly strand_id: number;
  readonly number: number;
  /** `#1` where the strand is cut. */
  readonly part: string;
  readonly side: string | null;
  readonly fate: Fate;
  readonly where: string;
  readonly remarks: readonly string[];
  readonly circuits: readonly string[];
  /** Where its joint comes in the order of the trays; the last for what has none. */
  readonly rank: number;
}

function unitsOf(
  glass: CaseGlass,
  facts: SheetFacts,
  jointsOf: (end: CaseEnd) => readonly CaseJoint[],
  inOrder: readonly CaseJoint[],
): SheetUnit[] {
  const ranks = new Map(inOrder.map((joint, index) => [joint, index]));
  const trayTags = new Map(glass.trays.map(({ id, tag }) => [id, tag]));
  const bad = (condition: CaseEnd["condition"]): string[] =>
    condition === "broken" || condition === "degraded" ? [condition] : [];
  const cut = glass.ends.map((end): Told => {
    const joints = jointsOf(end);
    const trays = joints.map(({ tray_id }) =>
      tray_id === null ? say`splice tray not known` : (trayTags.get(tray_id) ?? facts.tray(tray_id) ?? ""),
    );
    const twice = joints.length > 1 ? [say`${counted(joints.length, "joint")} on record`] : [];
    return {
      ...{ cable_id: end.cable_id, unit_id: end.unit_id, strand_id: end.strand_id, number: end.number },
      part: end.parts > 1 ? `#${end.ordinal}` : "",
      side: facts.side(end),
      fate: fateOf(end, joints[0]),
      where: trays.filter(Boolean).join(", "),
      remarks: [...twice, ...bad(end.condition)],
      circuits: facts.circuits(end.section_id),
      rank: joints[0] ? (ranks.get(joints[0]) ?? 0) : inOrder.length,
    };
  });
  const through = glass.through.map(
    ({ cable_id, unit_id, strand_id, number, section_id, condition }): Told => ({
      ...{ cable_id, unit_id, strand_id, number, part: "", side: null, fate: "express", where: "" },
      remarks: bad(condition),
      circuits: facts.circuits(section_id),
      rank: inOrder.length,
    }),
  );
  const all = [...cut, ...through];
  const units = [...Map.groupBy(all, ({ cable_id, unit_id }) => `${cable_id} ${unit_id}`).values()];
  const least = (told: readonly Told[]): number => told.reduce((sum, { rank }) => Math.min(sum, rank), inOrder.length);
  const cables = new Map(glass.stops.map(({ cable_id }, index) => [cable_id, index]));
  const first = ([one]: readonly Told[]): number => (cables.get(one?.cable_id ?? 0) ?? 0) * 1e6 + (one?.number ?? 0);
  return units
    .toSorted((x, y) => least(x) - least(y) || first(x) - first(y))
    .flatMap((told) => [...Map.groupBy(told, sameFate).values()].map((alike) => unitLine(alike, facts)));
}

const sameFate = ({ part, side, fate, where, remarks }: Told): string =>
  [part, side, fate, where, ...remarks].join(" ");

function unitLine(told: readonly Told[], facts: SheetFacts): SheetUnit {
  const [one] = told as [Told, ...Told[]];
  const numbers = told.map(({ number }) => number).sort((a, b) => a - b);
  const { tag } = facts.cable(one.cable_id);
  return {
    cable: tag,
    layers: facts.colours(one.strand_id).slice(0, -1),
    strands: `${tag}:${shortRange(numbers)
      .split(",")
      .map((run) => `${run}${one.part}`)
      .join(",")}`,
    numbers,
    side: one.side,
    fate: one.fate,
    where: one.where === "" ? [] : [one.where],
    remarks: one.remarks,
    circuits: [...new Set(told.flatMap(({ circuits }) => circuits))],
  };
}
