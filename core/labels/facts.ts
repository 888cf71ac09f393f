/** What labels on records at their places say: only what the wordings ask for is read, in sets. */
import type { PlantGlass } from "../glass/plant-glass.ts";
import { unescapeName } from "../model/address.ts";
import type { KindName } from "../model/dictionary.ts";
import { blanksOf } from "../model/label-blanks.ts";
import type { LabelFacts } from "../model/label-text.ts";

import { FIBRE_CLASSES } from "../model/lists.ts";
import { addressesOf, numberRuns } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { labelFacts, plantRow } from "../store/label-facts.ts";
import { farPlaces, rangesAt } from "./ranges.ts";

/** A thing and where its label hangs; null for a thing whose place nobody knows. */
export interface LabelPlace {
  readonly kind: KindName;
  readonly id: number;
  readonly space_id: number | null;
}

export interface FactsContext {
  readonly reader: Reader;
  readonly today: string;
  glass(): Promise<PlantGlass>;
  /** The plant's glass where it is in memory: what asks for little reads that by index where it isn't. */
  heldGlass?(): Promise<PlantGlass | null>;
}

export const placeKey = ({ id, space_id }: Pick<LabelPlace, "id" | "space_id">): string => `${id} ${space_id ?? ""}`;

type Facts = { -readonly [F in keyof LabelFacts]: LabelFacts[F] };

/** The facts of labels of one kind, by `placeKey`. `wordings` are those that will be filled or compared. */
export async function factsAt(
  context: FactsContext,
  kind: KindName,
  places: readonly LabelPlace[],
  wordings: Iterable<string>,
): Promise<Map<string, LabelFacts>> {
  const { reader } = context;
  const wanted = new Set([...wordings].flatMap(blanksOf));
  const ids = new Set(places.map(({ id }) => id));
  const basic = await labelFacts(reader, kind, ids);
  const facts = new Map<string, Facts>();
  for (const place of places) {
    const own = basic.get(place.id);
    if (own) facts.set(placeKey(place), { ...own, count: own.strands, ...(kind === "port" ? { port: own.tag } : {}) });
  }
  const each = (fill: (facts: Facts, place: LabelPlace) => void): void => {
    for (const place of places) {
      const own = facts.get(placeKey(place));
      if (own) fill(own, place);
    }
  };
  const asks = (...names: readonly string[]): boolean => names.some((name) => wanted.has(name));

  if (asks("address", "panel")) {
    const addresses = await addressesOf(reader, kind, ids);
    each((own, { id }) => {
      own.address = addresses.get(id) ?? null;
      own.panel =
        kind === "port" ? (own.address?.replace(/:[^:]*$/, "") ?? null) : kind === "panel" ? own.address : null;
    });
  }
  if (asks("place", "building")) {
    const tags = await addressesOf(reader, "space", new Set(places.flatMap(({ space_id }) => space_id ?? [])));
    each((own, { space_id }) => {
      own.place = space_id === null ? null : (tags.get(space_id) ?? null);
      own.building = own.place?.includes("/") ? (own.place.split("/")[0] ?? null) : null;
    });
  }
  if (asks("name", "rating", "system")) await ownFields(reader, kind, ids, each);
  if (asks("owner", "emergency")) await owners(reader, kind, ids, each);
  if (kind === "cable" && asks("fibre")) await fibres(reader, ids, each);
  if (kind === "port" && asks("strand")) await landed(reader, ids, each);
  if (kind === "port" && asks("to")) {
    const far = await farPlaces(context, ids);
    each((own, { id }) => {
      own.to = far.get(id) ?? null;
    });
  }
  if (kind === "cable" && asks("ranges")) {
    const ranges = await rangesAt(context, places);
    each((own, place) => {
      own.ranges = ranges.get(placeKey(place)) ?? null;
    });
  }
  each(asOnTheDoor);
  return facts;
}

/** People read on a label what stands on a door or lid: a stroke in a room's number is no escape there. */
function asOnTheDoor(own: Facts): void {
  for (const blank of ["from", "to", "place", "building", "ranges"] as const) {
    const text = own[blank];
    if (text?.includes("%")) own[blank] = unescapeName(text);
  }
}

type Each = (fill: (facts: Facts, place: LabelPlace) => void) => void;
const listed = (ids: Iterable<number>): string => JSON.stringify([...ids]);

const NAMED: ReadonlySet<KindName> = new Set(["building", "space", "pathway", "party"]);

