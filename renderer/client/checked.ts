/** The last check of this plant that this window has seen, for the foot. */
import { useSyncExternalStore } from "react";

export interface Checked {
  /** Milliseconds since 1970. */
  readonly at: number;
  readonly findings: number;
  readonly passes: boolean;
  /** The revision of the record that was checked. */
  readonly revision: number;
}

const listeners = new Set<() => void>();
let last: Checked | null = null;

export function noteChecked(checked: Checked): void {
  last = checked;
  for (const listener of listeners) listener();
}

export const useChecked = (): Checked | null =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => last,
  );
