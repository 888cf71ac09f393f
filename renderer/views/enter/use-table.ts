/** The program behind a table: windows of rows, writes, records that may be meant. */
import { useCallback, useEffect, useMemo, useState } from "react";
import type { KindName } from "../../../core/model/dictionary.ts";
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { settings } from "../../client/settings.ts";
import { useAct } from "../../client/use-act.ts";
import type { GridCalls, GridChange, Wrote } from "../../grid/commit.ts";
import { GlassSource } from "../../grid/glass-source.ts";
import { type FetchWindow, RowSource } from "../../grid/row-source.ts";
import type { Suggest, Suggestion } from "../../grid/suggestions.ts";

export type Selection = Omit<InputOf<"record.window">, "offset" | "limit" | "columns">;

/** Rows of a selection; asked anew when the selection or the plant changes. */
export function useRows(selection: Selection): RowSource {
  const client = useClient();
  const key = JSON.stringify(selection);
  const fetchWindow = useMemo((): FetchWindow => {
    const asked: Selection = JSON.parse(key);
    return async (offset, limit) => {
      const reply = await client.call("record.window", { ...asked, offset, limit });
      if (reply.ok) return reply.value;
      throw reply.error;
    };
  }, [client, key]);
  const [source] = useState(() => new RowSource(fetchWindow));
  useEffect(() => source.ask(fetchWindow), [source, fetchWindow]);
  useEffect(() => client.onChanged(() => void source.refresh()), [client, source]);
  useEffect(
    () =>
      client.onConnection(() => {
        if (!client.lost && source.error !== null) void source.refresh();
      }),
    [client, source],
  );
  return source;
}

/** Kinds whose change may give glass another colour. */
const COLOURED: readonly KindName[] = ["cable", "cable_type", "unit", "strand", "section"];

export function useGlass(): GlassSource {
  const client = useClient();
  const [source] = useState(
    () =>
      new GlassSource(async ({ strand, section, unit }) => {
        const reply = await client.call("glass.colours", {
          strands: [...strand],
          sections: [...section],
          units: [...unit],
        });
        return reply.ok
          ? { strand: reply.value.strands, section: reply.value.sections, unit: reply.value.units }
          : null;
      }),
  );
  useEffect(
    () =>
      client.onChanged(({ kinds }) => {
        if (kinds.length === 0 || kinds.some((kind) => COLOURED.includes(kind))) source.refresh();
      }),
    [client, source],
  );
  return source;
}

const NO_NAME: Failure = {
  code: "bad_input",
  message: say`It was not written: every change needs the name of who makes it.`,
  problems: [],
};

/** What was written tells its first changes only: of more, all count as changed. */
const idsOf = ({ changes, counts }: AnswerOf<"record.change_many">): ReadonlySet<number> | null =>
  counts.reduce((sum, { added, changed, deleted }) => sum + added + changed + deleted, 0) > changes.length
    ? null
    : new Set(changes.map(({ id }) => id));

export function useGridCalls(): GridCalls {
  const client = useClient();
  const { act } = useAct();
  return useMemo(() => {
    const put = async (changes: readonly GridChange[], summary?: string, rehearse = false): Promise<Wrote> => {
      const [only] = changes;
      const how = rehearse ? { rehearse } : {};
      const reply =
        only && changes.length === 1
          ? only.op === "add"
            ? await act("record.add", { kind: only.kind, values: only.values }, how)
            : await act("record.edit", { kind: only.kind, id: only.id, rev: only.rev, values: only.values }, how)
          : await act("record.change_many", { changes: [...changes], ...(summary ? { summary } : {}) }, how);
      if (!reply) return { is: "refused", failure: NO_NAME };
      if (!reply.ok) return { is: "refused", failure: reply.error };
      return { is: "written", rev: reply.value.change_set, ids: idsOf(reply.value as AnswerOf<"record.change_many">) };
    };
    return {
      async rehearse(changes: readonly GridChange[]) {
        const told = await put(changes, undefined, true);
        return told.is === "refused" ? told.failure : null;
      },
      async write(changes: readonly GridChange[], summary?: string) {
        // Nobody is asked who they are for what can't be written.
        const tried = settings.get().person ? null : await put(changes, summary, true);
        return tried?.is === "refused" ? tried : put(changes, summary);
      },
      async find(text: string) {
        const reply = await client.call("address.resolve", { text });
        if (!reply.ok) return say`is ${text}: ${reply.error.message}`;
        const { matches, nearest } = reply.value;
        const [only] = matches;
        if (only && matches.length === 1) return only;
        if (only)
          return say`is ${text}, which may be ${matches.map(({ kind, tag }) => `${kind} ${tag}`).join(say` or `)}`;
        return say`is ${text}, which is not on record${nearest.length > 0 ? say`; nearest: ${nearest.join(", ")}` : ""}`;
      },
    };
  }, [act, client]);
}

/** So many records are offered below a cell. */
const OFFERED = 12;

type Resolved = AnswerOf<"address.resolve">["matches"][number];

/** Records that a text in a cell may mean: what it says exactly, then those that have its words. */
export function useSuggest(): Suggest {
  const client = useClient();
  return useCallback(
    async (text, kinds, signal) => {
      const asked = text.trim();
      const only: KindName[] | undefined = kinds ? [...kinds] : undefined;
      const exact: readonly Resolved[] =
        asked === ""
          ? []
          : await client
              .call("address.resolve", { text: asked, ...(only ? { kinds: only } : {}) }, { signal })
              .then((reply) => (reply.ok ? reply.value.matches : []));
      const found = new Map<string, Suggestion>();
      for (const { kind, id, tag } of exact)
        found.set(`${kind} ${id}`, { text: tag, found: { kind, id, tag }, aside: null });
      let more = 0;
      const [kind] = only ?? [];
      if (kind && only?.length === 1) {
        const reply = await client.call("record.window", { kind, text: asked, limit: OFFERED }, { signal });
        if (reply.ok) {
          for (const row of reply.value.rows)
            if (!found.has(`${kind} ${row.id}`))
              found.set(`${kind} ${row.id}`, {
                text: row.address,
                found: { kind, id: row.id, tag: row.address },
                aside: asideOf(row.values, row.shown),
              });
          more = Math.max(0, reply.value.total - found.size);
        }
      } else if (asked !== "") {
        const reply = await client.call("address.find", { text: asked, limit: OFFERED }, { signal });
        if (reply.ok)
          for (const { ref, what, place } of reply.value.hits)
            if (!found.has(`${ref.kind} ${ref.id}`))
              found.set(`${ref.kind} ${ref.id}`, {
                text: ref.tag,
                found: ref,
                aside: [what, place].filter(Boolean).join(", "),
              });
      }
      return { matches: [...found.values()], more };
    },
    [client],
  );
}

/** A few words beside an offered record: its name, or what it lies in. */
function asideOf(values: Readonly<Record<string, unknown>>, shown: Readonly<Record<string, string>>): string | null {
  if (typeof values.name === "string") return values.name;
  return shown.type_id ?? shown.space_id ?? null;
}
