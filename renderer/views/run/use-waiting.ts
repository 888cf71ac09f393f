/**
 * Photos that wait for a run to be entered, by its number on the desk. They lie there beside what is typed of it; before
 * it has a number, in this window's memory alone, whatever page it shows.
 */
import { useEffect, useRef, useState, useSyncExternalStore } from "react";
import type { Client } from "../../client/client.ts";
import { useClient } from "../../client/context.ts";
import { type Staged, type StagedFiles, useStagedFiles } from "../../controls/staged-files.ts";
import { WaitingDesk } from "./waiting-desk.ts";

/** Those of a run of which nothing is kept yet. */
const NOT_KEPT = 0;
const NONE: readonly Staged[] = [];

let lying: ReadonlyMap<number, readonly Staged[]> = new Map();
const listeners = new Set<() => void>();
/** Runs whose files this window holds, or is reading. */
const read = new Set<number>([NOT_KEPT]);
let desk: WaitingDesk | null = null;

const deskOf = (client: Client): WaitingDesk => {
  desk ??= new WaitingDesk(client);
  return desk;
};

function show(id: number, files: readonly Staged[]): void {
  const next = new Map(lying);
  if (files.length > 0) next.set(id, files);
  else next.delete(id);
  lying = next;
  for (const listener of listeners) listener();
}

function lay(client: Client, id: number, files: readonly Staged[]): void {
  show(id, files);
  if (id !== NOT_KEPT) deskOf(client).put(id, files);
}

const listen = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

/** Those of a run that was thrown away go with it. */
export const throwWaiting = (client: Client, id: number): void => lay(client, id, NONE);

window.addEventListener("beforeunload", (event) => {
  if (lying.has(NOT_KEPT)) event.preventDefault();
});

export interface Waiting extends StagedFiles {
  /** Those left with the run are still on their way. */
  readonly reading: boolean;
}

/** `turn` counts up as what was typed here gets its number: what waited for it goes along. */
export function useWaiting(id: number | null, turn: number): Waiting {
  const client = useClient();
  const all = useSyncExternalStore(listen, () => lying);
  const key = id ?? NOT_KEPT;
  // A picture is looked through while the number is given: it lies where the run is then.
  const at = useRef(key);
  const turned = useRef(turn);
  const [reading, setReading] = useState<number | null>(null);
  useEffect(() => {
    at.current = key;
    const isNew = turned.current !== turn;
    turned.current = turn;
    if (key === NOT_KEPT) return;
    const before = lying.get(NOT_KEPT);
    if (isNew) {
      read.add(key);
      if (before === undefined) return;
      show(NOT_KEPT, NONE);
      lay(client, key, [...before, ...(lying.get(key) ?? NONE)]);
    } else if (!read.has(key)) {
      read.add(key);
      setReading(key);
      void deskOf(client)
        .read(key)
        .then((left) => {
          setReading(null);
          if (left.length === 0) return;
          const since = lying.get(key);
          if (since) lay(client, key, [...left, ...since]);
          else show(key, left);
        });
    }
  }, [client, key, turn]);
  const files = useStagedFiles([
    all.get(key) ?? NONE,
    (next) => lay(client, at.current, typeof next === "function" ? next(lying.get(at.current) ?? NONE) : next),
  ]);
  return { ...files, reading: reading === key };
}
