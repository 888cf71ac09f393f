/** What the way a cable is built means for opening it on its way: doubts about its units, and cautions of its parts. */
import type { Row } from "../model/dictionary.ts";
import { type CautionId, cautionsSaid } from "../standards/cautions.ts";
import type { Reader } from "../store/handle.ts";
import type { SpaceFacts } from "../trace/facts.ts";
import { say } from "../words/say.ts";

export type Built = Pick<Row<"cable_type">, "construction" | "lay" | "armour" | "metal" | "water_blocking">;

/** The sheet of a cable, with what it has otherwise; null where it has no type. */
export async function builtAs(reader: Reader, cable: number): Promise<Built> {
  const [row] = await reader.rows<Built & { differs: string | null }>(
    `select t.construction, t.lay, t.armour, t.metal, t.water_blocking, c.differs
     from cable c left join cable_type t on t.id = c.type_id where c.id = ?`,
    [cable],
  );
  const { differs = null, ...own } = row ?? ({} as Partial<Built> & { differs?: string | null });
  const none: Built = { construction: null, lay: null, armour: null, metal: null, water_blocking: null };
  return { ...none, ...own, ...(JSON.parse(differs ?? "{}") as Partial<Built>) };
}

/**
 * Whether its units can be taken out uncut: a reversing lay has length to spare at its reversal points; helical ones and
 * a central tube have none and are slit or shaved where they lie. A cable maker's page on mid-span access says so of
 * reversing lay; the rest is common practice, no source.
 */
export function buildDoubts({ construction, lay }: Built, units: number, ribbons: boolean): string[] {
  const doubts: string[] = [];
  if (construction === "central_tube")
    doubts.push(
      say`whether the central tube can be slit or shaved along the window: it can't be lifted out of the way`,
    );
  else if (construction === "ribbon" && !ribbons)
    doubts.push(say`whether the ribbons can be parted strand by strand: a ribbon is opened whole`);
  else if (construction === null && units > 0)
    doubts.push(say`how the cable is built: its construction is not on record`);
  if (
    construction === "loose_tube" ||
    construction === "microduct" ||
    construction === "ribbon" ||
    construction === null
  ) {
    if (lay === "helical")
      doubts.push(
        say`whether its units have length to spare: they lie in a helix without a reversal, and are slit or shaved where they lie`,
      );
    else if (lay === null) doubts.push(say`how its units lie: whether they reverse is not on record`);
  }
  return doubts;
}

export const hasMetal = ({ armour, metal }: Built): boolean => armour === "metallic" || metal === "yes";

/** Cautions in the order in which a crew meets them, then those of this place and cable. */
export function breakoutCautions(built: Built, place: SpaceFacts | undefined, live: number, splits = false): string[] {
  const hazards = new Set(place?.hazards?.split(" ") ?? []);
  const hole = place?.kind === "maintenance_hole" || place?.kind === "hand_hole" || place?.kind === "pull_box";
  const height = place?.kind === "pole" || hazards.has("height");
  const common: readonly CautionId[] = [
    "identify",
    "lit",
    "dark",
    "pulse",
    "shards",
    ...(height ? (["climbing"] as const) : []),
    ...(hole || hazards.has("gas") || hazards.has("confined") ? (["hole"] as const) : []),
    ...(hole || hazards.has("traffic") ? (["traffic"] as const) : []),
    ...(hole || hazards.has("asbestos") ? (["asbestos"] as const) : []),
    ...(hasMetal(built) ? (["voltage"] as const) : []),
  ];
  return [
    ...cautionsSaid(common),
    ...(hazards.has("power")
      ? [say`Power runs in this place: keep the clearance that its owner and the local code ask for.`]
      : []),
    ...(hazards.has("laser") ? [say`Strong laser light is on record for this place.`] : []),
    live > 0
      ? say`Circuits in service run in units that are opened or lie beside the blade: agree on a time with those who use them, and bend no tube below its radius.`
      : say`Other units stay shut and run on: bend no tube below its radius, and cut no sheath deeper than its wall.`,
    ...(splits
      ? [
          say`A ribbon is split: part it with the tool of its maker, no farther than the cut; a strand beside it breaks easily, and may be lit.`,
        ]
      : []),
  ];
}
