/** The cable that leads from the opening to whoever wants the strands: what it holds, its way, how long it is, its landing. */
import { coloursOf } from "../act/cable-colours.ts";
import { groupsOfType, strandsIn, type UnitGroup } from "../act/cable-design.ts";
import type { Fibre } from "../act/fibre.ts";
import { type Core, classWords, type FibreClass } from "../light/classes.ts";
import { unescapeName } from "../model/address.ts";
import type { Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import { schemeOf } from "../standards/strand-colours.ts";
import type { Reader } from "../store/handle.ts";
import type { ColourLayer, RecordRef } from "../trace/answer.ts";
import { addressUnder } from "../trace/facts.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Landing, LateralPlan } from "./answer.ts";
import { landingFor } from "./landing.ts";
import { tubesOf, typeById, typeNamed } from "./lateral-glass.ts";
import { reelFor } from "./lateral-reel.ts";
import { againstReel, makeOf, suitsWay } from "./lateral-suits.ts";
import { type LateralWay, targetOf, wayBetween } from "./lateral-way.ts";
import { limitOf } from "./limits.ts";
import { ribbonsIn } from "./ribbons.ts";

export interface LateralAsked {
  readonly cable: RecordRef;
  readonly place: RecordRef;
  /** Of the strands that are taken, where all are of one. */
  readonly core: Core | null;
  /** A room, hole or building. */
  readonly to: string | null;
  /** Metres of its way from mouth to mouth, where the pathways don't say. */
  readonly length_m: number | null;
  readonly type: string | null;
  readonly tag: string | null;
  readonly panel: string | null;
  readonly new_panel: string | null;
  /** Strands that are wanted in it. */
  readonly strands: number;
  /** Strands of each ribbon that is spliced to it; null where single strands are. */
  readonly ribbon: number | null;
}

export interface Lateral extends Omit<LateralPlan, "used" | "fibre"> {
  readonly groups: readonly UnitGroup[];
  /** It lies in ribbons like those that are spliced to it. */
  readonly ribbons: boolean;
  /** Null where neither its type nor anything else says. */
  readonly fibre: FibreClass | null;
  readonly environment: Row<"cable_type">["environment"];
  readonly excess_ratio: number | null;
  /** By number, from 1. */
  readonly colours: readonly (readonly ColourLayer[])[];
}

/** Refuses a type with too few strands, a tag that is taken, a building of which nobody knows the room, a panel without room. */
export async function lateralFor(reader: Reader, limits: Limits, asked: LateralAsked): Promise<Lateral> {
  const to = await targetOf(reader, asked.to, asked.place);
  const way = to && (await wayBetween(reader, asked.place.id, to.id));
  const length = await lengthOf(reader, limits, asked, to, way);
  const chosen = asked.type === null ? null : await typeNamed(reader, asked.type);
  const pathways = way?.pathways ?? [];
  const reel = await reelFor(
    reader,
    { strands: asked.strands, type_id: chosen?.id ?? null, core: asked.core, order_m: length.order_m },
    // A type that was asked for is the asker's own choice: what speaks against it is told, and takes no reel away.
    chosen === null ? againstReel(reader, limits, pathways) : async () => null,
  );
  // Where no type was asked for, it is what lies in stock.
  const ofReel = chosen === null && reel.reel?.type_id != null ? await typeById(reader, reel.reel.type_id) : null;
  const type = chosen ?? ofReel;
  const typed = type ? await groupsOfType(reader, type.id) : [];
  const groups = strandsIn(typed) >= (ofReel ? asked.strands : 1) ? typed : tubesOf(asked.strands, asked.ribbon);
  const strands = strandsIn(groups);
  if (strands < asked.strands) {
    const reason = say`has ${counted(strands, "strand")}; ${asked.strands} are wanted in the lateral`;
    refuse("not_possible", `${type?.tag} ${reason}.`, [{ field: "type", record: type?.tag ?? "", reason }]);
  }
  // What may be taken says how thick the lateral is, where nothing surer does.
  const likely = type === null && reel.likely ? await makeOf(reader, reel.likely.cable.id) : null;
  const { pipes, against } = await suitsWay(reader, limits, pathways, type ?? likely, type?.id ?? null);
  const landing = to && (await landingIn(reader, limits, asked, to, fibreOf(groups, type)));
  const taken = asked.ribbon === null ? say`tubes of twelve strands` : say`ribbons of ${asked.ribbon}`;
  const to_prove = [
    ...(type ? [] : [say`which cable the lateral is to be: ${taken} are taken`]),
    ...(type && strandsIn(typed) === 0 ? [say`how many strands ${type.tag} has: ${taken} are taken`] : []),
    ...(to ? [] : [say`where the lateral ends`]),
    ...(to && !way ? [say`which way the lateral takes from ${asked.place.tag} to ${to.tag}`] : []),
    ...(way?.doubts ?? []),
    ...pipes.to_prove,
    ...(likely?.outer_diameter_mm != null && pathways.length > 0
      ? [
          say`whether ${reel.likely?.cable.tag} is taken: the pipes of the way are chosen by its ${likely.outer_diameter_mm} mm`,
        ]
      : []),
    ...(type === null ? [] : against.map((words) => say`whether ${type.tag} may lie there: ${words}`)),
    ...(length.length_m === null ? [say`how long the lateral is${way ? `: ${way.lacks.join("; ")}` : ""}`] : []),
    ...(landing?.to_prove ?? []),
  ];
  return {
    tag: await tagOf(reader, asked),
    type: type && { kind: "cable_type", id: type.id, tag: addressUnder("cable_type", null, type.tag) },
    strands,
    to,
    pathways: way?.pathways ?? [],
    passed: way?.passed ?? [],
    pipes: pipes.pipes,
    ...length,
    stock: reel.stock,
    reel: reel.reel?.cable ?? null,
    stock_words: reel.words,
    landing,
    to_prove,
    groups,
    ribbons: asked.ribbon !== null && ribbonsIn(groups, asked.ribbon),
    fibre: type?.fibre_class ?? groups[0]?.fibre_class ?? null,
    environment: type?.environment ?? null,
    excess_ratio: type?.excess_ratio ?? null,
    colours: coloursOf(groups, type ? schemeOf(type, type) : null),
  };
}

export const fibreWords = ({ fibre }: Pick<Lateral, "fibre">): string | null => fibre && classWords(fibre);

/** What is known of its strands before it is bought: the innermost group that says something decides, else the type. */
function fibreOf(groups: readonly UnitGroup[], type: Row<"cable_type"> | null): Fibre {
  let fibre: Fibre = {
    fibre_class: type?.fibre_class ?? null,
    coating_um: null,
    construction: type?.construction ?? null,
  };
  for (let own = groups[0]; own !== undefined; own = own.units[0]) {
    fibre = {
      ...fibre,
      fibre_class: own.fibre_class ?? fibre.fibre_class,
      coating_um: own.coating_um ?? fibre.coating_um,
    };
  }
  return fibre;
}

type Length = Pick<LateralPlan, "way_m" | "near_m" | "far_m" | "length_m" | "order_m" | "length_from" | "waste">;

/** Way, what a splicer works with at both ends as in a mend, and what is ordered beyond it. */
async function lengthOf(
  reader: Reader,
  limits: Limits,
  { length_m: asked_m, place }: LateralAsked,
  to: RecordRef | null,
  way: LateralWay | null,
): Promise<Length> {
  const way_m = asked_m ?? way?.length_m ?? null;
  const near_m = await workAt(reader, limits, place.id);
  const far_m = to ? await workAt(reader, limits, to.id) : indoors(limits);
  const waste = limitOf(limits, "repair.waste", 0);
  const length_m = way_m === null ? null : millimetre(way_m + near_m + far_m);
  return {
    way_m,
    near_m,
    far_m,
    waste,
    length_m,
    order_m: length_m === null ? null : millimetre(length_m * (1 + waste)),
    length_from: asked_m !== null ? "asked" : way_m === null ? null : "pathway",
  };
}

const millimetre = (value: number): number => Math.round(value * 1000) / 1000;

const indoors = (limits: Limits): number =>
  limitOf(limits, "repair.reach_indoors_m", 0) + limitOf(limits, "repair.preparation_m", 0);

/** Sheath that a splice or a landing takes in a place: its reach, or the policy's for such places, and the preparation. */
async function workAt(reader: Reader, limits: Limits, space: number): Promise<number> {
  const [row] = await reader.rows<{ reach_m: number | null; building_id: number | null }>(
    "select reach_m, building_id from space where id = ?",
    [space],
  );
  const tag = row?.building_id == null ? "repair.reach_outdoors_m" : "repair.reach_indoors_m";
  return millimetre((row?.reach_m ?? limitOf(limits, tag, 0)) + limitOf(limits, "repair.preparation_m", 0));
}

/** A panel in a room of a building; at a hole or pole what it is joined to there is another plan. */
async function landingIn(
  reader: Reader,
  limits: Limits,
  { strands, panel, new_panel }: LateralAsked,
  to: RecordRef,
  fibre: Fibre,
): Promise<Landing | null> {
  const [room] = await reader.rows<{ building_id: number | null }>("select building_id from space where id = ?", [
    to.id,
  ]);
  if (room?.building_id == null) {
    const asked = panel ?? new_panel;
    if (asked !== null) {
      const reason = say`is in no building, so no panel is landed on there`;
      refuse("bad_input", `${to.tag} ${reason}.`, [{ field: panel ? "panel" : "new_panel", record: asked, reason }]);
    }
    return null;
  }
  return landingFor(reader, {
    to,
    strands,
    panel,
    fresh: new_panel,
    fibre,
    ports: limitOf(limits, "breakout.panel_ports", 12),
  });
}

async function tagOf(reader: Reader, { tag, cable }: LateralAsked): Promise<string> {
  const taken = async (one: string): Promise<boolean> =>
    (await reader.rows("select 1 from cable where tag = ? limit 1", [one])).length > 0;
  if (tag !== null) {
    if (await taken(tag.trim())) {
      refuse("duplicate", say`There is a cable ${tag} already.`, [
        { field: "lateral", record: tag, reason: say`is the number of another cable` },
      ]);
    }
    return tag.trim();
  }
  for (let number = 1; ; number += 1) {
    const one = `${unescapeName(cable.tag)}-L${number}`;
    if (!(await taken(one))) return one;
  }
}
