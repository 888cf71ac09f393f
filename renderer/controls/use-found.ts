/** Records that a text may mean, asked while it is typed. The last list stays until the next is there. */
import { useEffect, useState } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import type { AnswerOf } from "../../core/operations/list.ts";
import { useClient } from "../client/context.ts";

export type Hit = AnswerOf<"address.find">["hits"][number];

/** Between two letters of somebody who types. */
const PAUSE_MS = 60;
const MOST = 30;

export interface Found {
  readonly hits: readonly Hit[];
  /** Not yet of the text as it stands. */
  readonly pending: boolean;
  readonly error: string | null;
}

const NOTHING: Found = { hits: [], pending: false, error: null };

export function useFound(text: string, kinds?: readonly KindName[]): Found {
  const client = useClient();
  const wanted = text.trim();
  const [found, setFound] = useState<Found & { text: string }>({ ...NOTHING, text: "" });
  const kindList = kinds?.join(" ") ?? "";

  useEffect(() => {
    if (wanted === "") {
      setFound({ ...NOTHING, text: "" });
      return;
    }
    let ended = false;
    const abort = new AbortController();
    const pause = setTimeout(async () => {
      const only = kindList ? (kindList.split(" ") as KindName[]) : undefined;
      const reply = await client.call(
        "address.find",
        { text: wanted, limit: MOST, ...(only ? { kinds: only } : {}) },
        { signal: abort.signal },
      );
      if (ended) return;
      setFound(
        reply.ok
          ? { hits: reply.value.hits, pending: false, error: null, text: wanted }
          : { ...NOTHING, error: reply.error.message, text: wanted },
      );
    }, PAUSE_MS);
    return () => {
      ended = true;
      clearTimeout(pause);
      abort.abort();
    };
  }, [client, wanted, kindList]);

  return wanted === "" ? NOTHING : { ...found, pending: found.text !== wanted };
}
