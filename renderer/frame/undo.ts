/** Undo and redo from anywhere: takes the last change back, or brings it back, and says which it was. */
import type { Client } from "../client/client.ts";
import { personName } from "../client/person.ts";
import { say, sayRefused } from "./notices.tsx";

async function restore(client: Client, name: "history.undo" | "history.redo"): Promise<void> {
  // Nobody's name is asked for what can't be done.
  const status = await client.call("plant.status", {});
  const author = status.ok && status.value.read_only !== null ? "nobody" : await personName();
  if (author === null) return;
  const reply = await client.call(name, {}, { occasion: { author } });
  if (reply.ok) say(`${reply.value.summary}.`);
  else sayRefused(reply.error);
}

export const undo = (client: Client): Promise<void> => restore(client, "history.undo");
export const redo = (client: Client): Promise<void> => restore(client, "history.redo");
