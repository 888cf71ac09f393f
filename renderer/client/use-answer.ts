/**
 * A question on screen. Its answer stays until a newer one is whole: after a change it is asked again without a flicker,
 * and a new question keeps the old answer for the tenth of a second in which most answers come.
 */
import { useCallback, useEffect, useRef, useState } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import type { Progress } from "../../core/operations/define.ts";
import type { AnswerOf, InputOf, OperationName } from "../../core/operations/list.ts";
import type { Failure } from "../../core/result.ts";
import { recall, remember } from "./answers-kept.ts";
import { useClient } from "./context.ts";

/** Below this nothing is shown, neither a word nor an empty page. */
export const SILENT_MS = 100;

export interface Answer<O> {
  /** The answer to what is asked now, or for a moment to what was asked before. */
  readonly value: O | undefined;
  readonly error: Failure | undefined;
  /** Milliseconds since 1970 when the call began, while one is running for a question that has no answer yet. */
  readonly since: number | null;
  readonly progress: Progress | null;
  readonly stop: () => void;
  /** Asks again. */
  readonly again: () => void;
}

interface State<O> {
  readonly key: string;
  readonly value: O | undefined;
  readonly error: Failure | undefined;
  readonly since: number | null;
  readonly progress: Progress | null;
}

export interface AnswerOptions {
  /** Only changes of these kinds ask again; without it every change does. */
  readonly kinds?: readonly KindName[];
}

/** Asks a read (or a long question). `input` null asks nothing. */
export function useAnswer<N extends OperationName>(
  name: N,
  input: InputOf<N> | null,
  options: AnswerOptions = {},
): Answer<AnswerOf<N>> {
  const client = useClient();
  const key = input === null ? "" : `${name} ${JSON.stringify(input)}`;
  const [state, setState] = useState<State<AnswerOf<N>>>(() => begin(key, client.revision));
  /** Asked again; `afresh` past what is kept. */
  const [turn, setTurn] = useState({ count: 0, afresh: false });
  const running = useRef<AbortController | null>(null);
  const asked = useRef({ name, input, kinds: options.kinds });
  asked.current = { name, input, kinds: options.kinds };

  useEffect(() => {
    const { name, input } = asked.current;
    if (key === "" || input === null) {
      setState(begin("", client.revision));
      return;
    }
    const kept = recall<AnswerOf<N>>(key, client.revision);
    if (kept !== undefined && !turn.afresh) {
      setState({ key, value: kept, error: undefined, since: null, progress: null });
      return;
    }
    const abort = new AbortController();
    running.current = abort;
    const since = Date.now();
    let ended = false;
    // For the same question the old answer stays; for another it goes when the silent moment is over.
    setState((before) => (before.key === key ? before : { ...before, key, error: undefined, since, progress: null }));
    const silence = setTimeout(() => {
      setState((before) => (before.since === null ? before : { ...before, value: undefined }));
    }, SILENT_MS);
    void client
      .call(name, input, {
        signal: abort.signal,
        onProgress: (progress) => {
          if (!ended) setState((before) => (before.since === null ? before : { ...before, progress }));
        },
      })
      .then((reply) => {
        if (ended) return;
        clearTimeout(silence);
        if (reply.ok) remember(key, reply.revision, reply.value);
        setState({
          key,
          value: reply.ok ? reply.value : undefined,
          error: reply.ok ? undefined : reply.error,
          since: null,
          progress: null,
        });
      });
    return () => {
      ended = true;
      clearTimeout(silence);
      abort.abort();
    };
  }, [key, turn, client]);

  useEffect(
    () =>
      client.onChanged(({ kinds }) => {
        const wanted = asked.current.kinds;
        if (wanted && kinds.length > 0 && !kinds.some((kind) => wanted.includes(kind))) return;
        setTurn((before) => ({ count: before.count + 1, afresh: false }));
      }),
    [client],
  );

  const stop = useCallback(() => running.current?.abort(), []);
  const again = useCallback(() => setTurn((before) => ({ count: before.count + 1, afresh: true })), []);
  return { ...state, stop, again };
}

function begin<O>(key: string, revision: number): State<O> {
  const value = key === "" ? undefined : recall<O>(key, revision);
  const since = key === "" || value !== undefined ? null : Date.now();
  return { key, value, error: undefined, since, progress: null };
}
