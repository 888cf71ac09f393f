/** Names in crews' notes on the record: what a name means beside the cable and place that the lines are about. */
import { strandsWords } from "../../act/ends.ts";
import { addressesOf, resolve } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { readStrands } from "../../store/strands.ts";

export interface PlaceMeant {
  readonly space_id: number;
  /** The case where one was named. */
  readonly closure_id: number | null;
  readonly address: string;
}

/** What the lines are about, from the box or from a line above. */
export interface Here {
  readonly cable: { readonly id: number; readonly tag: string } | null;
  readonly place: PlaceMeant | null;
  /** The line that named the cable in passing, by its number; null or left out where a line or the box says it for all below. */
  readonly named_in?: number | null;
}

export const NOWHERE: Here = { cable: null, place: null };

/** Cases and spaces of a name; a case also by its own number, without the place it is in. */
export async function placesMeant(reader: Reader, name: string): Promise<PlaceMeant[]> {
  const named = await resolve(reader, name, { kinds: ["space", "closure"] });
  const own = named.some(({ kind }) => kind === "closure")
    ? []
    : await reader.rows<{ id: number }>(
        "select id from closure where tag = ? collate nocase and space_id is not null",
        [name],
      );
  const closures = [...named.filter(({ kind }) => kind === "closure"), ...own].map(({ id }) => id);
  const tags = await addressesOf(reader, "closure", closures);
  const rows = await reader.rows<{ id: number; space_id: number }>(
    "select id, space_id from closure where space_id is not null and id in (select value from json_each(?))",
    [JSON.stringify(closures)],
  );
  return [
    ...named
      .filter(({ kind }) => kind === "space")
      .map(({ id, tag }) => ({ space_id: id, closure_id: null, address: tag })),
    ...rows.map(({ id, space_id }) => ({ space_id, closure_id: id, address: tags.get(id) ?? name })),
  ];
}

export async function cablesMeant(reader: Reader, name: string): Promise<{ id: number; tag: string }[]> {
  const named = await resolve(reader, name, { kinds: ["cable"] });
  return named.map(({ id, tag }) => ({ id, tag }));
}

/** Every reading of a text as strands, each as one address: with its own cable, or of the cable the lines are about. */
export async function strandsMeant(reader: Reader, text: string, { cable }: Here): Promise<string[]> {
  const own = await readStrands(reader, text);
  const ofHere = cable ? await readStrands(reader, `${cable.tag}:${text}`) : { readings: [] };
  const addresses = [...own.readings, ...ofHere.readings].map(({ cable: of, strands }) => {
    const cut = strands.find(({ section }) => section !== undefined);
    const words = strandsWords(
      of.tag,
      strands.map(({ number }) => number),
    );
    return cut ? `${words}#${cut.section}` : words;
  });
  return [...new Set(addresses)];
}

/** Trays of a number in the case or the place the lines are about. */
export async function traysMeant(reader: Reader, name: string, { place }: Here): Promise<string[]> {
  if (name.includes("/")) return (await resolve(reader, name, { kinds: ["tray"] })).map(({ tag }) => tag);
  if (!place) return [];
  const rows = await reader.rows<{ id: number }>(
    `select t.id from tray t join closure c on c.id = t.closure_id
     where t.tag = ? collate nocase and c.space_id = ? and (? is null or c.id = ?)`,
    [name, place.space_id, place.closure_id, place.closure_id],
  );
  return [
    ...(
      await addressesOf(
        reader,
        "tray",
        rows.map(({ id }) => id),
      )
    ).values(),
  ];
}
