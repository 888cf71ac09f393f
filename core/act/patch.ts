/** Patch: a cord from one port's front to another's. */
import { z } from "zod";
import { CONNECTORS } from "../model/lists.ts";
import { type Problem, refuse } from "../result.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { markPlugged } from "./cords.ts";
import { address, evenIfTaken, given, thing } from "./inputs.ts";
import { cordsAt, insideOf, type PositionPlace, refuseTaken } from "./joints.ts";
import { type PortPlace, portNamed, thingValues } from "./named.ts";

export const patchInput = z.strictObject({
  from: address(say`The port one end is plugged into, such as LIB/101/A:07; #3 begins at position 3.`),
  to: address(say`The port the other end is plugged into.`),
  fibres: z.int().min(1).max(144).optional().describe(say`How many fibres it has; needed where the ports don't agree.`),
  map: given("cord", "map"),
  tag: given("cord", "tag"),
  length_m: given("cord", "length_m"),
  from_connector: given("cord", "a_connector"),
  to_connector: given("cord", "b_connector"),
  fibre_class: given("cord", "fibre_class"),
  colour: given("cord", "colour"),
  even_if_taken: evenIfTaken,
  ...thing,
});

export interface Patched {
  readonly id: number;
  readonly from: string;
  readonly to: string;
  readonly fibres: number;
}

interface Plug {
  readonly field: "from" | "to";
  readonly port: PortPlace;
  readonly first: number;
}

const plugOf = (field: "from" | "to", port: PortPlace): Plug => ({
  field,
  port,
  first: port.positions[0]?.ordinal ?? 1,
});

/** How many positions a plug has before it, from its first on. */
const room = ({ port, first }: Plug): number => port.all.filter(({ ordinal }) => ordinal >= first).length;

function fibresOf(given: number | undefined, from: Plug, to: Plug): number {
  if (given !== undefined) return given;
  const named = [from, to].some(({ port }) => port.positions.length < port.all.length);
  const [a, b] = [room(from), room(to)];
  if (a === b && a > 0 && !named) return a;
  refuse("bad_input", say`How many fibres has the cord?`, [
    { field: "fibres", reason: say`is needed: ${from.port.tag} has ${counted(a, "position")}, ${to.port.tag} ${b}` },
  ]);
}

/** The positions a plug takes. Refuses what the port doesn't have. */
function taking({ field, port, first }: Plug, fibres: number): PositionPlace[] {
  const wanted = Array.from({ length: fibres }, (_, i) => first + i);
  const found = wanted.flatMap((ordinal) => port.all.filter((position) => position.ordinal === ordinal));
  if (found.length !== fibres) {
    const what = say`has ${counted(port.all.length, "position")}; the cord would take ${first} to ${first + fibres - 1}`;
    refuse("not_possible", `${port.tag} ${what}.`, [{ field, record: port.tag, reason: what }]);
  }
  return found;
}

/** What is in the way of a plug: a cord that isn't leaving, or the inside of a module. */
export async function takenFronts(
  draft: PlanDraft,
  field: string,
  port: PortPlace,
  positions: readonly PositionPlace[],
  leaving: ReadonlySet<number> = new Set(),
): Promise<Problem[]> {
  const { reader } = draft.context;
  const low = positions[0]?.ordinal ?? 1;
  const high = positions.at(-1)?.ordinal ?? low;
  const cords = (await cordsAt(reader, [port.id])).get(port.id) ?? [];
  const problems: Problem[] = cords
    .filter(({ id, first, fibres }) => !leaving.has(id) && first <= high && first + fibres - 1 >= low)
    .map(({ id, tag }) => ({
      field,
      record: port.tag,
      reason: say`has a cord in front already (${tag ?? say`number ${id}`})`,
    }));
  const inside = await insideOf(reader, positions, "front");
  if (inside.length > 0) problems.push({ field, record: port.tag, reason: say`has its front inside the module` });
  return problems;
}

/** A plug that doesn't fit its port, in a sentence. */
function misfit(connector: keyof typeof CONNECTORS | null | undefined, port: PortPlace): string | null {
  if (!connector || !port.connector || connector === port.connector) return null;
  // Two simplex plugs in a clip fill a duplex port.
  if (port.connector === `${connector}_duplex` || connector === `${port.connector}_duplex`) return null;
  return say`The plug is ${CONNECTORS[connector]}, ${port.tag} takes ${CONNECTORS[port.connector]}.`;
}

/** A cord in place with that tag, as it is called. */
async function cordTagged(reader: Reader, tag: string): Promise<string | null> {
  const rows = await reader.rows<{ id: number }>(
    "select id from cord where tag = ? and life in ('in_place', 'out_of_use') order by id limit 1",
    [tag],
  );
  const ids = rows.map(({ id }) => id);
  const [words] = (await addressesOf(reader, "cord", ids)).values();
  return words ?? null;
}

/**
 * Refuses `not_possible` when a port lacks the positions, has another cord there (unless `even_if_taken`), or the cord
 * would join a position to itself; `bad_input` when the ports don't say how many fibres it has.
 */
export async function planPatch(context: ActContext, input: z.output<typeof patchInput>): Promise<Plan<Patched>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const from = plugOf("from", await portNamed(reader, input.from, "from"));
  const to = plugOf("to", await portNamed(reader, input.to, "to"));
  const fibres = fibresOf(input.fibres, from, to);
  const [a, b] = [taking(from, fibres), taking(to, fibres)];
  const own = new Set(a.map(({ id }) => id));
  if (b.some(({ id }) => own.has(id))) {
    refuse("not_possible", say`A cord can't join ${from.port.tag} to itself.`, [
      { field: "to", record: to.port.tag, reason: say`is the position the cord comes from` },
    ]);
  }
  // A cord that is planned or in the drawer is in nothing yet.
  const plugged = !input.life || input.life === "in_place" || input.life === "out_of_use";
  if (plugged) {
    refuseTaken(draft, input.even_if_taken, [
      ...(await takenFronts(draft, "from", from.port, a)),
      ...(await takenFronts(draft, "to", to.port, b)),
    ]);
    markPlugged(draft, from.port.id === to.port.id ? [from.port] : [from.port, to.port]);
  }
  if (from.port.space_id !== to.port.space_id) {
    draft.notice(say`${from.port.tag} and ${to.port.tag} are not in one room.`);
  }
  for (const doubt of [misfit(input.from_connector, from.port), misfit(input.to_connector, to.port)]) {
    if (doubt) draft.notice(doubt);
  }
  const namesake = input.tag && plugged ? await cordTagged(reader, input.tag) : null;
  if (namesake) draft.notice(say`${namesake} bears that number already.`);
  const id = await draft.insertOne("cord", {
    tag: input.tag,
    a_port_id: from.port.id,
    a_first: from.first,
    b_port_id: to.port.id,
    b_first: to.first,
    fibres,
    map: input.map ?? undefined,
    length_m: input.length_m,
    a_connector: input.from_connector,
    b_connector: input.to_connector,
    fibre_class: input.fibre_class,
    colour: input.colour,
    ...(await thingValues(reader, input)),
  });
  return draft.plan(say`Patch ${input.from} to ${input.to}`, { id, from: from.port.tag, to: to.port.tag, fibres });
}
