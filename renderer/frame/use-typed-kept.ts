/**
 * Cells that were typed and not written outlive the window being read anew (F5). They lie in the browser's storage of this
 * window, with the file they belong to: their rows are numbers of that file and no other.
 */
import { useEffect, useRef } from "react";
import type { KindName } from "../../core/model/dictionary.ts";
import { type TypedAway, typedAway, typedOf } from "../grid/typed.ts";
import { useStatus } from "./use-status.ts";

const KEY = "typed";

interface Away {
  readonly path: string;
  readonly tables: readonly (readonly [KindName, readonly TypedAway[]])[];
}

export function useTypedKept(): void {
  const status = useStatus();
  const path = status?.path ?? null;
  const last = status?.undo?.id ?? 0;
  const restored = useRef(false);

  useEffect(() => {
    if (path === null || restored.current) return;
    restored.current = true;
    const text = sessionStorage.getItem(KEY);
    sessionStorage.removeItem(KEY);
    if (text === null) return;
    const away = JSON.parse(text) as Away;
    if (away.path !== path) return;
    for (const [kind, cells] of away.tables) typedOf(kind).restore(cells, last);
  }, [path, last]);

  useEffect(() => {
    if (path === null) return;
    const leave = (): void => {
      const tables = typedAway();
      if (tables.length > 0) sessionStorage.setItem(KEY, JSON.stringify({ path, tables } satisfies Away));
    };
    window.addEventListener("pagehide", leave);
    return () => window.removeEventListener("pagehide", leave);
  }, [path]);
}
