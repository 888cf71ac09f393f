import { createContext, useContext, useSyncExternalStore } from "react";
import type { Client } from "./client.ts";

export const ClientContext = createContext<Client | null>(null);

export function useClient(): Client {
  const client = useContext(ClientContext);
  if (!client) throw new Error("There is no client above this part of the window.");
  return client;
}

/** Whether the program no longer answers. */
export function useLost(): boolean {
  const client = useClient();
  return useSyncExternalStore(
    (listener) => client.onConnection(listener),
    () => client.lost,
  );
}
