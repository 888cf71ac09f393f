/** Change sets, the newest first, page by page; asked anew when somebody writes. */
import { useCallback, useEffect, useState } from "react";
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import { useClient } from "../../client/context.ts";

export type HistoryItem = AnswerOf<"history.list">["items"][number];

export interface HistoryPages {
  readonly items: readonly HistoryItem[] | null;
  readonly error: Failure | null;
  /** Reads the page before the last item; null after the first change set. */
  readonly earlier: (() => void) | null;
}

const PAGE = 100;

export function useHistory(filter: Omit<InputOf<"history.list">, "before" | "limit">): HistoryPages {
  const client = useClient();
  const key = JSON.stringify(filter);
  const [state, setState] = useState<{
    items: readonly HistoryItem[] | null;
    next: number | null;
    error: Failure | null;
  }>({
    items: null,
    next: null,
    error: null,
  });
  const read = useCallback(
    async (before: number | null, limit: number) => {
      const asked = JSON.parse(key) as typeof filter;
      const reply = await client.call("history.list", { ...asked, limit, ...(before ? { before } : {}) });
      if (!reply.ok) {
        setState((known) => ({ ...known, error: reply.error }));
        return;
      }
      const { items, next } = reply.value;
      setState((known) => ({ items: before && known.items ? [...known.items, ...items] : items, next, error: null }));
    },
    [client, key],
  );
  useEffect(() => {
    void read(null, PAGE);
    // A change comes on top; as many as were shown are read again.
    return client.onChanged(() => void read(null, PAGE));
  }, [read, client]);
  const { next } = state;
  return { items: state.items, error: state.error, earlier: next === null ? null : () => void read(next, PAGE) };
}
