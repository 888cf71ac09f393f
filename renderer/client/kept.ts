/**
 * What this machine keeps for its user, as the program has it: the page holds a copy, reads it at once, and hands changes on.
 * A browser would forget it: each start of the program has an address of its own.
 */
import { changedEntries, type Kept, type KeptName, type RecentPlant } from "../../core/operations/wire.ts";
import type { Client } from "./client.ts";

type Entries = Readonly<Record<string, unknown>>;

/** So long are changes gathered, in milliseconds: notes are kept as they are typed. */
const GATHER_MS = 150;

let copy: Kept = {};
let client: Client | null = null;
let timer: ReturnType<typeof setTimeout> | undefined;
const waiting = new Map<KeptName, Entries>();
const listeners = new Set<(name: KeptName) => void>();

function put(name: KeptName, change: Entries): void {
  copy = { ...copy, [name]: changedEntries(copy[name], change) };
}

function handOn(): void {
  clearTimeout(timer);
  timer = undefined;
  for (const [name, change] of waiting) void client?.keep({ name, change: { ...change } });
  waiting.clear();
}

/** Plant files opened on this machine, the last one first. */
export const recentPlants = (): readonly ({ readonly path: string } & RecentPlant)[] =>
  Object.entries(copy.recent ?? {})
    .map(([path, plant]) => ({ path, ...plant }))
    .toReversed();

export const kept = {
  of: (name: KeptName): Entries => copy[name] ?? {},
  /** Entries go behind the others, in the place of those of the same key; null drops one. */
  keep(name: KeptName, change: Entries): void {
    put(name, change);
    waiting.set(name, { ...waiting.get(name), ...change });
    timer ??= setTimeout(handOn, GATHER_MS);
  },
  /** Told when another window kept something. */
  onChange(listener: (name: KeptName) => void): () => void {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
};

/** Once, before anything is shown. */
export async function recall(from: Client): Promise<void> {
  client = from;
  copy = await from.kept();
  from.onKept(({ name, change }) => {
    // What is still to be handed on from here is newer.
    put(name, { ...change, ...waiting.get(name) });
    for (const listener of listeners) listener(name);
  });
  window.addEventListener("pagehide", handOn);
}
