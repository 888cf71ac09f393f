/** Rehearses an act while its blanks are filled: a moment after the last letter, the newest answer wins. */
import { useEffect, useState } from "react";
import type { InputOf } from "../../core/operations/list.ts";
import type { Failure } from "../../core/result.ts";
import type { Occasion } from "../../core/store/plan.ts";
import type { Written } from "../../core/store/written.ts";
import { useClient } from "../client/context.ts";
import { personSoFar } from "../client/person.ts";
import type { Act } from "./act.ts";

const AFTER_MS = 220;

export interface Rehearsal {
  readonly written: Written<unknown> | null;
  readonly failure: Failure | null;
  /** The answer is of an earlier filling; the newest is on its way. */
  readonly busy: boolean;
}

const NOTHING: Rehearsal = { written: null, failure: null, busy: false };

/** `input` null rehearses nothing. */
export function useRehearsal(
  act: Act,
  input: Record<string, unknown> | null,
  occasion: Omit<Occasion, "author">,
): Rehearsal {
  const client = useClient();
  const [rehearsal, setRehearsal] = useState<Rehearsal & { of: string }>({ ...NOTHING, of: "" });
  const [turn, setTurn] = useState(0);
  const key = input === null ? "" : JSON.stringify([act.operation, input, occasion, turn]);
  // The plant may change under the form: it is rehearsed again.
  useEffect(() => client.onChanged(() => setTurn((before) => before + 1)), [client]);
  useEffect(() => {
    if (key === "") {
      setRehearsal({ ...NOTHING, of: "" });
      return;
    }
    const abort = new AbortController();
    const wait = setTimeout(async () => {
      const [operation, asked, why] = JSON.parse(key) as [Act["operation"], InputOf<Act["operation"]>, typeof occasion];
      const reply = await client.call(operation, asked, {
        rehearse: true,
        occasion: { author: personSoFar(), ...why },
        signal: abort.signal,
      });
      if (abort.signal.aborted) return;
      setRehearsal(
        reply.ok
          ? { written: reply.value as Written<unknown>, failure: null, busy: false, of: key }
          : { written: null, failure: reply.error, busy: false, of: key },
      );
    }, AFTER_MS);
    return () => {
      clearTimeout(wait);
      abort.abort();
    };
  }, [client, key]);
  return { ...rehearsal, busy: key !== "" && rehearsal.of !== key };
}
