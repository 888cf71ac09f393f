/** The splice case of a planned splice point: one that hangs there, one from stock, or a new one; and its trays with room. */
import type { PlanDraft } from "../act/context.ts";
import { trayUse } from "../act/trays.ts";
import { joinAddress, unescapeName } from "../model/address.ts";
import type { Row } from "../model/dictionary.ts";
import { choiceWords } from "../model/wording.ts";
import { Refusal, refuse } from "../result.ts";
import { addressesOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { byHand, DAY, type PlannedStep } from "./step.ts";

/** Where the case is to hang. */
export interface CasePlace {
  readonly id: number;
  readonly tag: string;
}

export interface PlannedCase {
  /** Its address, once it hangs there. */
  readonly tag: string;
  /** For each group of strands the tray that takes it, by address. */
  readonly trays: readonly string[];
  readonly step: PlannedStep;
  /** Of one that is nowhere on record yet: how many splice trays it has, and splices in all. */
  readonly fresh?: { readonly trays: number; readonly capacity: number };
}

export interface CaseGiven {
  /** The number of a new case, or the address of one on record. */
  readonly tag: string;
  /** Splices that one tray of a new case takes. */
  readonly tray_capacity: number;
  readonly job_id: number;
  /** Groups for which a new case has room as well, though they are spliced by a later job. */
  readonly later?: readonly number[];
}

/** One tray keeps a group of strands together. Refuses `not_possible` where a case on record hasn't the room. */
export async function planCase(
  draft: PlanDraft,
  given: CaseGiven,
  space: CasePlace,
  groups: readonly number[],
): Promise<PlannedCase> {
  const { reader } = draft.context;
  const found = await caseOnRecord(reader, given.tag, space);
  if (found) return planFound(draft, found, space, groups);
  return planNew(draft, { ...given, tag: await newTag(reader, given.tag, space) }, space, groups);
}

/** The number of a new case, also where it was given as the address it will have. Refuses `bad_input` for one in another place. */
async function newTag(reader: Reader, text: string, space: CasePlace): Promise<string> {
  const end = text.lastIndexOf("/");
  if (end < 0) return text;
  let named: RecordRef;
  try {
    named = await resolveOne(reader, text.slice(0, end), { kinds: ["space"], field: "case" });
  } catch (error) {
    // A number may hold a stroke that parts no place from it.
    if (error instanceof Refusal && error.failure.code === "not_found") return text;
    throw error;
  }
  if (named.id !== space.id) {
    const reason = say`is in ${named.tag}, and this case hangs in ${space.tag}`;
    refuse("bad_input", `${text} ${reason}.`, [{ field: "case", record: text, reason }]);
  }
  return unescapeName(text.slice(end + 1).trim());
}

type CaseRow = Pick<Row<"closure">, "id" | "tag" | "space_id" | "life"> & { readonly address: string };

async function caseOnRecord(reader: Reader, text: string, space: CasePlace): Promise<CaseRow | null> {
  for (const asked of [joinAddress(space.tag, "/", text), text]) {
    try {
      const { id, tag } = await resolveOne(reader, asked, { kinds: ["closure"], field: "case" });
      const [row] = await reader.rows<CaseRow>("select id, tag, space_id, life from closure where id = ?", [id]);
      return row ? { ...row, address: tag } : null;
    } catch (error) {
      if (!(error instanceof Refusal) || error.failure.code !== "not_found") throw error;
    }
  }
  return null;
}

async function planFound(
  draft: PlanDraft,
  found: CaseRow,
  space: CasePlace,
  groups: readonly number[],
): Promise<PlannedCase> {
  const { reader } = draft.context;
  if (found.space_id !== null && found.space_id !== space.id) {
    refuse("not_possible", say`${found.address} hangs elsewhere, not in ${space.tag}.`, [
      { field: "case", record: found.address, reason: say`is not in ${space.tag}` },
    ]);
  }
  if (found.life === "removed" || found.life === "planned") {
    const words = choiceWords("closure", "life", found.life);
    refuse("not_possible", say`${found.address} is ${words}: it can't take splices.`, [
      { field: "case", record: found.address, reason: say`is ${words}` },
    ]);
  }
  const onRecord = await reader.rows<{ id: number; tag: string; capacity: number | null }>(
    "select id, tag, capacity from tray where closure_id = ? and life <> 'removed' order by position, id",
    [found.id],
  );
  const rows: { id: number; tag: string; capacity: number | null; used: number }[] = [];
  for (const tray of onRecord) rows.push({ ...tray, used: (await trayUse(reader, tray)).used });
  const address = joinAddress(space.tag, "/", found.tag);
  const room = rows.map((row) => ({ ...row, left: row.capacity === null ? null : row.capacity - row.used }));
  const trays = groups.map((size) => {
    const tray = room.find(({ left }) => left !== null && left >= size) ?? room.find(({ left }) => left === null);
    if (!tray) {
      const free = rows.reduce((sum, { capacity, used }) => sum + Math.max(0, (capacity ?? used) - used), 0);
      const wanted = groups.reduce((sum, one) => sum + one, 0);
      const reason = say`has ${counted(free, "free place")} in ${counted(room.length, "tray")}, and ${counted(wanted, "splice")} in ${counted(groups.length, "group")} want room`;
      return refuse("not_possible", `${found.address} ${reason}.`, [{ field: "case", record: found.address, reason }]);
    }
    if (tray.left !== null) tray.left -= size;
    return joinAddress(address, "/", tray.tag);
  });
  const place: RecordRef = { kind: "space", id: space.id, tag: space.tag };
  if (found.space_id === null) {
    return {
      tag: address,
      trays,
      step: {
        act: "record.edit",
        input: {
          kind: "closure",
          id: found.address,
          values: { space_id: space.tag, life: "in_place", life_from: DAY },
        },
        words: say`Take case ${found.tag} from stock and hang it in ${space.tag}`,
        place,
      },
    };
  }
  const cables = await cablesInCase(reader, found.id);
  const live =
    cables === 0
      ? ""
      : plural(
          cables,
          "; {0} cable enters it, and its glass may be lit",
          "; {0} cables enter it, and their glass may be lit",
        );
  return { tag: address, trays, step: byHand(say`Open case ${address}${live}`, place) };
}

/** Cables in place that enter a case by their stops, or are spliced in its trays though no stop says so. */
async function cablesInCase(reader: Reader, closure: number): Promise<number> {
  const spliced = (end: "a" | "b"): string =>
    `select t.cable_id from tray y join splice p on p.tray_id = y.id and p.life = 'in_place'
       join section s on s.id = p.${end}_section_id join strand t on t.id = s.strand_id where y.closure_id = ?1`;
  const [row] = await reader.rows<{ cables: number }>(
    `select count(*) as cables from (select cable_id from stop where closure_id = ?1 union ${spliced("a")} union ${spliced("b")})
     join cable c on c.id = cable_id and c.life in ('in_place', 'out_of_use')`,
    [closure],
  );
  return row?.cables ?? 0;
}

/** Trays so that no group is parted, as many groups to a tray as it takes. */
async function planNew(
  draft: PlanDraft,
  { tag, tray_capacity, job_id, later = [] }: CaseGiven,
  space: CasePlace,
  groups: readonly number[],
): Promise<PlannedCase> {
  const address = joinAddress(space.tag, "/", tag);
  const trays: { tag: string; used: number; capacity: number }[] = [];
  const taken = [...groups, ...later].map((size) => {
    const last = trays.at(-1);
    if (last && last.used + size <= last.capacity) {
      last.used += size;
      return last.tag;
    }
    const tray = { tag: `T${trays.length + 1}`, used: size, capacity: Math.max(tray_capacity, size) };
    trays.push(tray);
    return tray.tag;
  });
  const planned = { life: "planned", life_job_id: job_id } as const;
  const id = await draft.insertOne("closure", {
    tag,
    space_id: space.id,
    capacity: trays.reduce((sum, tray) => sum + tray.capacity, 0),
    ...planned,
  });
  const ids = await draft.insert(
    "tray",
    trays.map((tray, index) => ({
      tag: tray.tag,
      closure_id: id,
      position: index + 1,
      capacity: tray.capacity,
      ...planned,
    })),
  );
  return {
    tag: address,
    trays: taken.map((one) => joinAddress(address, "/", one)),
    fresh: { trays: trays.length, capacity: trays.reduce((sum, tray) => sum + tray.capacity, 0) },
    step: {
      act: "record.change_many",
      input: {
        changes: [
          { op: "edit", kind: "closure", id, values: { life: "in_place", life_from: DAY } },
          ...ids.map((one) => ({ op: "edit", kind: "tray", id: one, values: { life: "in_place", life_from: DAY } })),
        ],
        summary: say`Hang case ${address}`,
      },
      words: say`Hang case ${tag} with ${counted(trays.length, "splice tray")} in ${space.tag}`,
      place: { kind: "space", id: space.id, tag: space.tag },
    },
  };
}

/** The address a space has, and its id. */
export async function spaceAt(reader: Reader, id: number): Promise<CasePlace> {
  return { id, tag: (await addressesOf(reader, "space", [id])).get(id) ?? say`space ${id}` };
}
