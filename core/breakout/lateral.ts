/** The cable that leads from the opening to whoever wants the strands: what it holds, how it is coloured, and its way. */
import { groupsOfType, strandsIn, type UnitGroup } from "../act/cable-design.ts";
import type { FibreClass } from "../light/classes.ts";
import { classWords } from "../light/classes.ts";
import type { Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { type ColourScheme, schemeOf, strandLayers, type UnitPlace } from "../standards/strand-colours.ts";
import { pick, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { ColourLayer, RecordRef } from "../trace/answer.ts";
import { addressUnder, spacesOf } from "../trace/facts.ts";
import type { LateralPlan } from "./answer.ts";

export interface LateralAsked {
  readonly cable: RecordRef;
  readonly place: RecordRef;
  /** A room, hole or building. */
  readonly to: string | null;
  readonly length_m: number | null;
  readonly type: string | null;
  readonly tag: string | null;
  /** Strands that are wanted in it. */
  readonly strands: number;
}

export interface Lateral extends Omit<LateralPlan, "used" | "fibre"> {
  readonly groups: readonly UnitGroup[];
  /** Null where neither its type nor anything else says. */
  readonly fibre: FibreClass | null;
  readonly environment: Row<"cable_type">["environment"];
  readonly excess_ratio: number | null;
  /** By number, from 1. */
  readonly colours: readonly (readonly ColourLayer[])[];
}

/** Refuses a type with too few strands, a tag that is taken, a building of which nobody knows the room. */
export async function lateralFor(reader: Reader, asked: LateralAsked): Promise<Lateral> {
  const type = await typeOf(reader, asked);
  const typed = type ? await groupsOfType(reader, type.id) : [];
  const groups = strandsIn(typed) > 0 ? typed : tubesOf(asked.strands);
  const strands = strandsIn(groups);
  if (strands < asked.strands) {
    const reason = `has ${strands} strands; ${asked.strands} are wanted in the lateral`;
    refuse("not_possible", `${type?.tag} ${reason}.`, [{ field: "type", record: type?.tag ?? "", reason }]);
  }
  const to = await targetOf(reader, asked);
  const pathway = to && (await pathwayBetween(reader, asked.place.id, to.id));
  const length_m = asked.length_m ?? pathway?.length_m ?? null;
  const to_prove = [
    ...(type ? [] : [`which cable the lateral is to be: tubes of twelve strands are taken`]),
    ...(type && strandsIn(typed) === 0 ? [`how many strands ${type.tag} has: tubes of twelve are taken`] : []),
    ...(to ? [] : ["where the lateral ends"]),
    ...(to && !pathway ? [`which way the lateral takes from ${asked.place.tag} to ${to.tag}`] : []),
    ...(length_m === null ? ["how long the lateral is"] : []),
  ];
  return {
    tag: await tagOf(reader, asked),
    type: type && { kind: "cable_type", id: type.id, tag: addressUnder("cable_type", null, type.tag) },
    strands,
    to,
    pathway: pathway && { kind: "pathway", id: pathway.id, tag: pathway.tag },
    length_m,
    length_from: asked.length_m !== null ? "asked" : length_m === null ? null : "pathway",
    stock: await stockOf(reader, asked.strands, type),
    to_prove,
    groups,
    fibre: type?.fibre_class ?? groups[0]?.fibre_class ?? null,
    environment: type?.environment ?? null,
    excess_ratio: type?.excess_ratio ?? null,
    colours: coloursOf(groups, type ? schemeOf(type, type) : null),
  };
}

export const fibreWords = ({ fibre }: Pick<Lateral, "fibre">): string | null => fibre && classWords(fibre);

const tubesOf = (strands: number): UnitGroup[] => [
  {
    kind: "tube",
    repeats: Math.ceil(strands / 12),
    strands: 12,
    fibre_class: null,
    coating_um: null,
    units: [],
  },
];

async function typeOf(reader: Reader, { type }: LateralAsked): Promise<Row<"cable_type"> | null> {
  if (type === null) return null;
  const { id } = await resolveOne(reader, type, { kinds: ["cable_type"], field: "type" });
  const [row = null] = await reader.rows<Row<"cable_type">>("select * from cable_type where id = ?", [id]);
  return row;
}

async function tagOf(reader: Reader, { tag, cable }: LateralAsked): Promise<string> {
  const taken = async (one: string): Promise<boolean> =>
    (await reader.rows("select 1 from cable where tag = ? limit 1", [one])).length > 0;
  if (tag !== null) {
    if (await taken(tag.trim())) {
      refuse("duplicate", `There is a cable ${tag} already.`, [
        { field: "lateral", record: tag, reason: "is the number of another cable" },
      ]);
    }
    return tag.trim();
  }
  for (let number = 1; ; number += 1) {
    const one = `${cable.tag}-L${number}`;
    if (!(await taken(one))) return one;
  }
}

/** A space as it is named, or the one room of a building in which the lateral can end. */
async function targetOf(reader: Reader, { to, place }: LateralAsked): Promise<RecordRef | null> {
  if (to === null) return null;
  const found = await pick(reader, to, { kinds: ["space", "building"], field: "to" });
  if (found.kind === "space") {
    if (found.id === place.id) {
      refuse("bad_input", `The lateral would end where it begins, in ${place.tag}.`, [
        { field: "to", record: to, reason: "is the place of the opening" },
      ]);
    }
    return { kind: "space", id: found.id, tag: found.tag };
  }
  const rooms = await reader.rows<{ id: number; near: number }>(
    `select s.id, exists (select 1 from pathway p where (p.from_space_id = s.id and p.to_space_id = ?)
        or (p.to_space_id = s.id and p.from_space_id = ?)) as near
     from space s where s.building_id = ? and s.life <> 'removed' order by s.tag_key, s.id`,
    [place.id, place.id, found.id],
  );
  const near = rooms.filter((room) => room.near === 1);
  const [room, ...more] = near.length > 0 ? near : rooms;
  const spaces = await spacesOf(
    reader,
    rooms.map(({ id }) => id),
  );
  const nameOf = ({ id }: { id: number }): string => spaces.get(id)?.ref.tag ?? `space ${id}`;
  if (!room) {
    refuse("not_possible", `${found.tag} has no room on record in which the lateral could end.`, [
      { field: "to", record: found.tag, reason: "has no room on record" },
    ]);
  }
  if (more.length > 0) {
    refuse(
      "ambiguous",
      `In which room of ${found.tag} does the lateral end?`,
      [room, ...more].map((one) => ({ field: "to", record: to, reason: `may be ${nameOf(one)}` })),
    );
  }
  return { kind: "space", id: room.id, tag: nameOf(room) };
}

/** The one pathway between two places; null where there is none, or more than one. */
async function pathwayBetween(
  reader: Reader,
  a: number,
  b: number,
): Promise<{ readonly id: number; readonly tag: string; readonly length_m: number | null } | null> {
  const rows = await reader.rows<{ id: number; tag: string; length_m: number | null }>(
    `select id, tag, length_m from pathway where life <> 'removed'
       and ((from_space_id = ? and to_space_id = ?) or (from_space_id = ? and to_space_id = ?))`,
    [a, b, b, a],
  );
  const [only = null] = rows;
  return rows.length === 1 && only ? { ...only, tag: addressUnder("pathway", null, only.tag) } : null;
}

/** The layers of each strand, in the order in which a cable numbers them. */
function coloursOf(groups: readonly UnitGroup[], scheme: ColourScheme | null): ColourLayer[][] {
  const plain: ColourScheme = scheme ?? { sequence: null, unitColours: null, strandColours: null };
  const all: ColourLayer[][] = [];
  const fill = (neighbours: readonly UnitGroup[], around: readonly UnitPlace[]): void => {
    // A tube's position decides its colour; strands in the bare sheath lie beside the tubes and count in none.
    let next = 1;
    for (const { kind, repeats, strands, units } of neighbours) {
      for (let n = 0; n < repeats; n += 1) {
        const own: UnitPlace[] = [...around, { kind, ordinal: kind === "sheath" ? 1 : next, colour: null }];
        if (kind !== "sheath") next += 1;
        for (let place = 1; place <= strands; place += 1) {
          all.push(strandLayers(plain, own, { number: all.length + 1, place, colour: null }));
        }
        fill(units, own);
      }
    }
  };
  fill(groups, []);
  return all;
}

/** Reels that hold as many strands, of the type that was chosen. */
async function stockOf(reader: Reader, strands: number, type: Row<"cable_type"> | null): Promise<RecordRef[]> {
  const rows = await reader.rows<{ id: number; tag: string; type_id: number | null }>(
    `select c.id, c.tag, c.type_id from cable c where c.life = 'in_stock'
       and (select count(*) from strand t where t.cable_id = c.id) >= ? order by c.tag_key, c.id`,
    [strands],
  );
  return rows
    .filter(({ type_id }) => type === null || type_id === type.id)
    .map(({ id, tag }) => ({ kind: "cable", id, tag: addressUnder("cable", null, tag) }));
}
