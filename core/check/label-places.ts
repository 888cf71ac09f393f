/** Where labels are due by policy, what is on record of them, and which places somebody looked at whole. */
import { type NeedsLabel, thingsNeedingLabels } from "../labels/due.ts";
import type { KindName, Row } from "../model/dictionary.ts";
import { enteredIn } from "../store/entered.ts";
import { type Ground, PRESENT } from "./rule.ts";

export interface LabelRow
  extends Pick<
    Row<"label">,
    | "id"
    | "subject_kind"
    | "subject_id"
    | "space_id"
    | "text"
    | "text_read"
    | "state"
    | "due_on"
    | "printed_on"
    | "basis"
  > {
  /** The panel, module or device of a port; otherwise the thing itself. */
  readonly holder: readonly [KindName, number];
}

const HOLDER_KIND = `case when l.subject_kind <> 'port' then l.subject_kind when o.panel_id is not null then 'panel'
  when o.module_id is not null then 'module' when o.device_id is not null then 'device' else 'port' end`;
const HOLDER_ID = `case when l.subject_kind <> 'port' then l.subject_id
  else coalesce(o.panel_id, o.module_id, o.device_id, o.id, l.subject_id) end`;

/** Every label on record whose subject is there. */
export const labelRows = (ground: Ground): Promise<LabelRow[]> =>
  ground.once("labels", async () => {
    const rows = await ground.reader.rows<
      Omit<LabelRow, "holder"> & { readonly holder_kind: KindName; readonly holder_id: number }
    >(
      `select l.id, l.subject_kind, l.subject_id, l.space_id, l.text, l.text_read, l.state, l.due_on, l.printed_on, l.basis,
         ${HOLDER_KIND} as holder_kind, ${HOLDER_ID} as holder_id
       from label l left join port o on l.subject_kind = 'port' and o.id = l.subject_id
         left join cable c on l.subject_kind = 'cable' and c.id = l.subject_id
         left join panel p on l.subject_kind = 'panel' and p.id = l.subject_id
       where coalesce(o.life, c.life, p.life, 'in_place') in ${PRESENT} order by l.id`,
    );
    return rows.map(({ holder_kind, holder_id, ...row }) => ({ ...row, holder: [holder_kind, holder_id] as const }));
  });

/** A label that is there as far as the record knows: written or read, and not seen to be missing. */
export const isThere = ({ state, text, text_read, printed_on }: LabelRow): boolean =>
  state === null ? text !== null || text_read !== null || printed_on !== null : state !== "missing";

/** A thing that needs a label at a place. */
export interface Due extends Omit<NeedsLabel, "since"> {
  /** There is none: it was seen to be missing, or a complete visit found none, or nobody looked. Null where there is one. */
  readonly lacks: "missing" | "not_looked" | null;
}

/** Every place where a label is due, with whether it is there. */
export const labelsDue = (ground: Ground): Promise<Due[]> => ground.once("labels due", () => judged(ground));

interface Visited {
  readonly id: number;
  readonly day: string;
}

/** The last visit that looked at the whole of each place and cable. */
async function wholeVisits({ reader }: Ground): Promise<ReadonlyMap<string, Visited>> {
  const whole = await reader.rows<Visited & { space_id: number | null; cable_id: number | null }>(
    "select id, space_id, cable_id, made_on as day from visit where extent = 'all' order by made_on, id",
  );
  const visited = new Map<string, Visited>();
  for (const { space_id, cable_id, id, day } of whole) {
    if (space_id !== null) visited.set(keyOf("space", space_id), { id, day });
    if (cable_id !== null) visited.set(keyOf("cable", cable_id), { id, day });
  }
  return visited;
}

async function judged(ground: Ground): Promise<Due[]> {
  const { reader } = ground;
  const labels = Map.groupBy(await labelRows(ground), (label) => keyOf(label.subject_kind, label.subject_id));
  const visited = await wholeVisits(ground);
  const visitsOf = ({ kind, id, space_id }: NeedsLabel): Visited[] =>
    [visited.get(keyOf("space", space_id)), visited.get(keyOf(kind, id))].flatMap((one) => one ?? []);
  const things = await thingsNeedingLabels(reader, ground.plant);
  const lacking = things.map(({ since, ...thing }) => {
    const own = (labels.get(keyOf(thing.kind, thing.id)) ?? []).filter(
      ({ space_id }) => thing.kind !== "cable" || space_id === thing.space_id,
    );
    // A label that only waits to be written is told as due.
    const there = own.some((label) => isThere(label) || label.state === null);
    return { since, thing, there, gone: own.length > 0 };
  });
  // Of a thing whose day nobody knows the record itself says whether it was there for the visitor to look at.
  const dayless = lacking.filter(
    ({ since, thing, there, gone }) => !there && !gone && !since && visitsOf({ ...thing, since }).length > 0,
  );
  const entered = new Map<string, number>();
  for (const [kind, own] of Map.groupBy(dayless, ({ thing }) => thing.kind))
    for (const [id, change] of await enteredIn(reader, kind, [...new Set(own.map(({ thing }) => thing.id))]))
      entered.set(keyOf(kind, id), change);
  const visits = [...new Set(dayless.flatMap(({ since, thing }) => visitsOf({ ...thing, since }).map(({ id }) => id)))];
  const recorded = visits.length > 0 ? await enteredIn(reader, "visit", visits) : new Map<number, number>();
  return lacking.map(({ since, thing, there, gone }): Due => {
    if (there) return { ...thing, lacks: null };
    if (gone) return { ...thing, lacks: "missing" };
    // A visit before the thing was there proves nothing, nor does one on record before it.
    const looked = visitsOf({ ...thing, since }).some(({ id, day }) =>
      since === null
        ? (entered.get(keyOf(thing.kind, thing.id)) ?? 0) <= (recorded.get(id) ?? Number.POSITIVE_INFINITY)
        : day >= since,
    );
    return { ...thing, lacks: looked ? "missing" : "not_looked" };
  });
}

export const keyOf = (kind: string, id: number): string => `${kind} ${id}`;
