/** The address bar holds the question: `#/feeds?of=LIB` is "What feeds LIB?". Everything on screen follows from it. */
import { useSyncExternalStore } from "react";

export interface Route {
  /** The view's path. */
  readonly path: string;
  /** What stands in the blanks, and what is selected. */
  readonly values: Readonly<Record<string, string>>;
}

/** Everything that must not stand bare; the rest of a tag is left as people write it. */
const encode = (text: string): string => text.replace(/[%&=#+?\s"<>`\p{C}]/gu, (char) => encodeURIComponent(char));

const decode = (text: string): string => {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
};

export function parseRoute(hash: string): Route {
  const [path = "", query = ""] = hash.replace(/^#?\/?/, "").split(/\?(.*)/s);
  const values: Record<string, string> = {};
  for (const pair of query.split("&")) {
    const at = pair.indexOf("=");
    if (at > 0) values[decode(pair.slice(0, at))] = decode(pair.slice(at + 1));
  }
  return { path: decode(path), values };
}

/** The address of a question; values that are empty are left out. */
export function addressOf(path: string, values: Readonly<Record<string, string | null | undefined>> = {}): string {
  const pairs = Object.entries(values).filter(([, value]) => value !== null && value !== undefined && value !== "");
  const query = pairs.map(([name, value]) => `${encode(name)}=${encode(value as string)}`).join("&");
  return `#/${encode(path)}${query ? `?${query}` : ""}`;
}

let current: Route = { path: "", values: {} };
let followed: string | null = null;
const listeners = new Set<() => void>();

/** Which question is on screen, counted; a selection that moved is no other one. */
let turn = 0;

function follow(replaced: boolean): void {
  if (location.hash === followed) return;
  followed = location.hash;
  if (!replaced) turn += 1;
  current = parseRoute(followed);
  for (const listener of listeners) listener();
}

export function startRouter(): void {
  const left = () => follow(false);
  window.addEventListener("hashchange", left);
  window.addEventListener("popstate", left);
  left();
}

/** Asks another question. `replace` when only the selection moved: then going back skips it. */
export function go(
  path: string,
  values: Readonly<Record<string, string | null | undefined>> = {},
  { replace = false } = {},
): void {
  const address = addressOf(path, values);
  if (address === location.hash) return;
  if (replace) history.replaceState(history.state, "", address);
  else location.hash = address;
  // The browser tells it later, and what is chosen in between must not rest on the question before.
  follow(replace);
}

/**
 * Tells later whether the question that is on screen now still is: whoever has gone elsewhere while something was written
 * is not led on from where that began.
 */
export function stillHere(): () => boolean {
  const then = turn;
  return () => turn === then;
}

/** The same question with some values otherwise. */
export const goWith = (change: Readonly<Record<string, string | null | undefined>>, options?: { replace?: boolean }) =>
  go(current.path, { ...current.values, ...change }, options);

export const useRoute = (): Route =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => current,
  );
