/** Things of the plant's own that need a label by its policy, each at its place. Checks and label lists ask here. */
import type { KindName, Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { duePlaces } from "../store/label-facts.ts";

export interface NeedsLabel {
  readonly kind: "cable" | "panel" | "port";
  readonly id: number;
  readonly space_id: number;
  /** The panel of a port; otherwise the thing itself. */
  readonly holder: readonly [KindName, number];
  /** The day since when it has been there; null where nobody knows. */
  readonly since: string | null;
}

/** Lives in which a thing is there. */
const PRESENT = "('in_place', 'out_of_use')";

/** Own plant that is there; upkeep of what others own is theirs. */
const OWN = (x: string) => `${x}.life in ${PRESENT} and (${x}.owner_id is null
  or exists (select 1 from party y where y.id = ${x}.owner_id and y.role = 'self'))`;

export async function thingsNeedingLabels(
  reader: Reader,
  plant: Pick<Row<"plant">, "label_due" | "port_labels">,
): Promise<NeedsLabel[]> {
  const things: NeedsLabel[] = [];
  const cables = await reader.rows<{ id: number; since: string | null }>(
    `select id, coalesce(installed_on, life_from) as since from cable c where ${OWN("c")} order by id`,
  );
  const since = new Map(cables.map((cable) => [cable.id, cable.since]));
  for (const { cable_id, space_id } of await duePlaces(reader, plant.label_due, since.keys())) {
    const holder = ["cable", cable_id] as const;
    things.push({ kind: "cable", id: cable_id, space_id, holder, since: since.get(cable_id) ?? null });
  }
  if (plant.port_labels === "panel") {
    const panels = await reader.rows<{ id: number; space_id: number; since: string | null }>(
      `select id, space_id, life_from as since from panel p where space_id is not null and ${OWN("p")} order by id`,
    );
    for (const { id, space_id, since: day } of panels)
      things.push({ kind: "panel", id, space_id, holder: ["panel", id], since: day });
  }
  if (plant.port_labels === "port") {
    const ports = await reader.rows<{ id: number; panel_id: number; space_id: number; since: string | null }>(
      `select o.id, o.panel_id, p.space_id, coalesce(o.life_from, p.life_from) as since
       from panel p join port o on o.panel_id = p.id
       where p.space_id is not null and ${OWN("p")} and o.life in ${PRESENT} and exists (select 1 from position i
         join termination t on t.position_id = i.id where i.port_id = o.id and t.life in ${PRESENT}) order by o.id`,
    );
    for (const { id, panel_id, space_id, since: day } of ports)
      things.push({ kind: "port", id, space_id, holder: ["panel", panel_id], since: day });
  }
  return things;
}
