/**
 * A sheet that is being taken over lies on the desk by itself, and what is typed of it names it a moment later. A program
 * that ended in that moment leaves a sheet that nothing names: it was only just chosen, and nobody would ever throw it away.
 */
import type { Client } from "../client/client.ts";
import type { TypedForm } from "../forms/kept-form.ts";

/**
 * Whether a window is the only one that lives, told by the locks that windows hold.
 *
 * @param prefix what the names of all their locks begin with
 * @param lock the name of its own
 */
export function isOnlyWindow({ held = [], pending = [] }: LockManagerSnapshot, prefix: string, lock: string): boolean {
  const own = held.find(({ name }) => name === lock)?.clientId;
  const all = [...held, ...pending].filter(({ name }) => name?.startsWith(prefix));
  return own !== undefined && all.every(({ clientId }) => clientId === own);
}

const named = ({ value }: TypedForm): readonly number[] => {
  const desk = (value as { desk?: unknown } | null)?.desk;
  return typeof desk === "number" ? [desk] : [];
};

/** Sheets that none of these forms names, and that were kept before this window began. */
export async function straySheets(client: Client, forms: readonly TypedForm[]): Promise<readonly number[]> {
  const reply = await client.call("desk.list", { form: "source" });
  if (!reply.ok) return [];
  const meant = new Set(forms.flatMap(named));
  return reply.value.items.flatMap(({ id, kept_at }) =>
    !meant.has(id) && Date.parse(kept_at) < performance.timeOrigin ? [id] : [],
  );
}
