/**
 * What was typed into tables and not written lies in the plant file, and comes back from there; what was asked of this plant
 * file comes back from this machine.
 */
import { useEffect, useRef } from "react";
import { askedOf } from "../client/asked.ts";
import { useClient } from "../client/context.ts";
import { TypedDesk } from "./typed-desk.ts";
import { useStatus } from "./use-status.ts";

export function useTypedKept(): void {
  const client = useClient();
  const status = useStatus();
  const path = status?.path ?? null;
  const begun = useRef({ last: 0, readOnly: false });
  if (status) begun.current = { last: status.undo?.id ?? 0, readOnly: status.read_only !== null };

  useEffect(() => {
    if (path === null) return;
    askedOf(path);
    const desk = new TypedDesk(client, path);
    void desk.begin(begun.current.last, begun.current.readOnly);
    return () => desk.end();
  }, [client, path]);
}
