/** Doing something: a write carried out in this person's name, or rehearsed. */
import { useCallback, useState } from "react";
import type { Reply } from "../../core/operations/dispatch.ts";
import type { AnswerOf, InputOf, OperationName } from "../../core/operations/list.ts";
import type { Occasion } from "../../core/store/plan.ts";
import { useClient } from "./context.ts";
import { personName, personSoFar } from "./person.ts";

export interface ActOptions extends Omit<Occasion, "author"> {
  /** Shows what would be written and writes nothing. */
  readonly rehearse?: boolean;
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: { what: string; done: number; total: number | null }) => void;
}

export interface Act {
  /** Refusals are values: show them with `Refused`. Null when the person gave no name, so that nothing was asked. */
  readonly act: <N extends OperationName>(
    name: N,
    input: InputOf<N>,
    options?: ActOptions,
  ) => Promise<Reply<AnswerOf<N>> | null>;
  /** How many acts of this part of the window are running. */
  readonly running: number;
}

export function useAct(): Act {
  const client = useClient();
  const [running, setRunning] = useState(0);
  const act = useCallback<Act["act"]>(
    async (name, input, { rehearse, signal, onProgress, ...why } = {}) => {
      const author = rehearse ? personSoFar() : await personName();
      if (author === null) return null;
      setRunning((count) => count + 1);
      try {
        return await client.call(name, input, {
          occasion: { author, ...why },
          ...(rehearse ? { rehearse } : {}),
          ...(signal ? { signal } : {}),
          ...(onProgress ? { onProgress } : {}),
        });
      } finally {
        setRunning((count) => count - 1);
      }
    },
    [client],
  );
  return { act, running };
}
