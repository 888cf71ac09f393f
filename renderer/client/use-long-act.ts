/** A long act with its progress and a way to stop it; nothing is changed by one that is stopped. */
import { useCallback, useRef, useState } from "react";
import type { Progress } from "../../core/operations/define.ts";
import type { Reply } from "../../core/operations/dispatch.ts";
import type { AnswerOf, InputOf, OperationName } from "../../core/operations/list.ts";
import { useAct } from "./use-act.ts";

export interface LongAct {
  readonly run: <N extends OperationName>(name: N, input: InputOf<N>) => Promise<Reply<AnswerOf<N>> | null>;
  readonly running: { readonly since: number; readonly progress: Progress | null } | null;
  readonly stop: () => void;
}

export function useLongAct(): LongAct {
  const { act } = useAct();
  const [running, setRunning] = useState<LongAct["running"]>(null);
  const abort = useRef<AbortController | null>(null);
  const run = useCallback<LongAct["run"]>(
    async (name, input) => {
      abort.current = new AbortController();
      setRunning({ since: Date.now(), progress: null });
      try {
        return await act(name, input, {
          signal: abort.current.signal,
          onProgress: (progress) => setRunning((before) => before && { ...before, progress }),
        });
      } finally {
        setRunning(null);
      }
    },
    [act],
  );
  return { run, running, stop: () => abort.current?.abort() };
}
