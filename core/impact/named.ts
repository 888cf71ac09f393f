/** References to records of several kinds, wanted one by one and read in sets. */
import type { KindName } from "../model/dictionary.ts";
import { refsOf, sectionWords } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";

/** A section is called by its strand where that is all in one piece. */
async function read(reader: Reader, kind: KindName, ids: readonly number[]): Promise<Map<number, RecordRef>> {
  if (kind !== "section") return refsOf(reader, kind, ids);
  return new Map([...(await sectionWords(reader, ids))].map(([id, tag]) => [id, { kind, id, tag }]));
}

export class Named {
  readonly #wanted = new Map<KindName, Set<number>>();
  readonly #refs = new Map<KindName, Map<number, RecordRef>>();

  want(kind: KindName, ids: Iterable<number>): void {
    const own = this.#wanted.get(kind) ?? new Set();
    for (const id of ids) if (id > 0) own.add(id);
    this.#wanted.set(kind, own);
  }

  async read(reader: Reader): Promise<void> {
    for (const [kind, ids] of this.#wanted) {
      const known = this.#refs.get(kind) ?? new Map<number, RecordRef>();
      const further = [...ids].filter((id) => !known.has(id));
      if (further.length > 0) for (const [id, ref] of await read(reader, kind, further)) known.set(id, ref);
      this.#refs.set(kind, known);
    }
  }

  /** What was wanted and is on record. */
  of(kind: KindName, id: number): RecordRef {
    return this.#refs.get(kind)?.get(id) ?? { kind, id, tag: "…" };
  }

  /** The same for many, in order of their addresses. */
  all(kind: KindName, ids: Iterable<number>): RecordRef[] {
    return [...ids].map((id) => this.of(kind, id)).sort(byTag);
  }
}

export const byTag = (a: RecordRef, b: RecordRef): number => a.tag.localeCompare(b.tag, "en", { numeric: true });

/** `a, b and 3 more`. */
export const fewOf = (tags: readonly string[]): string => listed(tags, say` and `, 4);

/** `a, b or 3 more`. */
export const anyOf = (tags: readonly string[]): string => listed(tags, say` or `, 6);

function listed(tags: readonly string[], joined: string, most: number): string {
  if (tags.length <= 1) return tags.join("");
  const shown = tags.length > most ? tags.slice(0, most - 1) : tags.slice(0, -1);
  const rest = tags.length - shown.length;
  return `${shown.join(", ")}${joined}${rest === 1 ? tags.at(-1) : say`${rest} more`}`;
}
