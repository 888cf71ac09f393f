/**
 * What is typed, kept in the plant file with each letter: one keeping at a time, then the newest. The address says which
 * draft it is, so that a reload, another window or the program started anew goes on where it was.
 */
import { useCallback, useEffect, useRef, useState } from "react";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { settings } from "../../client/settings.ts";
import { goWith } from "../../frame/router.ts";
import { EMPTY, isEmpty, nameOf, type TypedRun, taken } from "./typed.ts";

export interface Desk {
  readonly typed: TypedRun;
  readonly type: (next: TypedRun) => void;
  /** Its number on the desk; null before anything of it was kept. */
  readonly id: number | null;
  /** What is on screen is in the file. */
  readonly kept: boolean;
  /** Why it isn't kept. */
  readonly why: string | null;
  /** Counts up with each keeping that puts a new one on the desk. */
  readonly turn: number;
}

/** `open` is the draft that the address names. */
export function useDesk(open: number | null, readOnly: boolean): Desk {
  const client = useClient();
  const [typed, setTyped] = useState<TypedRun>(EMPTY);
  const [state, setState] = useState<Pick<Desk, "id" | "kept" | "why" | "turn">>({
    ...{ id: null, kept: true, why: null, turn: 0 },
  });
  const desk = useRef<{ id: number | null; seen: number; busy: boolean; next: TypedRun | null; at: number }>({
    ...{ id: null, seen: 0, busy: false, next: null, at: 0 },
  });

  // Whoever has left the page meanwhile isn't led back to it: the address is that of what is on screen now.
  const here = useRef(false);
  useEffect(() => {
    here.current = true;
    return () => {
      here.current = false;
    };
  }, []);

  const keep = useCallback(async () => {
    const own = desk.current;
    if (own.busy) return;
    own.busy = true;
    // What was begun stays about the draft it was begun for, whatever is opened meanwhile.
    const { at } = own;
    while (own.next !== null && own.at === at) {
      const content = own.next;
      own.next = null;
      const reply = await client.call(
        "desk.keep",
        {
          ...{ form: "run" as const, name: nameOf(content), content: { ...content } },
          ...(own.id === null ? {} : { id: own.id, seen: own.seen }),
        },
        { occasion: { author: settings.get().person || say`someone not named` } },
      );
      if (own.at !== at) break;
      if (!reply.ok) {
        setState((before) => ({ ...before, kept: false, why: reply.error.message }));
        break;
      }
      const { id, kept } = reply.value;
      const fresh = own.id === null;
      own.id = id;
      own.seen = kept;
      setState((before) => ({
        ...{ id, kept: own.next === null, why: null },
        turn: fresh ? before.turn + 1 : before.turn,
      }));
      if (fresh && here.current) goWith({ draft: String(id) }, { replace: true });
    }
    own.busy = false;
    if (own.next !== null && own.at !== at) void keep();
  }, [client]);

  const type = useCallback(
    (next: TypedRun) => {
      setTyped(next);
      const own = desk.current;
      if (readOnly || (own.id === null && isEmpty(next))) return;
      own.next = next;
      setState((before) => ({ ...before, kept: false }));
      void keep();
    },
    [keep, readOnly],
  );

  useEffect(() => {
    const own = desk.current;
    if (open === own.id) return;
    own.at += 1;
    own.id = open;
    own.next = null;
    setTyped(EMPTY);
    setState((before) => ({ ...before, id: open, kept: true, why: null }));
    if (open === null) return;
    let ended = false;
    void client.call("desk.open", { form: "run", id: open }).then((reply) => {
      if (ended || desk.current.id !== open) return;
      if (!reply.ok) {
        desk.current.id = null;
        setState((before) => ({ ...before, id: null, why: reply.error.message }));
        return;
      }
      desk.current.seen = reply.value.kept;
      setTyped(taken(reply.value.content));
    });
    return () => {
      ended = true;
    };
  }, [open, client]);

  return { typed, type, ...state };
}
