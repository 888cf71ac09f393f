/** Move a device: what becomes of each of its cords is said, none is left in the air. */
import { z } from "zod";
import { joinAddress } from "../model/address.ts";
import type { Row } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, dayOf, isCorrection, PlanDraft } from "./context.ts";
import { type CordRow, cordNamed, cordRef, cordWords, markPlugged, markUnplugged, takeAway } from "./cords.ts";
import { address, evenIfTaken, given } from "./inputs.ts";
import { cordsAt, refuseTaken } from "./joints.ts";
import { makeDue } from "./label-due.ts";
import { named, type PortPlace, portNamed, portsById } from "./named.ts";
import { takenFronts } from "./patch.ts";

export const deviceMoveInput = z.strictObject({
  device: address(say`The device to move, such as LIB/101/SW-1.`),
  to: address(say`The space it moves to; empty when it goes into stock.`).nullable(),
  rack: given("device", "rack"),
  rack_unit: given("device", "rack_unit"),
  cords: z
    .array(
      z.strictObject({
        cord: cordRef,
        fate: z
          .enum(["goes_along", "unplugged", "repatched"])
          .describe(say`It stays in the device's port; it is taken away; or its far end goes into another port.`),
        to: address(say`For repatched: the port its far end goes into.`).optional(),
      }),
    )
    .max(2000)
    .default([])
    .describe(say`Every cord of the device, with its fate.`),
  even_if_taken: evenIfTaken,
});
type Input = z.output<typeof deviceMoveInput>;
type Fate = { readonly fate: Input["cords"][number]["fate"]; readonly to: string | undefined; readonly row: number };

export interface Moved {
  readonly device: string;
  readonly to: string | null;
  readonly cords: { readonly goes_along: number; readonly unplugged: number; readonly repatched: number };
}

/** Each cord of the device with its fate. Refuses cords without one, and fates of cords that aren't the device's. */
async function fatesOf(context: ActContext, cords: ReadonlyMap<number, CordRow>, input: Input, device: string) {
  const { reader } = context;
  const fates = new Map<number, Fate>();
  const problems: Problem[] = [];
  for (const [i, { cord: ref, fate, to }] of input.cords.entries()) {
    const row = i + 1;
    const { id } = await cordNamed(reader, ref, "cords");
    if (!cords.has(id))
      problems.push({ row, field: "cord", record: String(ref), reason: say`is in no port of ${device}` });
    else if (fates.has(id)) problems.push({ row, field: "cord", record: String(ref), reason: say`comes twice` });
    if (fate === "repatched" && !to) {
      problems.push({ row, field: "to", record: String(ref), reason: say`is needed: the port its far end goes into` });
    }
    if (fate !== "repatched" && to) {
      problems.push({ row, field: "to", record: String(ref), reason: say`is only for a cord that is repatched` });
    }
    fates.set(id, { fate, to, row });
  }
  if (problems.length > 0) refuse("bad_input", say`The list of cords can't be carried out.`, problems);
  const without = [...cords.values()].filter(({ id }) => !fates.has(id));
  if (without.length > 0) {
    const words = await Promise.all(without.map((cord) => cordWords(reader, cord)));
    refuse(
      "not_possible",
      plural(
        without.length,
        "{0} cord of {1} has no fate: say what becomes of each.",
        "{0} cords of {1} have no fate: say what becomes of each.",
        device,
      ),
      words.map((record) => ({
        field: "cords",
        record,
        reason: say`goes along, is unplugged, or is repatched where?`,
      })),
      { cords: without.map(({ id }) => id) },
    );
  }
  return fates;
}

/**
 * A cord that goes along stays in the device's port; where its far port isn't in the new room, that end is pulled and hangs
 * loose. Refuses `not_possible` when a cord has no fate, `duplicate` (by the gateway) when the name is taken there.
 */
