/** A sheet or notes tried out while they are mapped and typed: a moment after the last change, the newest answer wins. */
import { useCallback, useEffect, useState } from "react";
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import { useClient } from "../../client/context.ts";
import { personSoFar } from "../../client/person.ts";

type TriedName = "sheet.rehearse" | "notes.rehearse" | "run.rehearse";

export interface TriedOut<O> {
  readonly value: O | null;
  readonly failure: Failure | null;
  /** What is shown is of an earlier state; the newest is on its way. */
  readonly busy: boolean;
  readonly again: () => void;
}

const AFTER_MS = 300;

/** `input` null tries nothing. */
export function useTried<N extends TriedName>(
  name: N,
  input: InputOf<N> | null,
  meaning: "change" | "correction",
): TriedOut<AnswerOf<N>> {
  const client = useClient();
  const [turn, setTurn] = useState(0);
  const [state, setState] = useState<{ of: string; value: AnswerOf<N> | null; failure: Failure | null }>({
    ...{ of: "", value: null, failure: null },
  });
  const key = input === null ? "" : JSON.stringify([input, meaning, turn]);
  const again = useCallback(() => setTurn((before) => before + 1), []);
  useEffect(() => client.onChanged(again), [client, again]);
  useEffect(() => {
    if (key === "") {
      setState({ of: "", value: null, failure: null });
      return;
    }
    const abort = new AbortController();
    const wait = setTimeout(async () => {
      const [asked, why] = JSON.parse(key) as [InputOf<N>, typeof meaning];
      const occasion = { author: personSoFar(), meaning: why };
      const reply = await client.call(name, asked, { occasion, signal: abort.signal });
      if (abort.signal.aborted) return;
      setState(
        reply.ok ? { of: key, value: reply.value, failure: null } : { of: key, value: null, failure: reply.error },
      );
    }, AFTER_MS);
    return () => {
      clearTimeout(wait);
      abort.abort();
    };
  }, [client, key, name]);
  return { value: state.value, failure: state.failure, busy: key !== "" && state.of !== key, again };
}
