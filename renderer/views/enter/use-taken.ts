/** Names that records beside the one being copied have already, so that new ones begin at the first free. */
import { useEffect, useState } from "react";
import { type KindName, kindOf } from "../../../core/model/dictionary.ts";
import { useClient } from "../../client/context.ts";
import type { GridRow } from "../../grid/row-source.ts";
import { countOn } from "../../grid/series.ts";

const AT_ONCE = 5000;
/** More are not read: the program refuses what is taken in any case. */
const MOST_READ = 100_000;
/** So many names are tried. */
const MOST_TRIED = 200_000;

export interface Taken {
  /** The fields that say where a name is unique, such as the room of a panel. */
  readonly where: readonly string[];
  readonly names: ReadonlySet<string>;
}

/** Null until they are read, and where there is no record to be like. */
export function useTaken(kind: KindName, model: GridRow | null, name: string): Taken | null {
  const client = useClient();
  const [taken, setTaken] = useState<Taken | null>(null);
  useEffect(() => {
    if (!model) return;
    const where = kindOf(kind).address?.parents ?? [];
    const own = model.values[name];
    const begins = typeof own === "string" ? own.replace(/\d.*$/s, "") : "";
    const filters = [
      ...where.map((field) => {
        const value = model.values[field] ?? null;
        return value === null ? { field, test: "empty" as const } : { field, test: "is" as const, value };
      }),
      ...(begins === "" ? [] : [{ field: name, test: "starts" as const, value: begins }]),
    ];
    const abort = new AbortController();
    void (async () => {
      const names = new Set<string>();
      for (let offset = 0; offset < MOST_READ; offset += AT_ONCE) {
        const asked = { kind, filters, columns: [name], offset, limit: AT_ONCE };
        const reply = await client.call("record.window", asked, { signal: abort.signal });
        if (abort.signal.aborted || !reply.ok) return;
        for (const { values } of reply.value.rows) names.add(String(values[name]));
        if (offset + AT_ONCE >= reply.value.total) break;
      }
      setTaken({ where, names });
    })();
    return () => abort.abort();
  }, [client, kind, model, name]);
  return taken;
}

/** The first name counted on from one that has so many free ones after it as are wanted; null where none comes. */
export function firstFree(from: string, names: ReadonlySet<string>, wanted: number): string | null {
  const tried = countOn([from], Math.min(MOST_TRIED, (names.size + 1) * wanted)) ?? [];
  let free = 0;
  for (const [at, text] of tried.entries()) {
    free = names.has(text) ? 0 : free + 1;
    if (free === wanted) return tried[at - wanted + 1] ?? null;
  }
  return null;
}
