/**
 * Questions asked lately, newest first, of each plant by itself: the program keeps them for this machine's user, so that the
 * next start has them. And the last question of each tab, as long as the window stands.
 */
import { useSyncExternalStore } from "react";
import { addressOf, type Route } from "../frame/router.ts";
import { isBlank, sentenceOf, type TabName, type View } from "../views/view.ts";
import { kept } from "./kept.ts";

export interface Asked {
  readonly address: string;
  readonly sentence: string;
  /** Milliseconds since 1970. */
  readonly at: number;
}

/** So many questions are kept of a plant, and of so many plants. */
const MOST = 24;
const MOST_PLANTS = 12;
const lastOfTab = new Map<TabName, string>();
const listeners = new Set<() => void>();
/** The plant file; until it is known, what is asked is only remembered. */
let plant: string | null = null;
let asked: readonly Asked[] = [];

const isAsked = (one: unknown): one is Asked => {
  const { address, sentence, at } = (one ?? {}) as Partial<Asked>;
  return typeof address === "string" && typeof sentence === "string" && typeof at === "number";
};

function ofPlant(path: string): readonly Asked[] {
  const list = kept.of("asked")[path];
  return Array.isArray(list) ? list.filter(isAsked) : [];
}

/** The newest of each address. */
function together(newer: readonly Asked[], older: readonly Asked[]): readonly Asked[] {
  const own = new Set(newer.map(({ address }) => address));
  return [...newer, ...older.filter(({ address }) => !own.has(address))].slice(0, MOST);
}

function show(next: readonly Asked[]): void {
  asked = next;
  for (const listener of listeners) listener();
}

function keep(path: string): void {
  const others = Object.keys(kept.of("asked")).filter((other) => other !== path);
  const tooMany = others.slice(0, Math.max(0, others.length + 1 - MOST_PLANTS));
  kept.keep("asked", { [path]: asked, ...Object.fromEntries(tooMany.map((other) => [other, null])) });
}

/** The plant file this window shows. */
export function askedOf(path: string): void {
  if (path === plant) return;
  const now = asked;
  plant = path;
  show(together(now, ofPlant(path)));
  if (now.length > 0) keep(path);
}

// Another window asked something.
kept.onChange((name) => {
  if (name === "asked" && plant !== null) show(ofPlant(plant));
});

/** Remembers a question; one with an empty blank hasn't been asked yet. What is selected is no part of it. */
export function noteAsked(view: View, route: Route): void {
  lastOfTab.set(view.tab, addressOf(route.path, route.values));
  const blanks = view.question.filter(isBlank);
  if (blanks.some((blank) => blank.fill === "record" && !blank.optional && !route.values[blank.name])) return;
  const values = Object.fromEntries(blanks.map((blank) => [blank.name, route.values[blank.name]]));
  const address = addressOf(route.path, values);
  const one: Asked = { address, sentence: sentenceOf(view, route.values), at: Date.now() };
  show(together([one], asked));
  if (plant !== null) keep(plant);
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
