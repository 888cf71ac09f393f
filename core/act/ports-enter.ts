/** Put further ports, with their positions, on a panel, module or device that is on record. */
import { z } from "zod";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address, given } from "./inputs.ts";
import { named } from "./named.ts";
import type { PortsEntered } from "./panel-enter.ts";
import { draftPorts, insertPorts, portGroup } from "./port-groups.ts";

export const portsEnterInput = z.strictObject({
  on: address(say`The panel, module or device they are on, such as LIB/101/A.`),
  ...portGroup.shape,
  life: given("port", "life"),
});

/** Refuses `not_found` or `ambiguous` for what they are on, `bad_input` for the numbers, `duplicate` (by the gateway). */
export async function planPortsEnter(
  context: ActContext,
  input: z.output<typeof portsEnterInput>,
): Promise<Plan<PortsEntered>> {
  const draft = new PlanDraft(context);
  const { kind, id, tag } = await named(context.reader, input.on, ["panel", "module", "device"], "on");
  const { on: _, life, ...group } = input;
  const ports = draftPorts([group], "");
  const made = await insertPorts(draft, { [`${kind}_id`]: id }, ports, { life });
  const positions = made.reduce((sum, port) => sum + port.positions.length, 0);
  return draft.plan(say`Put ${counted(ports.length, "port")} on ${tag}`, { id, tag, ports: ports.length, positions });
}
