/** Enter a panel with its ports and their positions. */
import { z } from "zod";
import { joinAddress } from "../model/address.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address, given, thing } from "./inputs.ts";
import { spaceFor, thingValues } from "./named.ts";
import { draftPorts, insertPorts, portGroup } from "./port-groups.ts";

export const panelEnterInput = z.strictObject({
  tag: z.string().trim().min(1, say`is empty`).describe(say`The panel's letter or number.`),
  space: address(say`Where it is, such as LIB/101; empty for one in stock.`).nullable().optional(),
  rack: given("panel", "rack"),
  rack_unit: given("panel", "rack_unit"),
  height_u: given("panel", "height_u"),
  rows: given("panel", "rows"),
  model: given("panel", "kind"),
  ports: z.array(portGroup).max(200).default([]).describe(say`Groups of alike ports, in order over the face.`),
  ...thing,
});

export interface PortsEntered {
  readonly id: number;
  readonly tag: string;
  readonly ports: number;
  readonly positions: number;
}

/** Refuses `not_found` for the space, `duplicate` (by the gateway) for the tag, `bad_input` for the numbers. */
export async function planPanelEnter(
  context: ActContext,
  input: z.output<typeof panelEnterInput>,
): Promise<Plan<PortsEntered>> {
  const draft = new PlanDraft(context);
  const space = await spaceFor(context.reader, input.space, "space");
  const ports = draftPorts(input.ports, "ports");
  const id = await draft.insertOne("panel", {
    tag: input.tag,
    space_id: space?.id ?? null,
    rack: input.rack,
    rack_unit: input.rack_unit,
    height_u: input.height_u,
    rows: input.rows,
    kind: input.model,
    ...(await thingValues(context.reader, input)),
  });
  const made = await insertPorts(draft, { panel_id: id }, ports, { rows: input.rows, life: input.life });
  const positions = made.reduce((sum, port) => sum + port.positions.length, 0);
  const tag = joinAddress(space?.tag ?? null, "/", input.tag);
  return draft.plan(say`Enter panel ${tag} with ${counted(ports.length, "port")}`, {
    id,
    tag,
    ports: ports.length,
    positions,
  });
}
