/** Enter a device with its ports and the optics behind them. */
import { z } from "zod";
import { joinAddress } from "../model/address.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address, given, thing } from "./inputs.ts";
import { spaceFor, thingValues } from "./named.ts";
import type { PortsEntered } from "./panel-enter.ts";
import { draftPorts, insertPorts, portGroup } from "./port-groups.ts";

/** What the optic of each port of a group sends and bears. */
const optic = {
  application: given("interface", "application"),
  transmit_position: given("interface", "transmit_position"),
  receive_position: given("interface", "receive_position"),
  wavelength_nm: given("interface", "wavelength_nm"),
  launch_min_dbm: given("interface", "launch_min_dbm"),
  launch_max_dbm: given("interface", "launch_max_dbm"),
  sensitivity_dbm: given("interface", "sensitivity_dbm"),
  overload_dbm: given("interface", "overload_dbm"),
  hazard_level: given("interface", "hazard_level"),
};
const interfaceGroup = portGroup.extend(optic);
type InterfaceGroup = z.output<typeof interfaceGroup>;

export const deviceEnterInput = z.strictObject({
  tag: z.string().trim().min(1, say`is empty`).describe(say`The device's name.`),
  space: address(say`Where it is, such as LIB/101; empty for one in stock.`).nullable().optional(),
  rack: given("device", "rack"),
  rack_unit: given("device", "rack_unit"),
  model: given("device", "model"),
  ports: z.array(interfaceGroup).max(200).default([]).describe(say`Groups of alike ports; optics may be left out.`),
  ...thing,
});

const opticOf = (group: InterfaceGroup) =>
  Object.fromEntries(Object.keys(optic).map((name) => [name, group[name as keyof typeof optic]]));

export async function planDeviceEnter(
  context: ActContext,
  input: z.output<typeof deviceEnterInput>,
): Promise<Plan<PortsEntered & { readonly interfaces: number }>> {
  const draft = new PlanDraft(context);
  const space = await spaceFor(context.reader, input.space, "space");
  const ports = draftPorts(input.ports, "ports");
  const id = await draft.insertOne("device", {
    tag: input.tag,
    space_id: space?.id ?? null,
    rack: input.rack,
    rack_unit: input.rack_unit,
    model: input.model,
    ...(await thingValues(context.reader, input)),
  });
  const made = await insertPorts(draft, { device_id: id }, ports, { life: input.life });
  const lit = ports.flatMap(({ group }, i) => {
    const values = opticOf(group as InterfaceGroup);
    const known = Object.values(values).some((value) => value !== undefined && value !== null);
    return known ? [{ port_id: made[i]?.port as number, ...values, basis: input.basis }] : [];
  });
  await draft.insert("interface", lit);
  const tag = joinAddress(space?.tag ?? null, "/", input.tag);
  return draft.plan(say`Enter device ${tag} with ${counted(ports.length, "port")}`, {
    id,
    tag,
    ports: ports.length,
    positions: made.reduce((sum, port) => sum + port.positions.length, 0),
    interfaces: lit.length,
  });
}
