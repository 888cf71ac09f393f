/** The last answers, kept while the record stands as it did: going back shows them at once. */

const MOST = 40;
const kept = new Map<string, { readonly revision: number; readonly value: unknown }>();

export function remember(key: string, revision: number, value: unknown): void {
  kept.delete(key);
  kept.set(key, { revision, value });
  const oldest = kept.keys().next().value;
  if (kept.size > MOST && oldest !== undefined) kept.delete(oldest);
}

/** `key` names the operation and its input, so the type of its answer is known to who asks. */
export function recall<O>(key: string, revision: number): O | undefined {
  const found = kept.get(key);
  return found && found.revision === revision ? (found.value as O) : undefined;
}