export async function planDeviceMove(context: ActContext, input: Input): Promise<Plan<Moved>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const device = await named(reader, input.device, ["device"], "device");
  const space = input.to === null ? null : await named(reader, input.to, ["space"], "to");
  const [row] = await reader.rows<Row<"device">>("select * from device where id = ?", [device.id]);
  const ports = await reader.rows<{ id: number }>("select id from port where device_id = ?", [device.id]);
  const own = new Set(ports.map(({ id }) => id));
  const ends = [...(await cordsAt(reader, own)).values()].flat();
  const cords = new Map<number, CordRow>();
  for (const { id } of ends) if (!cords.has(id)) cords.set(id, await cordNamed(reader, id, "cords"));
  const fates = await fatesOf(context, cords, input, device.tag);

  const elsewhere = row?.space_id !== (space?.id ?? null);
  // In the store it is in stock; what comes from there is in place.
  const life = !space ? "in_stock" : row?.life === "in_stock" ? "in_place" : row?.life;
  draft.update("device", device.id, {
    space_id: space?.id ?? null,
    ...(row && life !== row.life ? { life, life_from: dayOf(context) } : {}),
    // A rack of the old room says nothing in the new one.
    rack: input.rack ?? (elsewhere ? null : undefined),
    rack_unit: input.rack_unit ?? (elsewhere ? null : undefined),
  });
  const farIds = [...cords.values()].flatMap(({ a_port_id, b_port_id }) =>
    [a_port_id, b_port_id].filter((id): id is number => id !== null && !own.has(id)),
  );
  const far = await portsById(reader, farIds);
  const room = space?.id ?? null;
  const cordsWithFate = [...cords.values()].map((cord): Moving => {
    const farEnd = cord.a_port_id !== null && own.has(cord.a_port_id) ? "b" : "a";
    const farId = farEnd === "a" ? cord.a_port_id : cord.b_port_id;
    const { fate, to, row: at } = fates.get(cord.id) as Fate;
    // Both ends in the device's own ports: nothing of it leaves the device.
    const outside = farId !== null && !own.has(farId) ? farId : null;
    const leaves = fate !== "goes_along" || (outside !== null && far.get(outside)?.space_id !== room);
    return { cord, fate, to, field: `cords.${at - 1}.to`, farEnd, farId, leaves };
  });
  const leaving = new Set(cordsWithFate.flatMap(({ cord, leaves }) => (leaves ? [cord.id] : [])));
  const done = { goes_along: 0, unplugged: 0, repatched: 0 };
  const bared = new Set<number>();
  const plugged = new Set<number>();
  const due = new Map<number, string>();
  const claimed = new Map<number, string>();
  for (const { cord, fate, to, field, farEnd, farId, leaves } of cordsWithFate) {
    done[fate]++;
    if (fate === "unplugged") {
      takeAway(draft, cord);
      for (const id of [cord.a_port_id, cord.b_port_id]) if (id !== null) bared.add(id);
      continue;
    }
    if (leaves && farId !== null) bared.add(farId);
    if (fate === "repatched") {
      const port = await portNamed(reader, to ?? "", field);
      await repatch(draft, cord, farEnd, port, { evenIfTaken: input.even_if_taken, claimed, leaving });
      plugged.add(port.id);
      if (port.space_id !== room) draft.notice(say`${port.tag} is not in ${space?.tag ?? say`stock`}.`);
      due.set(cord.id, say`repatched to ${port.tag}`);
      continue;
    }
    if (leaves) {
      draft.update("cord", cord.id, farEnd === "a" ? { a_port_id: null } : { b_port_id: null });
      draft.notice(
        say`${far.get(farId ?? 0)?.tag} is not in ${space?.tag ?? say`stock`}: the cord there hangs loose at that end.`,
      );
    }
    if (elsewhere) due.set(cord.id, say`${device.tag} moved`);
  }
  for (const id of plugged) bared.delete(id);
  await markUnplugged(draft, [...bared], leaving);
  if (!isCorrection(context)) {
    await makeDue(draft, "cord", due, false);
    if (elsewhere) await makeDue(draft, "device", new Map([[device.id, say`moved from ${device.tag}`]]), false);
  }
  const name = joinAddress(space?.tag ?? null, "/", row?.tag ?? "");
  return draft.plan(say`Move ${device.tag} to ${space?.tag ?? say`stock`}`, {
    device: name,
    to: space?.tag ?? null,
    cords: done,
  });
}

interface Moving {
  readonly cord: CordRow;
  readonly fate: Fate["fate"];
  readonly to: string | undefined;
  readonly field: string;
  readonly farEnd: "a" | "b";
  readonly farId: number | null;
  /** Its far end leaves the port it is in. */
  readonly leaves: boolean;
}

async function repatch(
  draft: PlanDraft,
  cord: CordRow,
  end: "a" | "b",
  port: PortPlace,
  how: {
    readonly evenIfTaken: boolean | undefined;
    readonly claimed: Map<number, string>;
    readonly leaving: ReadonlySet<number>;
  },
): Promise<void> {
  const first = port.positions[0]?.ordinal ?? 1;
  const taking = port.all.filter(({ ordinal }) => ordinal >= first && ordinal < first + cord.fibres);
  const words = await cordWords(draft.context.reader, cord);
  if (taking.length !== cord.fibres) {
    const reason = say`has ${counted(port.all.length, "position")}; the ${words} would take ${first} to ${first + cord.fibres - 1}`;
    refuse("not_possible", `${port.tag} ${reason}.`, [{ field: "to", record: port.tag, reason }]);
  }
  const problems = await takenFronts(draft, "to", port, taking, how.leaving);
  for (const { id, words: record } of taking) {
    const other = how.claimed.get(id);
    if (other) problems.push({ field: "to", record, reason: say`is where the ${other} goes` });
    how.claimed.set(id, words);
  }
  refuseTaken(draft, how.evenIfTaken, problems);
  draft.update(
    "cord",
    cord.id,
    end === "a" ? { a_port_id: port.id, a_first: first } : { b_port_id: port.id, b_first: first },
  );
  markPlugged(draft, [port]);
}
