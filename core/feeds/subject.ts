/** The building or space that was asked about. */
import { pick } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";

export interface Subject {
  readonly ref: RecordRef;
  readonly name: string;
  /** Its spaces. */
  readonly spaces: ReadonlySet<number>;
  /** The building it is or lies in. */
  readonly building_id: number | null;
}

export type Of = string | { readonly kind: "building" | "space"; readonly id: number };

/** Refuses `not_found` or `ambiguous`. */
export async function subjectOf(reader: Reader, of: Of): Promise<Subject> {
  const ref =
    typeof of === "string"
      ? await pick(reader, of, { kinds: ["building", "space"], field: "what" })
      : await pick(reader, of.id, { kinds: [of.kind], field: "what" });
  if (ref.kind === "space") {
    const [row] = await reader.rows<{ name: string | null; building_id: number | null; building: string | null }>(
      `select s.name, s.building_id, b.name as building from space s left join building b on b.id = s.building_id
       where s.id in (select value from json_each(?))`,
      [JSON.stringify([ref.id])],
    );
    return {
      ref,
      name: row?.name ?? ref.tag,
      spaces: new Set([ref.id]),
      building_id: row?.building_id ?? null,
    };
  }
  const [row] = await reader.rows<{ name: string | null }>(
    "select name from building where id in (select value from json_each(?))",
    [JSON.stringify([ref.id])],
  );
  const spaces = await reader.rows<{ id: number }>(
    "select id from space where building_id in (select value from json_each(?))",
    [JSON.stringify([ref.id])],
  );
  return { ref, name: row?.name ?? ref.tag, spaces: new Set(spaces.map(({ id }) => id)), building_id: ref.id };
}
