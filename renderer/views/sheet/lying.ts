/**
 * The sheet that is being taken over, with how it is mapped and which rows are left out. It lies in this window's memory
 * as long as it stands, whatever page it shows, until it is taken over or another is chosen.
 */
import { useEffect, useSyncExternalStore } from "react";
import type { Made, Mapping, Reading, ReadSheet, Source } from "./mapping.ts";

export interface Open {
  readonly source: Source;
  readonly read: ReadSheet;
  readonly reading: Reading;
  readonly mapping: Mapping;
  /** The source it is read as; empty where that isn't known. */
  readonly by: string;
}

export interface Lying {
  readonly open: Open | null;
  /** Numbers of rows. */
  readonly leaveOut: readonly number[];
  readonly create: readonly Made[];
  /** All that was asked of it is on record: it goes with the page. */
  readonly written: boolean;
}

const NONE: Lying = { open: null, leaveOut: [], create: [], written: false };

let lying = NONE;
const listeners = new Set<() => void>();

/** A sheet that is changed after it was written waits to be written again. */
export function lay(change: Partial<Lying>): void {
  lying = { ...lying, written: false, ...change };
  for (const listener of listeners) listener();
}

/** Another sheet in its place: what was said of the rows before is of no use to it. */
export const layOpen = (open: Open | null): void => lay({ ...NONE, open });

const listen = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

export function useLying(): Lying {
  useEffect(
    () => () => {
      if (lying.written) layOpen(null);
    },
    [],
  );
  return useSyncExternalStore(listen, () => lying);
}
