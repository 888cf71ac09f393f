/** Questions asked lately on this machine, newest first; and the last of each tab. */
import { useSyncExternalStore } from "react";
import { addressOf, type Route } from "../frame/router.ts";
import { isBlank, sentenceOf, type TabName, type View } from "../views/view.ts";

export interface Asked {
  readonly address: string;
  readonly sentence: string;
  /** Milliseconds since 1970. */
  readonly at: number;
}

const KEY = "strandbook.asked";
const MOST = 24;
const lastOfTab = new Map<TabName, string>();
const listeners = new Set<() => void>();
let asked: readonly Asked[] = read();

function read(): readonly Asked[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(kept) ? kept : [];
  } catch {
    return [];
  }
}

/** Remembers a question; one with an empty blank hasn't been asked yet. What is selected is no part of it. */
export function noteAsked(view: View, route: Route): void {
  lastOfTab.set(view.tab, addressOf(route.path, route.values));
  const blanks = view.question.filter(isBlank);
  if (blanks.some((blank) => blank.fill === "record" && !blank.optional && !route.values[blank.name])) return;
  const values = Object.fromEntries(blanks.map((blank) => [blank.name, route.values[blank.name]]));
  const address = addressOf(route.path, values);
  const one: Asked = { address, sentence: sentenceOf(view, route.values), at: Date.now() };
  asked = [one, ...asked.filter((other) => other.address !== address)].slice(0, MOST);
  localStorage.setItem(KEY, JSON.stringify(asked));
  for (const listener of listeners) listener();
}

export const lastAsked = (tab: TabName): string | undefined => lastOfTab.get(tab);

export const useAsked = (): readonly Asked[] =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => asked,
  );