async function ownFields(reader: Reader, kind: KindName, ids: ReadonlySet<number>, each: Each): Promise<void> {
  if (NAMED.has(kind)) {
    const rows = await reader.rows<{ id: number; name: string | null }>(
      `select id, name from "${kind}" where id in (select value from json_each(?))`,
      [listed(ids)],
    );
    const names = new Map(rows.map(({ id, name }) => [id, name]));
    each((own, { id }) => {
      own.name = names.get(id) ?? null;
    });
  }
  if (kind === "firestop") {
    const rows = await reader.rows<{ id: number; rating: string | null; system: string | null }>(
      "select id, rating, listed_system as system from firestop where id in (select value from json_each(?))",
      [listed(ids)],
    );
    const byId = new Map(rows.map((row) => [row.id, row]));
    each((own, { id }) => {
      own.rating = byId.get(id)?.rating ?? null;
      own.system = byId.get(id)?.system ?? null;
    });
  }
}

interface OwnerRow {
  readonly id: number;
  readonly name: string;
  readonly call: string | null;
}
const OWNER = "y.id, coalesce(y.name, y.tag) as name, coalesce(y.contact_night, y.contact_day) as call";

/** Kinds that have no owner of their own, and by which field one comes to a thing that has one. */
const OWNED_BY: Readonly<Partial<Record<KindName, string>>> = {
  unit: "select u.id, c.owner_id from unit u join cable c on c.id = u.cable_id",
  strand: "select s.id, c.owner_id from strand s join cable c on c.id = s.cable_id",
};

/** Whose each thing is: its owner on record, else the plant itself, by its own party or its name. */
async function owners(reader: Reader, kind: KindName, ids: ReadonlySet<number>, each: Each): Promise<void> {
  const source = OWNED_BY[kind] ?? `select id, owner_id from "${kind}"`;
  const rows = await reader.rows<OwnerRow & { subject_id: number }>(
    `select t.id as subject_id, ${OWNER} from (${source}) t join party y on y.id = t.owner_id
     where t.id in (select value from json_each(?))`,
    [listed(ids)],
  );
  const [self] = await reader.rows<OwnerRow>(
    `select ${OWNER} from party y where y.role = 'self' order by y.tag_key, y.id limit 1`,
  );
  const plant = (await plantRow(reader))?.name ?? null;
  const byThing = new Map(rows.map((row) => [row.subject_id, row]));
  each((own, { id }) => {
    const owner = byThing.get(id) ?? self;
    own.owner = owner?.name ?? plant;
    own.emergency = owner?.call ?? null;
  });
}

/** The classes of a cable's fibre as its type, the cable itself and its units say. */
async function fibres(reader: Reader, ids: ReadonlySet<number>, each: Each): Promise<void> {
  const rows = await reader.rows<{ id: number; fibre: keyof typeof FIBRE_CLASSES }>(
    `select distinct id, fibre from (
       select c.id, coalesce(json_extract(c.differs, '$.fibre_class'), t.fibre_class) as fibre
       from cable c left join cable_type t on t.id = c.type_id where c.id in (select value from json_each(?1))
         and not exists (select 1 from unit u where u.cable_id = c.id and u.fibre_class is not null)
       union all
       select u.cable_id, u.fibre_class from unit u where u.cable_id in (select value from json_each(?1))
     ) where fibre is not null order by id, fibre`,
    [listed(ids)],
  );
  const byCable = Map.groupBy(rows, ({ id }) => id);
  each((own, { id }) => {
    own.fibre =
      byCable
        .get(id)
        ?.map(({ fibre }) => FIBRE_CLASSES[fibre])
        .join(" + ") ?? null;
  });
}

/** Which strands end on the back of a port: "F-012:25-26". Empty where none is on record. */
async function landed(reader: Reader, ids: ReadonlySet<number>, each: Each): Promise<void> {
  const rows = await reader.rows<{ port_id: number; cable: string; number: number }>(
    `select o.port_id, c.tag as cable, s.number from position o join termination t on t.position_id = o.id
       join section e on e.id = t.section_id join strand s on s.id = e.strand_id join cable c on c.id = s.cable_id
     where o.port_id in (select value from json_each(?)) and t.life in ('in_place', 'out_of_use')
     order by o.port_id, c.tag_key, s.number`,
    [listed(ids)],
  );
  const byPort = Map.groupBy(rows, ({ port_id }) => port_id);
  each((own, { id }) => {
    const byCable = Map.groupBy(byPort.get(id) ?? [], ({ cable }) => cable);
    own.strand = [...byCable]
      .map(([cable, strands]) => `${cable}:${numberRuns(strands.map(({ number }) => number))}`)
      .join(", ");
  });
}
