/** Enter a circuit with its ends named by address. */
import { z } from "zod";
import type { Plan } from "../store/plan.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address, given, known } from "./inputs.ts";
import { knownValues, named, portNamed } from "./named.ts";

const port = (which: string) => address(say`The port at the ${which} end.`).nullable().optional();
const party = (which: string) => address(say`The party it is handed over to at ${which}.`).nullable().optional();

export const circuitEnterInput = z.strictObject({
  tag: z.string().trim().min(1, say`is empty`).describe(say`The circuit's number.`),
  name: given("circuit", "name"),
  application: given("circuit", "application"),
  strands: given("circuit", "strands"),
  owner: address(say`Whose service it is; empty means the plant's own.`).nullable().optional(),
  priority: given("circuit", "priority"),
  state: given("circuit", "state"),
  state_since: given("circuit", "state_since"),
  reserved_until: given("circuit", "reserved_until"),
  a_port: port("A"),
  z_port: port("Z"),
  a_party: party("A"),
  z_party: party("Z"),
  a_reference: given("circuit", "a_reference"),
  z_reference: given("circuit", "z_reference"),
  rides_on: address(say`The circuit whose glass it shares by design.`).nullable().optional(),
  diverse_from: z.array(address(say`A circuit it is meant to share no way with.`)).max(100).default([]),
  ...known,
});

/** Refuses `not_found` for what is named, `duplicate` (by the gateway) for a number that is taken. */
export async function planCircuitEnter(
  context: ActContext,
  input: z.output<typeof circuitEnterInput>,
): Promise<Plan<{ readonly id: number; readonly tag: string }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const portId = async (text: string | null | undefined, field: string) =>
    text ? (await portNamed(reader, text, field)).id : null;
  const idOf = async (text: string | null | undefined, kind: "party" | "circuit", field: string) =>
    text ? (await named(reader, text, [kind], field)).id : null;
  const [a, z] = [await portId(input.a_port, "a_port"), await portId(input.z_port, "z_port")];
  if (a !== null && a === z) draft.notice(say`A and Z are one port, ${input.a_port}: one of them may be mistyped.`);
  const id = await draft.insertOne("circuit", {
    tag: input.tag,
    name: input.name,
    application: input.application,
    strands: input.strands,
    owner_id: await idOf(input.owner, "party", "owner"),
    priority: input.priority,
    state: input.state ?? undefined,
    state_since: input.state_since,
    reserved_until: input.reserved_until,
    a_port_id: a,
    z_port_id: z,
    a_party_id: await idOf(input.a_party, "party", "a_party"),
    z_party_id: await idOf(input.z_party, "party", "z_party"),
    a_reference: input.a_reference,
    z_reference: input.z_reference,
    rides_on_id: await idOf(input.rides_on, "circuit", "rides_on"),
    ...(await knownValues(reader, input)),
  });
  for (const [i, other] of input.diverse_from.entries()) {
    const { id: other_id } = await named(reader, other, ["circuit"], `diverse_from.${i}`);
    await draft.insertOne("diversity", { circuit_id: id, other_id });
  }
  return draft.plan(say`Enter circuit ${input.tag}`, { id, tag: input.tag });
}
