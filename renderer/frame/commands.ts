/** What the application menu and the foot both do. */
import type { Client } from "../client/client.ts";
import { applyTheme, settings } from "../client/settings.ts";
import { say, sayRefused } from "./notices.tsx";

export const NEXT_THEME = { system: "light", light: "dark", dark: "system" } as const;

export function turnTheme(client: Client): void {
  const next = NEXT_THEME[settings.get().theme];
  settings.set({ theme: next });
  applyTheme(next, client.capabilities);
}

/** Makes a backup now and says where it is. */
export async function backUp(client: Client): Promise<void> {
  const reply = await client.call("plant.backup", {});
  if (reply.ok) say(`Backed up to ${reply.value.path}.`);
  else sayRefused(reply.error);
}
