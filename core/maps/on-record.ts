/** Buildings, spaces and pathways as they are on record, read in sets and found by their addresses. */
import { type AnyRow, type KindName, kindOf } from "../model/dictionary.ts";
import type { LonLat } from "../model/lines.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { foldTag } from "../store/lookup.ts";
import { MAPPED, type Mapped } from "./shape.ts";

export interface Known {
  readonly kind: Mapped;
  readonly row: AnyRow;
  readonly address: string;
}

export class OnRecord {
  readonly all: Readonly<Record<Mapped, readonly Known[]>>;
  readonly #exact = new Map<string, Known>();
  readonly #folded = new Map<string, Known[]>();
  readonly #addresses = new Map<string, string>();

  private constructor(all: Readonly<Record<Mapped, readonly Known[]>>) {
    this.all = all;
    for (const kind of MAPPED)
      for (const one of all[kind]) {
        this.#exact.set(`${kind} ${one.address}`, one);
        this.#addresses.set(`${kind} ${one.row.id}`, one.address);
        const folded = `${kind} ${foldTag(one.address)}`;
        this.#folded.set(folded, [...(this.#folded.get(folded) ?? []), one]);
      }
  }

  static async read(reader: Reader): Promise<OnRecord> {
    const all = { building: [] as Known[], space: [] as Known[], pathway: [] as Known[] };
    for (const kind of MAPPED) {
      const rows = await reader.rows<AnyRow>(`select * from "${kind}" order by id`);
      const addresses = await addressesOf(
        reader,
        kind,
        rows.map(({ id }) => id),
      );
      for (const row of rows) all[kind].push({ kind, row, address: addresses.get(row.id) ?? String(row.tag) });
    }
    return new OnRecord(all);
  }

  exact(kind: Mapped, address: string): Known | null {
    return this.#exact.get(`${kind} ${address}`) ?? null;
  }

  /** Those whose address is the same but for case, spaces, dashes and leading zeros. */
  close(kind: Mapped, address: string): readonly Known[] {
    return this.#folded.get(`${kind} ${foldTag(address)}`) ?? [];
  }

  addressOf(kind: KindName, id: number): string | null {
    return this.#addresses.get(`${kind} ${id}`) ?? null;
  }

  /** Every spot that says where the campus lies. */
  *positions(): Generator<LonLat> {
    for (const kind of MAPPED)
      for (const { row } of this.all[kind]) {
        if (typeof row.longitude === "number" && typeof row.latitude === "number") yield [row.longitude, row.latitude];
        yield* pointsOf(row.outline ?? row.geometry ?? null);
      }
  }
}

/** A line or outline as it is stored. */
export const pointsOf = (stored: unknown): readonly LonLat[] =>
  typeof stored === "string" ? (JSON.parse(stored) as LonLat[]) : [];

/** What a kind's record is called without an address: for a sentence. */
export const oneOf = (kind: Mapped): string => kindOf(kind).one;
