/**
 * Undo and redo from anywhere. Undo takes back what came last: what was typed and refused is only left; one's own change is
 * taken back, and it is said which; a change somebody else made is named and asked first. Redo asks alike.
 */
import type { AnswerOf } from "../../core/operations/list.ts";
import type { Client } from "../client/client.ts";
import { personName } from "../client/person.ts";
import { notify, sayRefused } from "./notices.tsx";

export type NextStep = NonNullable<AnswerOf<"plant.status">["undo"]>;

/** Leaves what was typed after change `last` and not written; answers what it left, or null when there is none. */
export type TakeBackTyped = (last: number) => Promise<string | null>;
let takeBackTyped: TakeBackTyped | null = null;

/** The table on screen, which holds what was typed; answers how to end that. */
export function holdTyped(how: TakeBackTyped): () => void {
  takeBackTyped = how;
  return () => {
    if (takeBackTyped === how) takeBackTyped = null;
  };
}

type AskWhether = (step: NextStep, verb: "undo" | "redo") => Promise<boolean>;
let askWhether: AskWhether | null = null;

/** The frame's dialog that asks whether another person's change is meant to be taken or brought back; null when it leaves the screen. */
export function answerWhether(how: AskWhether | null): void {
  askWhether = how;
}

async function restore(
  client: Client,
  name: "history.undo" | "history.redo",
  author: string,
  change: { readonly change_set?: number } = {},
): Promise<void> {
  const reply = await client.call(name, change, { occasion: { author } });
  if (reply.ok) notify(`${reply.value.summary}.`);
  else sayRefused(reply.error);
}

/** Nobody's name is asked for what can't be done. */
const nameFor = (status: { readonly read_only: string | null } | null): Promise<string | null> | string =>
  status && status.read_only !== null ? "nobody" : personName();

export async function undo(client: Client): Promise<void> {
  const reply = await client.call("plant.status", {});
  const status = reply.ok ? reply.value : null;
  const next = status?.undo ?? null;
  const left = await takeBackTyped?.(next?.id ?? 0);
  if (left) return notify(left);
  const author = await nameFor(status);
  if (author === null) return;
  if (!next || status?.read_only !== null || next.author === author) return restore(client, "history.undo", author);
  // What was named is what is taken back, also when something else was written meanwhile.
  if (await askWhether?.(next, "undo")) await restore(client, "history.undo", author, { change_set: next.id });
}

export async function redo(client: Client): Promise<void> {
  const reply = await client.call("plant.status", {});
  const status = reply.ok ? reply.value : null;
  const next = status?.redo ?? null;
  const author = await nameFor(status);
  if (author === null) return;
  if (!next || status?.read_only !== null || next.author === author) return restore(client, "history.redo", author);
  if (await askWhether?.(next, "redo")) await restore(client, "history.redo", author, { change_set: next.id });
}
