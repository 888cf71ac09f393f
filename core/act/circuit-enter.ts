/** Enter a circuit with its ends named by address; release the glass of one. */
import { z } from "zod";
import type { Row } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address, given, known } from "./inputs.ts";
import { knownValues, named, portNamed, strandsNamed } from "./named.ts";
import { counted } from "./numbering.ts";

const port = (which: string) => address(`The port at the ${which} end.`).nullable().optional();
const party = (which: string) => address(`The party it is handed over to at ${which}.`).nullable().optional();

export const circuitEnterInput = z.strictObject({
  tag: z.string().trim().min(1, "is empty").describe("The circuit's number."),
  name: given("circuit", "name"),
  application: given("circuit", "application"),
  strands: given("circuit", "strands"),
  owner: address("Whose service it is; empty means the plant's own.").nullable().optional(),
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
  rides_on: address("The circuit whose glass it shares by design.").nullable().optional(),
  diverse_from: z.array(address("A circuit it is meant to share no way with.")).max(100).default([]),
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
    a_port_id: await portId(input.a_port, "a_port"),
    z_port_id: await portId(input.z_port, "z_port"),
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
  return draft.plan(`Enter circuit ${input.tag}`, { id, tag: input.tag });
}

export const circuitReleaseInput = z.strictObject({
  circuit: address("The circuit whose glass is given back."),
  strands: address("Only these strands of it, such as F-012:25-26.").optional(),
  retire: z.boolean().optional().describe("Also retire the circuit; only with all of its glass."),
});

/**
 * Ends the circuit's assignments on the day. In a correction they are deleted, for they never were; so are those that
 * would end before they began.
 */
export async function planCircuitRelease(
  context: ActContext,
  input: z.output<typeof circuitReleaseInput>,
): Promise<Plan<{ readonly released: number }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const day = dayOf(context);
  const circuit = await named(reader, input.circuit, ["circuit"], "circuit");
  if (input.retire && input.strands) {
    refuse("bad_input", `${circuit.tag} can't retire with some of its glass.`, [
      { field: "retire", record: circuit.tag, reason: "goes with all of its strands only" },
    ]);
  }
  const all = await reader.rows<Pick<Row<"assignment">, "id" | "section_id" | "from_on" | "until_on">>(
    "select id, section_id, from_on, until_on from assignment where circuit_id = ? and (until_on is null or until_on > ?)",
    [circuit.id, day],
  );
  let mine = all;
  if (input.strands) {
    const strands = await strandsNamed(reader, input.strands, "strands");
    const sections = await reader.rows<{ id: number; strand_id: number; ordinal: number }>(
      "select id, strand_id, ordinal from section where strand_id in (select value from json_each(?))",
      [listed(strands.strands.map(({ id }) => id))],
    );
    const problems: Problem[] = [];
    const chosen = new Set<number>();
    for (const { id, number, section } of strands.strands) {
      const own = sections.filter((row) => row.strand_id === id && (section === undefined || row.ordinal === section));
      const given = own.filter((row) => all.some(({ section_id }) => section_id === row.id));
      for (const row of given) chosen.add(row.id);
      if (given.length === 0) {
        const record = `${strands.cable.tag}:${number}${section === undefined ? "" : `#${section}`}`;
        problems.push({ field: "strands", record, reason: `is not given to ${circuit.tag}` });
      }
    }
    const [first] = problems;
    if (first) refuse("not_possible", `${first.record} ${first.reason}.`, problems);
    mine = all.filter(({ section_id }) => chosen.has(section_id));
  }
  if (mine.length === 0 && !input.retire) {
    refuse("not_possible", `${circuit.tag} has no glass.`, [
      { field: "circuit", record: circuit.tag, reason: "has no strands assigned that are still to end" },
    ]);
  }
  for (const { id, from_on } of mine) {
    if (isCorrection(context) || (from_on !== null && from_on >= day)) draft.delete("assignment", id);
    else draft.update("assignment", id, { until_on: day });
  }
  if (input.retire) draft.update("circuit", circuit.id, { state: "retired", state_since: day });
  return draft.plan(`Release ${counted(mine.length, "strand section")} of ${circuit.tag}`, { released: mine.length });
}
