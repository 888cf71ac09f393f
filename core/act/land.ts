/** Land strands on the backs of a panel's or module's positions. */
import { z } from "zod";
import { type Problem, refuse } from "../result.ts";
import { addressesOf, type NamedStrands } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { endsAt, type Place, rangeOf, stubNotice } from "./ends.ts";
import { fibreOf, thinNotice } from "./fibre.ts";
import { address, endSide, evenIfElsewhere, evenIfTaken, given, known } from "./inputs.ts";
import { type PositionPlace, refuseTaken, takenBacks, takenEnds } from "./joints.ts";
import { knownValues, type PortPlace, portsNamed, strandsNamed } from "./named.ts";
import { overCapacity, takenPlaces, trayNamed, trayUse } from "./trays.ts";

export const landInput = z.strictObject({
  strands: address(say`Strands in the order in which they land, such as F-012:1-24.`),
  ports: address(say`Ports in order, such as LIB/101/A:01-12; a duplex port takes two strands, A then B.`),
  method: given("termination", "method"),
  end: endSide,
  tray: address(say`The splice tray of the pigtails.`).nullable().optional(),
  place: given("termination", "place"),
  loss_db: given("termination", "loss_db"),
  loss_basis: given("termination", "loss_basis"),
  made_on: given("termination", "made_on"),
  made_by: given("termination", "made_by"),
  even_if_taken: evenIfTaken,
  even_if_elsewhere: evenIfElsewhere,
  ...known,
});

export interface Landed {
  readonly landed: number;
  readonly pairs: readonly { readonly strand: string; readonly position: string }[];
}

/** The one room the ports are in. Refuses ports of several rooms, of equipment, or in stock. */
async function roomOf(reader: Reader, ports: readonly PortPlace[], words: string): Promise<Place> {
  const device = ports.find(({ device_id }) => device_id !== null);
  if (device) {
    refuse("not_possible", say`${device.tag} is a port of a device: it has a front only.`, [
      {
        field: "ports",
        record: device.tag,
        reason: say`takes cords, no strands; land on a panel and patch from there`,
      },
    ]);
  }
  const rooms = new Set(ports.map(({ space_id }) => space_id));
  const [room] = rooms;
  if (rooms.size !== 1 || !room) {
    const reason =
      rooms.size > 1 ? say`lies in more than one room` : say`is not in a room on record; say first where its panel is`;
    refuse("not_possible", `${words} ${reason}.`, [{ field: "ports", record: words, reason }]);
  }
  const tags = await addressesOf(reader, "space", [room]);
  return { id: room, tag: tags.get(room) ?? say`that room` };
}

function sameCount(
  strands: NamedStrands,
  positions: readonly PositionPlace[],
  ports: readonly PortPlace[],
  words: string,
) {
  if (strands.strands.length === positions.length) return;
  const bare = ports.filter((port) => port.positions.length === 0);
  const range = rangeOf(strands);
  const problems: Problem[] = [
    { field: "strands", record: range, reason: say`is ${counted(strands.strands.length, "strand")}` },
    {
      field: "ports",
      record: words,
      reason: say`is ${counted(positions.length, "position")} of ${counted(ports.length, "port")}`,
    },
    ...bare.map(({ tag }) => ({
      field: "ports",
      record: tag,
      reason: say`has no position on record, where glass would land`,
    })),
  ];
  refuse(
    "not_possible",
    say`${counted(strands.strands.length, "strand")}, but ${counted(positions.length, "position")}.`,
    problems,
  );
}

/**
 * Plans the landing of strands on positions, one to one in the order written.
 * Refuses `not_possible` when the counts differ, when a strand has no end in the room, and when an end or a position is
 * taken (unless `even_if_taken`); `ambiguous` when a strand has more than one end in the room.
 */
export async function planLand(context: ActContext, input: z.output<typeof landInput>): Promise<Plan<Landed>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const strands = await strandsNamed(reader, input.strands, "strands");
  const ports = await portsNamed(reader, input.ports, "ports");
  const positions = ports.flatMap((port) => port.positions);
  sameCount(strands, positions, ports, input.ports);
  const room = await roomOf(reader, ports, input.ports);
  const ends = await endsAt(reader, strands, room, {
    field: "strands",
    endField: "end",
    end: input.end,
    elsewhere: input.even_if_elsewhere,
  });
  const tray = input.tray ? await trayNamed(reader, input.tray, "tray") : null;
  const use = tray ? await trayUse(reader, tray) : null;
  const first = input.place;
  const places = ends.map((_, i) => (tray && first ? first + i : null));
  refuseTaken(draft, input.even_if_taken, [
    ...(await takenEnds(reader, ends, "strands")),
    ...(await takenBacks(reader, positions, "ports")),
    ...(tray && use ? takenPlaces(tray, use, places) : []),
  ]);
  if (tray && use) {
    const full = overCapacity(tray, use, ends.length);
    if (full) draft.notice(full);
    if (tray.space?.id !== room.id) {
      draft.notice(say`${tray.tag} is in ${tray.space?.tag ?? say`no place on record`}, the ports are in ${room.tag}.`);
    }
  }
  const stubs = stubNotice(ends);
  if (stubs) draft.notice(stubs);
  const range = rangeOf(strands);
  if (input.method === "direct") {
    const fibres = await fibreOf(
      reader,
      strands.strands.map(({ id }) => id),
    );
    const thin = thinNotice(range, fibres.values());
    if (thin) draft.notice(thin);
  }
  const values = await knownValues(reader, input);
  await draft.insert(
    "termination",
    ends.map((end, i) => ({
      section_id: end.section_id,
      side: end.side,
      position_id: positions[i]?.id as number,
      method: input.method,
      tray_id: tray?.id ?? null,
      place: places[i],
      loss_db: input.loss_db,
      loss_basis: input.loss_basis,
      made_on: input.made_on ?? context.occasion.day ?? null,
      made_by: input.made_by,
      ...values,
    })),
  );
  return draft.plan(say`Land ${range} on ${input.ports}`, {
    landed: ends.length,
    pairs: ends.map((end, i) => ({ strand: end.words, position: positions[i]?.words ?? "" })),
  });
}
