/**
 * Photos that wait for a run to be entered, by its number on the desk. They lie in this window's memory as long as it
 * stands, whatever page it shows: the desk keeps what is typed, and a picture is no letter.
 */
import { useEffect, useRef, useSyncExternalStore } from "react";
import { type Staged, type StagedFiles, useStagedFiles } from "../../controls/staged-files.ts";

/** Those of a run of which nothing is kept yet. */
const NOT_KEPT = 0;
const NONE: readonly Staged[] = [];

let lying: ReadonlyMap<number, readonly Staged[]> = new Map();
const listeners = new Set<() => void>();

function lay(id: number, files: readonly Staged[]): void {
  const next = new Map(lying);
  if (files.length > 0) next.set(id, files);
  else next.delete(id);
  lying = next;
  for (const listener of listeners) listener();
}

const listen = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

/** Those of a run that was thrown away go with it. */
export const throwWaiting = (id: number): void => lay(id, NONE);

/** `turn` counts up as what was typed here gets its number: what waited for it goes along. */
export function useWaiting(id: number | null, turn: number): StagedFiles {
  const all = useSyncExternalStore(listen, () => lying);
  const key = id ?? NOT_KEPT;
  // A picture is looked through while the number is given: it lies where the run is then.
  const at = useRef(key);
  const turned = useRef(turn);
  useEffect(() => {
    at.current = key;
    if (turned.current === turn) return;
    turned.current = turn;
    const before = lying.get(NOT_KEPT);
    if (before === undefined || key === NOT_KEPT) return;
    lay(NOT_KEPT, NONE);
    lay(key, [...before, ...(lying.get(key) ?? NONE)]);
  }, [key, turn]);
  return useStagedFiles([
    all.get(key) ?? NONE,
    (next) => lay(at.current, typeof next === "function" ? next(lying.get(at.current) ?? NONE) : next),
  ]);
}
