/** Losses on record of one kind of joint, by id, for bulk questions: a plant has more joints than lists should hold at once. */
import type { Reader } from "../store/handle.ts";

const PAGE = 20_000;

export class RecordedLosses {
  readonly #db: Float32Array;

  private constructor(last: number) {
    this.#db = new Float32Array(last + 1);
  }

  /** @param db SQL for a joint's loss in decibels; null and 0 are not known */
  static async read(
    reader: Reader,
    table: "splice" | "termination" | "module_join",
    db: string,
  ): Promise<RecordedLosses> {
    const [row] = await reader.rows<{ last: number | null }>(`select max(id) as last from "${table}"`);
    const all = new RecordedLosses(row?.last ?? 0);
    for (let after = 0; ; ) {
      const rows = await reader.lists(`select id, ${db} from "${table}" where id > ? order by id limit ?`, [
        after,
        PAGE,
      ]);
      for (const [id, loss] of rows) all.#db[id as number] = Math.max(0, (loss as number | null) ?? 0);
      if (rows.length < PAGE) return all;
      after = rows.at(-1)?.[0] as number;
    }
  }

  get(id: number): number | undefined {
    const db = this.#db[id] ?? 0;
    // What four bytes round down must not make a bound too small.
    return db > 0 ? db * (1 + 2 ** -20) : undefined;
  }
}
